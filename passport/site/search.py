"""Entries for the search index: one for each listed instrument, lot, batch and model.

A number that stands only in the text finds the wrong page, so number and serial lead the title and are tags as well.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from html import escape

from passport.views.site_tree import Card, SiteView, SupplyView

Entry = dict[str, object]


def entries(site: SiteView) -> Iterator[Entry]:
    """What can be found: nothing of an instrument that is not listed."""
    for card in site.cards:
        if card.listed:
            yield instrument_entry(card)
    for supply in site.supplies:
        yield supply_entry(supply)


def instrument_entry(card: Card) -> Entry:
    """The title begins with number and serial; the text says in one line what the instrument is."""
    line = card.line
    numbers = [number for number in (line.id, line.serial) if number]
    # A serial is typed with and without its blanks: TP 88, tp88.
    closed = line.serial.replace(" ", "")
    return {
        "location": line.path,
        "title": escape(" · ".join([*numbers, line.title])),
        "text": escape(card.words),
        "tags": [escape(number) for number in dict.fromkeys([*numbers, closed]) if number],
    }


def supply_entry(view: SupplyView) -> Entry:
    """The title begins with the number of lot, batch or model; its instruments are not repeated, so they come first."""
    number = "" if view.id in view.title else view.id
    title = " · ".join(part for part in (number, view.title, view.subtitle) if part)
    facts = ", ".join(fact.value for fact in view.facts)
    return {"location": view.path, "title": escape(title), "text": escape(facts)}


def as_script(index_json: bytes) -> bytes:
    """The index as the script the theme reads when the site is opened from a folder."""
    return b"var __index=" + index_json + b";\n"


def merged(index_json: bytes, found: Iterable[Entry]) -> bytes:
    """The theme's index with these entries behind its own."""
    index = json.loads(index_json)
    index["docs"] = [*index["docs"], *found]
    return json.dumps(index, ensure_ascii=False, separators=(",", ":")).encode()
