"""What is to be printed, on what and with what, made of the options of `passport label` and `passport calibrate`.

Chooses what was left open; makes no label.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from pathlib import Path

import click

from passport.analysis.printing import all_stocks, printers
from passport.cli.typed import typed_cells
from passport.labels import KINDS, Kind
from passport.records.model.workshop import Workshop
from passport.stocks import TRUE_PRINTER, Printer, Stock, find_printer, find_stock

CASE = KINDS["case"]


@dataclass(frozen=True)
class Job:
    """One run of the printer; `used` are the cells of the first sheet that hold no label any more, from 0."""

    kind: Kind
    stock: Stock
    printer: Printer
    used: Collection[int]
    target: Path | None
    as_pdf: bool
    proof: bool
    looked_at: bool

    @property
    def is_logged(self) -> bool:
        """Whether a label goes out into the world that leads somewhere."""
        return self.kind.has_code and not self.proof


def asked_for(
    workshop: Workshop,
    kind: Kind,
    stock_name: str,
    printer_name: str,
    dpi: str | None,
    skip: str,
    target: Path | None,
    *,
    proof: bool,
    looked_at: bool,
) -> Job:
    """Fill in what was not said; what lies in a printer is for case labels, other kinds have stocks of their own."""
    stocks, printer = all_stocks(workshop), chosen_printer(workshop, printer_name)
    named = stock_name or (printer.stock if kind is CASE else "")
    if looked_at or target is None:
        as_pdf = looked_at or (find_stock(named, stocks).sheet is not None if named else kind is not CASE)
    else:
        as_pdf = target.suffix.lower() == ".pdf"
    stock = find_stock(named or (not as_pdf and kind.roll) or kind.sheet, stocks)
    if dpi:
        printer = replace(printer, dpi=int(dpi))
    return Job(kind, stock, printer, _used(skip, stock, as_pdf=as_pdf), target, as_pdf, proof or looked_at, looked_at)


def chosen_printer(workshop: Workshop, name: str) -> Printer:
    """Give the printer of that name; one that prints true where none is named."""
    return find_printer(name, printers(workshop)) if name else TRUE_PRINTER


def _used(skip: str, stock: Stock, *, as_pdf: bool) -> frozenset[int]:
    if not skip:
        return frozenset()
    if not as_pdf or stock.sheet is None:
        raise click.BadParameter("only sheets have cells; name a .pdf with --out", param_hint="--skip")
    return typed_cells(skip, stock.sheet.cells)
