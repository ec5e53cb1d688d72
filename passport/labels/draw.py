"""A layout as black and white dots for a label printer.

Draws with Pillow; decides nothing about what stands where.
"""

from __future__ import annotations

import functools
import io
import math

from PIL import Image, ImageDraw

from passport.labels.code import MM_PER_INCH, Code
from passport.labels.column import Bar, Line
from passport.labels.faces import Face, font, glyph_starts_em
from passport.labels.layout import Layout, Ring

WHITE, BLACK = 1, 0
RING_MM = 0.15
POINTS_PER_INCH = 72
# Letters are drawn at about this resolution; a dot is inked when a third of it is, which keeps hairlines whole.
FINE_DPI = 1200
INKED_FROM = 255 // 3
INKED = [0] * INKED_FROM + [255] * (256 - INKED_FROM)
# White round a line for what leans over its start or its end.
MARGIN_DOTS = 8


def picture(layout: Layout, dpi: int) -> Image.Image:
    """The label in pure black and white, one dot a pixel."""
    image = Image.new("1", (_dots(layout.width_mm, dpi), _dots(layout.height_mm, dpi)), WHITE)
    pen = ImageDraw.Draw(image)
    for bar in layout.bars:
        _draw_bar(pen, bar, dpi)
    for line in layout.lines:
        inked, corner = _inked_line(line, dpi)
        image.paste(WHITE if line.white else BLACK, corner, inked)
    for ring in layout.rings:
        _draw_ring(pen, ring, dpi)
    if layout.code:
        first_module = (_dots(layout.code.x_mm, dpi), _dots(layout.code.y_mm, dpi))
        image.paste(code_picture(layout.code.code, _dots(layout.code.module_mm, dpi)), first_module)
    return image


def png(image: Image.Image, dpi: int) -> bytes:
    """The picture as a PNG that knows its resolution."""
    store = io.BytesIO()
    image.save(store, "PNG", dpi=(dpi, dpi))
    return store.getvalue()


def code_picture(code: Code, dots: int) -> Image.Image:
    """The code without its quiet zone, each module a square of whole dots."""
    light = bytes(0 if dark else 255 for row in code.modules for dark in row)
    small = Image.frombytes("L", (code.across, code.across), light).convert("1", dither=Image.Dither.NONE)
    return small.resize((code.across * dots, code.across * dots), Image.Resampling.NEAREST)


def _dots(length_mm: float, dpi: int) -> int:
    return round(length_mm / MM_PER_INCH * dpi)


def _draw_bar(pen: ImageDraw.ImageDraw, bar: Bar, dpi: int) -> None:
    x, y = _dots(bar.x_mm, dpi), _dots(bar.y_mm, dpi)
    width, height = max(1, _dots(bar.width_mm, dpi)), max(1, _dots(bar.height_mm, dpi))
    pen.rectangle((x, y, x + width - 1, y + height - 1), fill=BLACK)


def _draw_ring(pen: ImageDraw.ImageDraw, ring: Ring, dpi: int) -> None:
    box = [_dots(edge, dpi) for edge in (ring.x_mm - ring.diameter_mm / 2, ring.y_mm - ring.diameter_mm / 2)]
    side = _dots(ring.diameter_mm, dpi)
    pen.ellipse((*box, box[0] + side, box[1] + side), outline=BLACK, width=max(1, _dots(RING_MM, dpi)))


# Labels printed together share most of their lines.
@functools.lru_cache(maxsize=128)
def _inked_line(line: Line, dpi: int) -> tuple[Image.Image, tuple[int, int]]:
    """The dots of a line and their corner on the label.

    Drawn finely, then each dot by how much of it is inked: a printer's own dots are too coarse to space letters.
    """
    fold = max(1, FINE_DPI // dpi)
    size_px = line.size_pt / POINTS_PER_INCH * dpi
    left, baseline = int(line.x_mm / MM_PER_INCH * dpi) - MARGIN_DOTS, _dots(line.baseline_mm, dpi)
    above, below = math.ceil(size_px), math.ceil(size_px / 2)
    starts_px = [start * size_px * fold for start in glyph_starts_em(line.text, line.face, line.tracking_em)]
    width = math.ceil(starts_px[-1] / fold) + 2 * MARGIN_DOTS + 1
    fine = Image.new("1", (width * fold, (above + below) * fold), 0)
    pen = ImageDraw.Draw(fine)
    origin_px = (line.x_mm / MM_PER_INCH * dpi - left) * fold
    for sign, start_px in zip(line.text, starts_px, strict=False):
        shape, right_px, down_px = _glyph(sign, line.face, size_px * fold)
        pen.bitmap((round(origin_px + start_px) + right_px, above * fold + down_px), shape, fill=1)
    inked = fine.convert("L").reduce(fold).point(INKED).convert("1", dither=Image.Dither.NONE)
    return inked, (left, baseline - above)


@functools.lru_cache(maxsize=4096)
def _glyph(sign: str, face: Face, size_px: float) -> tuple[Image.Image, int, int]:
    """A sign without grey edges, and how far its upper corner lies from its start on the baseline."""
    face_font = font(face, size_px)
    left, top, right, bottom = (round(edge) for edge in face_font.getbbox(sign, mode="1", anchor="ls"))
    shape = Image.new("1", (max(1, right - left), max(1, bottom - top)), 0)
    pen = ImageDraw.Draw(shape)
    pen.fontmode = "1"
    pen.text((-left, -top), sign, font=face_font, anchor="ls", fill=1)
    return shape, left, top
