"""The paper: a sheet on which millimetres of an instrument have a place, and what is written under the drawing.

Lays areas, lines and letters on paper; what they show is decided elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from colours import FRAME, INK, PAPER, SHADOW, Colour
from instrument import Instrument
from lines import Array, Point, Points
from PIL import Image, ImageDraw, ImageFilter, ImageFont
from texture import blurred

from passport.fonts import FONTS

SIZE_DOTS = (780, 1600)
FINER = 2  # drawn this much larger, then brought down
FINE_DOTS = (SIZE_DOTS[0] * FINER, SIZE_DOTS[1] * FINER)
WIDEST, TALLEST, GROUND = 0.8, 0.865, 0.915  # shares of the sheet: widest bout, height, where the lowest point stands

HEAD_BELOW = 68  # of the neck below the nut, in units of the head

MARGIN_DOTS, FRAME_DOTS, BASELINE_DOTS = 64, 28, 52  # of the finished picture, from its edges
NUMBER_DOTS, BAR_TEXT_DOTS = 21, 19
BARS_MM = (100.0, 10.0)


@dataclass(frozen=True)
class Sheet:
    """A sheet of paper on which millimetres of an instrument have a place."""

    image: Image.Image
    dots_per_mm: float
    middle_dots: float
    bottom_dots: float

    def at(self, x: float, height: float) -> Point:
        """Give the place of a point, x to the viewer's right of the centre line."""
        return self.middle_dots + x * self.dots_per_mm, self.bottom_dots - height * self.dots_per_mm

    def field(self) -> tuple[Array, Array]:
        """Give for every dot how far it lies from the centre line and above the bottom edge, in mm."""
        width, height = self.image.size
        x = (np.arange(width) - self.middle_dots) / self.dots_per_mm
        y = (self.bottom_dots - np.arange(height)) / self.dots_per_mm
        across, up = np.meshgrid(x, y)
        return across, up

    def path(self, points: Points) -> list[Point]:
        """Give the places of points."""
        return [self.at(float(x), float(height)) for x, height in points]

    def mask(self, *shapes: Points) -> Image.Image:
        """Give the area inside closed lines."""
        mask = Image.new("L", self.image.size)
        for points in shapes:
            ImageDraw.Draw(mask).polygon(self.path(points), fill=255)
        return mask

    def lay(self, colour: Colour | Image.Image, mask: Image.Image) -> None:
        """Lay a colour or a texture on an area."""
        self.image.paste(colour, (0, 0) if isinstance(colour, Image.Image) else None, mask)

    def softened(self, mask: Image.Image, *, blur_mm: float, strength: float) -> Image.Image:
        """Give an area with soft edges, thinned to a strength from 0 to 1."""
        soft = mask.filter(ImageFilter.GaussianBlur(blur_mm * self.dots_per_mm))
        return soft.point(lambda value: int(value * strength))

    def moved(self, mask: Image.Image, right_mm: float, down_mm: float) -> Image.Image:
        """Give an area moved across the sheet."""
        moved = Image.new("L", mask.size)
        moved.paste(mask, (round(right_mm * self.dots_per_mm), round(down_mm * self.dots_per_mm)))
        return moved

    def shade(self, mask: Image.Image, *, shift_mm: Point, blur_mm: float, strength: float) -> None:
        """Let an area throw a soft shadow."""
        self.lay(SHADOW, self.softened(self.moved(mask, *shift_mm), blur_mm=blur_mm, strength=strength))

    def line(self, points: Points, colour: Colour, width_mm: float) -> None:
        """Draw a line with round joints."""
        path, width = self.path(points), max(1, round(width_mm * self.dots_per_mm))
        ImageDraw.Draw(self.image).line(path, fill=colour, width=width, joint="curve")
        if width > 3:  # noqa: PLR2004 - thin lines need no round ends
            for end in (path[0], path[-1]):
                self.dot(end, colour, width / 2)

    def dot(self, place: Point, colour: Colour, radius_dots: float) -> None:
        """Draw a round dot at a place of the sheet."""
        x, y = place
        round_it = [x - radius_dots, y - radius_dots, x + radius_dots, y + radius_dots]
        ImageDraw.Draw(self.image).ellipse(round_it, fill=colour)


