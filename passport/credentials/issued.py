"""What was handed out, as it lies in the records: `issued/keys/` and `issued/<ID>/NNN-DATE/`, only ever added to.

Reads and names these files; a passport once frozen is never written again.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from passport.credentials.integrity import check
from passport.credentials.statements import Statement, chain, digest_of, statement_of
from passport.credentials.strict import MOST_BYTES, Json, read
from passport.credentials.words import RefusedError
from passport.errors import PassportError

FOLDER = "issued"
KEYS = "keys"
NUMBERED = re.compile(r"(\d{3,})-(\d{4}-\d{2}-\d{2})")
FROM_BACKUP = "bring it back from a backup: what was handed out is never written again"


@dataclass(frozen=True)
class Place:
    """Where one passport lies: of which instrument, its place in the row of issues, its day."""

    stem: str
    number: int
    day: str
    folder: Path

    @property
    def file(self) -> Path:
        """Give the passport's file."""
        return self.folder / passport_name(self.stem, self.number)


@dataclass(frozen=True)
class Issue:
    """One passport as it was frozen: where it lies, its digest and the signed document."""

    place: Place
    document: Json
    digest: str


def text_of(document: Json) -> bytes:
    """Write a signed document so that a person can read it too; what is signed is its canonical form."""
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


def statement_path(root: Path, number: int, day: str) -> Path:
    """Give where a key statement lies."""
    return root / FOLDER / KEYS / f"{number:03d}-{day}.json"


def issue_folder(root: Path, stem: str, number: int, day: str) -> Path:
    """Give where an issue lies."""
    return root / FOLDER / stem / f"{number:03d}-{day}"


def passport_name(stem: str, number: int) -> str:
    """Give the file name of a passport."""
    return f"{stem}-{number:03d}.json"


def statements(root: Path) -> tuple[Statement, ...]:
    """Read the workshop's key statements; PassportError where one was altered or is missing."""
    paths = sorted((root / FOLDER / KEYS).glob("*.json"))
    try:
        return chain(statement_of(_document(path)) for path in paths)
    except RefusedError as refused:
        what = f"the statements in “{root / FOLDER / KEYS}” do not hold: {refused.said.text}"
        raise PassportError(what, FROM_BACKUP) from refused


def issued_to(root: Path) -> tuple[str, ...]:
    """Give the instruments that were given a passport."""
    folder = root / FOLDER
    names = sorted(path.name for path in folder.iterdir() if path.is_dir()) if folder.is_dir() else []
    return tuple(name for name in names if name != KEYS and not name.startswith("."))


def places_of(root: Path, stem: str) -> tuple[Place, ...]:
    """Give where the passports of an instrument lie, in the order of issue; PassportError where one is missing."""
    folder = root / FOLDER / stem
    named = [(NUMBERED.fullmatch(path.name), path) for path in (folder.iterdir() if folder.is_dir() else ())]
    places = [Place(stem, int(name[1]), name[2], path) for name, path in named if name]
    places.sort(key=lambda place: place.number)
    for number, place in enumerate(places, start=1):
        if place.number != number:
            raise PassportError(f"issue {number} of {stem} is missing in “{folder}”", FROM_BACKUP)
    return tuple(places)


def issue_at(place: Place) -> Issue:
    """Read a frozen passport; PassportError where it was altered."""
    document = _document(place.file)
    if check(document).document is None:
        raise PassportError(f"the passport “{place.file}” was altered since it was signed", FROM_BACKUP)
    return Issue(place, document, digest_of(document))


def _document(path: Path) -> Json:
    try:
        with path.open("rb") as file:
            return read(file.read(MOST_BYTES + 1))
    except OSError as error:
        raise PassportError(f"“{path}” cannot be read: {error.strerror}", FROM_BACKUP) from error
    except RefusedError as refused:
        raise PassportError(f"“{path}” does not hold: {refused.said.text}", FROM_BACKUP) from refused
