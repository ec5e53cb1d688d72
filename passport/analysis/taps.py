"""The tap tones of a plate: mode 5 against mode 2, and what mode 5 would be at other moisture or thickness.

Judges nothing but whether the ratio lies in the trade's window; its worth is disputed.
"""

from __future__ import annotations

from dataclasses import dataclass

from passport.physics.ranges import OutsideRange
from passport.records.model.instrument import Instrument, Plate, Stage
from passport.reference import measures

# Plates are compared as if they were all as moist as this.
COMMON_MOISTURE_PCT = 8.0


@dataclass(frozen=True)
class Taps:
    """The last stage at which both modes were tapped; `index` is its place in the record.

    `common_hz` is mode 5 at the common moisture, None where the moisture is not recorded or no sum holds for it.
    """

    index: int
    stage: Stage
    mode2_hz: float
    mode5_hz: float
    moisture_pct: float | None
    common_hz: float | None
    low: float | None
    high: float | None
    source: str

    @property
    def ratio(self) -> float:
        """Give mode 5 to mode 2."""
        return self.mode5_hz / self.mode2_hz

    @property
    def is_unusual(self) -> bool:
        """Tell whether the ratio lies outside its window."""
        return self.low is not None and self.high is not None and not self.low <= round(self.ratio, 2) <= self.high


def taps_of(record: Instrument, plate: Plate) -> Taps | None:
    """Give the last stage at which modes 2 and 5 were tapped, with the window of their ratio."""
    window = measures.measure(record.kind or "", record.size or "", "tap_mode5_to_mode2_ratio")
    for index, stage in reversed(list(enumerate(plate.stages or ()))):
        low, high = (each.value.middle if each else 0.0 for each in (stage.mode2, stage.mode5))
        moisture = stage.moisture.value.middle if stage.moisture else None
        if low > 0 and high > 0:
            return Taps(
                index=index,
                stage=stage,
                mode2_hz=low,
                mode5_hz=high,
                moisture_pct=moisture,
                common_hz=_at_common_hz(high, moisture),
                low=window.low if window else None,
                high=window.high if window else None,
                source=window.words if window else "",
            )
    return None


def _at_common_hz(mode5_hz: float, moisture_pct: float | None) -> float | None:
    from passport.physics.plates import mode5_at_hz  # noqa: PLC0415 - numpy comes with it, see plates

    try:
        return mode5_at_hz(mode5_hz, moisture_pct, COMMON_MOISTURE_PCT) if moisture_pct is not None else None
    except OutsideRange:
        return None


def mode5_scaled_hz(taps: Taps, thickness_ratio: float) -> float | None:
    """Give mode 5 were the plate so many times as thick; None where that is too far away to be told."""
    from passport.physics.plates import tap_scaling_hz  # noqa: PLC0415 - as above

    try:
        return tap_scaling_hz(taps.mode5_hz, thickness_ratio)
    except OutsideRange:
        return None
