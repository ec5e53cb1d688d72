"""The list of printed labels, `records/printed-labels.csv`: day, number, address, stock and kind.

Text in, text out; puts nothing on disk. RFC 4180.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

FILE_NAME = "printed-labels.csv"
HEAD = ("date", "id", "address", "stock", "kind")


@dataclass(frozen=True)
class PrintedLabel:
    """One label that is out in the world; `line` is where the list says so."""

    line: int
    date: str
    id: str
    address: str
    stock: str
    kind: str = "case"


def printed(text: str) -> tuple[PrintedLabel, ...]:
    """Read the list; a line that is not one of ours is passed over."""
    reader = csv.reader(io.StringIO(text))
    rows = [(reader.line_num, row) for row in reader]
    return tuple(PrintedLabel(line, *row) for line, row in rows if _is_label(row))


def _is_label(row: list[str]) -> bool:
    """Tell whether a line is one of ours; before there were kinds of label it had no kind, and was for a case."""
    return len(row) in (len(HEAD) - 1, len(HEAD)) and tuple(row) not in (HEAD, HEAD[:-1])


def logged(before: str, labels: Iterable[tuple[str, str]], stock: str, kind: str, today: str) -> str:
    """Give the list with these labels, each a number and an address, added at its end."""
    added = io.StringIO()
    writer = csv.writer(added, lineterminator="\n")
    if not before:
        writer.writerow(HEAD)
    writer.writerows((today, number, address, stock, kind) for number, address in labels)
    closed = before if not before or before.endswith("\n") else f"{before}\n"
    return closed + added.getvalue()
