"""Which figure stands for a quantity on the day of a set-up sheet, and from which sheet it is.

Decides how far back one may look: to the last sheet since the reference that has it, of the bridge and the strings
only while they are the same, and then to the dimensions of the body.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from passport.analysis.alike import fitted_at, in_order, place_of
from passport.analysis.known import Known
from passport.findings import Path
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.records.model.values import Value
from passport.records.walk import measured
from passport.reference.drift import EVERY_FIELD

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
class Gathered:
    """What is known on the day of one sheet; `earlier` is every sheet since the reference, the latest first."""

    record: Instrument
    sheet: SetupSheet
    earlier: tuple[SetupSheet, ...]

    def of(self, *paths: Path) -> Known | None:
        """Give the figure that stands at the first of these places where there is one; places of one sheet go first."""
        for layer in self._layers:
            if self._counts(layer, paths[0]):
                for path in paths:
                    if path in layer.values:
                        return layer.known(path)
        return None

    def mean_of(self, *paths: Path) -> Known | None:
        """Give the mean of what stands at these places of the first sheet that has any of them."""
        for layer in self._layers:
            mean = mean_at(layer.values, *paths)
            if mean is not None and self._counts(layer, paths[0]):
                return layer.known(next(path for path in paths if path in layer.values), mean)
        return None

    def _counts(self, layer: _Layer, path: Path) -> bool:
        """Tell whether the piece that a quantity belongs to is still the same as on that sheet."""
        piece = OF_THE_PIECE.get(str(path[0]))
        if not layer.worked_on.isdisjoint((str(path[0]), EVERY_FIELD)):
            return False
        return piece is None or layer.pieces is None or layer.pieces.get(piece) == self._pieces.get(piece)

    def _unseen_since(self, sheet: SetupSheet) -> frozenset[str]:
        return frozenset() if sheet is self.sheet else self.record.worked_on_unseen(sheet, self.sheet)

    @cached_property
    def _pieces(self) -> Mapping[str, str]:
        return fitted_at(self.record, self.sheet)

    @cached_property
    def _layers(self) -> tuple[_Layer, ...]:
        """Give the sheets that may tell: this one, those since the reference, the dimensions newest first."""
        setups, measurements = self.record.setups or (), self.record.measurements or ()
        layers = [
            _Layer(
                dict(measured(sheet)), ("setups", place_of(setups, sheet)), f"sheet {sheet.sheet or 'without a name'}",
                sheet is self.sheet, fitted_at(self.record, sheet), self._unseen_since(sheet),
            )
            for sheet in (self.sheet, *self.earlier)
        ]  # fmt: skip
        for index in reversed(range(len(measurements))):
            taken = measurements[index].taken
            day = f" of {taken.date.words()}" if taken and taken.date else ""
            values = dict(measured(measurements[index]))
            layers.append(_Layer(values, ("measurements", index), f"dimensions{day}", is_of_the_day=False))
        return tuple(layers)


@dataclass(frozen=True)
class _Layer:
    """One sheet with all its values; `pieces` is what was fitted then, None where that does not matter.

    `worked_on` names the fields that were worked on since in entries that are not shown.
    """

    values: Mapping[Path, Value]
    at: Path
    whence: str
    is_of_the_day: bool
    pieces: Mapping[str, str] | None = None
    worked_on: frozenset[str] = frozenset()

    def known(self, path: Path, middle: float | None = None) -> Known:
        return _known(self.values[path], (*self.at, *path), self.whence, middle, is_of_the_day=self.is_of_the_day)


def _known(value: Value, path: Path, whence: str, middle: float | None = None, *, is_of_the_day: bool) -> Known:
    amount = value.value
    shown = amount.middle if middle is None else middle
    # A mean of two is known to a digit more.
    decimals = amount.decimals + (shown != amount.low)
    return Known(
        shown, "measured", whence, value.unit, decimals, path, shown, shown, bool(value.accepted), is_of_the_day
    )


def mean_at(values: Mapping[Path, Value], *paths: Path) -> float | None:
    """Give the mean of what stands at these places of one sheet; None where nothing does."""
    found = [values[path].value.middle for path in paths if path in values]
    return sum(found) / len(found) if found else None


def gathered(record: Instrument) -> tuple[Gathered, ...]:
    """Give what is known on the day of every sheet, oldest first; a reference starts anew."""
    found: list[Gathered] = []
    since: list[SetupSheet] = []
    for sheet in in_order(record.setups or ()):
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
