"""The only ways to a finished label: refused if its address leads nowhere, read back before it is given out.

Joins the steps of this room; each step is decided elsewhere.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import pypdfium2  # type: ignore[import-untyped]  # ships no types
from PIL import Image

from passport.errors import PassportError
from passport.labels import draw, readback, sheet
from passport.labels.code import MM_PER_INCH, Code, encode
from passport.labels.layout import Layout, lay_out
from passport.labels.stock import STOCKS, Sheet, Stock
from passport.views.label import CaseLabel
from passport.web import refuse_unprintable

# What label printers have (common practice, no source).
PRINTER_DPI = (203, 300, 600)
# Office printers have a multiple of this, so that whole dots here are whole there; sheets are read at it too.
SHEET_DPI = 300
POINTS_PER_INCH = 72


def finished_png(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool = False) -> bytes:
    """One label as a picture of a label printer's own dots, read back."""
    if dpi not in PRINTER_DPI:
        raise PassportError(f"Labels are not drawn at {dpi} dpi.", f"Choose {_either(PRINTER_DPI)}.")
    with _naming(label):
        layout = _laid_out(label, stock, dpi, proof=proof)
        made = draw.png(draw.picture(layout, dpi), dpi)
        with Image.open(io.BytesIO(made)) as image:
            readback.check(image, label.address, layout.code, dpi)
    return made


def finished_sheet(labels: Sequence[CaseLabel], stock: Stock, *, proof: bool = False) -> bytes:
    """Labels on as many sheets as they fill, as a PDF; every label of the finished pages is read back."""
    if stock.sheet is None:
        sheets = ", ".join(other.name for other in STOCKS if other.sheet)
        raise PassportError(f"The label {stock.name} comes on a roll, not on a sheet.", f"Choose one of: {sheets}.")
    if not labels:
        raise PassportError("There is no label to print.", "Name at least one instrument.")
    layouts = []
    for label in labels:
        with _naming(label):
            layouts.append(_laid_out(label, stock, SHEET_DPI, proof=proof))
    made = sheet.pdf(layouts, stock.sheet)
    check_sheet(made, [(label, layout.code) for label, layout in zip(labels, layouts, strict=True)], stock)
    return made


def check_sheet(made: bytes, wanted: Sequence[tuple[CaseLabel, Code]], stock: Stock) -> None:
    """Raise `PassportError` unless each label of a finished PDF is in its cell and leads where it should."""
    pictures = cell_pictures(made, stock)
    for label, code in wanted:
        with _naming(label):
            picture = next(pictures, None)
            if picture is None:
                raise PassportError("It is missing from the finished sheets.", "Please report this.")
            readback.check(picture, label.address, code, SHEET_DPI)


def cell_pictures(made: bytes, stock: Stock) -> Iterator[Image.Image]:
    """Every cell of a finished PDF as it will print, empty ones included, page by page along the rows."""
    if stock.sheet is None:
        return
    document = pypdfium2.PdfDocument(made)
    try:
        for page in document:
            image = page.render(scale=SHEET_DPI / POINTS_PER_INCH, grayscale=True).to_pil()
            for cell in range(stock.sheet.cells):
                yield image.crop(_cell_box_px(stock, stock.sheet, cell))
    finally:
        document.close()


def _cell_box_px(stock: Stock, sheet: Sheet, cell: int) -> tuple[int, int, int, int]:
    x_mm, y_mm = sheet.corner_mm(cell)
    edges_mm = (x_mm, y_mm, x_mm + stock.width_mm, y_mm + stock.height_mm)
    left, top, right, bottom = (round(edge_mm / MM_PER_INCH * SHEET_DPI) for edge_mm in edges_mm)
    return left, top, right, bottom


def _laid_out(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:
    if not proof:
        refuse_unprintable(label.address)
    return lay_out(label, stock, encode(label.address), dpi, proof=proof)


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
