"""The typefaces of a label and how wide words come out in them.

Measures text; places nothing.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

from PIL import ImageFont

from passport.fonts import FONTS

# Widths are taken at this size in pixels, where one pixel is one unit of the fonts' own grid.
UNITS_PER_EM = 1000
# No font has a glyph here, so what is drawn for it is the sign for "missing".
NEVER_A_GLYPH = "\U0010ffff"
# Without libraqm, which not every computer has: a label must come out alike on all of them.
LAYOUT = ImageFont.Layout.BASIC


@dataclass(frozen=True)
class Face:
    """A typeface by its file, and by the family, weight and style that typst knows it under."""

    file: str
    family: str
    weight: int
    style: str


SERIF = Face("PassportSerif-Regular.ttf", "Passport Serif", 400, "normal")
SERIF_MEDIUM = Face("PassportSerif-Medium.ttf", "Passport Serif", 500, "normal")
SERIF_ITALIC = Face("PassportSerif-Italic.ttf", "Passport Serif", 400, "italic")
SANS = Face("PassportSans-Regular.ttf", "Passport Sans", 400, "normal")
SANS_SEMIBOLD = Face("PassportSans-Semibold.ttf", "Passport Sans", 600, "normal")


@functools.lru_cache(maxsize=256)
def font(face: Face, size_px: float) -> ImageFont.FreeTypeFont:
    """The face at a size, for drawing."""
    return ImageFont.truetype(str(FONTS / face.file), size_px, layout_engine=LAYOUT)


@functools.cache
def _length(text: str, face: Face) -> float:
    return font(face, UNITS_PER_EM).getlength(text)


def glyph_starts_em(text: str, face: Face, tracking_em: float = 0.0) -> tuple[float, ...]:
    """Where each sign begins, kerned and letter-spaced, and at last where the text ends."""
    starts = [0.0]
    for sign, following in zip(text, [*text[1:], ""], strict=True):
        advance = _length(sign + following, face) - (_length(following, face) if following else 0.0)
        starts.append(starts[-1] + advance / UNITS_PER_EM + (tracking_em if following else 0.0))
    return tuple(starts)


@functools.lru_cache(maxsize=4096)
def width_em(text: str, face: Face, tracking_em: float = 0.0) -> float:
    """Width of a line in ems."""
    return glyph_starts_em(text, face, tracking_em)[-1]


@functools.cache
def overhang_em(text: str, face: Face) -> float:
    """How far the ink of a line reaches out before the place where it begins: the tail of a J."""
    return max(0.0, -font(face, UNITS_PER_EM).getbbox(text[:1], anchor="ls")[0] / UNITS_PER_EM) if text else 0.0


@functools.cache
def _drawn(sign: str, face: Face) -> tuple[tuple[float, float, float, float], bytes]:
    shape = font(face, 64)
    return shape.getbbox(sign), bytes(shape.getmask(sign))


def missing_signs(text: str, face: Face) -> str:
    """The signs of a text that the face has no glyph for."""
    nothing = _drawn(NEVER_A_GLYPH, face)
    return "".join(sign for sign in dict.fromkeys(text) if _drawn(sign, face) == nothing)
