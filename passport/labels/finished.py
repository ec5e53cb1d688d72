"""The only ways to a finished label: refused if its address leads nowhere, read back before it is given out.

Joins the steps of this room; each step is decided elsewhere.
"""

from __future__ import annotations

import io
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from itertools import groupby

import pypdfium2  # type: ignore[import-untyped]  # ships no types
from PIL import Image

from passport.errors import PassportError
from passport.labels import draw, readback, sheet
from passport.labels.code import MM_PER_INCH
from passport.labels.kinds import KINDS, Kind
from passport.labels.layout import Layout
from passport.labels.sheet import Cell
from passport.stocks import PRINTER_DPI, STOCKS, TRUE_PRINTER, Printer, Stock
from passport.views.label import CaseLabel
from passport.web import refuse_unprintable

# Office printers have a multiple of this, so that whole dots here are whole there; sheets are read at it too.
SHEET_DPI = 300
POINTS_PER_INCH = 72
CASE = KINDS["case"]


def finished_png(label: CaseLabel, stock: Stock, dpi: int, *, kind: Kind = CASE, proof: bool = False) -> bytes:
    """One label as a picture of a label printer's own dots, read back."""
    if dpi not in PRINTER_DPI:
        raise PassportError(f"Labels are not drawn at {dpi} dpi.", f"Choose {_either(PRINTER_DPI)}.")
    if not kind.has_code:
        todo = "Print it on a sheet: name a .pdf with --out, or leave --out away."
        raise PassportError("Labels of a roll stick and fade, so no number for the inside is made for one.", todo)
    with _naming(label):
        layout = _laid_out(label, stock, kind, dpi, proof=proof)
        made = draw.png(draw.picture(layout, dpi), dpi)
        with Image.open(io.BytesIO(made)) as image:
            _check(image, label, layout, dpi)
    return made


def finished_sheet(
    labels: Sequence[CaseLabel],
    stock: Stock,
    *,
    kind: Kind = CASE,
    printer: Printer = TRUE_PRINTER,
    used: Collection[int] = (),
    proof: bool = False,
) -> bytes:
    """Labels on as many sheets as they fill, as a PDF; every label of the finished pages is read back.

    `used` are cells of the first sheet, counted along the rows from 0, that hold no label any more.
    """
    if stock.sheet is None:
        sheets = ", ".join(other.name for other in STOCKS if other.sheet)
        raise PassportError(f"The label {stock.name} comes on a roll, not on a sheet.", f"Choose one of: {sheets}.")
    if not labels:
        raise PassportError("There is no label to print.", "Name at least one instrument.")
    layouts = []
    for label in labels:
        with _naming(label):
            layouts.append(_laid_out(label, stock, kind, SHEET_DPI, proof=proof))
    cells = sheet.cells_for(len(labels), stock.sheet, used)
    pages = sheet.pages(layouts, stock, stock.sheet, cells)
    made = sheet.pdf(pages, stock.sheet.paper, printer)
    check_sheet(made, list(zip(labels, layouts, cells, strict=True)), stock, printer)
    return made


def check_sheet(
    made: bytes, wanted: Sequence[tuple[CaseLabel, Layout, Cell]], stock: Stock, printer: Printer = TRUE_PRINTER
) -> None:
    """Raise `PassportError` unless each label of a finished PDF is in its cell and leads where it should."""
    document = pypdfium2.PdfDocument(made)
    try:
        for number, group in groupby(wanted, key=lambda one: one[2].page):
            if number >= len(document):
                raise PassportError("A page is missing from the finished sheets.", "Please report this.")
            _check_page(document[number], list(group), stock, printer)
    finally:
        document.close()


def _check_page(
    page: pypdfium2.PdfPage, wanted: Sequence[tuple[CaseLabel, Layout, Cell]], stock: Stock, printer: Printer
) -> None:
    image = page.render(scale=SHEET_DPI / POINTS_PER_INCH, grayscale=True).to_pil()
    words, height_pt = page.get_textpage(), page.get_height()
    for label, layout, cell in wanted:
        box_mm = _box_mm(stock, cell, printer)
        with _naming(label):
            _check(image.crop(_px(box_mm)), label, layout, SHEET_DPI * printer.scale)
            _check_number(words.get_text_bounded(*_points(box_mm, height_pt)), label)


Box = tuple[float, float, float, float]


def _box_mm(stock: Stock, cell: Cell, printer: Printer) -> Box:
    """Where a cell stands in the file: edges at the left, above, at the right, below."""
    x_mm, y_mm = stock.sheet.corner_mm(cell.cell) if stock.sheet else (0.0, 0.0)
    near = printer.on_file_mm(x_mm, y_mm)
    return *near, *printer.on_file_mm(x_mm + stock.width_mm, y_mm + stock.height_mm)


def _px(box_mm: Box) -> tuple[int, int, int, int]:
    left, top, right, bottom = (round(edge_mm / MM_PER_INCH * SHEET_DPI) for edge_mm in box_mm)
    return left, top, right, bottom


def _points(box_mm: Box, height_pt: float) -> Box:
    """The same in PDF's own coordinates (ISO 32000-1, 8.3.2.3): left, bottom, right, top, from the lower corner."""
    left, top, right, bottom = (edge_mm / MM_PER_INCH * POINTS_PER_INCH for edge_mm in box_mm)
    return left, height_pt - bottom, right, height_pt - top


def _check(image: Image.Image, label: CaseLabel, layout: Layout, dpi: float) -> None:
    if layout.code:
        readback.check(image, label.address, layout.code.code, dpi)


def _check_number(words: str, label: CaseLabel) -> None:
    """The number as a person reads it; letter-spacing comes out of a PDF as blanks."""
    if label.id not in "".join(words.split()):
        raise PassportError("The finished sheet does not bear its number in its place.", "Please report this.")


def _laid_out(label: CaseLabel, stock: Stock, kind: Kind, dpi: int, *, proof: bool) -> Layout:
    if kind.has_code and not proof:
        refuse_unprintable(label.address)
    return kind.lay_out(label, stock, dpi, proof=proof)


@contextmanager
def _naming(label: CaseLabel) -> Iterator[None]:
    """Any refusal says which instrument's label it is about."""
    try:
        yield
    except PassportError as fault:
        raise PassportError(f"{label.id}: {fault.what}", fault.todo) from fault


def _either(numbers: tuple[int, ...]) -> str:
    *most, last = map(str, numbers)
    return f"{', '.join(most)} or {last}"
