"""A part of the family of consistency: the wood against the room and its own weighing, the varnish against its light.

Each finding names both places it holds against each other. The limits are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.moisture import CLOSING_APART_PCT, Closing, closings, equilibrium
from passport.analysis.seasoning import AT_REST_PCT, LotInUse, lots_in_use
from passport.analysis.timeline import coat_said, happenings, when_said
from passport.analysis.varnish import recorded_dose_kj_m2
from passport.findings import Code, Finding, Path
from passport.physics.moisture import moisture_pct
from passport.physics.ranges import OutsideRange
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import MoistureReading, WoodLot

# Percent of moisture in the wood when the box is closed: drier and it swells on the first wet day, wetter and it
# shrinks in the first heated room.
CLOSING_DRIEST_PCT = 5
CLOSING_WETTEST_PCT = 11
# A meter that sums up the light and a look at the clock agree this well, as a share.
DOSE_APART = 0.1
# Masses to a tenth of a gram and a reading written with one decimal differ by less.
MASSES_APART_PCT = 0.5


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the wood of one instrument against room and store, and its coats against their light."""
    filed = archive.instruments[stem]
    for closing in closings(filed.record):
        yield from _closed(filed.file, closing)
    wet: dict[str, Finding] = {}
    for use in lots_in_use(archive, filed.record, happenings(filed.record)):
        for finding in _at_rest(filed.file, use):
            wet.setdefault(use.name, finding)
    yield from wet.values()
    yield from _doses(filed)


def of_others(archive: Archive) -> Iterator[Finding]:
    """Hold the readings of each lot against the masses of their samples."""
    for lot in archive.wood.values():
        yield from _weighed(lot)


def _closed(file: str, closing: Closing) -> Iterator[Finding]:
    if closing.moisture is None:
        yield from _closed_unread(file, closing)
        return
    path: Path = (*closing.path, "moisture")
    if closing.moisture.accepted:
        return
    amount = closing.moisture.value
    had = f"the wood had {amount.written.rstrip('% ')} % of moisture when {closing.said} was glued"
    if amount.high > CLOSING_WETTEST_PCT or amount.low < CLOSING_DRIEST_PCT:
        todo = f"usual is {CLOSING_DRIEST_PCT} to {CLOSING_WETTEST_PCT} %; if it was so, add accepted: with the reason"
        yield Finding(Code.CLOSING_MOISTURE, file, had, todo, path)
    if closing.rest.pct is not None and abs(closing.apart_pct or 0) > CLOSING_APART_PCT:
        what = f"{had}, and {_room(closing)} would bring it to {closing.rest.pct:.1f} %"
        todo = (
            f"look at all three; wood more than {CLOSING_APART_PCT:g} % from its room should stand there first; "
            "if it was so, add accepted: with the reason"
        )
        yield Finding(Code.CLOSING_ROOM, file, what, todo, path)


def _closed_unread(file: str, closing: Closing) -> Iterator[Finding]:
    """Report a room that is no place to close a box in, where nobody read the wood itself."""
    pct = closing.rest.pct
    humidity = closing.climate[1]
    if pct is None or CLOSING_DRIEST_PCT <= pct <= CLOSING_WETTEST_PCT or humidity is None or humidity.accepted:
        return
    what = f"{closing.said} was glued in {_room(closing)}, which brings wood to {pct:.1f} % of moisture"
    todo = (
        f"usual is {CLOSING_DRIEST_PCT} to {CLOSING_WETTEST_PCT} %: look at temperature: and humidity:, or write what "
        "the wood had as moisture:"
    )
    yield Finding(Code.CLOSING_MOISTURE, file, what, todo, (*closing.path, "humidity"))


def _room(closing: Closing) -> str:
    temperature, humidity = (each.value.middle if each else 0.0 for each in closing.climate)
    return f"the room at {temperature:g} °C and {humidity:g} %"


def _at_rest(file: str, use: LotInUse) -> Iterator[Finding]:
    """Report wood that was worked while it was still wetter than its store would make it."""
    storage, reading = use.lot.storage, use.before
    if storage is None or reading is None or (reading.entry.value and reading.entry.value.accepted):
        return
    pct, rest_pct = reading.pct or 0.0, equilibrium(storage.temperature, storage.humidity).pct
    if rest_pct is None or pct - rest_pct <= AT_REST_PCT:
        return
    read = f", last read before that {when_said(reading.date)}," if reading.date else ""
    what = (
        f"{use.used.said}, and lot {use.name} of its {use.part.replace('_', ' ')}{read} had {pct:.1f} % of moisture: "
        f"its store would bring it to {rest_pct:.1f} %"
    )
    todo = (
        f"add the reading taken before the work to moisture: in wood/{use.name}.yml, or mend storage: there; "
        "if it was so, look at the joints"
    )
    yield Finding(Code.LOT_NOT_AT_REST, file, what, todo, ("parts", use.part, "lot"))


def _doses(filed: Filed[Instrument]) -> Iterator[Finding]:
    """Report a dose that is not what the light and the hours beside it make."""
    for index, coat in enumerate(filed.record.varnish or ()):
        if coat.dose is None or coat.dose.accepted:
            continue
        try:
            worked_kj_m2 = recorded_dose_kj_m2(coat)
        except OutsideRange:
            continue
        said_kj_m2 = coat.dose.value.middle
        if worked_kj_m2 is None or abs(said_kj_m2 - worked_kj_m2) <= DOSE_APART * worked_kj_m2:
            continue
        irradiance = coat.irradiance.value.written if coat.irradiance else ""
        hours = coat.hours.value.written if coat.hours else ""
        what = (
            f"{coat_said(coat)} got {said_kj_m2:g} kJ/m2 by dose:, and {worked_kj_m2:.0f} kJ/m2 by irradiance: "
            f"{irradiance} and hours: {hours}"
        )
        todo = "W/m2 times hours times 3.6 is kJ/m2: mend the one of the three that is wrong"
        yield Finding(Code.DOSE_DIFFERS, filed.file, what, todo, ("varnish", index, "dose"))


def _weighed(filed: Filed[WoodLot]) -> Iterator[Finding]:
    for index, reading in enumerate(filed.record.moisture or ()):
        if reading.mass and reading.oven_dry_mass:
            yield from _masses(filed.file, ("moisture", index), reading)


def _masses(file: str, path: Path, reading: MoistureReading) -> Iterator[Finding]:
    mass, dry = reading.mass, reading.oven_dry_mass
    if mass is None or dry is None:
        return
    masses = f"the sample weighed {mass.value.written} and oven-dry {dry.value.written}"
    try:
        pct = moisture_pct(mass.value.middle, dry.value.middle)
    except OutsideRange:
        what = f"{masses}: wood loses water in the oven, and at most three quarters of its mass"
        todo = "look at mass: and oven_dry_mass:, and whether they changed places"
        yield Finding(Code.MASSES_DIFFER, file, what, todo, (*path, "oven_dry_mass"))
        return
    if reading.value and abs(reading.value.value.middle - pct) > MASSES_APART_PCT:
        what = f"value: says {reading.value.value.written.rstrip('% ')} %, and {masses}, which makes {pct:.1f} %"
        todo = "mend one of the three; what a meter read on another day is an entry of its own"
        yield Finding(Code.MASSES_DIFFER, file, what, todo, (*path, "value"))
