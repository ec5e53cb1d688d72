"""`passport labels`: what was printed, what of it still leads to its page, and redirects for what has moved."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

import click

from passport.analysis.printed import Fate
from passport.cli.console import aligned, err, out
from passport.cli.options import RECORDS
from passport.errors import PassportError
from passport.files import write_atomic
from passport.findings import Finding
from passport.labels.redirects import not_plain, redirect_files
from passport.records.catalogue import Archive, find_root, load
from passport.records.printed import FILE_NAME
from passport.report import print_findings
from passport.views.printed import PrintedLine, printed_lines, redirects

LEADS = Fate.LEADS.name.lower()
COLUMNS = ("id", "what", "serial", "stock", "kind", "date", "address")


@click.command(short_help="Say what was printed and whether it still leads home.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print the table.")
@click.option("--redirects", "folder", type=click.Path(path_type=Path),
              help="Write what the hosts of former addresses need, into a new folder; it may be private.")  # fmt: skip
@RECORDS
def labels(form: str, folder: Path | None, records: Path) -> None:
    """List the printed labels and say which lead to their pages; exit status 1 when one leads nowhere.

    Judged by the records alone: whether a host answers, or sends visitors on, is not tried.
    """
    archive = load(find_root(records))
    lines = printed_lines(archive)
    unread = _unread(archive)
    if form == "json":
        click.echo(json.dumps([asdict(line) for line in lines], ensure_ascii=False, indent=2))
    else:
        _print_table(lines)
    print_findings(err, unread)
    err.print(_summary(lines), markup=False)
    if folder is not None:
        _write_redirects(archive, folder)
    sys.exit(int(bool(unread) or any(line.leads_nowhere for line in lines)))


def _unread(archive: Archive) -> tuple[Finding, ...]:
    file = (archive.root / FILE_NAME).as_posix()
    return tuple(finding for finding in archive.findings if finding.file == file)


def _print_table(lines: Sequence[PrintedLine]) -> None:
    rows = [[getattr(line, column) for column in COLUMNS] for line in lines]
    for line, words in zip(lines, aligned(rows), strict=True):
        out.print(words, markup=False)
        if line.fate != LEADS:
            out.print(f"         → {line.says}", markup=False)


def _summary(lines: Sequence[PrintedLine]) -> str:
    if not lines:
        return "No label that was printed is on the list."
    lost = sum(line.leads_nowhere for line in lines)
    moved = sum(line.has_moved for line in lines)
    found = f"{len(lines) - lost - moved} in order, {moved} moved, {lost} leading nowhere"
    return f"{len(lines)} printed: {found}. Judged by the records alone; no host was asked."


def _write_redirects(archive: Archive, folder: Path) -> None:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise PassportError(f"“{folder}” holds something already", "name a new or an empty folder")
    wanted = redirects(archive)
    files = redirect_files(wanted)
    for name, content in files.items():
        write_atomic(folder / name, content)
    for address in not_plain(wanted):
        err.print(f"note: no redirect was written for {address}: it has unusual signs in it", markup=False)
    if not files:
        err.print("Every label that can lead to a page says that page's own address; no redirect is needed.")
        return
    err.print(f"{len(files)} files in {folder.as_posix()}: a folder for each host, with a read-me.txt", markup=False)
    if any(each.unlisted for each in wanted):
        err.print("PRIVATE: addresses of unlisted pages are among them; hand them only to whoever runs the host.")
