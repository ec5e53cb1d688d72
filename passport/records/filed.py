"""A record in its file: looked at once for what the archive must know of it, made when it is asked for.

Holds few records at a time, so that an archive of ten thousand instruments needs no more memory than one of hundreds.
"""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any, Generic, TypeVar

from passport.findings import Code, Finding
from passport.kept import digest, state
from passport.records.dates import Date
from passport.records.decoding import MAX_BYTES
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.workshop import Private
from passport.records.reader import Tree, read_file
from passport.records.validation import fitted, validated
from passport.records.walk import walked

R = TypeVar("R", bound=Record)

# The newest form of a record that this version reads. A change of the form raises it and comes with a migration.
SCHEMA = 1
# Records held at a time; one as rich as they come takes a tenth of a megabyte.
HELD = 300
# The fields by which a record names others, and the folders where those lie.
NAMING = {"model": "models", "lot": "wood", "batch": "varnish"}
# Some file systems tell the time of a change to two seconds only; so young a file may change again unseen.
YOUNG_S = 2


@dataclass(frozen=True)
class Look:
    """What one look at a file told, apart from the record: all that the archive needs to know of it at any time.

    `names` are the lots, batches and models it speaks of, each with its folder, `latest` the last day it surely names,
    `standing` what decides its address.
    """

    digest: str
    readable: bool = True
    findings: tuple[Finding, ...] = ()
    names: tuple[tuple[str, str], ...] = ()
    latest: date = date.min
    standing: str = ""


class Filed(Generic[R]):
    """A record and the file it stands in. The record is made when it is asked for, and not held for long."""

    def __init__(self, file: str, source: R | Callable[[], R], look: Look | None = None) -> None:
        self.file = file
        self._source = source
        self._look = look

    @property
    def record(self) -> R:
        """Give the record."""
        return _made(self._source) if callable(self._source) else self._source

    @cached_property
    def look(self) -> Look:
        """Give what is known of the file without its record; of one that was not read, what its record tells."""
        return self._look or Look("", standing=standing_of(self.record))


@lru_cache(maxsize=HELD)
def _made(source: Callable[[], Any]) -> Any:
    return source()


@dataclass(frozen=True)
class Stored(Generic[R]):
    """How the record of a file is made: from the text as it was looked at, or from the file again."""

    file: str
    kind: type[R]
    digest: str
    text: str = field(default="", compare=False)

    def __call__(self) -> R:
        """Make the record; what is wrong with it was said when it was looked at."""
        tree = json.loads(self.text) if self.text else read_file(Path(self.file), self.file, placed=False).tree
        return fitted(self.kind, tree)


def stored(path: Path, kind: type[R], look: Look, text: str) -> Filed[R]:
    """Give a file that was looked at, with its record to be made from its text."""
    file = path.as_posix()
    return Filed(file, Stored(file, kind, look.digest, text), look)


def inputs_of(path: Path) -> str:
    """Give what tells that a file is still the one that was looked at; one just changed is known by its bytes."""
    try:
        found = path.stat()
        is_young = time.time() - found.st_mtime < YOUNG_S
        return f"{state(found)} {_digest(path)}" if is_young else state(found)
    except OSError:
        return ""


def _digest(path: Path) -> str:
    """Name the bytes of a file; one too large for a record by its size alone."""
    try:
        found = path.stat()
        is_record = path.is_file() and found.st_size <= MAX_BYTES
        return digest([path.read_bytes()]) if is_record else state(found)
    except OSError:
        return "unreadable"


def looked_at(kind: type[Record], path: Path) -> tuple[Look, str]:
    """Read a file and try its record; give what it told, and its text as JSON."""
    named = _digest(path)
    record, tree, findings = load_file(path, kind)
    if record is None:
        return Look(named, readable=False, findings=findings), ""
    names = tuple(dict.fromkeys(_names(tree)))
    return Look(named, True, findings, names, _latest(record), standing_of(record)), json.dumps(tree)  # noqa: FBT003


def load_file(path: Path, kind: type[R]) -> tuple[R | None, Tree, tuple[Finding, ...]]:
    """Read one record file: its record, its text as a tree, what is wrong; no record where nothing can be read."""
    file = path.as_posix()
    reading = read_file(path, file, placed=False)
    if not isinstance(reading.tree, dict):
        return None, None, reading.findings
    newer = _newer_schema(reading.tree, file)
    if newer is not None:
        return None, None, (*reading.findings, newer)
    record, findings = validated(kind, reading.tree, file)
    return record, reading.tree, (*reading.findings, *findings)


def _newer_schema(tree: dict[str, Tree], file: str) -> Finding | None:
    version = tree.get("schema")
    if isinstance(version, str) and re.fullmatch(r"[0-9]{1,6}", version) and int(version) > SCHEMA:
        what = f"this record has form {version}; this version reads up to form {SCHEMA}"
        return Finding(Code.NEWER_SCHEMA, file, what, "update instrument-passport before you build", ("schema",))
    return None


def standing_of(record: Record) -> str:
    """Give what decides an address: how an instrument is published, or the random end that a private record keeps."""
    if isinstance(record, Instrument):
        return record.published
    return record.page or "" if isinstance(record, Private) else ""


def _names(tree: Tree) -> Iterator[tuple[str, str]]:
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ():
        if key in NAMING and isinstance(value, str):
            yield NAMING[key], value
        yield from _names(value)


def _latest(record: Record) -> date:
    days = (value for _, entry in walked(record) for value in vars(entry).values() if isinstance(value, Date))
    return max((day.earliest for day in days if day.earliest), default=date.min)
