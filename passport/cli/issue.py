"""`passport issue`: the signed passport of an instrument, frozen in the records."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.cli.passphrase import KEYS, PASSPHRASE_FD, key_folder, passphrase
from passport.cli.typed import typed_instrument
from passport.credentials import keys
from passport.credentials.issuing import drafted, freeze
from passport.handover import handover
from passport.kept import Notebook
from passport.publish import BuildStoppedError
from passport.records.catalogue import find_root, load
from passport.report import print_findings


@click.command(short_help="Sign the passport of an instrument.")
@click.argument("typed", metavar="ID")
@KEYS
@PASSPHRASE_FD
@RECORDS
def issue(typed: str, folder: Path | None, descriptor: int | None, records: Path) -> None:
    """Sign what is public of the instrument ID, and put it with its pictures into issued/, for ever.

    It proves that nothing of it was altered since, no more. Hand the whole folder over.
    """
    root = find_root(records)
    notebook = Notebook(root.parent)
    archive = load(root, notebook=notebook)
    stem = typed_instrument(archive, typed)
    place, present = key_folder(folder, root), keys.present(root)
    try:
        made = handover(archive, stem, notebook)
    except BuildStoppedError as stopped:
        print_findings(err, stopped.findings)
        err.print(f"no passport was made, because the record of {stem} or one it speaks of has errors", markup=False)
        sys.exit(1)
    draft = drafted(root, made.view, made.workshop, made.pictures, present, archive.today.isoformat())
    if draft.unchanged is not None:
        last = draft.unchanged.place
        err.print(f"nothing has changed since issue {last.number} of {last.day}; no new one was made", markup=False)
        out.print(last.file.as_posix(), markup=False)
        return
    path = freeze(draft, place.fetch(present.fingerprint, present.did, passphrase(descriptor)))
    out.print(path.as_posix(), markup=False)
    err.print(f"signed with the key {present.fingerprint}; print that with it", markup=False)
