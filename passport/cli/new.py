"""`passport new`, `passport page`, `passport init`: records to start from."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import click

from passport.checks.form import FILE_NAME
from passport.cli.console import out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_instrument
from passport.errors import PassportError
from passport.files import write_atomic, write_new
from passport.near import nearest
from passport.records.catalogue import FOLDERS, Archive, find_root, is_archive, load
from passport.records.fresh import blank, like, new_batch, new_instrument, new_lot, new_model, with_page
from passport.records.identity import address_tail, minted
from passport.records.schema import schemas
from passport.reference.kinds import KIND_WORDS, KINDS, size_fault

MOST_AT_ONCE = 500
KEPT_OUT_OF_GIT = """\
# What never leaves the shop: owners and prices, and the addresses of unlisted pages.
private/
printed-labels.csv
"""


SIZE = click.option("--size", default="", help="4/4, 3/4 …; for a viola its body length in mm.")
NAME = click.argument("name")


@click.group(short_help="Write new records.", subcommand_metavar=f"{'|'.join((*KINDS, 'lot', 'batch', 'model'))} …")
def new() -> None:
    """Write new records: of instruments of a kind, of a wood lot, a varnish batch or a model; print where they are."""


def _command_for(kind: str) -> click.Command:
    spoken = KIND_WORDS[kind]

    @click.command(
        kind,
        short_help=f"A {spoken}, with a number of its own.",
        help=f"Write records of new instruments, each a {spoken} with a number of its own.",
    )
    @SIZE
    @click.option("--model", default="", help="A model in records/models.")
    @click.option(
        "--count", type=click.IntRange(1, MOST_AT_ONCE), default=1, show_default=True, help="How many records to write."
    )
    @click.option("--like", "pattern", default="", help="The number of an instrument they are made like.")
    @RECORDS
    def instruments(size: str, model: str, count: int, pattern: str, records: Path) -> None:
        archive = load(find_root(records))
        text_for = _like(archive, pattern, kind) if pattern else _from_blank(archive, kind, size, model)
        for number in _numbers(archive, count):
            _write(archive.root / "instruments" / f"{number}.yml", text_for(number))

    return instruments


for each in KINDS:
    new.add_command(_command_for(each))


@new.command(short_help="A wood lot.")
@NAME
@click.option("--species", required=True, help="The scientific name, such as “Picea abies”.")
@RECORDS
def lot(name: str, species: str, records: Path) -> None:
    """Write the record of a new wood lot, called NAME: the mark on its billets."""
    _write(_place(records, "wood", name), new_lot(name, " ".join(species.split()), _today()))


@new.command(short_help="A varnish batch.")
@NAME
@RECORDS
def batch(name: str, records: Path) -> None:
    """Write the record of a new varnish batch, called NAME: the mark on its jars."""
    _write(_place(records, "varnish", name), new_batch(name, _today()))


@new.command(short_help="A model.")
@NAME
@click.option("--kind", type=click.Choice(KINDS), required=True, help="What it is a model of.")
@SIZE
@RECORDS
def model(name: str, kind: str, size: str, records: Path) -> None:
    """Write the record of a new model, called NAME."""
    _refuse_size(kind, size)
    _write(_place(records, "models", name), new_model(name, kind, size, _today()))


def _place(records: Path, folder: str, name: str) -> Path:
    """Give the file of a new record of this name; PassportError where it could not be part of an address."""
    root = find_root(records)
    if not FILE_NAME.fullmatch(name):
        raise PassportError(f"“{name}” cannot be part of an address", "use letters, digits, - and _ only")
    return root / folder / f"{name}.yml"


def _write(path: Path, text: str) -> None:
    write_new(path, text.encode())
    out.print(path.as_posix(), markup=False)


def _like(archive: Archive, pattern: str, kind: str) -> Callable[[str], str]:
    filed = archive.instruments[typed_instrument(archive, pattern)]
    if filed.record.kind != kind:
        raise PassportError(
            f"{filed.record.id} is a {filed.record.kind}, not a {kind}",
            f"passport new {filed.record.kind} --like {pattern}",
        )
    text = Path(filed.file).read_text(encoding="utf-8-sig")
    return lambda number: like(text, number)


def _from_blank(archive: Archive, kind: str, size: str, model: str) -> Callable[[str], str]:
    if model and model not in archive.models:
        raise PassportError(
            f"there is no model “{model}”", nearest(model, archive.models, f"passport new model {model} …")
        )
    of = archive.models[model].record.kind if model else kind
    if of != kind:
        raise PassportError(f"the model “{model}” is that of a {of}", f"passport new {of} --model {model}")
    wanted = size or (archive.models[model].record.size if model else "") or ""
    _refuse_size(kind, wanted)
    today = _today()
    return lambda number: new_instrument(number, kind, wanted, model, today)


def _refuse_size(kind: str, size: str) -> None:
    fault = size_fault(kind, size) if size else "say which: --size 4/4"
    if fault:
        raise PassportError(f"“{size}” is not a size of a {KIND_WORDS[kind]}" if size else "the size is missing", fault)


def _today() -> str:
    return date.today().isoformat()  # noqa: DTZ011 - the day on the workshop's own calendar is meant


@click.command(short_help="Give an unlisted instrument its address.")
@click.argument("typed", metavar="ID")
@RECORDS
def page(typed: str, records: Path) -> None:
    """Make the page address of an unlisted instrument, once and for ever, and keep it in private/."""
    archive = load(find_root(records))
    stem = typed_instrument(archive, typed)
    if archive.address_tail(stem):
        raise PassportError(f"{stem} already has its page address", "it never changes, since it may be on a label")
    if archive.instruments[stem].record.published == "listed":
        raise PassportError(f"{stem} is listed at its number, and a label may say so", "set publish: unlisted first")
    path = archive.root / "private" / f"{stem}.yml"
    if stem not in archive.private:
        write_new(path, f"schema: 1\nid: {stem}\npage: {address_tail()}\n".encode())
    else:
        write_atomic(path, with_page(path.read_bytes(), address_tail()))
    out.print(path.as_posix(), markup=False)


@click.command(short_help="Start an archive.")
@click.argument("folder", type=click.Path(path_type=Path), default=Path("records"))
def init(folder: Path) -> None:
    """Start an archive in FOLDER (default: records): workshop, gauges, and the schemas for the editor."""
    if is_archive(folder):
        raise PassportError(f"“{folder}” is an archive already", "add an instrument: passport new violin --size 4/4")
    files = {
        "workshop.yml": blank("workshop").encode(),
        "gauges.yml": blank("gauges").encode(),
        ".gitignore": KEPT_OUT_OF_GIT.encode(),
        **{f"schema/{name}": content for name, content in schemas()},
    }
    for name in files:
        if (folder / name).exists():
            raise PassportError(f"“{folder / name}” is there already", "name a new or an empty folder")
    for name, content in files.items():
        write_new(folder / name, content)
    for inner in FOLDERS:
        (folder / inner).mkdir(exist_ok=True)
    where = "" if folder == Path("records") else f" --records {shlex.quote(folder.as_posix())}"
    out.print(
        f"{(folder / 'workshop.yml').as_posix()}: fill this in first, then: passport new violin --size 4/4{where}",
        markup=False,
    )


def _numbers(archive: Archive, count: int) -> Iterator[str]:
    taken = archive.names("instruments") | {filed.record.id or "" for filed in archive.instruments.values()}
    taken |= {label.id for label in archive.printed}
    for _ in range(count):
        number = minted(taken)
        taken.add(number)
        yield number
