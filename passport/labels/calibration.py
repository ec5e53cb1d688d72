"""A page that shows how far a printer prints out of place and out of size, and says what to do about it.

Draws with the layouts' own lines and bars; the arithmetic it asks for is that of `Printer.on_file_mm`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from passport.labels.column import RULE_MM, Bar, Line
from passport.labels.faces import SANS, SERIF, SERIF_MEDIUM, Face
from passport.labels.layout import Layout
from passport.labels.sheet import Placed, cross, pdf
from passport.stocks import PAPER_MM, TRUE_PRINTER, Paper, Printer, Stock

# The check lines begin at the cross, which stands this far from both edges of the paper.
CROSS_MM, CROSS_ARM_MM = 20.0, 4.0
CHECK_MM, TICK_MM, LONG_TICK_MM = 100, 1.5, 3.0
HAIR_MM = 0.1
TITLE_PT, WORDS_PT, SMALL_PT, LEADING_MM = 15.0, 9.5, 7.0, 5.2
WORDS_X_MM, WORDS_Y_MM, EVERY_MM = 36.0, 44.0, 10
WORDS_BOX = Bar(CROSS_MM + 1.0, CROSS_MM + 1.0, 128.0, 73.0)


def calibration_page(stock: Stock, printer: Printer = TRUE_PRINTER) -> bytes:
    """The page as a PDF, with the cells of a stock outlined; corrected where a printer says how."""
    paper: Paper = stock.sheet.paper if stock.sheet else "a4"
    outlines = (part for bar in _outlines(stock) for part in around(bar, WORDS_BOX))
    bars = (*_crosses(paper), *_check_lines(), *outlines)
    lines = (*_figures(), *_words(stock, printer))
    page = Layout(*PAPER_MM[paper], None, lines, bars)
    return pdf([[Placed(page, 0.0, 0.0)]], paper, printer, "Calibration page")


def _crosses(paper: Paper) -> Iterator[Bar]:
    """One to measure from, and one at each of the other corners to see whether the page stands askew."""
    width_mm, height_mm = PAPER_MM[paper]
    for x_mm in (CROSS_MM, width_mm - CROSS_MM):
        for y_mm in (CROSS_MM, height_mm - CROSS_MM):
            yield from cross(x_mm, y_mm, CROSS_ARM_MM, RULE_MM)


def _check_lines() -> Iterator[Bar]:
    """Two rulers of 100 mm from the first cross, one each way, with a tick a millimetre."""
    yield Bar(CROSS_MM, CROSS_MM - RULE_MM / 2, CHECK_MM, RULE_MM)
    yield Bar(CROSS_MM - RULE_MM / 2, CROSS_MM, RULE_MM, CHECK_MM)
    for at_mm in range(CHECK_MM + 1):
        tick_mm = TICK_MM if at_mm % EVERY_MM else LONG_TICK_MM
        yield Bar(CROSS_MM + at_mm - HAIR_MM / 2, CROSS_MM, HAIR_MM, tick_mm)
        yield Bar(CROSS_MM, CROSS_MM + at_mm - HAIR_MM / 2, tick_mm, HAIR_MM)


def _figures() -> Iterator[Line]:
    for at_mm in range(EVERY_MM, CHECK_MM + 1, EVERY_MM):
        yield _line(str(at_mm), SANS, SMALL_PT, CROSS_MM + at_mm - 1.2, CROSS_MM + 6.0)
        yield _line(str(at_mm), SANS, SMALL_PT, CROSS_MM + 4.0, CROSS_MM + at_mm + 0.9)


def _outlines(stock: Stock) -> Iterator[Bar]:
    width_mm, height_mm = stock.width_mm, stock.height_mm
    for cell in range(stock.sheet.cells if stock.sheet else 0):
        x_mm, y_mm = stock.sheet.corner_mm(cell) if stock.sheet else (0.0, 0.0)
        for edge_mm in (y_mm, y_mm + height_mm):
            yield Bar(x_mm, edge_mm - HAIR_MM / 2, width_mm, HAIR_MM)
        for edge_mm in (x_mm, x_mm + width_mm):
            yield Bar(edge_mm - HAIR_MM / 2, y_mm, HAIR_MM, height_mm)


def around(bar: Bar, box: Bar) -> Iterator[Bar]:
    """What is left of a thin bar where a box is kept free."""
    end_x_mm, end_y_mm = bar.x_mm + bar.width_mm, bar.y_mm + bar.height_mm
    far_x_mm, far_y_mm = box.x_mm + box.width_mm, box.y_mm + box.height_mm
    if end_x_mm <= box.x_mm or bar.x_mm >= far_x_mm or end_y_mm <= box.y_mm or bar.y_mm >= far_y_mm:
        yield bar
        return
    if bar.width_mm > bar.height_mm:
        parts = (replace(bar, width_mm=box.x_mm - bar.x_mm), replace(bar, x_mm=far_x_mm, width_mm=end_x_mm - far_x_mm))
    else:
        parts = (
            replace(bar, height_mm=box.y_mm - bar.y_mm), replace(bar, y_mm=far_y_mm, height_mm=end_y_mm - far_y_mm)
        )  # fmt: skip
    yield from (part for part in parts if part.width_mm > 0 and part.height_mm > 0)


def _words(stock: Stock, printer: Printer) -> Iterator[Line]:
    yield _line("Calibration page", SERIF_MEDIUM, TITLE_PT, WORDS_X_MM, WORDS_Y_MM - 8.0)
    told = HOW_TO_SET if printer == TRUE_PRINTER else HOW_TO_CHECK
    told = (*told, "", f"The thin outlines are the labels of a {stock.name} sheet: print on one, or hold one behind.")
    for number, text in enumerate(told):
        yield _line(text, SERIF, WORDS_PT, WORDS_X_MM, WORDS_Y_MM + number * LEADING_MM)


HOW_TO_SET = (
    "Print at actual size, never “fit to page”. Measure with a steel rule:",
    "L, the length of the two long rulers (the mean, should they differ);",
    "X, from the left edge of the paper to the cross where the rulers meet;",
    "Y, from the upper edge of the paper to the same cross.",
    "Write into workshop.yml, under the printer’s name below printers:",
    "scale: 10000 / L        offset_x: 20 − 100 X / L        offset_y: 20 − 100 Y / L",
    "(L 100.4, X 21.2, Y 19.0 give scale: 99.6, offset_x: −1.1, offset_y: 1.1.)",
    "Print the page again with --printer NAME: L is now 100, X and Y are 20.",
)
HOW_TO_CHECK = (
    "Printed with the printer’s own offset and scale, at actual size.",
    "The two long rulers are 100 mm, and the cross where they meet lies",
    "20 mm from the left edge and 20 mm from the upper edge of the paper.",
    "If not, print this page without --printer and measure anew.",
)


def _line(text: str, face: Face, size_pt: float, x_mm: float, baseline_mm: float) -> Line:
    return Line(text, face, size_pt, 0.0, x_mm, baseline_mm)
