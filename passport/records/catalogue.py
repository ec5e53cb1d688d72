"""The whole archive in memory: every record file of a folder, read and validated, with what was found on the way.

Here alone the record folders are walked. Places are not kept: they are read again for the files that have findings.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from itertools import groupby
from pathlib import Path
from typing import Any, TypeVar

from passport.errors import PassportError
from passport.findings import Code, Finding
from passport.kept import Chapter, Notebook, digest
from passport.near import nearest
from passport.pictures import PictureFacts, facts_of
from passport.records.decoding import Undecodable, text_of_file
from passport.records.filed import Filed, Look, inputs_of, looked_at, stored
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.records.printed import FILE_NAME as PRINTED
from passport.records.printed import MOST_BYTES as LONGEST_LIST
from passport.records.printed import PrintedLabel, printed
from passport.records.reader import read_file
from passport.spread import spread

R = TypeVar("R", bound=Record)

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
        return self.private[stem].look.standing if stem in self.private else ""

    def spoken_of(self, stem: str) -> tuple[Filed[Any], ...]:
        """Give the record of an instrument, those it speaks of, and those it is held against."""
        filed = self.instruments[stem]
        named = (getattr(self, folder).get(name) for folder, name in filed.look.names)
        return (filed, *(each for each in named if each), self.workshop, self.gauges)

    def inputs_of(self, stem: str) -> str:
        """Name everything that what is said of one instrument comes from: its record, and those it speaks of.

        The day counts only for a record that speaks of days to come.
        """
        filed = self.instruments[stem]
        named = [getattr(self, folder).get(name) for folder, name in filed.look.names]
        own = [self.private[stem].look.digest] if stem in self.private else []
        pictures = sorted(self.photos.get(stem, {}).items())
        day = min(self.today, filed.look.latest)
        return digest(
            [
                stem,
                filed.look.digest,
                *own,
                *(each.look.digest for each in named if each),
                pictures,
                day,
                self.surroundings,
            ]
        )

    @cached_property
    def surroundings(self) -> str:
        """Name what every instrument is held against: the workshop, its gauges, the names of all supplies."""
        supplies = [(folder, sorted(self.names(folder))) for folder in ("wood", "varnish", "models")]
        return digest([self.workshop.look.digest, self.gauges.look.digest, supplies])

    def records(self) -> Iterator[Filed[Any]]:
        """Give every record of every kind."""
        yield from self.instruments.values()
        yield from (filed for stem, filed in self.private.items() if stem in self.instruments)
        yield from self.others()

    @property
    def count(self) -> int:
        """Give the number of records."""
        return sum(1 for _ in self.records())

    def others(self) -> Iterator[Filed[Any]]:
        """Give every record that is not an instrument's, or is private and has lost its instrument."""
        yield from (self.workshop, self.gauges)
        for folder in (self.wood, self.varnish, self.models):
            yield from folder.values()
        yield from (filed for stem, filed in self.private.items() if stem not in self.instruments)

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


def load(root: Path, today: date | None = None, notebook: Notebook | None = None) -> Archive:
    """Read every record below a folder; `today` is the day by which dates are judged, the calendar's unless given.

    What the notebook kept of a file that is as it was is not read again.
    """
    reader = _Reader(root, notebook or Notebook())
    reader.findings += _stray_at_top(root)
    return Archive(
        root=root,
        today=today or date.today(),  # noqa: DTZ011 - the day on the workshop's own calendar is meant
        workshop=reader.single("workshop.yml", Workshop),
        gauges=reader.single("gauges.yml", Gauges),
        instruments=reader.folder("instruments", Instrument),
        wood=reader.folder("wood", WoodLot),
        varnish=reader.folder("varnish", VarnishBatch),
        models=reader.folder("models", Model),
        private=reader.folder("private", Private),
        photos=reader.photos(),
        printed=_printed(root, reader.findings),
        unread=frozenset(reader.unread),
        findings=tuple(reader.findings),
    )


class _Reader:
    """Goes through the folders of an archive, and gathers what is found on the way."""

    def __init__(self, root: Path, notebook: Notebook) -> None:
        self.findings: list[Finding] = []
        self.unread: set[tuple[str, str]] = set()
        self._root = root
        self._looks: Chapter[Look] = notebook.chapter("looks", Look)
        self._pictures: Chapter[PictureFacts] = notebook.chapter("pictures", PictureFacts)

    def folder(self, folder: str, kind: type[R]) -> dict[str, Filed[R]]:
        """Read the records of a folder."""
        paths = []
        for path in _files(self._root / folder):
            stray = _stray(path, path.as_posix())
            if stray is None:
                paths.append(path)
            else:
                self.findings.append(stray)
        filed = {path.stem: found for path, found in zip(paths, self._looked(paths, kind), strict=True)}
        self.unread |= {(folder, stem) for stem, found in filed.items() if not found.look.readable}
        return {stem: found for stem, found in filed.items() if found.look.readable}

    def single(self, name: str, kind: type[R]) -> Filed[R]:
        """Read one of the two records that lie at the top."""
        path = self._root / name
        file = path.as_posix()
        if not path.exists():
            todo = "passport init writes one to start from"
            self.findings.append(Finding(Code.MISSING_FIELD, file, f"there is no {name}", todo, line=1, column=1))
            return Filed(file, kind())
        found = self._looked([path], kind)[0]
        return found if found.look.readable else Filed(file, kind())

    def _looked(self, paths: Sequence[Path], kind: type[R]) -> list[Filed[R]]:
        inputs = [inputs_of(path) for path in paths]
        looks = [(self._looks.get(path.as_posix(), known), "") for path, known in zip(paths, inputs, strict=True)]
        new = [index for index, (look, _) in enumerate(looks) if look is None]
        for index, found in zip(new, spread(looked_at, kind, [paths[index] for index in new]), strict=True):
            looks[index] = found
            self._looks.put(paths[index].as_posix(), inputs[index], found[0])
        filed = [stored(path, kind, look, text) for path, (look, text) in zip(paths, looks, strict=True) if look]
        self.findings += [finding for found in filed for finding in found.look.findings]
        return filed

    def photos(self) -> dict[str, dict[str, PictureFacts]]:
        """Look at every picture; a folder whose name begins with _ belongs to no instrument."""
        folders = [path for path in _files(self._root / "photos") if path.is_dir() and not path.name.startswith("_")]
        return {
            folder.name: {path.name: self._picture(path) for path in _files(folder) if path.is_file()}
            for folder in folders
        }

    def _picture(self, path: Path) -> PictureFacts:
        name, inputs = path.as_posix(), inputs_of(path)
        kept = self._pictures.get(name, inputs)
        if kept is None:
            kept = facts_of(path)
            self._pictures.put(name, inputs, kept)
        return kept


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
