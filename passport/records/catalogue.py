"""The whole archive in memory: every record file of a folder, read and validated, with what was found on the way.

Here alone the record folders are walked. Places are not kept: they are read again for the files that have findings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path
from typing import Any, Generic, TypeVar

from passport.errors import PassportError
from passport.findings import Code, Finding
from passport.pictures import PictureFacts, facts_of
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.workshop import Gauges, Private, Workshop
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
IGNORED = re.compile(r"^(\.|README)|(~|\.swp|\.tmp)$")
# What file synchronisers and file managers name the second copy of a file that two people changed.
CONFLICT = re.compile(r"[ ._-]*(\(\d+\)|\(?conflict|sync-conflict|conflicted copy|copy\b|- copy| copy)", re.IGNORECASE)


@dataclass(frozen=True)
class Filed(Generic[R]):
    """A record and the file it stands in."""

    file: str
    record: R


@dataclass(frozen=True)
class Archive:
    """Everything in the records folder, by file name without its ending."""

    root: Path
    workshop: Filed[Workshop]
    gauges: Filed[Gauges]
    instruments: Mapping[str, Filed[Instrument]]
    wood: Mapping[str, Filed[WoodLot]]
    varnish: Mapping[str, Filed[VarnishBatch]]
    models: Mapping[str, Filed[Model]]
    private: Mapping[str, Filed[Private]]
    photos: Mapping[str, Mapping[str, PictureFacts]]
    unread: frozenset[str]
    findings: tuple[Finding, ...]

    def names(self, folder: str) -> set[str]:
        """Give the names of a folder's records, those included that are there but cannot be read."""
        unread = {name.removeprefix(f"{folder}/") for name in self.unread if name.startswith(f"{folder}/")}
        return {*getattr(self, folder), *unread}

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
    """Give the records folder that a path lies in; PassportError where there is none."""
    if not start.exists():
        raise PassportError(
            f"there is no file or folder “{start}”", "check the spelling, or start an archive: passport init"
        )
    for folder in (start, *start.parents) if start.is_dir() else start.parents:
        if is_archive(folder):
            return folder
    todo = "name the folder that holds workshop.yml, or start an archive: passport init"
    raise PassportError(f"“{start}” does not lie in a folder of records", todo)


def is_archive(folder: Path) -> bool:
    """Tell whether a folder is a records folder."""
    return (folder / "workshop.yml").is_file() or (folder / "instruments").is_dir()


def load(root: Path) -> Archive:
    """Read every record below a folder."""
    findings: list[Finding] = []
    unread: set[str] = set()
    kinds = {folder: dict(_records(root, folder, findings, unread)) for folder in FOLDERS}
    findings += _stray_at_top(root)
    return Archive(
        root=root,
        workshop=_single(root, "workshop.yml", Workshop, findings),
        gauges=_single(root, "gauges.yml", Gauges, findings),
        instruments=kinds["instruments"],  # type: ignore[arg-type]
        wood=kinds["wood"],  # type: ignore[arg-type]
        varnish=kinds["varnish"],  # type: ignore[arg-type]
        models=kinds["models"],  # type: ignore[arg-type]
        private=kinds["private"],  # type: ignore[arg-type]
        photos=_photos(root),
        unread=frozenset(unread),
        findings=tuple(findings),
    )


def _records(root: Path, folder: str, findings: list[Finding], unread: set[str]) -> Iterator[tuple[str, Filed[Record]]]:
    for path in _files(root / folder):
        file = path.as_posix()
        stray = _stray(path, file)
        if stray is not None:
            findings.append(stray)
            continue
        record, found = load_file(path, FOLDERS[folder])
        findings += found
        if record is None:
            unread.add(f"{folder}/{path.stem}")
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
    return sorted(path for path in paths if path.is_file() or path.suffix == ".yml")


def _stray(path: Path, file: str) -> Finding | None:
    if CONFLICT.search(path.stem):
        todo = "compare it with the record it was copied from, keep what is right there, and delete this file"
        return Finding(
            Code.CONFLICT_COPY,
            file,
            "this looks like a second copy left behind when two people saved",
            todo,
            line=1,
            column=1,
        )
    if path.suffix != ".yml":
        return Finding(
            Code.STRAY_FILE,
            file,
            "this file is not read: its name does not end in .yml",
            "rename it, or move it away",
            line=1,
            column=1,
        )
    return None


def _stray_at_top(root: Path) -> Iterator[Finding]:
    for path in _files(root):
        if path.suffix in (".yml", ".yaml") and path.name not in FILES:
            todo = f"records lie in {', '.join(FOLDERS)}; only {' and '.join(FILES)} lie here"
            yield Finding(
                Code.STRAY_FILE,
                path.as_posix(),
                "this file is not read: it lies outside the folders",
                todo,
                line=1,
                column=1,
            )


def _single(root: Path, name: str, kind: type[R], findings: list[Finding]) -> Filed[R]:
    path = root / name
    if not path.exists():
        what = f"there is no {name}"
        findings.append(
            Finding(
                Code.MISSING_FIELD,
                path.as_posix(),
                what,
                "passport init writes one to start from",
                line=1,
                column=1,
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
    folder = root / "photos"
    if not folder.is_dir():
        return {}
    return {
        inner.name: {path.name: facts_of(path) for path in _files(inner)}
        for inner in sorted(folder.iterdir())
        if inner.is_dir() and not inner.name.startswith((".", "_"))
    }


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
