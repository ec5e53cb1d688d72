"""Which figure stands for a quantity on the day of a set-up sheet, and from which sheet it is.

Decides how far back one may look: to the last sheet since the reference that has it, of the bridge and the strings
only while they are the same, and then to the dimensions of the body.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from passport.analysis.setup import day_of
from passport.findings import Path
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import MeasurementSheet, SetupSheet
from passport.records.model.values import Value
from passport.records.walk import measured

How = Literal["measured", "worked out", "from a table", "assumed"]

# Where a quantity stands in a sheet; of several places the mean counts for the stop, else the first that is there.
PLACES: Mapping[str, tuple[Path, ...]] = {
    "body length": (("body_length", "caliper"), ("body_length", "over_arch")),
    "body stop": (("body_stop", "bass"), ("body_stop", "treble"), ("body_stop", "value")),
    "neck stop": (("neck_stop",),),
    "string length": (("string_length",),),
    "overstand": (("overstand",),),
    "projection": (("projection",),),
    "height of the bridge": (("bridge", "height"),),
    "length of the board": (("fingerboard", "length"),),
    "width of the board at the nut": (("fingerboard", "width_nut"),),
    "width of the board at its end": (("fingerboard", "width_end"),),
    "edge thickness of the board": (("fingerboard", "edge_thickness"),),
    "radius of the board": (("fingerboard", "radius"),),
    "arch height at the bridge": (("arch_height", "top"), ("arch_height", "value")),
    "edge thickness of the top": (("edge_thickness", "top"), ("edge_thickness", "value")),
    "height of the saddle": (("saddle_height_above_top",),),
    "crown radius of the bridge": (("bridge", "crown_radius"),),
    "span of the bridge’s feet": (("bridge", "foot_span"),),
    "spacing at the nut": (("string_spacing", "nut"),),
    "spacing at the bridge": (("string_spacing", "bridge"),),
    "string angle over the bridge": (("string_break_angle",),),
}
# What belongs to a piece, and is gone with it.
OF_THE_PIECE = {
    "bridge": "bridge", "string_spacing": "bridge", "string_height": "bridge",
    "string_density": "strings", "string_diameter": "strings",
}  # fmt: skip


@dataclass(frozen=True)
class Known:
    """One figure and how it was come by; `low` and `high` differ for one that is known to a range only.

    `whence` names the sheet, the source or the sum in words; `path` leads to it in the record, if it stands there.
    """

    value: float
    unit: str
    decimals: int
    how: How
    whence: str
    path: Path = ()
    low: float = 0.0
    high: float = 0.0
    is_accepted: bool = False
    is_of_the_day: bool = False

    @property
    def is_range(self) -> bool:
        """Tell whether the figure is known to a range only."""
        return self.low != self.high


@dataclass(frozen=True)
class Gathered:
    """What is known on the day of one sheet; `earlier` is every sheet since the reference, the latest first."""

    record: Instrument
    sheet: SetupSheet
    earlier: tuple[SetupSheet, ...]

    @property
    def index(self) -> int:
        """Give the place of the sheet in the record."""
        return _place_of(self.record.setups or (), self.sheet)

    def of(self, *paths: Path) -> Known | None:
        """Give the figure that stands at the first of these places where there is one; places of one sheet go first."""
        for sheet, at, whence in self._sources(str(paths[0][0])):
            values = dict(measured(sheet))
            for path in paths:
                if path in values:
                    return _known(values[path], (*at, *path), whence, is_of_the_day=sheet is self.sheet)
        return None

    def mean_of(self, *paths: Path) -> Known | None:
        """Give the mean of what stands at these places of the first sheet that has any of them."""
        for sheet, at, whence in self._sources(str(paths[0][0])):
            values = dict(measured(sheet))
            found = [(path, values[path]) for path in paths if path in values]
            if found:
                middle = sum(value.value.middle for _, value in found) / len(found)
                path, value = found[0]
                return _known(value, (*at, *path), whence, middle, is_of_the_day=sheet is self.sheet)
        return None

    def _sources(self, field: str) -> Iterator[tuple[SetupSheet | MeasurementSheet, Path, str]]:
        """Give the sheets that may tell of a field: this, those since the reference, the dimensions newest first."""
        piece = OF_THE_PIECE.get(field)
        setups, measurements = self.record.setups or (), self.record.measurements or ()
        fitted = fitted_on(self.record, self.sheet, piece) if piece else None
        for sheet in (self.sheet, *self.earlier):
            if piece is None or sheet is self.sheet or fitted_on(self.record, sheet, piece) == fitted:
                yield sheet, ("setups", _place_of(setups, sheet)), f"sheet {sheet.sheet or 'without a name'}"
        for index in reversed(range(len(measurements))):
            taken = measurements[index].taken
            day = f" of {taken.date.words()}" if taken and taken.date else ""
            yield measurements[index], ("measurements", index), f"dimensions{day}"


def _known(value: Value, path: Path, whence: str, middle: float | None = None, *, is_of_the_day: bool) -> Known:
    amount = value.value
    shown = amount.middle if middle is None else middle
    # A mean of two is known to a digit more.
    decimals = amount.decimals + (shown != amount.low)
    return Known(
        shown, value.unit, decimals, "measured", whence, path, shown, shown, bool(value.accepted), is_of_the_day
    )


def _place_of(sheets: Sequence[SetupSheet], sheet: SetupSheet) -> int:
    return next(index for index, each in enumerate(sheets) if each is sheet)


def fitted_on(record: Instrument, sheet: SetupSheet, piece: str) -> str | None:
    """Give the piece that was fitted on the day of a sheet: as it says, else as the last sheet before said."""
    until = [each for each in _in_order(record) if day_of(each) <= day_of(sheet)]
    said = [name for each in until if each.fitted and (name := getattr(each.fitted, piece))]
    own = getattr(sheet.fitted, piece) if sheet.fitted else None
    return own or (said[-1] if said else None)


def _in_order(record: Instrument) -> list[SetupSheet]:
    return sorted(record.setups or (), key=day_of)


def gathered(record: Instrument) -> tuple[Gathered, ...]:
    """Give what is known on the day of every sheet, oldest first; a reference starts anew."""
    found: list[Gathered] = []
    since: list[SetupSheet] = []
    for sheet in _in_order(record):
        if sheet.role == "reference":
            since = []
        found.append(Gathered(record, sheet, tuple(reversed(since))))
        since.append(sheet)
    return tuple(found)


def known_of(day: Gathered) -> dict[str, Known]:
    """Give every quantity of `PLACES` that is known on that day; of the two sides of the stop the mean."""
    found = {name: day.of(*places) for name, places in PLACES.items() if name != "body stop"}
    found["body stop"] = day.mean_of(*PLACES["body stop"])
    return {name: each for name, each in found.items() if each is not None}
