"""The list of printed labels reads back what it was given (RFC 4180), and what spreadsheet programs made of it."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.records.catalogue import load
from passport.records.decoding import MAX_BYTES, Undecodable
from passport.records.printed import FILE_NAME, PrintedLabel, logged, printed

ROWS = [("ZVSPYJH", "https://passports.tammpenn-harrowmere.net/ZVSPYJH/"), ("PB8ANDH", "https://x.net/a,b/PB8ANDH/")]
PLAIN = (
    "date,id,address,stock\n"
    "2024-03-01,ZVSPYJH,https://passports.tammpenn-harrowmere.net/ZVSPYJH/,60x30\n"
    "2024-04-01,PB8ANDH,https://passports.tammpenn-harrowmere.net/PB8ANDH/,70x36\n"
)


def labels(text: str) -> list[PrintedLabel]:
    found, findings = printed(text, FILE_NAME)
    assert findings == ()
    return list(found)


def unread(text: str) -> list[int]:
    return [finding.line for finding in printed(text, FILE_NAME)[1]]


def saved_by_a_spreadsheet(*, delimiter: str = ",", end: str = "\n", quoting: int = csv.QUOTE_MINIMAL) -> str:
    """The same rows written by the standard library's own writer."""
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator=end, quoting=quoting).writerows(csv.reader(io.StringIO(PLAIN)))  # type: ignore[arg-type]
    return out.getvalue()


def test_what_is_added_is_read_back_with_its_line() -> None:
    first = logged(b"", ROWS[:1], "60x30", "case", "2024-03-01")
    text = logged(first, ROWS[1:], "100x140", "card", "2024-04-01").decode()
    assert [(label.line, label.date, label.id, label.address, label.stock, label.kind) for label in labels(text)] == [
        (2, "2024-03-01", *ROWS[0], "60x30", "case"),
        (3, "2024-04-01", *ROWS[1], "100x140", "card"),
    ]


def test_a_last_line_without_an_end_is_ended_first() -> None:
    before = logged(b"", ROWS[:1], "60x30", "case", "2024-03-01").rstrip(b"\n")
    assert len(labels(logged(before, ROWS[1:], "60x30", "case", "2024-04-01").decode())) == 2


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_MINIMAL, csv.QUOTE_ALL])
def test_the_same_labels_are_read_however_a_spreadsheet_saved_them(delimiter: str, end: str, quoting: int) -> None:
    assert labels(saved_by_a_spreadsheet(delimiter=delimiter, end=end, quoting=quoting)) == labels(PLAIN)


def test_columns_may_change_places_and_others_may_be_added() -> None:
    text = (
        "Stock;Address;place;ID;Date\n"
        "60x30;https://passports.tammpenn-harrowmere.net/ZVSPYJH/;drawer 3;zvs-pyjh;2024-03-01\n"
        ";;;;\n"
    )
    assert labels(text) == [labels(PLAIN)[0]]


