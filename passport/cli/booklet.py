"""`passport booklet`: what a buyer is handed, on paper or to keep as a file."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import cast

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_instrument
from passport.files import write_atomic
from passport.handover import booklet_of
from passport.kept import Notebook
from passport.publish import BuildStoppedError
from passport.records.catalogue import find_root, load
from passport.report import print_findings
from passport.stocks import PAPERS, Paper


@click.command(short_help="Make the booklet for a buyer.")
@click.argument("number", metavar="ID")
@click.option("--paper", type=click.Choice(PAPERS), default="a4", show_default=True)
@click.option("--out", "target", type=click.Path(path_type=Path), help="The file; booklet-ID.pdf unless given.")
@RECORDS
def booklet(number: str, paper: str, target: Path | None, records: Path) -> None:
    """Make the booklet of the instrument ID: its public page as a book, with the signed passport inside.

    Issue the passport first, so that a buyer can check that nothing was altered.
    """
    root = find_root(records)
    notebook = Notebook(root.parent)
    archive = load(root, notebook=notebook)
    stem = typed_instrument(archive, number)
    target = target or Path(f"booklet-{stem}.pdf")
    if target.suffix.lower() != ".pdf":
        raise click.BadParameter("the file must end in .pdf", param_hint="--out")
    try:
        made = booklet_of(archive, stem, cast("Paper", paper), notebook)
    except BuildStoppedError as stopped:
        print_findings(err, stopped.findings)
        err.print(f"no booklet was made, because the record of {stem} or one it speaks of has errors", markup=False)
        sys.exit(1)
    write_atomic(target, made.content)
    out.print(target.as_posix(), markup=False)
    if made.note:
        err.print(f"note: {made.note}", markup=False)
