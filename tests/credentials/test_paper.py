"""A key printed on paper comes back when it is typed, and every slip of one sign is seen."""

from __future__ import annotations

import io

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.credentials.paper import ROWS, Sheet, backup, part_of, rows_of
from passport.errors import PassportError

SECRET = bytes.fromhex("c96ef9ea10c5e414c471723aff9de72c35fa5b70fae97e8832ecac7d2e2b8ed6")


@given(st.binary(min_size=32, max_size=32))
def test_what_is_printed_is_read_again(secret: bytes) -> None:
    rows = rows_of(secret)
    assert len(rows) == ROWS
    assert b"".join(part_of(number, row) for number, row in enumerate(rows, start=1)) == secret


def test_it_may_be_typed_in_capitals_without_blanks_or_with_letters_for_figures() -> None:
    row = rows_of(SECRET)[1]
    assert part_of(2, row.upper().replace(" ", "")) == SECRET[4:8]
    assert part_of(2, row.replace("0", "O").replace("1", "l")) == SECRET[4:8]


def test_nearly_every_slip_is_seen() -> None:
    row = rows_of(SECRET)[0].replace(" ", "")
    slips = [
        row[:at] + sign + row[at + 1 :] for at in range(len(row)) for sign in "0123456789abcdef" if sign != row[at]
    ]
    unseen = 0
    for slip in slips:
        try:
            part_of(1, slip)
        except PassportError:
            continue
        unseen += 1
    # A check of one byte lets through one slip in 256.
    assert unseen <= 3


@pytest.mark.parametrize("typed", ["", "c96e f9ea", "zzzz zzzz zz", rows_of(SECRET)[1]])
def test_a_row_that_is_no_row_or_another_row_is_refused(typed: str) -> None:
    with pytest.raises(PassportError, match="row 1"):
        part_of(1, typed)


def test_the_sheets_bear_the_rows_and_the_fingerprints() -> None:
    sheets = [
        Sheet("AAAA BBBB CCCC DDDD EEEE", SECRET, is_next=False),
        Sheet("7777 BBBB CCCC DDDD EEEE", bytes(32), is_next=True),
    ]
    for paper, width_mm in (("a4", 210), ("letter", 215.9)):
        pdf = pypdf.PdfReader(io.BytesIO(backup(sheets, "Tamm & Penn", paper)))  # type: ignore[arg-type]
        assert len(pdf.pages) == 2
        assert float(pdf.pages[0].mediabox.width) == pytest.approx(width_mm / 25.4 * 72, abs=0.5)
        for page, sheet in zip(pdf.pages, sheets, strict=True):
            text = "".join(page.extract_text().split())
            assert sheet.fingerprint.replace(" ", "") in text
            assert all(row.replace(" ", "") in text for row in rows_of(sheet.secret))
