"""Which label stocks and printers a workshop has: those the tool knows and those of `workshop.yml`.

Turns records into the plain values of `stocks`; whether they can be is judged there.
"""

from __future__ import annotations

from collections.abc import Mapping

from passport.records.model.workshop import LabelSheet, LabelStock, Workshop
from passport.stocks import STOCKS, Printer, Sheet, Stock

PERCENT = 100


def own_stocks(workshop: Workshop) -> Mapping[str, Stock]:
    """Give the workshop's own stocks by name, those left out whose measures are not all there."""
    made = {name: _stock(name, record) for name, record in (workshop.stocks or {}).items()}
    return {name: stock for name, stock in made.items() if stock is not None}


def all_stocks(workshop: Workshop) -> tuple[Stock, ...]:
    """Give every stock; one of the workshop's own takes the place of the tool's of the same name."""
    return tuple({**{stock.name: stock for stock in STOCKS}, **own_stocks(workshop)}.values())


def _stock(name: str, record: LabelStock) -> Stock | None:
    sheet = _sheet(record.sheet) if record.sheet else None
    if record.width is None or record.height is None or (record.sheet and sheet is None):
        return None
    return Stock(name, record.width, record.height, sheet)


def _sheet(record: LabelSheet) -> Sheet | None:
    measures = (
        record.paper, record.columns, record.rows,
        record.margin_left, record.margin_top, record.pitch_x, record.pitch_y,
    )  # fmt: skip
    return None if None in measures else Sheet(*measures, cut=record.cut == "yes")  # type: ignore[arg-type]


def printers(workshop: Workshop) -> dict[str, Printer]:
    """Give the workshop's printers by name."""
    usual = Printer()
    return {
        name: Printer(
            dpi=int(record.dpi) if record.dpi else usual.dpi,
            offset_x_mm=record.offset_x or 0.0,
            offset_y_mm=record.offset_y or 0.0,
            scale=usual.scale if record.scale is None else record.scale / PERCENT,
            stock=record.stock or "",
        )
        for name, record in (workshop.printers or {}).items()
    }
