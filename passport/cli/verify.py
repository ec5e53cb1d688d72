"""`passport verify`: whether signed passports are unaltered, and what that proves."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import click

from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.credentials.given import File
from passport.credentials.known import Known, known
from passport.credentials.verifying import Report, verify
from passport.credentials.words import say, shown
from passport.errors import PassportError
from passport.kept import Notebook
from passport.records.catalogue import USUAL, find_root

# A photograph straight from a camera has some 15 MB; pictures handed over have less than one.
MOST_BYTES = 50_000_000
MOST_FILES = 1000


@click.command("verify", short_help="Check signed passports.")
@click.argument("paths", metavar="FILE...", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True))
@RECORDS
def verify_files(paths: tuple[Path, ...], records: Path) -> None:
    """Check signed passports, with the files that belong to them: pictures, earlier issues, key statements.

    A folder stands for all files in it. What the workshop's own records know of keys and issues is used where they are
    at hand. Nothing is asked of any network.
    """
    reports = verify([_read(path) for path in _files(paths)], _known(records))
    for report in reports:
        _print(report)
    out.print(say("covered.proof").text, markup=False)
    sys.exit(int(any(report.fails for report in reports)))


def _files(paths: tuple[Path, ...]) -> list[Path]:
    found = [path for given in paths for path in (sorted(_below(given)) if given.is_dir() else [given])]
    files = list(dict.fromkeys(found))
    if not files:
        raise PassportError("there is no file in this folder", "name the folder of a passport, or its files")
    if len(files) > MOST_FILES:
        raise PassportError(f"these are more than {MOST_FILES} files", "check them in several goes")
    return files


def _below(folder: Path) -> Iterator[Path]:
    return (path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))


def _read(path: Path) -> File:
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise PassportError(f"“{path}” cannot be read: {error.strerror}", "look at its rights") from error
    if len(content) > MOST_BYTES:
        raise PassportError(f"“{path}” is larger than any file of a passport", "leave it out")
    return File(path.name, content)


def _known(records: Path) -> Known:
    """Give what the records know; nothing where there are none and none were named."""
    try:
        root = find_root(records)
    except PassportError:
        if records != USUAL:
            raise
        return Known()
    # Whoever hands over a folder may have put records of his own beside it.
    err.print(f"the keys and issues that are known are those of “{root}”", markup=False)
    return known(root, Notebook(root.parent))


def _print(report: Report) -> None:
    out.print(shown(report.file), markup=False, style="bold")
    if report.document is not None:
        said = report.document
        facts = {"name": said["name"], "issuer": said["issuer"]["name"]}
        heading = say("covered.heading", issue=str(said["issueNumber"]), day=said["validFrom"][:10], **facts)
        out.print(f"  {heading.text}", markup=False)
        out.print(f"  {say('covered.claim', claim=said['credentialSubject']['claim']).text}", markup=False)
    for step in report.steps:
        name, result = say(f"step.{step.name}").text, say(f"result.{step.result}").text
        out.print(f"  {name:<14} {result:<17} {step.said.text}", markup=False)
    if report.verdict is not None:
        out.print(f"  → {report.verdict.text}", markup=False)
    out.print()
