"""The whole archive in memory: every record file of a folder, read and validated, with what was found on the way.

Here alone the record folders are walked. Places are not kept: they are read again for the files that have findings.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from pathlib import Path
from typing import Any, Generic, TypeVar

from passport.errors import PassportError
from passport.findings import Code, Finding
from passport.near import nearest
from passport.pictures import PictureFacts, facts_of
from passport.records.decoding import Undecodable, text_of_file
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.records.printed import FILE_NAME as PRINTED
from passport.records.printed import MOST_BYTES as LONGEST_LIST
from passport.records.printed import PrintedLabel, printed
from passport.records.reader import Tree, read_file
from passport.records.validation import validated

R = TypeVar("R", bound=Record)

# The newest form of a record that this version reads. A change of the form raises it and comes with a migration.
SCHEMA = 1

FOLDERS: Mapping[str, type[Record]] = {
    "instruments": Instrument,
    "wood": WoodLot,
    "varnish": VarnishBatch,
    "models": Model,
    "private": Private,
}
FILES: Mapping[str, type[Record]] = {"workshop.yml": Workshop, "gauges.yml": Gauges}
USUAL = Path("records")
NO_RECORDS = "there is no folder “records” here"
# Folders beside the records that hold no records.
OTHER_FOLDERS = ("photos", "schema", "issued")
IGNORED = re.compile(r"^(\.|README)|(~|\.swp|\.tmp)$")
# A record that an editor or a mail program has given another ending; unread, its page would vanish.
MISNAMED = re.compile(r"\.(yaml|YML|YAML|yml\.txt|yaml\.txt)$")
# What file synchronisers and file managers add to the name of a second copy of a file.
CONFLICT = re.compile(r"([ ._-]*\(\d+\)|[ ._-]+\(?[^)]*conflict.*|[ _-]+\(?copy\)?( ?\(?\d+\)?)?)$", re.IGNORECASE)


@dataclass(frozen=True)
class Filed(Generic[R]):
    """A record and the file it stands in."""

    file: str
    record: R


@dataclass(frozen=True)
class Archive:
    """Everything in the records folder as it was read on a day, by file name without its ending."""

    root: Path
    today: date
    workshop: Filed[Workshop]
    gauges: Filed[Gauges]
    instruments: Mapping[str, Filed[Instrument]]
    wood: Mapping[str, Filed[WoodLot]]
    varnish: Mapping[str, Filed[VarnishBatch]]
    models: Mapping[str, Filed[Model]]
    private: Mapping[str, Filed[Private]]
    photos: Mapping[str, Mapping[str, PictureFacts]]
    printed: tuple[PrintedLabel, ...]
    unread: frozenset[tuple[str, str]]
    findings: tuple[Finding, ...]

    def names(self, folder: str) -> set[str]:
        """Give the names of a folder's records, those included that are there but cannot be read."""
        return {*getattr(self, folder), *(name for kind, name in self.unread if kind == folder)}

    def address_tail(self, stem: str) -> str:
        """Give the random end of an instrument's unlisted address; nothing while it has none."""
        return (self.private[stem].record.page or "") if stem in self.private else ""

    def records(self) -> Iterator[Filed[Any]]:
        """Give every record of every kind."""
        yield from (self.workshop, self.gauges)
        for folder in (self.instruments, self.wood, self.varnish, self.models, self.private):
            yield from folder.values()

    @property
    def people(self) -> tuple[str, ...]:
        """Give the names by which the workshop's people stand in the records."""
        return tuple(self.workshop.record.people or ())


def find_root(start: Path) -> Path:
    """Give the records folder that a path lies in; PassportError where there is none.

    The usual folder, where it is not there, is looked for upwards from here: one may stand inside the archive.
    """
    if not start.exists() and start != USUAL:
        todo = "check the spelling, or start an archive: passport init"
        raise PassportError(f"there is no file or folder “{start}”", todo)
    whole = (start if start.exists() else Path()).absolute()
    for folder in (whole, *whole.parents):
        if is_archive(folder):
            return _as_written(folder, start)
    todo = "name the folder that holds workshop.yml, or start an archive: passport init"
    raise PassportError(f"“{start}” does not lie in a folder of records" if start.exists() else NO_RECORDS, todo)


def _as_written(folder: Path, start: Path) -> Path:
    """Give a folder as seen from where the path was typed, so that findings name files as a person would."""
    return folder if start.is_absolute() else Path(os.path.relpath(folder))


def is_archive(folder: Path) -> bool:
    """Tell whether a folder is a records folder."""
    return (folder / "workshop.yml").is_file() or (folder / "instruments").is_dir()


def load(root: Path, today: date | None = None) -> Archive:
    """Read every record below a folder; `today` is the day by which dates are judged, the calendar's unless given."""
    findings: list[Finding] = []
    unread: set[tuple[str, str]] = set()
    kinds = {folder: dict(_records(root, folder, findings, unread)) for folder in FOLDERS}
    findings += _stray_at_top(root)
    return Archive(
        root=root,
        today=today or date.today(),  # noqa: DTZ011 - the day on the workshop's own calendar is meant
        workshop=_single(root, "workshop.yml", Workshop, findings),
        gauges=_single(root, "gauges.yml", Gauges, findings),
        instruments=kinds["instruments"],  # type: ignore[arg-type]
        wood=kinds["wood"],  # type: ignore[arg-type]
        varnish=kinds["varnish"],  # type: ignore[arg-type]
        models=kinds["models"],  # type: ignore[arg-type]
        private=kinds["private"],  # type: ignore[arg-type]
        photos=_photos(root),
        printed=_printed(root, findings),
        unread=frozenset(unread),
        findings=tuple(findings),
    )


