"""The label, as one sees it on bare maple through the f-hole.

Draws the paper, its frame and the words of the record; the words are never changed.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from colours import WHITE, Colour
from instrument import VIOLIN, Instrument
from light import tinted
from paper import FINER, Sheet, font
from PIL import Image, ImageDraw
from texture import soft_noise
from wood import maple

SIZE_DOTS = (1200, 760)
DOTS_PER_MM = 12.0
# Corners, x from the middle and height above the lower edge of the picture; cut and ruled by hand, so not quite square.
PAPER_MM = ((-36, 46.5), (36.4, 46.0), (36, 14.6), (-36.3, 15))
RULE_MM = ((-34, 44.6), (34.2, 44.2), (34, 16.6), (-34.2, 17), (-34, 44.6))
RULE_WIDTH_MM = 0.18
FLAME = (600.0 / VIOLIN.body_mm) ** 0.8  # wider than on a violin: seen from near
TEXT_TOP_DOTS, TEXT_HEIGHT_DOTS = 242, 290
LARGEST_DOTS, LARGEST_BELOW_DOTS = 62, 50  # the first line, the lines below it
FIRST_FACE, FACE = "PassportSerif-Medium", "PassportSerif-Italic"

INSIDE: Colour = (206, 172, 122)
OLD_PAPER: Colour = (236, 224, 194)
RULE: Colour = (92, 70, 50)
PRINT: Colour = (64, 46, 36)


def label(instrument: Instrument, text: str) -> Image.Image:
    """Draw the label of an instrument; a comma in the text begins a new line."""
    image = Image.new("RGB", (SIZE_DOTS[0] * FINER, SIZE_DOTS[1] * FINER), WHITE.maple[0])
    sheet = Sheet(image, DOTS_PER_MM * FINER, image.width / 2, image.height)
    random = np.random.default_rng(instrument.seed)
    inside_of_back(sheet, instrument, random)
    slip(sheet, random)
    small = image.resize(SIZE_DOTS, Image.Resampling.LANCZOS)
    print_lines(small, [part.strip() for part in text.split(",")])
    return small


def inside_of_back(sheet: Sheet, instrument: Instrument, random: np.random.Generator) -> None:
    """Lay bare maple all over."""
    x, y = sheet.field()
    grain = maple(x, y, FLAME, replace(instrument.back, pieces=1), random)
    everywhere = Image.new("L", sheet.image.size, 255)
    sheet.lay(tinted(INSIDE, grain * 0.7 - 0.004 * np.abs(x)), everywhere)


def slip(sheet: Sheet, random: np.random.Generator) -> None:
    """Glue the empty slip of paper in."""
    mask = sheet.mask(PAPER_MM)
    sheet.shade(mask, shift_mm=(0.4, 0.5), blur_mm=0.5, strength=0.6)
    shape = sheet.image.height, sheet.image.width
    tone = 0.05 * soft_noise(shape, random, (40, 40)) + 0.015 * soft_noise(shape, random, (2, 2))
    sheet.lay(tinted(OLD_PAPER, tone), mask)
    sheet.line(RULE_MM, RULE, RULE_WIDTH_MM)


def print_lines(image: Image.Image, lines: list[str]) -> None:
    """Print the lines, as large as they fit below each other."""
    pen = ImageDraw.Draw(image)
    step = TEXT_HEIGHT_DOTS / (len(lines) + 0.4)
    for at, line in enumerate(lines):
        face = font(FACE if at else FIRST_FACE, min(LARGEST_BELOW_DOTS if at else LARGEST_DOTS, step * 0.7))
        place = image.width / 2, TEXT_TOP_DOTS + step * (at + 0.55)
        pen.text(place, line, font=face, fill=PRINT, anchor="mm")
