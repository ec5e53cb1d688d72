"""How a wood lot has dried: how long it lay, what was read on the way, and whether it is at rest where it is stored.

Depends on no day but those in the record, so that what it says stays true tomorrow.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta

from passport.analysis.first_work import first_work
from passport.analysis.moisture import Equilibrium, equilibrium
from passport.analysis.timeline import Happening
from passport.physics.moisture import moisture_pct
from passport.physics.ranges import OutsideRange
from passport.physics.wood import air_drying_years
from passport.records.catalogue import Archive
from passport.records.dates import DAYS_A_YEAR, Date, parse_date
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import MoistureReading, Storage, WoodLot
from passport.records.model.values import Value
from passport.records.walk import fields_of

# Wood this near to what its place would bring it to is at rest; a meter for the bench sees no less. Common practice,
# no source.
AT_REST_PCT = 1.5
# Two readings that lie closer tell more of the meter than of the wood: its half a percent would make three in a year.
# Common practice, no source.
FEWEST_DAYS = 60
# A date that leaves more days open gives years without a decimal.
MONTHS_KNOWN = 62


@dataclass(frozen=True)
class Reading:
    """One reading of a lot: in percent, as read or from the masses of a sample, or why it is unknown."""

    date: Date | None
    pct: float | None
    from_masses: bool
    entry: MoistureReading
    why_not: str = ""


@dataclass(frozen=True)
class Span:
    """The years from one date to another; `decimals` is what the two dates allow."""

    years: float
    decimals: int


@dataclass(frozen=True)
class Seasoning:
    """The drying of a lot. `air_dry` is when boards of its thickness are air-dry by the rule of a year for each inch.

    `verdict` is "at rest", "still drying", "drier than its place" or "cannot tell", and `reason` says why.
    """

    since: Date | None
    since_what: str
    thickness: Value | None
    air_dry: Date | None
    air_dry_years: float | None
    readings: tuple[Reading, ...]
    rest: Equilibrium
    verdict: str
    reason: str

    @property
    def apart_pct(self) -> float | None:
        """Give by how much the last reading lies above what its place would bring it to, each told to a tenth."""
        return _apart_pct([each for each in self.readings if each.pct is not None], self.rest)


def reading_of(entry: MoistureReading) -> Reading:
    """Give one reading; what a meter said counts before what follows from masses."""
    if entry.value is not None:
        return Reading(entry.date, entry.value.value.middle, from_masses=False, entry=entry)
    if entry.mass is None or entry.oven_dry_mass is None:
        return Reading(entry.date, None, from_masses=False, entry=entry, why_not="neither read nor weighed twice")
    try:
        pct = moisture_pct(entry.mass.value.middle, entry.oven_dry_mass.value.middle)
    except OutsideRange as error:
        return Reading(entry.date, None, from_masses=True, entry=entry, why_not=str(error))
    return Reading(entry.date, pct, from_masses=True, entry=entry)


def readings_of(lot: WoodLot) -> tuple[Reading, ...]:
    """Give the readings of a lot, oldest first."""
    return tuple(sorted(map(reading_of, lot.moisture or ()), key=lambda each: str(each.date and each.date.earliest)))


def seasoning_of(lot: WoodLot) -> Seasoning:
    """Give how a lot has dried."""
    since, since_what = (lot.sawn, "sawn") if lot.sawn else (lot.felled, "felled")
    storage = lot.storage or Storage()
    rest = equilibrium(storage.temperature, storage.humidity)
    readings = readings_of(lot)
    years = _drying_years(lot.thickness)
    verdict, reason = _verdict([each for each in readings if each.pct is not None], rest)
    air_dry = _later(since, years)
    return Seasoning(since, since_what if since else "", lot.thickness, air_dry, years, readings, rest, verdict, reason)


def _drying_years(thickness: Value | None) -> float | None:
    try:
        return air_drying_years(thickness.value.high) if thickness else None
    except OutsideRange:
        return None


def _later(since: Date | None, years: float | None) -> Date | None:
    """Give the month that lies some years after the last day a date may mean."""
    if since is None or since.latest is None or years is None:
        return None
    day = since.latest + timedelta(days=years * DAYS_A_YEAR)
    return parse_date(f"{day:%Y-%m}{'~' if since.approximate or since.uncertain else ''}")


def _verdict(known: Sequence[Reading], rest: Equilibrium) -> tuple[str, str]:
    if not known:
        return "cannot tell", "no moisture reading is recorded"
    if rest.pct is None:
        return "cannot tell", f"of the place where it is stored {rest.why_not}"
    apart = _apart_pct(known, rest) or 0.0
    if apart > AT_REST_PCT:
        return "still drying", "the last reading lies above what its place would bring it to"
    if apart < -AT_REST_PCT:
        return "drier than its place", "it will take up water there, or its place is not so damp as is written"
    return "at rest", "the last reading is what its place would bring it to"


def _apart_pct(known: Sequence[Reading], rest: Equilibrium) -> float | None:
    # Both are told to a tenth, and whoever takes the one from the other must come to what is told of the two.
    if not known or rest.pct is None:
        return None
    return round(round(known[-1].pct or 0.0, 1) - round(rest.pct, 1), 1)


def span(first: Date | None, second: Date | None) -> Span | None:
    """Give the years between the middles of two dates; None where one of them is open."""
    ends = [date for date in (first, second) if date and date.earliest and date.latest]
    if len(ends) != len((first, second)):
        return None
    middles = [date.earliest + (date.latest - date.earliest) / 2 for date in ends if date.earliest and date.latest]
    vague = any(
        date.approximate or date.uncertain or (date.latest - date.earliest).days > MONTHS_KNOWN
        for date in ends
        if date.earliest and date.latest
    )
    return Span((middles[1] - middles[0]).days / DAYS_A_YEAR, 0 if vague else 1)


def lost_a_year(readings: Sequence[Reading]) -> Iterator[tuple[Reading, Reading, float]]:
    """Give the percent of moisture lost in a year, from each reading to the next that can be set beside it.

    That is one of the same method, since a meter and an oven differ, and far enough away to tell; what lies too near
    is passed over.
    """
    last: dict[bool, Reading] = {}
    for each in readings:
        if each.pct is None or span(each.date, each.date) is None:
            continue
        one = last.setdefault(each.from_masses, each)
        between = span(one.date, each.date)
        if between and between.years * DAYS_A_YEAR >= FEWEST_DAYS:
            yield one, each, ((one.pct or 0.0) - each.pct) / between.years
            last[each.from_masses] = each


@dataclass(frozen=True)
class LotInUse:
    """A part made of a lot: when it was first worked, and the reading before it; of several in doubt, the driest."""

    part: str
    name: str
    lot: WoodLot
    used: Happening
    before: Reading | None


def lots_in_use(archive: Archive, record: Instrument, found: Sequence[Happening]) -> Iterator[LotInUse]:
    """Give the parts of an instrument whose lot is recorded and whose first work is dated."""
    for part, wood in fields_of(record.parts) if record.parts else ():
        used = first_work(record, part, found)
        if wood.lot in archive.wood and used is not None:
            lot = archive.wood[wood.lot].record
            yield LotInUse(part, wood.lot, lot, used, _before(readings_of(lot), used.date))


def _before(readings: Sequence[Reading], day: Date) -> Reading | None:
    """Give the driest of those that may have been the last before a day: a vague date accuses nobody."""
    perhaps = [each for each in readings if each.pct is not None and not (each.date and each.date.certainly_after(day))]
    surely = [each.date for each in perhaps if each.date and each.date.certainly_before(day)]
    last = [
        each for each in perhaps if not (each.date and any(each.date.certainly_before(later) for later in surely))
    ]  # fmt: skip
    return min(last, key=lambda each: each.pct or 0.0, default=None)
