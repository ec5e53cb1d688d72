"""The list of printed labels reads back what it was given (RFC 4180)."""

from __future__ import annotations

from passport.records.printed import logged, printed

ROWS = [("ZVSPYJH", "https://passports.tammpenn-harrowmere.net/ZVSPYJH/"), ("PB8ANDH", 'https://x.net/a,"b"/')]


def test_what_is_added_is_read_back_with_its_line() -> None:
    text = logged(logged("", ROWS[:1], "60x30", "case", "2024-03-01"), ROWS[1:], "100x140", "card", "2024-04-01")
    assert [(label.line, label.date, label.id, label.address, label.stock, label.kind) for label in printed(text)] == [
        (2, "2024-03-01", *ROWS[0], "60x30", "case"),
        (3, "2024-04-01", *ROWS[1], "100x140", "card"),
    ]


def test_a_last_line_without_an_end_is_ended_first() -> None:
    before = logged("", ROWS[:1], "60x30", "case", "2024-03-01").rstrip("\n")
    assert len(printed(logged(before, ROWS[1:], "60x30", "case", "2024-04-01"))) == 2


def test_lines_that_are_not_ours_are_passed_over() -> None:
    assert printed("date,id,address,stock\n\nsomething else\na,b\n") == ()