def _records(
    root: Path, folder: str, findings: list[Finding], unread: set[tuple[str, str]]
) -> Iterator[tuple[str, Filed[Record]]]:
    for path in _files(root / folder):
        file = path.as_posix()
        stray = _stray(path, file)
        if stray is not None:
            findings.append(stray)
            continue
        record, found = load_file(path, FOLDERS[folder])
        findings += found
        if record is None:
            unread.add((folder, path.stem))
        else:
            yield path.stem, Filed(file, record)


def _files(folder: Path) -> list[Path]:
    """Give the files of a folder; what is named like a record and is no file will be found unreadable."""
    if not folder.is_dir():
        return []
    try:
        paths = [path for path in folder.iterdir() if not IGNORED.search(path.name)]
    except OSError as error:
        raise PassportError(f"the folder “{folder}” cannot be read: {error.strerror}", "look at its rights") from error
    return sorted(paths)


def _stray(path: Path, file: str) -> Finding | None:
    if path.is_dir() and path.suffix != ".yml":
        what = "this folder is not read: records lie side by side, not in folders of their own"
        return Finding(Code.STRAY_FILE, file, what, "move its records up", line=1, column=1)
    copied = CONFLICT.search(path.stem)
    if copied and (path.parent / f"{path.stem[: copied.start()]}.yml").is_file():
        what = "this looks like a second copy left behind when two people saved"
        todo = "compare it with the record it was copied from, keep what is right there, and move this file away"
        return Finding(Code.CONFLICT_COPY, file, what, todo, line=1, column=1)
    if MISNAMED.search(path.name):
        what = "this record is not read: its name does not end in .yml"
        return Finding(Code.MISNAMED_RECORD, file, what, f"call it {path.name.split('.')[0]}.yml", line=1, column=1)
    if path.suffix != ".yml":
        what = "this file is not read: records are plain text and end in .yml"
        return Finding(Code.STRAY_FILE, file, what, "move it away", line=1, column=1)
    return None


def _stray_at_top(root: Path) -> Iterator[Finding]:
    known = (*FOLDERS, *OTHER_FOLDERS)
    for path in _files(root):
        if path.is_dir() and path.name not in known:
            what = "this folder is not read"
            todo = nearest(path.name, FOLDERS, f"records lie in {', '.join(FOLDERS)}")
            yield Finding(Code.STRAY_FILE, path.as_posix(), what, todo, line=1, column=1)
        if path.is_file() and path.suffix in (".yml", ".yaml") and path.name not in FILES:
            what = "this file is not read: it lies outside the folders"
            todo = f"records lie in {', '.join(FOLDERS)}; only {' and '.join(FILES)} lie here"
            yield Finding(Code.STRAY_FILE, path.as_posix(), what, todo, line=1, column=1)


def _printed(root: Path, findings: list[Finding]) -> tuple[PrintedLabel, ...]:
    path = root / PRINTED
    if not path.is_file():
        return ()
    file = path.as_posix()
    try:
        labels, found = printed(text_of_file(path, file, most_bytes=LONGEST_LIST), file)
    except Undecodable as error:
        findings.append(error.finding)
        return ()
    findings += found
    return labels


def _single(root: Path, name: str, kind: type[R], findings: list[Finding]) -> Filed[R]:
    path = root / name
    if not path.exists():
        what = f"there is no {name}"
        findings.append(
            Finding(
                Code.MISSING_FIELD, path.as_posix(), what, "passport init writes one to start from", line=1, column=1
            )
        )
        return Filed(path.as_posix(), kind())
    record, found = load_file(path, kind)
    findings += found
    return Filed(path.as_posix(), record if record is not None else kind())


def load_file(path: Path, kind: type[R]) -> tuple[R | None, tuple[Finding, ...]]:
    """Read one record file; None where nothing could be read of it."""
    file = path.as_posix()
    reading = read_file(path, file, placed=False)
    if not isinstance(reading.tree, dict):
        return None, reading.findings
    newer = _newer_schema(reading.tree, file)
    if newer is not None:
        return None, (*reading.findings, newer)
    record, findings = validated(kind, reading.tree, file)
    return record, (*reading.findings, *findings)


def _newer_schema(tree: dict[str, Tree], file: str) -> Finding | None:
    version = tree.get("schema")
    if isinstance(version, str) and re.fullmatch(r"[0-9]{1,6}", version) and int(version) > SCHEMA:
        what = f"this record has form {version}; this version reads up to form {SCHEMA}"
        return Finding(Code.NEWER_SCHEMA, file, what, "update instrument-passport before you build", ("schema",))
    return None


def _photos(root: Path) -> dict[str, dict[str, PictureFacts]]:
    """Look at every picture, folder by folder; a folder whose name begins with _ belongs to no instrument."""
    folders = [folder for folder in _files(root / "photos") if folder.is_dir() and not folder.name.startswith("_")]
    return {folder.name: {path.name: facts_of(path) for path in _files(folder) if path.is_file()} for folder in folders}


def located(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Give the findings with line and column, in order of file and place."""
    by_file = sorted(findings, key=lambda finding: finding.file)
    placed: list[Finding] = []
    for file, group in groupby(by_file, key=lambda finding: finding.file):
        placed += _placed(file, list(group))
    return tuple(sorted(placed, key=lambda finding: finding.order))


def _placed(file: str, findings: list[Finding]) -> list[Finding]:
    if all(finding.line for finding in findings):
        return findings
    reading = read_file(Path(file), file)
    return [
        finding if finding.line else _at(reading.place_of(finding.path, on_key=finding.on_key), finding)
        for finding in findings
    ]


def _at(place: tuple[int, int], finding: Finding) -> Finding:
    return replace(finding, line=place[0], column=place[1])