def test_a_head_further_down_says_what_stands_below_it() -> None:
    other = "id,date,address,stock\nPB8ANDH,2024-04-01,https://passports.tammpenn-harrowmere.net/PB8ANDH/,70x36\n"
    found = labels(PLAIN.rsplit("2024-04", 1)[0] + other)
    assert [(label.line, label.id, label.date) for label in found] == [
        (2, "ZVSPYJH", "2024-03-01"), (4, "PB8ANDH", "2024-04-01"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "row",
    [
        "2024-03-01",
        "2024-03-01,ZVSPYJH",
        "2024-03-01,ZVSPYJH,https://passports.tammpenn-harr",
        "2024-03-01,ZVSPYJ,https://passports.tammpenn-harrowmere.net/ZVSPYJH/,60x30",
        "ZVSPYJH,2024-03-01,https://passports.tammpenn-harrowmere.net/ZVSPYJH/,60x30",
        '"2024-03-01,ZVSPYJH,https://passports.tammpenn-harrowmere.net/ZVSPYJH/,60x30',
        "2024-03-01,ZVSPYJH," + "x" * 200_000,
        "see the other list",
    ],
)
def test_a_row_that_cannot_be_read_is_reported_and_hides_no_other(row: str) -> None:
    head, first, second = PLAIN.splitlines()
    text = "\n".join([head, first, row, second, ""])
    found, _ = printed(text, FILE_NAME)
    assert [label.line for label in found] == [2, 4]
    assert unread(text) == [3]


def test_a_list_longer_than_any_record_is_read(tmp_path: Path) -> None:
    head, first, _ = PLAIN.splitlines()
    count = MAX_BYTES // len(first) + 1
    (tmp_path / FILE_NAME).write_text("\n".join([head, *[first] * count, ""]), encoding="utf-8")
    archive = load(tmp_path)
    assert len(archive.printed) == count


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_what_is_added_keeps_every_byte_and_the_way_the_list_is_written(start: bytes, delimiter: str, end: str) -> None:
    before = start + saved_by_a_spreadsheet(delimiter=delimiter, end=end).encode()
    after = logged(before, ROWS, "60x30", "case", "2024-05-01")
    assert after.startswith(before)
    added = after[len(before) :].decode()
    assert added.count(end) == added.count("\n") == len(ROWS)
    assert [row[1] for row in csv.reader(io.StringIO(added), delimiter=delimiter)] == [number for number, _ in ROWS]
    assert [label.id for label in labels(after.removeprefix(start).decode())][2:] == [number for number, _ in ROWS]


def test_what_is_added_goes_under_the_right_heads() -> None:
    before = b"stock,place,address,id,date\n"
    after = logged(before, ROWS[:1], "60x30", "case", "2024-05-01").decode()
    assert after.splitlines()[1] == f"60x30,,{ROWS[0][1]},{ROWS[0][0]},2024-05-01"


def test_columns_of_the_workshops_own_stay_when_one_for_the_kind_is_added() -> None:
    before = b"stock,place,address,id,date\n"
    after = logged(before, ROWS[:1], "100x140", "card", "2024-05-01").decode()
    assert after.splitlines() == [
        "stock,place,address,id,date",
        "stock,place,address,id,date,kind",
        f"100x140,,{ROWS[0][1]},{ROWS[0][0]},2024-05-01,card",
    ]


@given(st.binary(max_size=60), st.sampled_from(["case", "card"]))
def test_whatever_is_there_stays_or_nothing_is_written(before: bytes, kind: str) -> None:
    try:
        after = logged(before, ROWS[:1], "60x30", kind, "2024-05-01")
    except Undecodable:
        return
    assert after.startswith(before)
    assert len(after) > len(before)


def test_before_there_were_kinds_every_label_was_for_a_case() -> None:
    assert [label.kind for label in labels(PLAIN)] == ["case", "case"]
    later = PLAIN.replace("stock\n", "stock,Kind\n").replace("60x30\n", "60x30, Card\n")
    assert [label.kind for label in labels(later)] == ["card", "case"]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("stray", ["", "{0}drawer 3"])
def test_a_list_without_a_column_for_the_kind_gets_one_below_and_keeps_every_byte(
    delimiter: str, end: str, stray: str
) -> None:
    # A cell under no heading stays what it was: no kind.
    old = saved_by_a_spreadsheet(delimiter=delimiter, end=end).removesuffix(end) + stray.format(delimiter) + end
    before = old.encode()
    after = logged(before, ROWS[:1], "100x60", "hang-tag", "2024-05-01")
    twice = logged(logged(after, ROWS[1:], "100x140", "card", "2024-05-02"), ROWS, "60x30", "case", "2024-05-03")
    assert after.startswith(before)
    assert twice.startswith(after)
    found = [(label.id, label.stock, label.kind) for label in labels(twice.decode())]
    assert found == [
        *((label.id, label.stock, "case") for label in labels(old)),
        (ROWS[0][0], "100x60", "hang-tag"),
        (ROWS[1][0], "100x140", "card"),
        (ROWS[0][0], "60x30", "case"),
        (ROWS[1][0], "60x30", "case"),
    ]
    # One head more, and no other line that is not a label.
    assert twice.count(end.encode()) == 1 + 2 + 1 + 4


def test_case_labels_leave_an_old_list_in_its_old_columns() -> None:
    after = logged(PLAIN.encode(), ROWS[:1], "60x30", "case", "2024-05-01").decode()
    assert after == f"{PLAIN}2024-05-01,{ROWS[0][0]},{ROWS[0][1]},60x30\n"
