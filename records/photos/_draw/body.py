"""The body: a plate with its wood, arching, varnish, edge and purfling.

Draws top and back within the outline; holes, neck and fittings lie in other modules.
"""

from __future__ import annotations

import numpy as np
from colours import Colour
from instrument import Instrument
from light import BOUT, arched, tinted
from lines import Array, Point, both
from paper import Sheet
from texture import soft_noise
from wood import maple, poplar, spruce

EDGE_MM, RIM_MM, JOINT_MM = 0.9, 0.7, 0.25  # widths of lines on a violin
RIM_IN_MM, PURFLING_IN_MM = 1.5, 4.0  # from the edge
PURFLING: tuple[tuple[Colour, float], ...] = (((40, 24, 16), 1.3), ((206, 160, 98), 0.5))  # colour, width in mm
LIGHT_ON_WHITE = 0.45  # bare wood shines less
WORN_TOP, WORN_BACK = 0.3, 0.2  # how much varnish is gone where most is


def plate(sheet: Sheet, instrument: Instrument, *, top: bool) -> None:
    """Draw the body with its wood, arching, edge and purfling."""
    body = sheet.mask(outline(instrument.half))
    size = instrument.small_parts
    sheet.shade(body, shift_mm=(5 * size, 6 * size), blur_mm=5 * size, strength=0.38)
    x, y = sheet.field()
    random = np.random.default_rng(instrument.seed + top)
    shine = arched(sheet, body, instrument.body_mm, flat=instrument.back.flat and not top)
    light = grain(x, y, instrument, random, top=top) + shine * (LIGHT_ON_WHITE if instrument.white else 1.0)
    mottle = 0.04 * soft_noise(x.shape, random, (110, 110))
    worn = None if instrument.white else wear(x, y, instrument.body_mm, top=top)
    sheet.lay(tinted(instrument.spruce if top else instrument.maple, light + mottle, worn), body)
    if top or instrument.back.pieces > 1:
        joint(sheet, instrument)
    edges(sheet, instrument)


def grain(x: Array, y: Array, instrument: Instrument, random: np.random.Generator, *, top: bool) -> Array:
    """Give the light and dark of the wood; the figure of larger instruments is larger, but not by as much."""
    if top:
        return spruce(x, y, instrument.against_violin**0.75, random, white=instrument.white)
    wood = poplar if instrument.kind == "bass" else maple
    return wood(x, y, instrument.against_violin**0.8, instrument.back, random)


def wear(x: Array, y: Array, body_mm: float, *, top: bool) -> Array:
    """Give how far the varnish has worn: a little at the middle of the back and by the treble shoulder."""
    half = body_mm * BOUT
    if top:
        far = ((x - 0.62 * half) / (0.3 * half)) ** 2 + ((y - 0.93 * body_mm) / (0.3 * half)) ** 2
        return np.asarray(WORN_TOP * np.exp(-far))
    far = (x / (0.62 * half)) ** 2 + ((y - 0.47 * body_mm) / (1.0 * half)) ** 2
    return np.asarray(WORN_BACK * np.exp(-far))


def joint(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the joint down the middle."""
    ends = [(0, 1), (0, instrument.body_mm - 1)]
    sheet.line(ends, instrument.finish.joint, JOINT_MM * instrument.against_violin**0.5)


def edges(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the rounded edge and the purfling."""
    thick = instrument.against_violin**0.6
    closed_line(sheet, outline(instrument.half), instrument.finish.edge, EDGE_MM * thick)
    closed_line(sheet, inset(instrument, RIM_IN_MM * thick), instrument.finish.rim, RIM_MM * thick)
    for colour, width_mm in PURFLING:
        closed_line(sheet, inset(instrument, PURFLING_IN_MM * thick), colour, width_mm * thick)


def closed_line(sheet: Sheet, points: list[Point], colour: Colour, width_mm: float) -> None:
    """Draw a line that ends where it began."""
    sheet.line([*points, points[0]], colour, width_mm)


def outline(half: Array) -> list[Point]:
    """Close the half outline, height and half width, to the whole body, x and height."""
    return both([(float(x), float(height)) for height, x in half])


def inset(instrument: Instrument, by_mm: float) -> list[Point]:
    """Draw each curve in by a distance and let the three meet again, as purfling does in the corners."""
    upper, middle, lower = (moved_in(curve, by_mm) for curve in instrument.curves)
    upper, middle = met(upper, middle)
    middle, lower = met(middle, lower)
    half = np.vstack([upper, middle, lower])
    return outline(half[half[:, 1] > 0])


def moved_in(curve: Array, by_mm: float) -> Array:
    """Move a curve inwards along its normals."""
    step = np.gradient(curve, axis=0)
    step /= np.hypot(step[:, 0], step[:, 1])[:, None] + 1e-9
    return np.asarray(curve + by_mm * np.column_stack([-step[:, 1], step[:, 0]]))


def met(first: Array, second: Array) -> tuple[Array, Array]:
    """Cut two curves off where they come nearest to each other."""
    gap = np.hypot(*(first[:, None] - second[None]).transpose(2, 0, 1))
    gap[: len(first) // 2] = np.inf
    gap[:, len(second) // 2 :] = np.inf
    end, start = np.unravel_index(int(np.argmin(gap)), gap.shape)
    return first[: end + 1], second[start:]
