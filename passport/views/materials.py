"""What each part is made of: names, origin, dates, papers and listing, in words.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from passport.analysis.materials import Material, materials
from passport.records.dates import parse_date
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import WoodLot
from passport.reference.cites import Listing
from passport.views.desk import facts
from passport.views.numbers import date_text, joined
from passport.views.titles import capital
from passport.views.tree import MaterialLine

NO_ENTRY = "CITES: no entry known here"
NOT_KNOWN = "CITES: the species is not known here, so nothing can be said of it"
NOT_RECORDED = "CITES: the species is not recorded, so nothing can be said of it"


def material_lines(record: Instrument, wood: Mapping[str, Filed[WoodLot]], day: date) -> tuple[MaterialLine, ...]:
    """Give the material of each part in words."""
    return tuple(map(_line, materials(record, wood, day)))


def _line(material: Material) -> MaterialLine:
    return MaterialLine(
        part=material.part,
        common=capital(material.common),
        scientific=material.scientific,
        facts=facts(
            ("Lot", material.lot),
            ("Origin", material.origin),
            ("Felled", date_text(material.felled)),
            ("Bought", date_text(material.bought)),
            ("Papers", material.statement),
        ),
        listing=_listing(material),
        basis=_basis(material.listing) if material.listing else "",
        is_listed=material.listing is not None,
    )


def _listing(material: Material) -> str:
    entry = material.listing
    if entry is None:
        return NO_ENTRY if material.is_known else (NOT_KNOWN if material.scientific else NOT_RECORDED)
    if entry.appendix == "none":
        return f"not listed: {entry.words}"
    since = f" since {date_text(parse_date(entry.since.isoformat()))}"
    named = joined(f"CITES Appendix {entry.appendix}", entry.annotation, by=" ")
    return f"{named}{since}: {entry.words}"


def _basis(entry: Listing) -> str:
    return entry.source if entry.is_found else f"from memory: {entry.source}"
