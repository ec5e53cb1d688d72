"""`passport materials`: what an instrument is made of, part by part, for customs and for its next owner."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import cast

import click

from passport.cli.console import out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_day, typed_instrument
from passport.documents.materials import as_json, as_pdf, as_text
from passport.files import write_atomic
from passport.records.catalogue import find_root, load
from passport.stocks import Paper
from passport.views.project import materials_of


@click.command(short_help="Declare what an instrument is made of.")
@click.argument("number", metavar="ID")
@click.option("--on", "day", default="", metavar="DATE", help="The day it is for, 2026-03-05; today unless given.")
@click.option("--format", "form", type=click.Choice(["text", "json", "pdf"]), default="text", show_default=True)
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="For --format pdf.")
@click.option(
    "--out", "target", type=click.Path(path_type=Path), help="The file; for a PDF materials-ID.pdf unless given."
)
@RECORDS
def materials(number: str, day: str, form: str, paper: str, target: Path | None, records: Path) -> None:
    """Declare the materials of the instrument ID, with what CITES says of them on a day.

    It holds what the records say and is no permit; your management authority has the last word.
    """
    archive = load(find_root(records))
    stem = typed_instrument(archive, number)
    on = typed_day(day) if day else date.today()  # noqa: DTZ011 - the day on the workshop's own calendar is meant
    view = materials_of(archive, stem, on)
    if form == "pdf":
        target = target or Path(f"materials-{stem}.pdf")
        write_atomic(target, as_pdf(view, on, cast("Paper", paper)))
        out.print(target.as_posix(), markup=False)
        return
    text = as_json(view) + "\n" if form == "json" else as_text(view)
    if target is None:
        click.echo(text, nl=False)
    else:
        write_atomic(target, text.encode())
        out.print(target.as_posix(), markup=False)
