"""Every stock, every printer, addresses of every length in both modes: read back, or refused because it cannot be.

What can be follows from ISO/IEC 18004 alone: the version that holds the address at level Q, its modules and the white
round them, and dots of the printer that make half a millimetre.
"""

from __future__ import annotations

import io
import math
from dataclasses import replace

import pytest
from PIL import Image

from passport.errors import PassportError
from passport.labels import finished_png, finished_sheet
from passport.stocks import PRINTER_DPI, STOCKS, Stock

from .cards import VIOLIN
from .test_label_code import CAPACITY_Q, address_of
from .test_label_finished import codes_in

# The longest address of each version and one shorter, and one longer than the version holds.
VERSIONS = (2, 3, 4, 5, 6, 7)
# The least words, so that none of them is what a label has no room for.
TERSE = replace(VIOLIN, serial="", place="", contact="T&P", workshop="T&P")


def modules_with_quiet(length: int, *, capitals: bool) -> int:
    version = min(v for v, held in CAPACITY_Q.items() if held[0 if capitals else 1] >= length)
    return 17 + 4 * version + 8


def can_be(stock: Stock, modules: int, dpi: int) -> bool:
    """Whether whole dots of half a millimetre or more fit: 1 mm stays free above and below, 55 % for words."""
    least_dots = math.ceil(0.5 / 25.4 * dpi)
    return modules * least_dots / dpi * 25.4 <= min(stock.height_mm - 2.0, 0.45 * stock.width_mm) + 1e-6


def lengths(*, capitals: bool) -> list[int]:
    held = [CAPACITY_Q[version][0 if capitals else 1] for version in VERSIONS]
    shortest = len(address_of(0, capitals=capitals))
    return sorted({length + more for length in held for more in (-1, 0, 1) if shortest <= length + more <= held[-1]})


# Rolls at every resolution a label printer has; a picture of a label from a sheet is the exception.
PICTURES = [(stock, dpi) for stock in STOCKS for dpi in PRINTER_DPI if stock.sheet is None or dpi == 300]


@pytest.mark.parametrize(("stock", "dpi"), PICTURES, ids=[f"{stock.name}-{dpi}" for stock, dpi in PICTURES])
@pytest.mark.parametrize("capitals", [True, False], ids=["alphanumeric", "byte"])
def test_a_label_is_read_back_exactly_where_the_standard_leaves_room(stock: Stock, dpi: int, *, capitals: bool) -> None:
    for length in lengths(capitals=capitals):
        label = replace(TERSE, address=address_of(length, capitals=capitals))
        possible = can_be(stock, modules_with_quiet(length, capitals=capitals), dpi)
        try:
            made = finished_png(label, stock, dpi)
        except PassportError as refused:
            assert not possible, (length, refused.what)  # noqa: PT017 - both outcomes are in the table
            assert "The code needs" in refused.what  # noqa: PT017
            continue
        assert possible, length
        [found] = codes_in(Image.open(io.BytesIO(made)))
        assert found.text == label.address


@pytest.mark.parametrize("stock", [stock for stock in STOCKS if stock.sheet], ids=lambda stock: stock.name)
def test_a_sheet_of_every_length_is_read_back_cell_by_cell(stock: Stock) -> None:
    labels = [
        replace(TERSE, address=address_of(length, capitals=capitals))
        for capitals in (True, False)
        for length in lengths(capitals=capitals)
        if can_be(stock, modules_with_quiet(length, capitals=capitals), 300)
    ]
    if not labels:
        with pytest.raises(PassportError, match="The code needs"):
            finished_sheet([TERSE], stock)
        return
    assert finished_sheet(labels, stock)  # which reads every cell back
