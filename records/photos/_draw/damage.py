"""Close views of damage: a crack through the place of the post, an open seam.

Draws both at a scale of their own; the wood is that of the whole views.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from body import plate
from colours import INK, PAPER, VARNISHED, Colour
from f_holes import cut_f_holes
from instrument import Instrument
from light import tinted
from lines import Array, Point, ellipse
from paper import FINE_DOTS, FINER, SIZE_DOTS, Sheet, frame, measure, sans, sheet_for
from PIL import Image, ImageDraw
from texture import soft_noise, waves

NEARER = 2.7  # times the scale of the whole view
CRACK_PART_DOTS = (0, 350, SIZE_DOTS[0], 1250)  # what is kept of the sheet
CRACK_MM = (22.0, -40.0)  # ends, above and below the bridge line
CRACK_POINTS = 60
CRACK_INSIDE_FOOT_MM = 6
CRACK: Colour = (40, 20, 10)
CRACK_LIGHT: Colour = (244, 190, 116)
FOOT_PRINT: Colour = (80, 44, 20)

SEAM_DOTS = (1200, 640)
SEAM_DOTS_PER_MM = 17
SEAM_GROUND = 0.94  # where the lower edge of the rib lies, as a share of the height
RIB_MM, SEAM_MM, TOP_MM = 27, 27.2, 33  # heights: rib, seam, upper side of the edge
GAP_MM, GAP_HIGH_MM = (12, 52), 1.25  # from where to where the seam is open, and how far
RIB_FLAME_MM = (7.3, 9.9, 5.7)
MEASURE_Y_DOTS, MEASURE_TICK_DOTS, MEASURE_TEXT_DOTS = 22, 6, 20
MEASURE_SPACE_DOTS = (40, 12)  # left free for the number, to either side
GAP: Colour = (22, 13, 9)
SEAM_LINE: Colour = (92, 50, 24)


def crack(instrument: Instrument) -> Image.Image:
    """Draw the top by the treble foot, cracked along the grain through the place of the post."""
    varnished = replace(instrument, white=False)
    sheet = near_bridge(instrument)
    plate(sheet, varnished, top=True)
    cut_f_holes(sheet, varnished)
    line = crack_line(instrument)
    sheet.line([(x + 0.35, height) for x, height in line], CRACK_LIGHT, 0.35)
    sheet.line(line, CRACK, 0.42)
    foot_print = sheet.mask(ellipse(instrument.eyes_mm / 2 - 5, instrument.bridge_mm, 5.2, 2.1))
    sheet.lay(FOOT_PRINT, sheet.softened(foot_print, blur_mm=0.4, strength=0.28))
    image = sheet.image.resize(SIZE_DOTS, Image.Resampling.LANCZOS).crop(CRACK_PART_DOTS)
    frame(image, 0, 2)
    return image


def near_bridge(instrument: Instrument) -> Sheet:
    """Give a sheet that shows the top close by, around the bridge line."""
    whole = sheet_for(instrument)
    dots_per_mm = whole.dots_per_mm * NEARER
    middle, bottom = FINE_DOTS[0] * 0.22, FINE_DOTS[1] * 0.5 + instrument.bridge_mm * dots_per_mm
    return Sheet(whole.image, dots_per_mm, middle, bottom)


def crack_line(instrument: Instrument) -> list[Point]:
    """Give a line that follows the grain, just inside the treble foot."""
    bridge = instrument.bridge_mm
    start, end = (bridge + height for height in CRACK_MM)
    sways = np.cumsum(np.random.default_rng(instrument.seed).normal(0, 0.06, CRACK_POINTS))
    x = instrument.eyes_mm / 2 - CRACK_INSIDE_FOOT_MM
    return [
        (x + float(sway) + 0.01 * (height - bridge), float(height))
        for height, sway in zip(np.linspace(start, end, CRACK_POINTS), sways, strict=True)
    ]


def seam(instrument: Instrument) -> Image.Image:
    """Draw the lower bout from the side: the edge of the top, the rib, and the gap between them."""
    width, height = SEAM_DOTS[0] * FINER, SEAM_DOTS[1] * FINER
    image = Image.new("RGB", (width, height), PAPER)
    sheet = Sheet(image, SEAM_DOTS_PER_MM * FINER, 0.0, height * SEAM_GROUND)
    x, y = sheet.field()
    rib(sheet, x, y, np.random.default_rng(instrument.seed))
    edge_of_top(sheet, x, y)
    sheet.lay(GAP, sheet.mask(gap()))
    seam_lines(sheet)
    small = image.resize(SEAM_DOTS, Image.Resampling.LANCZOS)
    length_of_gap(small)
    return small


def long_mm(sheet: Sheet) -> float:
    """Give how much of the edge the sheet shows."""
    return sheet.image.width / sheet.dots_per_mm


def rib(sheet: Sheet, x: Array, y: Array, random: np.random.Generator) -> None:
    """Draw the rib of flamed maple."""
    long = long_mm(sheet)
    bands = 0.11 * np.tanh(2 * waves(x + 0.12 * y, random, RIB_FLAME_MM))
    flame = bands + 0.02 * soft_noise(x.shape, random, (1, 12))
    shape = [(0, 0), (long, 0), (long, RIB_MM), (0, RIB_MM)]
    sheet.lay(tinted(VARNISHED.maple[0], flame - 0.006 * np.abs(y - 12)), sheet.mask(shape))


def gap() -> list[Point]:
    """Give the gap between rib and top, from one end to the other."""
    start, end = GAP_MM
    bow = [
        (start + (end - start) * t, SEAM_MM + GAP_HIGH_MM * math.sin(math.pi * t) ** 0.8) for t in np.linspace(0, 1, 60)
    ]
    return [(start, SEAM_MM), *bow, (end, SEAM_MM)]


def edge_of_top(sheet: Sheet, x: Array, y: Array) -> None:
    """Draw the edge of the top with its shadow on the rib."""
    long = long_mm(sheet)
    shape = [(0, TOP_MM), (long, TOP_MM), (long, SEAM_MM), *reversed(gap()), (0, SEAM_MM)]
    mask = sheet.mask(shape)
    rings = 0.05 * np.cos(2 * math.pi * (x / 1.1 + 0.4 * np.sin(x / 9))) ** 5 - 0.02 * np.abs(y - 31)
    sheet.shade(mask, shift_mm=(0, 1.5), blur_mm=0.8, strength=0.75)
    sheet.lay(tinted(VARNISHED.spruce[0], rings), mask)


def seam_lines(sheet: Sheet) -> None:
    """Draw the seam where it is closed, and the upper side of the edge."""
    long, (start, end) = long_mm(sheet), GAP_MM
    sheet.line([(start, SEAM_MM), (0, SEAM_MM)], SEAM_LINE, 0.16)
    sheet.line([(end, SEAM_MM), (long, SEAM_MM)], SEAM_LINE, 0.16)
    sheet.line([(0, TOP_MM), (long, TOP_MM)], VARNISHED.edge, 0.25)


def length_of_gap(image: Image.Image) -> None:
    """Write over the gap how long it is."""
    pen, y = ImageDraw.Draw(image), MEASURE_Y_DOTS
    left, right = (place * SEAM_DOTS_PER_MM for place in GAP_MM)
    measure(pen, (left, right), y, MEASURE_TICK_DOTS)
    middle, (across, up) = (left + right) / 2, MEASURE_SPACE_DOTS
    pen.rectangle([middle - across, y - up, middle + across, y + up], fill=PAPER)
    text = f"{GAP_MM[1] - GAP_MM[0]} mm"
    pen.text((middle, y), text, font=sans(MEASURE_TEXT_DOTS), fill=INK, anchor="mm")
