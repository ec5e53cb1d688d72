"""`passport label`: labels for the printer, read back before they are given out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

import click

from passport.cli.console import err, out
from passport.cli.job import Job, asked_for
from passport.cli.options import PRINTER, RECORDS, STOCK
from passport.cli.typed import typed_instrument
from passport.credentials.keys import signing_key
from passport.errors import PassportError
from passport.files import write_atomic
from passport.labels import KINDS, finished_png, finished_sheet, note, preview
from passport.records.catalogue import Archive, find_root, load
from passport.records.decoding import Undecodable
from passport.records.printed import FILE_NAME, FIRST_KIND, logged
from passport.stocks import PRINTER_DPI
from passport.views.label import CaseLabel
from passport.views.printed import without_label
from passport.views.project import case_label


@click.command(short_help="Make labels.")
@click.argument("numbers", metavar="ID...", nargs=-1)
@click.option("--all-new", is_flag=True, help="Every instrument in use whose page has no case label yet.")
@click.option("--kind", "kind_name", type=click.Choice(list(KINDS)), default="case", show_default=True,
              help="For the case; a number to glue inside; a tag for a bag; a card with the set-up.")  # fmt: skip
@STOCK
@PRINTER
@click.option("--dpi", type=click.Choice([str(each) for each in PRINTER_DPI]),
              help="Dots per inch of a label printer; 300, or what --printer has, unless given.")  # fmt: skip
@click.option("--skip", default="", help="Used cells of the first sheet, counted row by row from the top: 1-7,12.")
@click.option("--out", "target", type=click.Path(path_type=Path), help="A .png for a roll, a .pdf for sheets.")
@click.option("--proof", is_flag=True, help="Print a proof that cannot be taken for a label; any address is allowed.")
@click.option("--preview", "looked_at", is_flag=True, help="Only make a picture of each sheet, its cells numbered.")
@RECORDS
def label(
    numbers: tuple[str, ...],
    all_new: bool,  # noqa: FBT001 - click passes flags so
    kind_name: str,
    stock_name: str,
    printer_name: str,
    dpi: str | None,
    skip: str,
    target: Path | None,
    proof: bool,  # noqa: FBT001
    looked_at: bool,  # noqa: FBT001
    records: Path,
) -> None:
    """Make labels for the instruments ID: a picture each for a label printer, or PDF sheets."""
    archive = load(find_root(records))
    stems = _wanted(archive, numbers, kind_name, all_new=all_new)
    if not stems:
        err.print("every instrument in use that has a public page has a label that leads there; nothing was printed")
        return
    job = asked_for(archive.workshop.record, KINDS[kind_name], stock_name, printer_name, dpi, skip, target,
                    proof=proof, looked_at=looked_at)  # fmt: skip
    key = signing_key(archive.root)
    labels = [replace(case_label(archive, stem, proof=not job.is_logged), fingerprint=key) for stem in stems]
    log = _log_so_far(archive) if job.is_logged else b""
    for path, content in _made(labels, job).items():
        write_atomic(path, content)
        out.print(path.as_posix(), markup=False)
    if job.is_logged:
        today = date.today().isoformat()  # noqa: DTZ011 - the day on the workshop's own calendar is meant
        added = logged(log, [(made.id, made.address) for made in labels], job.stock.name, kind_name, today)
        write_atomic(archive.root / FILE_NAME, added)
    remarks = [note(made.address) for made in labels if job.kind.has_code]
    for remark in dict.fromkeys(filter(None, (*remarks, job.kind.note))):
        err.print(f"note: {remark}", markup=False)


def _wanted(archive: Archive, numbers: tuple[str, ...], kind_name: str, *, all_new: bool) -> tuple[str, ...]:
    if all_new == bool(numbers):
        raise click.UsageError("name the instruments, each by its ID, or print for --all-new")
    if all_new and kind_name != FIRST_KIND:
        raise click.UsageError("--all-new is for case labels; name the instruments of the others")
    return without_label(archive) if all_new else tuple(dict.fromkeys(typed_instrument(archive, n) for n in numbers))


def _made(labels: Sequence[CaseLabel], job: Job) -> dict[Path, bytes]:
    if job.looked_at:
        return _looked_at(labels, job)
    if job.as_pdf:
        made = finished_sheet(labels, job.stock, kind=job.kind, printer=job.printer, used=job.used, proof=job.proof)
        return {job.target or Path("labels.pdf"): made}
    return _pictures(labels, job)


def _looked_at(labels: Sequence[CaseLabel], job: Job) -> dict[Path, bytes]:
    first = job.target or Path("preview.png")
    if first.suffix.lower() != ".png":
        raise click.BadParameter("a preview is a picture; the file must end in .png", param_hint="--out")
    pictures = preview(labels, job.stock, kind=job.kind, used=job.used)
    return {
        first if number == 1 else first.with_name(f"{first.stem}-{number}.png"): picture
        for number, picture in enumerate(pictures, 1)
    }


def _pictures(labels: Sequence[CaseLabel], job: Job) -> dict[Path, bytes]:
    if job.target is not None and job.target.suffix.lower() != ".png":
        raise click.BadParameter("the file must end in .png or .pdf", param_hint="--out")
    if job.target is not None and len(labels) > 1:
        raise click.BadParameter(
            "one .png holds one label; for several, name a .pdf or leave --out away", param_hint="--out"
        )
    paths = [job.target or Path(f"label-{made.id}.png") for made in labels]
    return {
        path: finished_png(made, job.stock, job.printer.dpi, kind=job.kind, proof=job.proof)
        for path, made in zip(paths, labels, strict=True)
    }


def _log_so_far(archive: Archive) -> bytes:
    """Read the list of what was printed; before anything is printed, so that no label is handed out unnoted."""
    path = archive.root / FILE_NAME
    try:
        before = path.read_bytes() if path.is_file() else b""
        logged(before, (), "", FIRST_KIND, "")
    except (OSError, Undecodable) as error:
        todo = "save it as plain text in UTF-8, or move it away; nothing was printed"
        raise PassportError(f"“{path}”, the list of printed labels, cannot be read", todo) from error
    return before
