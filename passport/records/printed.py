"""The list of printed labels, `records/printed-labels.csv`: day, number, address and stock, one line a label.

Text in, text out; puts nothing on disk. RFC 4180.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

FILE_NAME = "printed-labels.csv"
HEAD = ("date", "id", "address", "stock")


@dataclass(frozen=True)
class PrintedLabel:
    """One label that is out in the world; `line` is where the list says so."""

    line: int
    date: str
    id: str
    address: str
    stock: str


def printed(text: str) -> tuple[PrintedLabel, ...]:
    """Read the list; a line that is not one of ours is passed over."""
    reader = csv.reader(io.StringIO(text))
    rows = [(reader.line_num, row) for row in reader]
    return tuple(PrintedLabel(line, *row) for line, row in rows if len(row) == len(HEAD) and tuple(row) != HEAD)


def logged(before: str, labels: Iterable[tuple[str, str]], stock: str, today: str) -> str:
    """Give the list with these labels, each a number and an address, added at its end."""
    added = io.StringIO()
    writer = csv.writer(added, lineterminator="\n")
    if not before:
        writer.writerow(HEAD)
    writer.writerows((today, number, address, stock) for number, address in labels)
    closed = before if not before or before.endswith("\n") else f"{before}\n"
    return closed + added.getvalue()
