"""Options that several commands share.

Declares them; decides nothing.
"""

from __future__ import annotations

from pathlib import Path

import click

RECORDS = click.option(
    "--records", type=click.Path(path_type=Path), default=Path("records"), show_default=True, help="The records folder."
)
STOCK = click.option(
    "--stock", "stock_name", default="", help="Size of the label, such as 60x30 (roll) or 70x36 (sheet)."
)
PRINTER = click.option("--printer", "printer_name", default="", help="A printer that workshop.yml names.")
