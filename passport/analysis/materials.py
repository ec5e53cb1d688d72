"""What an instrument is made of, part by part, and what the Convention on endangered species says of it on a day.

Gathers what the record and its lots tell; it judges no paper and calls nothing legal.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from passport.findings import Path
from passport.records.dates import Date
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument, Part
from passport.records.model.supplies import WoodLot
from passport.reference import species
from passport.reference.cites import Listing, is_known, listing


@dataclass(frozen=True)
class Material:
    """The material of one part: names, origin, dates and papers as recorded, and the entry of an appendix, if any.

    `is_known` is false where the tables do not have the species, so that no entry says nothing.
    """

    path: Path
    part: str
    common: str
    scientific: str
    lot: str
    origin: str
    felled: Date | None
    bought: Date | None
    statement: str
    has_paper: bool
    is_known: bool
    listing: Listing | None


def materials(record: Instrument, wood: Mapping[str, Filed[WoodLot]], day: date) -> Iterator[Material]:
    """Give the material of every part that is recorded, in the order of the form."""
    for name, field in type(record.parts).model_fields.items() if record.parts else ():
        part: Part | None = getattr(record.parts, name)
        if part is not None:
            filed = wood.get(part.lot or "")
            yield _material(("parts", name), field.title or name, part, filed.record if filed else WoodLot(), day)


def _material(path: Path, name: str, part: Part, lot: WoodLot, day: date) -> Material:
    scientific = part.species or lot.species or ""
    origin = part.origin or lot.origin or ""
    papers = lot.papers
    told = (papers.felling, papers.permit, papers.invoice, papers.statement) if papers else ()
    return Material(
        path=path,
        part=name,
        common=part.wood or lot.wood or species.COMMON_NAMES.get(scientific, ""),
        scientific=scientific,
        lot=part.lot or "",
        origin=origin,
        felled=lot.felled,
        bought=lot.bought,
        statement=(papers.statement if papers else None) or "",
        has_paper=any(told),
        is_known=is_known(scientific),
        listing=listing(scientific, origin, day),
    )
