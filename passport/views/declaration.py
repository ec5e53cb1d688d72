"""The declaration of materials of one instrument on a day.

Sees only what is public of a record and of its lots.
"""

from __future__ import annotations

from datetime import date

from passport.records.dates import parse_date
from passport.reference.cites import AS_OF, DEFERENCE
from passport.views.desk import Desk
from passport.views.instrument import kind_and_size, made_words, maker_line
from passport.views.materials import material_lines
from passport.views.numbers import date_text, joined
from passport.views.tree import MaterialsView

# What an authority commonly wants to know of each listed part. From memory, of CITES forms and Res. Conf. 16.8.
ASKED_FOR = (
    "the scientific name of each listed part, its appendix and annotation, and how much of it there is",
    "the country of origin, and when the wood was felled or acquired, with a paper that shows it",
    "number and date of any permit, and of a pre-Convention certificate for what is older than its listing",
    "for travelling with an instrument: a musical instrument certificate, good for three years and many crossings",
)


def declaration(desk: Desk, stem: str, day: date) -> MaterialsView:
    """Give the declaration of an instrument for a day; what of it is public, whether or not it has a page."""
    record = desk.archive.instruments[stem].record
    return MaterialsView(
        id=stem,
        title=kind_and_size(record.kind, record.size),
        maker_line=maker_line(desk, record),
        serial=record.serial or "",
        made=made_words(record),
        workshop=joined(desk.workshop.name or "", desk.workshop.place or ""),
        contact=desk.workshop.contact or "",
        day=date_text(parse_date(day.isoformat())),
        as_of=date_text(parse_date(AS_OF.isoformat())),
        lines=material_lines(record, desk.archive.wood, day),
        asked_for=ASKED_FOR,
        deference=DEFERENCE,
    )
