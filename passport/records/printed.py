"""The list of printed labels, `records/printed-labels.csv`: day, number, address, stock and kind.

Text in, text out; puts nothing on disk. RFC 4180, and what spreadsheet programs make of it: other separators, columns
in another order, columns added. What stands in the list is only ever added to.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from passport.findings import Code, Finding
from passport.records.decoding import text_of
from passport.records.identity import is_valid, normalised

FILE_NAME = "printed-labels.csv"
HEAD = ("date", "id", "address", "stock", "kind")
SEPARATORS = (",", ";", "\t")
# A label is some eighty bytes: room for half a million.
MOST_BYTES = 50_000_000
LINE_END = re.compile(r"\r\n|\r|\n")
# What was printed always names a host and ends in a slash, so that an address cut short is noticed.
WHOLE_ADDRESS = re.compile(r"https?://[A-Za-z0-9.:\[\]-]+/([!-~]*/)?", re.IGNORECASE)
# What the list held before there were kinds of label.
FIRST_KIND = "case"


@dataclass(frozen=True)
class PrintedLabel:
    """One label that is out in the world; `line` is where the list says so."""

    line: int
    date: str
    id: str
    address: str
    stock: str
    kind: str


def printed(text: str, file: str) -> tuple[tuple[PrintedLabel, ...], tuple[Finding, ...]]:
    """Read the list; a row that is not understood is reported, and hides no other."""
    labels: list[PrintedLabel] = []
    findings: list[Finding] = []
    for line, row in _rows(text):
        why = _why_unreadable(row)
        if why:
            todo = f"mend it: {', '.join(HEAD)}, one label a line; the labels themselves are still out there"
            findings.append(Finding(Code.UNREADABLE_ROW, file, why, todo, line=line, column=1))
        else:
            number = normalised(row["id"])
            kind = row.get("kind", "").casefold() or FIRST_KIND
            labels.append(PrintedLabel(line, row.get("date", ""), number, row["address"], row.get("stock", ""), kind))
    return tuple(labels), tuple(findings)


def logged(before: bytes, labels: Iterable[tuple[str, str]], stock: str, kind: str, today: str) -> bytes:
    """Give the list with these labels, each a number and an address, added at its end in the way it is written.

    Every byte that was there stays. `Undecodable` where it is no text, so that nothing is mixed into it.
    """
    text = text_of(before, FILE_NAME)
    end = "\r\n" if "\r\n" in text else "\n"
    added = io.StringIO()
    writer = csv.writer(added, delimiter=_separator(text), lineterminator=end)
    if not text.strip():
        writer.writerow(HEAD)
    elif not text.endswith(("\n", "\r")):
        added.write(end)
    columns = _last_head(text)
    if "kind" not in columns and kind != FIRST_KIND:
        # A list begun before there were kinds: a head, wherever it stands, says what the columns are from there on.
        columns = (*columns, "kind")
        writer.writerow(columns)
    for number, address in labels:
        row = dict(zip(HEAD, (today, number, address, stock, kind), strict=True))
        writer.writerow([row.get(column, "") for column in columns])
    return before + added.getvalue().encode()


def _rows(text: str) -> Iterator[tuple[int, Mapping[str, str]]]:
    """Give each row by the names of its columns; a head, wherever it stands, says which they are from there on."""
    columns: tuple[str, ...] = HEAD
    for line, cells in _cells(text):
        if _is_head(cells):
            columns = _columns(cells)
        elif any(cells):
            yield line, dict(zip(columns, cells, strict=False))


def _last_head(text: str) -> tuple[str, ...]:
    heads = [_columns(cells) for _, cells in _cells(text) if _is_head(cells)]
    return heads[-1] if heads else HEAD


def _cells(text: str) -> Iterator[tuple[int, list[str]]]:
    """Take each line by itself: a quotation mark left open must not swallow the labels below it."""
    separator = _separator(text)
    for number, line in enumerate(LINE_END.split(text), start=1):
        try:
            cells = next(csv.reader([line], delimiter=separator), [])
        except csv.Error:
            cells = [line]
        yield number, [cell.strip() for cell in cells]


def _separator(text: str) -> str:
    first = next((line for line in LINE_END.split(text) if line.strip()), "")
    return max(SEPARATORS, key=first.count)


def _is_head(cells: list[str]) -> bool:
    return {"id", "address"} <= set(_columns(cells))


def _columns(cells: list[str]) -> tuple[str, ...]:
    return tuple(cell.casefold() for cell in cells)


def _why_unreadable(row: Mapping[str, str]) -> str:
    """Say what keeps a row from being a label; nothing where it is one."""
    if "id" not in row or "address" not in row:
        return "this row is cut off: a label has a day, a number, an address and a stock"
    if not is_valid(normalised(row["id"])):
        return f"“{row['id']}” in this row is not the number of an instrument"
    if not WHOLE_ADDRESS.fullmatch(row["address"]):
        return f"“{row['address']}” in this row is not the whole address of a page"
    return ""
