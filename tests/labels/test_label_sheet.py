"""Where labels come to lie: cells used before, marks for the knife, a printer's own shift and stretch."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from PIL import Image, ImageChops

from passport.errors import PassportError
from passport.labels import KINDS, calibration_page, finished_sheet, preview
from passport.labels.calibration import around
from passport.labels.column import Bar
from passport.labels.sheet import Cell, cells_for
from passport.stocks import PAPER_MM, Printer, Sheet, find_stock

from .cards import VIOLIN
from .test_label_finished import READ_DPI, codes_in, ink_mm, pages_of

LABELS = [replace(VIOLIN, id=f"AAAAA{n}", address=f"https://tp-strings.net/AAAAA{n}/") for n in range(5)]
PX_PER_MM = READ_DPI / 25.4


def place_mm(page: Image.Image, name: str) -> tuple[float, float]:
    """The corner of the code that leads to a name."""
    [found] = [code for code in codes_in(page) if name in code.text]
    corner = found.position.top_left
    return corner.x / PX_PER_MM, corner.y / PX_PER_MM


def test_cells_used_before_are_passed_over_on_the_first_sheet_only() -> None:
    sheet = Sheet("a4", 2, 2, 0.0, 0.0, 100.0, 100.0)
    assert cells_for(6, sheet, {0, 2}) == (
        Cell(0, 1), Cell(0, 3), Cell(1, 0), Cell(1, 1), Cell(1, 2), Cell(1, 3),
    )  # fmt: skip
    assert cells_for(1, sheet, range(4)) == (Cell(1, 0),)


def test_labels_go_where_the_sheet_still_has_some_and_leave_the_rest_bare() -> None:
    stock = find_stock("70x36")
    used = [*range(22)]
    first, second = pages_of(finished_sheet(LABELS, stock, used=used))
    assert [code.text[-3:-1] for code in codes_in(first)] == ["A0", "A1"]
    assert len(codes_in(second)) == 3
    # Rows one to seven, 4.5 + 7 x 36 mm, are bare.
    assert first.crop((0, 0, first.width, round(256.0 * PX_PER_MM))).getextrema() == (255, 255)


def test_offset_and_scale_put_every_label_where_the_printer_will_print_it_true() -> None:
    stock = find_stock("70x36")
    printer = Printer(offset_x_mm=0.6, offset_y_mm=-0.4, scale=0.99)
    [true], [moved] = (pages_of(finished_sheet(LABELS, stock, printer=one)) for one in (Printer(), printer))
    for label in LABELS:
        x_mm, y_mm = place_mm(true, label.id)
        expected = (0.6 + 0.99 * x_mm, -0.4 + 0.99 * y_mm)
        assert place_mm(moved, label.id) == pytest.approx(expected, abs=1.5 / PX_PER_MM)


def test_modules_are_measured_as_they_will_print_not_as_they_stand_in_the_file() -> None:
    # By hand: 41 modules in 23.4 mm are 6 dots of 1/300 in, 0.508 mm, and 0.483 mm in a file scaled by 0.95.
    made = finished_sheet([VIOLIN], find_stock("66.7x25.4"), printer=Printer(scale=0.95))
    [found] = codes_in(pages_of(made)[0])
    side_mm = (found.position.top_right.x - found.position.top_left.x) / PX_PER_MM
    assert side_mm / 33 == pytest.approx(0.483, abs=0.01)


def test_a_printer_so_far_out_that_a_label_leaves_the_paper_is_refused() -> None:
    with pytest.raises(PassportError, match="AAAAA0: The finished label was read back and refused"):
        finished_sheet(LABELS, find_stock("70x36"), printer=Printer(offset_x_mm=-9.0))


def test_only_what_is_cut_apart_has_marks_and_they_stand_on_the_corners() -> None:
    cut, came_cut = find_stock("100x60"), find_stock("70x36")
    assert cut.sheet is not None
    [page] = pages_of(finished_sheet(LABELS[:1], cut))
    x_mm, y_mm = cut.sheet.corner_mm(7)
    box = [round((edge + by) * PX_PER_MM) for by in (-2.0, 2.0) for edge in (x_mm + 100.0, y_mm + 60.0)]
    around_corner = page.crop((box[0], box[1], box[2], box[3]))
    left, top, right, bottom = (edge / PX_PER_MM for edge in ink_box(around_corner))
    # A cross of two arms of 1 mm each way, in the middle of the 4 mm cut out here.
    assert (left, top, right, bottom) == pytest.approx((1.0, 1.0, 3.0, 3.0), abs=0.15)
    [bare] = pages_of(finished_sheet(LABELS[:1], came_cut))
    assert ink_mm(bare)[2] < 70.0


def ink_box(picture: Image.Image) -> tuple[int, int, int, int]:
    box = ImageChops.invert(picture).getbbox()
    assert box is not None
    return box


@pytest.mark.parametrize("name", ["70x36", "66.7x25.4"])
def test_the_calibration_page_measures_what_it_says(name: str) -> None:
    stock = find_stock(name)
    assert stock.sheet is not None
    [page] = pages_of(calibration_page(stock))
    # Just beside the first ruler's line, where only its ticks are, from 20 to 120 mm: 101 of them, a millimetre apart.
    y = round(20.7 * PX_PER_MM)
    row = [page.getpixel((x, y)) for x in range(round(19 * PX_PER_MM), round(121 * PX_PER_MM))]
    starts = [x for x in range(1, len(row)) if row[x] < 200 <= row[x - 1]]
    across_mm = [(x + round(19 * PX_PER_MM)) / PX_PER_MM for x in starts]
    assert (across_mm[0], across_mm[-1]) == pytest.approx((20.0, 120.0), abs=0.15)
    for corner in range(2):
        x_mm, y_mm = (20.0, 20.0) if corner == 0 else (side - 20.0 for side in PAPER_MM[stock.sheet.paper])
        assert page.getpixel((round(x_mm * PX_PER_MM), round(y_mm * PX_PER_MM))) < 128
    assert codes_in(page) == []


def test_a_calibration_page_with_a_printers_correction_is_moved_and_scaled() -> None:
    stock = find_stock("66.7x25.4")
    [true], [tried] = (
        pages_of(calibration_page(stock, one)) for one in (Printer(), Printer(scale=0.99, offset_x_mm=1.0))
    )
    left, top, right, bottom = ink_mm(true)
    expected = (1.0 + 0.99 * left, 0.99 * top, 1.0 + 0.99 * right, 0.99 * bottom)
    assert ink_mm(tried) == pytest.approx(expected, abs=0.15)


@pytest.mark.parametrize(
    ("bar", "left"),
    [
        (Bar(0, 5, 10, 0.1), [Bar(0, 5, 2, 0.1), Bar(6, 5, 4, 0.1)]),
        (Bar(5, 0, 0.1, 10), [Bar(5, 0, 0.1, 3), Bar(5, 7, 0.1, 3)]),
        (Bar(0, 1, 10, 0.1), [Bar(0, 1, 10, 0.1)]),
        (Bar(3, 5, 2, 0.1), []),
    ],
)
def test_outlines_leave_the_words_free(bar: Bar, left: list[Bar]) -> None:
    assert list(around(bar, Bar(2, 3, 4, 4))) == left


def test_a_preview_shows_proofs_with_every_cell_outlined_and_used_ones_grey() -> None:
    stock = find_stock("70x36")
    [first, _] = preview(LABELS, stock, kind=KINDS["case"], used=range(22))
    picture = Image.open(io.BytesIO(first))
    px_per_mm = picture.info["dpi"][0] / 25.4
    assert picture.size == pytest.approx((210 * px_per_mm, 297 * px_per_mm), abs=1.5)
    middle = [picture.getpixel((round(x_mm * px_per_mm), round(20.0 * px_per_mm))) for x_mm in (35.0, 105.0)]
    assert middle == [(226, 222, 214)] * 2
    edge = picture.getpixel((round(70.0 * px_per_mm), round(20.0 * px_per_mm)))
    assert edge not in ((226, 222, 214), (255, 255, 255))
