"""Stocks and printers: what cannot be is said, and what is measured on a page puts the next one right."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.errors import PassportError
from passport.stocks import (
    PAPER_MM,
    STOCKS,
    Printer,
    Sheet,
    Stock,
    find_printer,
    find_stock,
    has_room_for_code,
    misfits,
)

SHEET = Sheet("a4", 3, 8, 7.0, 12.0, 66.0, 34.0)
STOCK = Stock("64x34", 64.0, 34.0, SHEET)


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: stock.name)
def test_the_stocks_that_come_with_the_tool_can_be_and_are_named_by_their_size(stock: Stock) -> None:
    assert list(misfits(stock)) == []
    width, height = map(float, stock.name.split("x"))
    assert (stock.width_mm, stock.height_mm) == pytest.approx((width, height), abs=0.06)


@pytest.mark.parametrize(
    ("stock", "field", "says"),
    [
        (replace(STOCK, width_mm=0.0), ("width",), "a width of 0 mm"),
        (replace(STOCK, height_mm=340.0), ("height",), "a height of 340 mm"),
        (replace(STOCK, sheet=replace(SHEET, columns=0)), ("sheet", "columns"), "one of columns at least"),
        (replace(STOCK, sheet=replace(SHEET, margin_top_mm=-1.0)), ("sheet", "margin_top"), "off the paper"),
        # By hand: 7 + 3 x 66 + 64 = 269 mm on 210 mm; 12 + 8 x 34 + 34 = 318 mm on 297 mm.
        (replace(STOCK, sheet=replace(SHEET, columns=4)), ("sheet", "columns"), "reach to 269 mm"),
        (replace(STOCK, sheet=replace(SHEET, rows=9)), ("sheet", "rows"), "reach to 318 mm"),
        (replace(STOCK, sheet=replace(SHEET, pitch_x_mm=60.0)), ("sheet", "pitch_x"), "overlap"),
        (replace(STOCK, sheet=replace(SHEET, pitch_y_mm=-34.0)), ("sheet", "pitch_y"), "overlap"),
    ],
)
def test_a_stock_that_cannot_be_is_refused_at_its_field(stock: Stock, field: tuple[str, ...], says: str) -> None:
    [misfit] = misfits(stock)
    assert misfit.field == field
    assert says in misfit.what
    with pytest.raises(PassportError, match="cannot be") as refused:
        find_stock("64x34", [stock])
    assert "workshop.yml" in refused.value.todo


def test_a_single_row_or_column_needs_no_pitch() -> None:
    assert list(misfits(replace(STOCK, sheet=Sheet("letter", 1, 1, 20.0, 20.0, 0.0, 0.0)))) == []


@given(
    columns=st.integers(1, 6),
    rows=st.integers(1, 12),
    width=st.floats(5, 120),
    height=st.floats(5, 120),
    gap=st.floats(0, 5),
    margin=st.floats(0, 30),
)
def test_a_sheet_without_misfits_has_all_its_cells_on_the_paper_and_apart(
    columns: int, rows: int, width: float, height: float, gap: float, margin: float
) -> None:
    sheet = Sheet("a4", columns, rows, margin, margin, width + gap, height + gap)
    stock = Stock("any", width, height, sheet)
    corners = [sheet.corner_mm(cell) for cell in range(sheet.cells)]
    inside = all(x + width <= PAPER_MM["a4"][0] + 0.05 and y + height <= PAPER_MM["a4"][1] + 0.05 for x, y in corners)
    assert (not list(misfits(stock))) is inside
    assert len({(round(x, 6), round(y, 6)) for x, y in corners}) == sheet.cells


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "room"),
    # ISO/IEC 18004: version 2 has 25 modules and 4 of white on every side: 33 x 0.5 mm = 16.5 mm. A label keeps
    # 1 mm free above and below, and gives the code 45 % of its width: 36.67 mm x 18.5 mm.
    [(36.7, 18.5, True), (36.6, 18.5, False), (36.7, 18.4, False), (60.0, 30.0, True), (30.0, 12.0, False)],
)
def test_room_for_a_code_is_the_standards_least(width_mm: float, height_mm: float, *, room: bool) -> None:
    assert has_room_for_code(Stock("any", width_mm, height_mm, None)) is room


@given(
    stretch=st.floats(0.97, 1.03),
    shift_x=st.floats(-5, 5),
    shift_y=st.floats(-5, 5),
    x=st.floats(0, 210),
    y=st.floats(0, 297),
)
def test_what_the_calibration_page_asks_for_undoes_a_printers_shift_and_stretch(
    stretch: float, shift_x: float, shift_y: float, x: float, y: float
) -> None:
    def printed(x_mm: float, y_mm: float) -> tuple[float, float]:
        return shift_x + stretch * x_mm, shift_y + stretch * y_mm

    # As a person measures the page: the length of a ruler, and where the cross at 20 mm came to lie.
    length = printed(120, 20)[0] - printed(20, 20)[0]
    cross_x, cross_y = printed(20, 20)
    printer = Printer(
        scale=10000 / length / 100, offset_x_mm=20 - 100 * cross_x / length, offset_y_mm=20 - 100 * cross_y / length
    )
    assert printed(*printer.on_file_mm(x, y)) == pytest.approx((x, y), abs=1e-6)


def test_a_printer_that_is_not_there_is_offered_the_near_one() -> None:
    with pytest.raises(PassportError, match="no printer “ofice”") as refused:
        find_printer("ofice", {"office": Printer(), "bench": Printer()})
    assert "office" in refused.value.todo
