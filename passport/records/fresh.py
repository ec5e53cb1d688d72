"""The text of new records: commented, valid, and with a number of their own.

Gives text; puts nothing on disk.
"""

from __future__ import annotations

import re
from importlib import resources
from string import Template

from passport.records.reader import Reading, read
from passport.reference.kinds import OPEN_STRINGS

# What thirty alike have in common; numbers, measurements, set-ups, history and pictures are each one's own.
SHARED_FIELDS = (
    "schema", "id", "kind", "size", "model", "serial", "origin", "publish", "handed", "strings", "made", "parts",
    "outfit",
)  # fmt: skip
# What belongs to one piece of wood only.
OWN_OF_A_PIECE = re.compile(r"\b(wedge|density|figure): *(\"[^\"]*\"|[^,}\n]*),? *")


def blank(name: str, **words: str) -> str:
    """Fill one of the blanks: instrument, workshop or gauges."""
    text = (resources.files(__package__) / "blanks" / f"{name}.yml").read_text(encoding="utf-8")
    return _without_blanks_at_ends(Template(text).substitute(words))


def new_instrument(number: str, kind: str, size: str, model: str, today: str) -> str:
    """Give a new record to fill in."""
    strings = ", ".join(f"{name}: " for name in OPEN_STRINGS[kind])
    return blank("instrument", id=number, kind=kind, size=size, model=model, today=today, strings=strings)


def like(text: str, number: str) -> str:
    """Give a new record with what instruments made alike share with the one this text describes."""
    blocks = _blocks(text, read(text.encode(), ""))
    kept = [
        block if name != "parts" else OWN_OF_A_PIECE.sub("", block) for name, block in blocks if name in SHARED_FIELDS
    ]
    head = re.match(r"(#.*\n)*", text)
    body = "".join(kept)
    body = re.sub(r"^id:[^#\n]*", f"id: {number}  ", body, count=1, flags=re.MULTILINE)
    body = re.sub(r"^serial:.*$", "serial:", body, count=1, flags=re.MULTILINE)
    return (head.group() if head else "") + _without_blanks_at_ends(body)


def _without_blanks_at_ends(text: str) -> str:
    return re.sub(r"[ ]+$", "", text, flags=re.MULTILINE)


def _blocks(text: str, reading: Reading) -> list[tuple[str, str]]:
    """Cut a record into its top-level fields; comments above a field go with it."""
    lines = text.splitlines(keepends=True)
    starts = sorted((place.line - 1, str(path[0])) for path, place in reading.keys.items() if len(path) == 1)
    bounds = [(_with_comments(lines, line), name) for line, name in starts]
    ends = [line for line, _ in bounds[1:]] + [len(lines)]
    return [(name, "".join(lines[start:end])) for (start, name), end in zip(bounds, ends, strict=True)]


def _with_comments(lines: list[str], line: int) -> int:
    while line > 0 and lines[line - 1].startswith("#") and not _is_head(lines, line - 1):
        line -= 1
    return line


def _is_head(lines: list[str], line: int) -> bool:
    """Tell whether a comment belongs to the block at the top of the file."""
    return all(above.startswith("#") for above in lines[: line + 1])
