"""`passport label`: case labels for the printer, read back before they are given out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_instrument
from passport.errors import PassportError
from passport.files import write_atomic
from passport.labels import PRINTER_DPI, ROLL_STOCK, SHEET_STOCK, Stock, find_stock, finished_png, finished_sheet, note
from passport.records.catalogue import Archive, find_root, load
from passport.records.decoding import Undecodable
from passport.records.printed import FILE_NAME, logged
from passport.views.label import CaseLabel
from passport.views.printed import without_label
from passport.views.project import case_label


@click.command(short_help="Make case labels.")
@click.argument("numbers", metavar="ID...", nargs=-1)
@click.option("--all-new", is_flag=True, help="Every instrument in use whose page has no printed label yet.")
@click.option("--stock", "stock_name", default="", help="Size of the label, such as 60x30 (roll) or 70x36 (sheet).")
@click.option("--dpi", type=click.Choice([str(each) for each in PRINTER_DPI]), default="300", show_default=True,
              help="Dots per inch of the label printer (pictures only).")  # fmt: skip
@click.option("--out", "target", type=click.Path(path_type=Path), help="A .png for a roll, a .pdf for sheets.")
@click.option("--proof", is_flag=True, help="Print a proof that cannot be taken for a label; any address is allowed.")
@RECORDS
def label(
    numbers: tuple[str, ...],
    all_new: bool,  # noqa: FBT001 - click passes flags so
    stock_name: str,
    dpi: str,
    target: Path | None,
    proof: bool,  # noqa: FBT001
    records: Path,
) -> None:
    """Make case labels for the instruments ID: a picture each for a label printer, or PDF sheets."""
    archive = load(find_root(records))
    stems = _wanted(archive, numbers, all_new=all_new)
    if not stems:
        err.print("every instrument in use that has a public page has a label that leads there; nothing was printed")
        return
    labels = [case_label(archive, stem, proof=proof) for stem in stems]
    as_pdf = (
        target.suffix.lower() == ".pdf" if target else bool(stock_name) and find_stock(stock_name).sheet is not None
    )
    stock = find_stock(stock_name or (SHEET_STOCK if as_pdf else ROLL_STOCK))
    log = b"" if proof else _log_so_far(archive)
    files = (
        _sheets(labels, stock, target, proof=proof)
        if as_pdf
        else _pictures(labels, stock, int(dpi), target, proof=proof)
    )
    for path, content in files.items():
        write_atomic(path, content)
        out.print(path.as_posix(), markup=False)
    if not proof:
        today = date.today().isoformat()  # noqa: DTZ011 - the day on the workshop's own calendar is meant
        write_atomic(
            archive.root / FILE_NAME, logged(log, [(made.id, made.address) for made in labels], stock.name, today)
        )
    for remark in dict.fromkeys(filter(None, (note(made.address) for made in labels))):
        err.print(f"note: {remark}", markup=False)


def _wanted(archive: Archive, numbers: tuple[str, ...], *, all_new: bool) -> tuple[str, ...]:
    if all_new == bool(numbers):
        raise click.UsageError("name the instruments, each by its ID, or print for --all-new")
    return without_label(archive) if all_new else tuple(dict.fromkeys(typed_instrument(archive, n) for n in numbers))


def _log_so_far(archive: Archive) -> bytes:
    """Read the list of what was printed; before anything is printed, so that no label is handed out unnoted."""
    path = archive.root / FILE_NAME
    try:
        before = path.read_bytes() if path.is_file() else b""
        logged(before, (), "", "")
    except (OSError, Undecodable) as error:
        todo = "save it as plain text in UTF-8, or move it away; nothing was printed"
        raise PassportError(f"“{path}”, the list of printed labels, cannot be read", todo) from error
    return before


def _sheets(labels: Sequence[CaseLabel], stock: Stock, target: Path | None, *, proof: bool) -> dict[Path, bytes]:
    return {target or Path("labels.pdf"): finished_sheet(labels, stock, proof=proof)}


def _pictures(
    labels: Sequence[CaseLabel], stock: Stock, dpi: int, target: Path | None, *, proof: bool
) -> dict[Path, bytes]:
    if target is not None and target.suffix.lower() != ".png":
        raise click.BadParameter("the file must end in .png or .pdf", param_hint="--out")
    if target is not None and len(labels) > 1:
        raise click.BadParameter(
            "one .png holds one label; for several, name a .pdf or leave --out away", param_hint="--out"
        )
    paths = [target or Path(f"label-{made.id}.png") for made in labels]
    return {path: finished_png(made, stock, dpi, proof=proof) for path, made in zip(paths, labels, strict=True)}
