"""`passport export`: all that is public, in one file for other programs."""

from __future__ import annotations

from pathlib import Path

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.files import write_atomic
from passport.publish import edition
from passport.records.catalogue import find_root
from passport.site.export import as_csv, as_json_lines

# Spreadsheets take a file without this mark for another encoding.
BYTE_ORDER_MARK = "\ufeff"


@click.command(short_help="Give all public data in one file.")
@click.option("--format", "form", type=click.Choice(["jsonl", "csv"]), default="jsonl", show_default=True,
              help="A line of JSON an instrument, or a table for a spreadsheet.")  # fmt: skip
@click.option("--out", "target", type=click.Path(path_type=Path), help="The file; shown here unless given.")
@RECORDS
def export(form: str, target: Path | None, records: Path) -> None:
    """Give what the public pages say of all listed instruments, as data.

    The records may have errors; what cannot be read is left out, as on the pages.
    """
    site = edition(find_root(records), "public", with_errors=True).site
    text = as_csv(site) if form == "csv" else "".join(f"{line}\n" for line in as_json_lines(site))
    if target is None:
        click.echo(text, nl=False)
        return
    write_atomic(target, (BYTE_ORDER_MARK + text if form == "csv" else text).encode())
    out.print(target.as_posix(), markup=False)
    err.print(f"{sum(card.listed for card in site.cards)} instruments", markup=False)
