"""`passport booklet`: what a buyer is handed, on paper or to keep as a file."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import cast

import click

from passport.cli.console import out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_instrument
from passport.documents.booklet import booklet as made_booklet
from passport.files import write_atomic
from passport.labels.code import as_svg, encode
from passport.pictures import published_copy
from passport.records.catalogue import find_root, load
from passport.reference.cites import AS_OF, DEFERENCE
from passport.stocks import PAPERS, Paper
from passport.views.project import public_page


@click.command(short_help="Make the booklet for a buyer.")
@click.argument("number", metavar="ID")
@click.option("--paper", type=click.Choice(PAPERS), default="a4", show_default=True)
@click.option("--out", "target", type=click.Path(path_type=Path), help="The file; booklet-ID.pdf unless given.")
@RECORDS
def booklet(number: str, paper: str, target: Path | None, records: Path) -> None:
    """Make the booklet of the instrument ID: its public page as a book, with all of it as data inside.

    It bears the day of the last entry in the record, so that one record gives one booklet.
    """
    archive = load(find_root(records))
    stem = typed_instrument(archive, number)
    page = public_page(archive, stem)
    pictures = {
        picture.name: published_copy(archive.root / "photos" / picture.file, picture.longest_px)
        for picture in page.pictures
        if picture.name in {photo.large for photo in page.view.photos}
    }
    made = made_booklet(
        page.view,
        page.workshop,
        date.fromisoformat(page.view.changed) if page.view.changed else archive.today,
        address=page.address,
        as_of=AS_OF.isoformat(),
        deference=DEFERENCE,
        pictures=pictures,
        code=as_svg(encode(page.address)) if page.address else b"",
        proof=None,
        paper=cast("Paper", paper),
    )
    target = target or Path(f"booklet-{stem}.pdf")
    write_atomic(target, made)
    out.print(target.as_posix(), markup=False)
