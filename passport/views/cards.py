"""The card of one instrument: everything that lists, search and other pages say of it.

Sees only what `visible` lets through.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator

from passport.analysis.across import densities, numbers
from passport.analysis.usage import batch_uses, lot_uses
from passport.records.model.instrument import Instrument
from passport.records.model.values import Value
from passport.reference.kinds import KIND_WORDS, SIZES
from passport.views.alike import hands, years
from passport.views.desk import Desk
from passport.views.instrument import banner, kind_and_size, last_change, made_words, maker_line, model_link
from passport.views.lists import work
from passport.views.making import parts
from passport.views.numbers import joined, size_text, value_text
from passport.views.pictures import sources
from passport.views.plates_of_model import plate_cards
from passport.views.site_tree import Card, CatalogueEntry, Figures, Holder, Reading, Use
from passport.views.titles import capital, spoken


def card(desk: Desk, stem: str) -> Card:
    """Make the card of an instrument."""
    record = desk.archive.instruments[stem].record
    return Card(
        line=_line(desk, stem, record),
        listed=record.published == "listed",
        changed=last_change(record),
        words=_words(desk, record),
        order=order(record),
        uses=tuple(_uses(stem, record)),
        pictures=tuple(sources(stem, record, desk.paths[stem], desk.archive.photos.get(stem, {}))),
        work=work(desk, stem),
        plates=tuple(plate_cards(desk, record)),
        figures=_figures(stem, record),
        holders=tuple(_holders(desk, stem)),
    )


def _figures(stem: str, record: Instrument) -> Figures:
    """Give the numbers that stand beside those of other instruments."""
    uses = (use for use in lot_uses(stem, record) if use.takes_whole_wedge)
    return Figures(
        kind=record.kind or "",
        size=record.size or "",
        model=record.model or "",
        lots=tuple((use.part, use.lot) for use in uses),
        readings=tuple(_reading(quantity.name, value) for quantity, value in numbers(record)),
        densities=tuple((lot, _reading(part, value)) for part, lot, value in densities(record)),
    )


def _reading(name: str, value: Value) -> Reading:
    return Reading(name, value.value.middle, value_text(value))


def _holders(desk: Desk, stem: str) -> Iterator[Holder]:
    """Give who owns it now and who rents it; the public's archive holds no private record."""
    filed = desk.archive.private.get(stem)
    if filed is None:
        return
    for what, people in (("owner", filed.record.owners), ("renter", filed.record.renters)):
        for person in people or ():
            if person.until is None and (person.name or person.contact):
                yield Holder(what, person.name or "", person.contact or "")


def _line(desk: Desk, stem: str, record: Instrument) -> CatalogueEntry:
    model = model_link(desk, record.model)
    first_year, last_year = years(record)
    return CatalogueEntry(
        id=stem,
        path=desk.paths[stem],
        kind=KIND_WORDS.get(record.kind or "", ""),
        size=size_text(record.kind or "", record.size or ""),
        title=kind_and_size(record.kind, record.size),
        model=model.text if model else "",
        year=_year(record),
        serial=record.serial or "",
        status=spoken(record.status.now) if record.status and record.status.now else "",
        first_year=first_year,
        last_year=last_year,
        hands=hands(desk, record),
        lots=tuple(dict.fromkeys(use.lot for use in lot_uses(stem, record))),
        batches=tuple(dict.fromkeys(use.batch for use in batch_uses(stem, record))),
        publication=spoken(record.published) if desk.audience == "shop" else "",
    )


def _year(record: Instrument) -> str:
    made = record.made.finished or record.made.begun if record.made else None
    if made is None:
        return ""
    return str(made.year) if made.year is not None and not made.approximate and not made.uncertain else made.words()


def _words(desk: Desk, record: Instrument) -> str:
    """Say in one line what the instrument is and what it was made from."""
    model = model_link(desk, record.model)
    what = (model.text if model else "", maker_line(desk, record), made_words(record), banner(record)[0])
    wood = tuple(parts(desk, record))
    woods = dict.fromkeys(part.wood for part in wood if part.wood)
    lots = dict.fromkeys(part.lot.text for part in wood if part.lot)
    return joined(joined(*what), joined(*woods), joined(*lots), by=". ")


def order(record: Instrument) -> str:
    """Give the place in the catalogue: larger sizes first, then by serial, number for number: TP 9 before TP 88."""
    sizes = SIZES.get(record.kind or "", ())
    size = record.size or ""
    place = sizes.index(size) if size in sizes else 999 - int(size) if re.fullmatch("[0-9]{1,3}", size) else 0
    pieces = re.findall(r"[0-9]{1,9}|[^0-9]+", record.serial or record.id or "")
    return f"{place:03d} " + "".join(f"{int(piece):09d}" if piece[0] in "0123456789" else piece for piece in pieces)


def _uses(stem: str, record: Instrument) -> Iterator[Use]:
    """Give every lot, batch and model it touches, each once, with what was taken from it."""
    told: dict[tuple[str, str], list[str]] = defaultdict(list)
    for part in lot_uses(stem, record):
        told["wood", part.lot].append(joined(spoken(part.part), f"wedge {part.wedge}" if part.wedge else ""))
    for coat in batch_uses(stem, record):
        told["varnish", coat.batch].append(coat.what)
    if record.model:
        told["models", record.model] = []
    for (section, name), words in told.items():
        yield Use(section, name, capital("; ".join(dict.fromkeys(words))))
