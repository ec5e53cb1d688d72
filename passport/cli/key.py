"""`passport key`: the keys that the workshop signs its passports with."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.cli.passphrase import KEYS, PASSPHRASE_FD, key_folder, passphrase, refuse_open_place
from passport.credentials import keys
from passport.credentials.issued import statement_path, statements
from passport.credentials.paper import ROWS, part_of
from passport.credentials.statements import Statement
from passport.errors import PassportError
from passport.files import write_private
from passport.records.catalogue import find_root, load
from passport.stocks import Paper

HELP = """Make and keep the keys that passports are signed with.

A key is secret and lies locked outside the records; what is public of it lies in issued/keys. With each key another is
made to follow it. Print both on paper (backup), keep the sheets apart, and take the file of the one to follow off the
computer: a thief who finds both has both.

Lost: passport key succeed. The key made for it follows; where it is not here, type it in from its paper first:
passport key restore.

Stolen: the same, at once; then issue anew the passports that matter. Without the key to follow, a thief cannot follow
the stolen one with his own.

All lost: passport key new --afresh. Nothing but the print ties the new key to the old: tell those who hold passports
its fingerprint.

Its owner dies, or the workshop closes: burn the papers and take the keys off the computer. Passports signed before
stay as good as they are.
"""


@click.group(help=HELP, short_help="Make and keep the keys that passports are signed with.")
def key() -> None:
    """Hold the commands below."""


@key.command()
@click.option("--afresh", is_flag=True, help="Although there was a key: it and the one to follow are lost for good.")
@KEYS
@PASSPHRASE_FD
@RECORDS
def new(afresh: bool, folder: Path | None, descriptor: int | None, records: Path) -> None:  # noqa: FBT001 - click passes flags so
    """Make the workshop's key, and the one to follow it."""
    root = find_root(records)
    archive = load(root)
    place = key_folder(folder, root)
    words = passphrase(descriptor, is_new=True)
    workshop, today = archive.workshop.record.name or "", archive.today.isoformat()
    _tell(keys.begin(root, place, words, workshop, today, afresh=afresh), root)


@key.command()
@KEYS
@PASSPHRASE_FD
@RECORDS
def succeed(folder: Path | None, descriptor: int | None, records: Path) -> None:
    """Let the key made to follow take over from now on."""
    root = find_root(records)
    archive = load(root)
    place = key_folder(folder, root)
    workshop, today = archive.workshop.record.name or "", archive.today.isoformat()
    _tell(keys.succeed(root, place, passphrase(descriptor), workshop, today), root)


def _tell(made: Statement, root: Path) -> None:
    out.print(statement_path(root, made.number, made.day).as_posix(), markup=False)
    err.print(f"The key {made.fingerprint} signs from now on; {made.next_fingerprint} is made to follow it.")
    err.print("Print both, and keep the sheets apart: passport key backup", markup=False)


@key.command("list")
@KEYS
@RECORDS
def list_keys(folder: Path | None, records: Path) -> None:
    """Say which keys there were and are, and which of them lie here."""
    root = find_root(records)
    place = key_folder(folder, root)
    known = statements(root)
    if not known:
        raise PassportError(keys.NONE_YET, "make one: passport key new")
    for made in known:
        here = "private key here" if place.holds(made.fingerprint) else "private key not here"
        tied = ", begun afresh" if made.begins and made.number > 1 else ""
        out.print(f"{made.number}  {made.fingerprint}  since {made.day}{tied}, {here}", markup=False)
    following = known[-1].next_fingerprint
    if following:
        here = "here" if place.holds(following) else "not here"
        out.print(f"   {following}  to follow, {here}", markup=False)


@key.command()
@click.option("--paper", type=click.Choice(("a4", "letter")), default="a4", show_default=True)
@click.option("--out", "target", type=click.Path(path_type=Path), default=Path("key-backup.pdf"), show_default=True)
@KEYS
@PASSPHRASE_FD
@RECORDS
def backup(paper: str, target: Path, folder: Path | None, descriptor: int | None, records: Path) -> None:
    """Write the private keys onto a sheet of paper each: the file is secret; print it, then delete it."""
    root = find_root(records)
    place = key_folder(folder, root)
    refuse_open_place(target, root)
    write_private(target, keys.on_paper(root, place, passphrase(descriptor), cast("Paper", paper)))
    out.print(target.as_posix(), markup=False)
    err.print("Print it, then delete it: whoever has this file has the keys.", markup=False)


@key.command()
@KEYS
@PASSPHRASE_FD
@RECORDS
def restore(folder: Path | None, descriptor: int | None, records: Path) -> None:
    """Type a private key in from its paper, row by row, and lock it with a passphrase."""
    root = find_root(records)
    place = key_folder(folder, root)
    words = passphrase(descriptor, is_new=True)
    rows = [_row(number) for number in range(1, ROWS + 1)]
    name = keys.restore(root, place, words, rows)
    out.print(place.file_of(name).as_posix(), markup=False)


def _row(number: int) -> str:
    """Ask for a row until it is typed right."""
    while True:
        typed: str = click.prompt(f"Row {number}", err=True)
        try:
            part_of(number, typed)
        except PassportError as slip:
            err.print(f"{slip.what}: {slip.todo}", markup=False)
        else:
            return typed
