"""All public data in one file: a line of JSON an instrument, or a table for a spreadsheet.

Repeats what the pages say; what is in no list is in no export.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping

from passport.site.data import plain
from passport.site.typography import is_number
from passport.views.addresses import full_address
from passport.views.numbers import MINUS
from passport.views.site_tree import SiteView
from passport.views.tree import InstrumentView

# A spreadsheet takes a cell that begins so for a formula and runs it.
FORMULA = ("=", "+", "-", "@", "\t", "\r")


def as_json_lines(site: SiteView) -> Iterator[str]:
    """Give each listed instrument as one line of JSON: its page as data, with its address."""
    for view in _listed(site):
        row = {"address": full_address(site.workshop.site_url, view.path), **plain(view)}
        yield json.dumps(row, ensure_ascii=False, default=plain)


def as_csv(site: SiteView) -> str:
    """Give a table: a row an instrument, a column a quantity of the reference set-up or the body, with its unit."""
    rows = [_row(site, view) for view in _listed(site)]
    columns = list(dict.fromkeys(column for row in rows for column in row))
    out = io.StringIO()
    table = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
    table.writeheader()
    table.writerows({column: _cell(text) for column, text in row.items()} for row in rows)
    return out.getvalue()


def _listed(site: SiteView) -> Iterable[InstrumentView]:
    return (site.instruments[card.line.id] for card in site.cards if card.listed)


def _row(site: SiteView, view: InstrumentView) -> Mapping[str, str]:
    known = {
        "id": view.id,
        "address": full_address(site.workshop.site_url, view.path),
        # Never the size alone: a spreadsheet takes 3/4 for a day in March or April.
        "instrument": view.title,
        "kind": view.kind,
        "model": view.model.text if view.model else "",
        "serial": view.serial,
        "maker": view.maker_line,
        "made": view.made_date or view.made,
        "status": view.banner,
        "last entry": view.changed,
    }
    setup = view.setup
    of_setup = [(row.name, row.unit, row.then) for group in setup.groups for row in group.rows] if setup else []
    known["reference set-up"] = setup.reference.date if setup else ""
    of_body = [(row.name, row.unit, row.value) for sheet in view.measurements for row in sheet.rows]
    return (
        known
        | {_head(f"set-up: {name}", unit): text for name, unit, text in of_setup if is_number(text)}
        | {_head(f"body: {name}", unit): text for name, unit, text in of_body if is_number(text)}
    )


def _head(name: str, unit: str) -> str:
    return f"{name} ({unit})" if unit else name


def _cell(text: str) -> str:
    """Give a cell as a spreadsheet reads it: numbers with a plain minus sign, words that are no formula."""
    if is_number(text):
        return text.replace(MINUS, "-")
    return f"'{text}" if text.startswith(FORMULA) else text
