"""What a print on sheets will look like, as pictures with every cell outlined and numbered.

Shows proofs only, so that no picture can be taken for a label.
"""

from __future__ import annotations

import io
from collections.abc import Collection, Sequence

import pypdfium2  # type: ignore[import-untyped]  # ships no types
from PIL import Image, ImageDraw

from passport.labels.code import MM_PER_INCH
from passport.labels.faces import SANS_SEMIBOLD, font
from passport.labels.finished import POINTS_PER_INCH, finished_sheet
from passport.labels.kinds import Kind
from passport.stocks import Stock
from passport.views.label import CaseLabel

# Fine enough to judge, too coarse to print.
PREVIEW_DPI = 110
OUTLINE, USED = (150, 60, 30), (226, 222, 214)
NUMBER_MM, FROM_EDGE_MM = 2.6, 0.8


def preview(labels: Sequence[CaseLabel], stock: Stock, *, kind: Kind, used: Collection[int]) -> tuple[bytes, ...]:
    """A PNG of each sheet; cells used before are grey."""
    document = pypdfium2.PdfDocument(finished_sheet(labels, stock, kind=kind, used=used, proof=True))
    try:
        pictures = [page.render(scale=PREVIEW_DPI / POINTS_PER_INCH).to_pil().convert("RGB") for page in document]
    finally:
        document.close()
    return tuple(_outlined(picture, stock, () if page else used) for page, picture in enumerate(pictures))


def _outlined(picture: Image.Image, stock: Stock, used: Collection[int]) -> bytes:
    pen = ImageDraw.Draw(picture)
    face = font(SANS_SEMIBOLD, _px(NUMBER_MM))
    for cell in range(stock.sheet.cells if stock.sheet else 0):
        x_mm, y_mm = stock.sheet.corner_mm(cell) if stock.sheet else (0.0, 0.0)
        box = (_px(x_mm), _px(y_mm), _px(x_mm + stock.width_mm) - 1, _px(y_mm + stock.height_mm) - 1)
        pen.rectangle(box, outline=OUTLINE, fill=USED if cell in used else None)
        pen.text((box[0] + _px(FROM_EDGE_MM), box[1] + _px(FROM_EDGE_MM)), str(cell + 1), font=face, fill=OUTLINE)
    store = io.BytesIO()
    picture.save(store, "PNG", dpi=(PREVIEW_DPI, PREVIEW_DPI))
    return store.getvalue()


def _px(length_mm: float) -> int:
    return round(length_mm / MM_PER_INCH * PREVIEW_DPI)
