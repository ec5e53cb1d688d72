"""The catalogue: its instruments in order, kind by kind, and what each can be found by.

Sees only what `visible` lets through.
"""

from __future__ import annotations

import re

from passport.analysis.usage import batch_uses, lot_uses
from passport.records.model.instrument import Instrument
from passport.reference.kinds import KINDS, SIZES
from passport.views.alike import PLURALS, hands, years
from passport.views.desk import Desk
from passport.views.supplies import in_lists, line
from passport.views.titles import spoken
from passport.views.tree import CatalogueEntry, CatalogueGroup


def catalogue(desk: Desk) -> tuple[CatalogueGroup, ...]:
    """Give the instruments that lists may name, kind by kind."""
    groups = []
    for kind in KINDS:
        found = [(stem, filed.record) for stem, filed in in_lists(desk) if filed.record.kind == kind]
        entries = tuple(_entry(desk, stem, record) for stem, record in sorted(found, key=lambda pair: _rank(pair[1])))
        groups += [CatalogueGroup(PLURALS[kind], entries)] if entries else []
    return tuple(groups)


def _rank(record: Instrument) -> tuple[int, list[tuple[int, str]]]:
    """Give the place in the catalogue: larger sizes first, then by serial, number for number: TP 9 before TP 88."""
    sizes = SIZES.get(record.kind or "", ())
    size = record.size or ""
    place = sizes.index(size) if size in sizes else -int(size) if re.fullmatch("[0-9]{1,6}", size) else 0
    pieces = re.findall(r"[0-9]{1,9}|[^0-9]+", record.serial or record.id or "")
    return place, [(int(piece), "") if piece[0] in "0123456789" else (0, piece) for piece in pieces]


def _entry(desk: Desk, stem: str, record: Instrument) -> CatalogueEntry:
    first_year, last_year = years(record)
    return CatalogueEntry(
        **vars(line(desk, stem)),
        first_year=first_year,
        last_year=last_year,
        hands=hands(desk, record),
        lots=tuple(dict.fromkeys(use.lot for use in lot_uses(stem, record))),
        batches=tuple(dict.fromkeys(use.batch for use in batch_uses(stem, record))),
        publication=spoken(record.published) if desk.audience == "shop" else "",
    )
