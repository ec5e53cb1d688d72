"""Entries for the search index: one for each listed instrument, lot, batch and model.

A number that stands only in the text finds the wrong page, so number and serial lead the title and are tags as well.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from html import escape

from passport.views.tree import InstrumentView, SiteView, SupplyView

Entry = dict[str, object]


def entries(site: SiteView) -> Iterator[Entry]:
    """What can be found: nothing of an instrument that is not listed."""
    for view in site.instruments:
        if view.listed:
            yield instrument_entry(view)
    for supply in site.supplies:
        yield supply_entry(supply)


def instrument_entry(view: InstrumentView) -> Entry:
    """The title begins with number and serial; the text says in one line what the instrument is."""
    numbers = [number for number in (view.id, view.serial) if number]
    # A serial is typed with and without its blanks: TP 88, tp88.
    closed = view.serial.replace(" ", "")
    what = [view.model.text if view.model else "", view.maker_line, view.made, view.banner]
    woods = dict.fromkeys(part.wood for part in view.parts if part.wood)
    lots = dict.fromkeys(part.lot.text for part in view.parts if part.lot)
    return {
        "location": view.path,
        "title": escape(" · ".join([*numbers, view.title])),
        "text": escape(". ".join(filter(None, [", ".join(filter(None, what)), ", ".join(woods), ", ".join(lots)]))),
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
