"""What is watched on an instrument over the years, and what one sheet says of each: a value and how sure it is.

The neck is told apart from the belly here, and the bridge from both.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from passport.analysis.alike import Pair
from passport.analysis.certainty import Trust, trust
from passport.analysis.gathered import gathered, known_of
from passport.analysis.setup import quantities
from passport.findings import Path
from passport.physics.ranges import OutsideRange
from passport.physics.uncertainty import combined
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.records.model.values import Value
from passport.records.model.workshop import Gauge
from passport.reference.drift import EVERY_FIELD, Limits, limits_of
from passport.reference.measures import measure

ARCH, BACK, PROJECTION = ("arch_height", "top"), ("arch_height", "back"), ("projection",)
# Watched as they are measured, each with the name of its limits; in the order a set-up person looks.
MEASURED: tuple[tuple[str, Path], ...] = (
    ("projection", PROJECTION),
    ("belly", ARCH),
    ("back", BACK),
    ("bridge height", ("bridge", "height")),
    ("tilt", ("bridge", "tilt")),
    ("string_length", ("string_length",)),
    ("post", ("soundpost", "behind_foot")),
    ("overstand", ("overstand",)),
    ("mass", ("instrument_mass",)),
    ("air_mode", ("air_mode",)),
)


@dataclass(frozen=True)
class Part:
    """One measured quantity that a watched one is made of, and by how much it counts; `limits` names its method."""

    path: Path
    factor: float
    limits: str


@dataclass(frozen=True)
class Watched:
    """A quantity that is watched; one part is a measured quantity itself, several are worked out from them.

    `touched_by` are the fields whose work starts it anew; `name` is the quantity in patterns of readings.
    """

    name: str
    limits: str
    parts: tuple[Part, ...]
    touched_by: tuple[str, ...]

    @property
    def path(self) -> Path:
        """Give the field of a measured quantity; nothing for one that is worked out."""
        return self.parts[0].path if len(self.parts) == 1 else ()

    def why_unlike(self, both: Pair) -> str:
        """Say why it cannot be compared between two sheets; nothing where it can."""
        taken = (both.why_taken_unlike(part.path) for part in self.parts)
        return next(filter(None, taken), "") or both.why_touched(*self.touched_by)

    def begins_anew_with(self, fields: frozenset[str]) -> bool:
        """Tell whether work on these fields starts it anew."""
        return not fields.isdisjoint((*self.touched_by, EVERY_FIELD))


@dataclass(frozen=True)
class Taken:
    """A watched quantity on one sheet, in its unit: what its gauges and the way of measuring let one be sure of.

    `gauges` holds the trust in each part, in their order; `gauge_u` and `method_u` are standard uncertainties.
    """

    value: float
    unit: str
    decimals: int
    gauge_u: float
    method_u: float
    gauges: tuple[Trust, ...]

    @property
    def uncertainty(self) -> float:
        """Give the standard uncertainty of gauge and method together."""
        return combined(self.gauge_u, self.method_u)


@dataclass(frozen=True)
class Board:
    """How much of the way from nut to bridge the board goes; `how` says from which lengths, or what is wanting."""

    share: float | None
    how: str


def watched(record: Instrument, board: Board) -> tuple[Watched, ...]:
    """Give what is watched on an instrument, likeliest to have moved first."""
    strings = record.string_names
    outer = tuple(dict.fromkeys((strings[0], strings[-1]))) if strings else ()
    found = [Watched("neck", "projection", (Part(PROJECTION, 1.0, "projection"), Part(ARCH, 1.0, "belly")), ("neck",))]
    if board.share and len(outer) > 1:
        each = 1 / board.share / len(outer)
        heights = tuple(Part(("string_height", name), each, "string_height") for name in outer)
        parts = (Part(PROJECTION, 1.0, "projection"), *heights)
        found.append(Watched("bridge", "bridge", parts, ("bridge", "nut_clearance")))
    found += [_measured("string_height", ("string_height", name)) for name in outer]
    found += [_measured(name, path) for name, path in MEASURED]
    found += [_measured("afterlength", ("afterlength", name)) for name in strings]
    return tuple(found)


def _measured(name: str, path: Path) -> Watched:
    limits = "bridge" if name == "bridge height" else name
    return Watched(name, limits, (Part(path, 1.0, limits),), (str(path[0]),))


def limits_for(record: Instrument) -> Mapping[str, Limits]:
    """Give the limits for an instrument; none while its kind is not known."""
    return limits_of(record.kind or "")


def taken(what: Watched, sheet: SetupSheet, gauges: Mapping[str, Gauge], limits: Mapping[str, Limits]) -> Taken | None:
    """Give a watched quantity as a sheet has it; None where a part was not measured, or no gauge could be so unsure."""
    values = dict(quantities(sheet))
    found = [values.get(part.path) for part in what.parts]
    there = [value for value in found if value is not None]
    if len(there) < len(found):
        return None
    try:
        trusts = tuple(trust(gauges, sheet, part.path, value) for part, value in zip(what.parts, there, strict=True))
        gauge_u = combined(*(part.factor * each.uncertainty for part, each in zip(what.parts, trusts, strict=True)))
    except OutsideRange:
        return None
    return Taken(
        value=sum(part.factor * value.value.middle for part, value in zip(what.parts, there, strict=True)),
        unit=there[0].unit,
        decimals=_decimals(what, there),
        gauge_u=gauge_u,
        method_u=method_u(what, limits),
        gauges=trusts,
    )


def _decimals(what: Watched, values: Sequence[Value]) -> int:
    """Give the decimals to show: as measured, but of what is worked out never more than tenths."""
    most = max(value.value.decimals for value in values)
    return most if len(what.parts) == 1 else min(most, 1)


def method_u(what: Watched, limits: Mapping[str, Limits]) -> float:
    """Give the standard uncertainty of the way of measuring, on one day."""
    return combined(*(part.factor * limits[part.limits].method for part in what.parts))


def lacking_parts(what: Watched, sheet: SetupSheet) -> Iterator[Path]:
    """Give the measures that a sheet would need for a watched quantity and has not."""
    there = {path for path, _ in quantities(sheet)}
    return (part.path for part in what.parts if part.path not in there)


def board_of(record: Instrument, sheet: SetupSheet) -> Board:
    """Work out how much of the way from nut to bridge the board goes, by what is known on the day of a sheet.

    The length of the board by the trade's table where it was not measured.
    """
    known = next((known_of(day) for day in gathered(record) if day.sheet is sheet), {})
    length, stop, neck = (known.get(name) for name in ("length of the board", "body stop", "neck stop"))
    usual = measure(record.kind or "", record.size or "", "fingerboard_length")
    board_mm = length.value if length else usual.nominal if usual else None
    if stop is None or neck is None or board_mm is None:
        named = (("body stop", stop), ("neck stop", neck), ("length of the board", board_mm))
        return Board(None, " and ".join(f"the {name}" for name, there in named if there is None))
    stops_mm = stop.value + neck.value
    if not 0 < board_mm < stops_mm:
        return Board(None, "a board that is shorter than the stops together")
    usual_said = "" if length else " (the trade’s usual length, not measured)"
    how = f"FB = {board_mm:g}{usual_said}, N + S = {neck.value:g} + {stop.value:g}"
    return Board(board_mm / stops_mm, how)
