"""From the bytes of a record file to its text, or the one reason why it cannot be read at all.

Looks at the size before it reads, so that nothing huge is ever loaded.
"""

from __future__ import annotations

import codecs
import re
from pathlib import Path
from typing import NamedTuple

from passport.findings import Code, Finding

MAX_BYTES = 1_000_000

# YAML 1.2.2, production [1] c-printable.
UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")

# Where the notation needs a blank: in the indentation, after a field's colon, after an item's dash.
NO_BREAK = re.compile("^[ -]*\xa0|^[ \\w-]*:\xa0", re.MULTILINE)


class Place(NamedTuple):
    """A line and a column, both from 1."""

    line: int
    column: int


START = Place(1, 1)


class Undecodable(Exception):
    """A file of which nothing can be read; `finding` says why."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.what)
        self.finding = finding


def text_of_file(path: Path, file: str, most_bytes: int = MAX_BYTES) -> str:
    """Read a record's text from disk; Undecodable where that cannot be done."""
    try:
        if path.exists() and not path.is_file():
            raise _undecodable(Code.UNREADABLE, file, START, "this is not a file", "move it away")
        size = path.stat().st_size
        if size > most_bytes:
            what = f"the file has {size:,} bytes; it may have {most_bytes:,}"
            todo = "a record is some thousand bytes; pictures and scans belong in photos/ and are named in the record"
            raise _undecodable(Code.TOO_LARGE, file, START, what, todo)
        return text_of(path.read_bytes(), file)
    except OSError as error:
        todo = "look at its rights and where it is stored"
        raise _undecodable(Code.UNREADABLE, file, START, f"the file cannot be read: {error.strerror}", todo) from error


def text_of(data: bytes, file: str) -> str:
    """Decode a record; Undecodable where it is no text in UTF-8 or holds what cannot be printed."""
    if b"\0" in data:
        raise _undecodable(Code.NOT_TEXT, file, START, *_what_it_is(data))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        place = _place_at_end(data[: error.start].decode("utf-8", errors="replace"))
        what = f"the byte {data[error.start]:#04x} here is not UTF-8"
        raise _undecodable(Code.NOT_UTF8, file, place, what, "save the file with the encoding UTF-8") from error
    bad = UNPRINTABLE.search(text)
    if bad:
        what = f"a character that cannot be printed (U+{ord(bad.group()):04X}) stands here"
        place = _place_at_end(text[: bad.start()])
        raise _undecodable(Code.UNPRINTABLE, file, place, what, "delete it and type the place anew")
    stuck = NO_BREAK.search(text)
    if stuck:
        place = _place_at_end(text[: stuck.end() - 1])
        todo = "put an ordinary blank in its place; word processors and web pages leave these behind"
        raise _undecodable(
            Code.UNPRINTABLE, file, place, "a no-break space stands here, which looks like a blank", todo
        )
    return text


def _what_it_is(data: bytes) -> tuple[str, str]:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "this text is saved as UTF-16 (“Unicode”)", "save it with the encoding UTF-8"
    if data.startswith(b"PK"):
        return "this is a document of an office program or a zip file", "copy its words into a plain text file"
    return "this is not a text file", "a record is plain text in UTF-8; pictures belong in photos/"


def _place_at_end(text: str) -> Place:
    return Place(text.count("\n") + 1, len(text) - (text.rfind("\n") + 1) + 1)


def _undecodable(code: Code, file: str, place: Place, what: str, todo: str) -> Undecodable:
    return Undecodable(Finding(code, file, what, todo, line=place.line, column=place.column))
