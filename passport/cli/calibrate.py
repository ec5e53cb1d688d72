"""`passport calibrate`: a page to measure, which says what to write into `workshop.yml`."""

from __future__ import annotations

from pathlib import Path

import click

from passport.analysis.printing import all_stocks
from passport.cli.console import out
from passport.cli.job import CASE, chosen_printer
from passport.cli.options import PRINTER, RECORDS, STOCK
from passport.errors import PassportError
from passport.files import write_atomic
from passport.labels import calibration_page
from passport.records.catalogue import find_root, load
from passport.stocks import find_stock


@click.command(short_help="Make a page that shows how true a printer prints.")
@STOCK
@PRINTER
@click.option("--out", "target", type=click.Path(path_type=Path), default=Path("calibration.pdf"), show_default=True,
              help="Where to write the PDF.")  # fmt: skip
@RECORDS
def calibrate(stock_name: str, printer_name: str, target: Path, records: Path) -> None:
    """Make a page to measure: it says which offset and scale to write into workshop.yml.

    With --printer it is printed with those of that printer, to try them.
    """
    workshop = load(find_root(records)).workshop.record
    printer = chosen_printer(workshop, printer_name)
    stock = find_stock(stock_name or printer.stock or CASE.sheet, all_stocks(workshop))
    if stock.sheet is None:
        raise PassportError(
            f"{stock.name} comes on a roll, which has no place to be true to.", "Name a sheet: --stock."
        )
    write_atomic(target, calibration_page(stock, printer))
    out.print(target.as_posix(), markup=False)
