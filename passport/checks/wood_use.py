"""The wood in the order of felling, sawing, buying and use: a part of family 3, chronology.

Holds a lot against itself, and the parts of one instrument against their lots.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from passport.analysis.first_work import first_work
from passport.analysis.timeline import Happening, when_said
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.dates import Date
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import WoodLot
from passport.records.walk import fields_of


def of_lot(filed: Filed[WoodLot]) -> Iterator[Finding]:
    """A tree is felled first; it may be bought standing, but seldom is."""
    lot = filed.record
    if lot.felled is None:
        return
    felled = f"it was felled {when_said(lot.felled)}"
    if lot.sawn and lot.sawn.certainly_before(lot.felled):
        facts = (f"the wood was sawn {when_said(lot.sawn)}", felled)
        yield _clash(Code.LOT_OUT_OF_ORDER, filed.file, ("sawn",), facts, "mend one of the two dates")
    for index, reading in enumerate(lot.moisture or ()):
        if reading.date and reading.date.certainly_before(lot.felled):
            facts = (f"its moisture was read {when_said(reading.date)}", felled)
            path: Path = ("moisture", index, "date")
            yield _clash(Code.LOT_OUT_OF_ORDER, filed.file, path, facts, "mend one of the two dates")
    if lot.bought and lot.bought.certainly_before(lot.felled):
        facts = (f"the wood was bought {when_said(lot.bought)}", felled)
        todo = "mend one of the two dates; if it was bought standing, leave it so"
        yield _clash(Code.UNUSUAL_ORDER, filed.file, ("bought",), facts, todo)


def of_instrument(archive: Archive, filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report a part whose wood was still a tree, or still with the seller, when the part was made."""
    for part, wood in fields_of(filed.record.parts) if filed.record.parts else ():
        lot = archive.wood[wood.lot].record if wood.lot in archive.wood else None
        used = first_work(filed.record, part, found)
        if lot is None or used is None:
            continue
        late = next(((name, date) for name, date in _ready(lot) if used.date.certainly_before(date)), None)
        if late is not None:
            named = f"the wood of its {part.replace('_', ' ')} (lot {wood.lot})"
            facts = (used.said, f"{named} was {late[0]} {when_said(late[1])}")
            todo = f"mend the date here, the name of the lot, or {late[0]}: in wood/{wood.lot}.yml"
            yield _clash(Code.WOOD_TOO_EARLY, filed.file, ("parts", part, "lot"), facts, todo)


def _ready(lot: WoodLot) -> Iterator[tuple[str, Date]]:
    for name in ("felled", "sawn", "bought"):
        date = getattr(lot, name)
        if date is not None:
            yield name, date


def _clash(code: Code, file: str, path: Path, facts: tuple[str, str], todo: str) -> Finding:
    return Finding(code, file, f"{facts[0]}, and {facts[1]}", todo, path)