def sheet_for(instrument: Instrument) -> Sheet:
    """Give an empty sheet on which the whole instrument stands well."""
    width, height = FINE_DOTS
    below_mm = instrument.full.below * instrument.body_mm
    tall_mm = instrument.top_of_scroll_mm + below_mm
    wide_mm = 2 * float(instrument.half[:, 1].max())
    dots_per_mm = min(height * TALLEST / tall_mm, width * WIDEST / wide_mm)
    return Sheet(rough_paper(instrument.seed), dots_per_mm, width / 2, height * GROUND - below_mm * dots_per_mm)


def sheet_for_head(instrument: Instrument) -> Sheet:
    """Give an empty sheet that the head fills, with a little of the neck below it."""
    width, height = FINE_DOTS
    below_mm = instrument.nut_mm - HEAD_BELOW * instrument.head_unit_mm
    dots_per_mm = height * TALLEST / (instrument.top_of_scroll_mm - below_mm)
    return Sheet(rough_paper(instrument.seed), dots_per_mm, width / 2, height + below_mm * dots_per_mm)


def rough_paper(seed: int) -> Image.Image:
    """Give paper with some tooth and fibre."""
    tooth = np.random.default_rng(seed).normal(0, 1, (FINE_DOTS[1] // 2, FINE_DOTS[0] // 2))
    fibre = blurred(tooth, 3) * 9 + tooth * 0.9
    paper = np.array(PAPER, float)[None, None] + np.kron(fibre, np.ones((2, 2)))[..., None]
    return Image.fromarray(np.clip(paper, 0, 255).astype(np.uint8))


def sans(size_dots: int) -> ImageFont.FreeTypeFont:
    """Load the upright typeface of marks and numbers."""
    return font("PassportSans-Regular", size_dots)


def font(name: str, size_dots: float) -> ImageFont.FreeTypeFont:
    """Load one of the shipped typefaces."""
    return ImageFont.truetype(str(FONTS / f"{name}.ttf"), round(size_dots))


def ledger_page(sheet: Sheet, number: str, *, mirror: bool) -> Image.Image:
    """Bring the drawing down to size and write number and scale under it, as in a ledger."""
    image = sheet.image.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if mirror else sheet.image
    image = image.resize(SIZE_DOTS, Image.Resampling.LANCZOS)
    pen = ImageDraw.Draw(image)
    baseline = SIZE_DOTS[1] - BASELINE_DOTS
    pen.text((MARGIN_DOTS, baseline), " ".join(number), font=sans(NUMBER_DOTS), fill=INK, anchor="ls")
    scale_bar(pen, baseline, sheet.dots_per_mm / FINER)
    frame(image, FRAME_DOTS, 1)
    return image


def scale_bar(pen: ImageDraw.ImageDraw, baseline: float, dots_per_mm: float) -> None:
    """Draw how long 100 mm are, or 10 of what is drawn large, at the lower right."""
    bar_mm = next(mm for mm in BARS_MM if mm * dots_per_mm < SIZE_DOTS[0] / 2)
    end = SIZE_DOTS[0] - MARGIN_DOTS
    start = end - bar_mm * dots_per_mm
    measure(pen, (start, end), baseline - 4, 5)
    pen.text((start - 12, baseline), f"{bar_mm:.0f} mm", font=sans(BAR_TEXT_DOTS), fill=INK, anchor="rs")


def measure(pen: ImageDraw.ImageDraw, ends: Point, y: float, tick_dots: float) -> None:
    """Draw a measured line with a tick at either end."""
    pen.line([(ends[0], y), (ends[1], y)], fill=INK, width=1)
    for x in ends:
        pen.line([(x, y - tick_dots), (x, y + tick_dots)], fill=INK, width=1)


def frame(image: Image.Image, inset_dots: int, width_dots: int) -> None:
    """Draw a thin frame round a picture."""
    box = [inset_dots, inset_dots, image.width - 1 - inset_dots, image.height - 1 - inset_dots]
    ImageDraw.Draw(image).rectangle(box, outline=FRAME, width=width_dots)
