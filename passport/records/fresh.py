"""The text of new records: commented, valid, and with a number of their own.

Gives text; puts nothing on disk.
"""

from __future__ import annotations

import re
from importlib import resources
from string import Template

from passport.errors import PassportError
from passport.records.reader import Reading, read
from passport.reference.cautions import CAUTIONS
from passport.reference.kinds import OPEN_STRINGS
from passport.reference.measures import measure

# What thirty alike have in common; numbers, measurements, set-ups, history and pictures are each one's own.
SHARED_FIELDS = (
    "schema", "id", "kind", "size", "model", "serial", "origin", "publish", "handed", "strings", "made", "parts",
    "outfit",
)  # fmt: skip
# A row across the widest of the upper bout, as a share of the body's length, and the step rows are told in.
UPPER_SHARE, ROUND_MM = 0.915, 5
# Of a size that the trade's table has not, the rows stand for any; they are overwritten like everything in a blank.
UNKNOWN_ROWS = ("2", "1")
# What belongs to one piece of wood only: in braces among others, or on lines of its own.
OWN_OF_A_PIECE = re.compile(r"""\b(wedge|density|figure): *("[^"]*"|'[^']*'|\{[^}]*\}|[^,}\n]*),? *""")
OWN_LINES_OF_A_PIECE = re.compile(r"^( *)(wedge|density|figure):([^\n{}]*[^\n{},])?\n(?:\1 +.*\n)*", re.MULTILINE)


def blank(of: str, /, **words: str) -> str:
    """Fill one of the blanks, by its file's name."""
    text = (resources.files(__package__) / "blanks" / f"{of}.yml").read_text(encoding="utf-8")
    return _without_blanks_at_ends(Template(text).substitute(words))


def new_instrument(number: str, kind: str, size: str, model: str, today: str) -> str:
    """Give a new record to fill in."""
    rows = dict(zip(("row_upper", "row_bridge"), _rows(kind, size), strict=True))
    return blank(
        "instrument", id=number, kind=kind, size=size, model=model, today=today, strings=_strings(kind), **rows
    )


def new_lot(name: str, species: str, today: str) -> str:
    """Give a new wood lot to fill in."""
    made = blank("lot", name=name, species=species, today=today)
    _refuse_unread(made, "species", species)
    return made


def new_batch(name: str, today: str) -> str:
    """Give a new varnish batch to fill in."""
    return blank("batch", name=name, today=today, hazards=", ".join(CAUTIONS))


def new_model(name: str, kind: str, size: str, today: str) -> str:
    """Give a new model to fill in."""
    return blank("model", name=name, kind=kind, size=size, today=today, strings=_strings(kind))


def _rows(kind: str, size: str) -> tuple[str, str]:
    """Give where the thickness of a plate is measured first: across the upper bout, and on the line of the bridge."""
    length, stop = (measure(kind, size, field) for field in ("body_length", "body_stop"))
    if length is None or stop is None:
        return UNKNOWN_ROWS
    upper, bridge = UPPER_SHARE * length.nominal, length.nominal - stop.nominal
    return f"{ROUND_MM * round(upper / ROUND_MM)}", f"{ROUND_MM * round(bridge / ROUND_MM)}"


def _strings(kind: str) -> str:
    return ", ".join(f"{name}: " for name in OPEN_STRINGS[kind])


def like(text: str, number: str) -> str:
    """Give a new record with what instruments made alike share with the one this text describes."""
    blocks = _blocks(text, read(text.encode(), ""))
    kept = [block if name != "parts" else _without_own(block) for name, block in blocks if name in SHARED_FIELDS]
    head = re.match(r"(#.*\n)*", text)
    body = "".join(kept)
    body = re.sub(r"^id:[^#\n]*", f"id: {number}  ", body, count=1, flags=re.MULTILINE)
    body = re.sub(r"^serial:.*$", "serial:", body, count=1, flags=re.MULTILINE)
    made = (head.group() if head else "") + _without_blanks_at_ends(body)
    _refuse_unread(made, "id", number)
    return made


def with_page(before: bytes, tail: str) -> bytes:
    """Give a private record with the address of its page added; every byte that was there stays."""
    end = b"\r\n" if b"\r\n" in before else b"\n"
    made = before + (b"" if before.endswith(b"\n") else end) + f"page: {tail}".encode() + end
    _refuse_unread(made.decode("utf-8-sig"), "page", tail)
    return made


def _refuse_unread(made: str, field: str, wanted: str) -> None:
    """Raise PassportError where what was put together does not read as it was meant."""
    again = read(made.encode(), "")
    if again.findings or not isinstance(again.tree, dict) or again.tree.get(field) != wanted:
        raise PassportError(
            f"the record is written in a way to which {field}: {wanted} cannot be added",
            "look through it with passport check, and give each of its fields a line of its own",
        )


def _without_own(block: str) -> str:
    return OWN_OF_A_PIECE.sub("", OWN_LINES_OF_A_PIECE.sub("", block)).replace(", }", "}")


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
