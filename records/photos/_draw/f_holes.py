"""The f-holes of the top.

Cuts both of them, at the height of the bridge line; shapes are those of a full violin, grown to size.
"""

from __future__ import annotations

import math

import numpy as np
from colours import Colour
from instrument import VIOLIN, Instrument
from lines import Array, Points, bezier
from paper import Sheet
from PIL import ImageChops

# On the viewer's right, x from the centre line and height over the bridge line, in mm on a full violin.
EYES_MM = ((24.2, 32.6, 3.1), (60.6, -25.4, 4.1))  # x, height, radius
STEM_MM = (
    ((26.2, 33.5), (26.6, 41.5), (35.5, 43.0), (36.6, 29.5)),
    ((36.6, 29.5), (37.6, 17.0), (43.6, -7.0), (44.6, -19.5)),
    ((44.6, -19.5), (45.6, -33.0), (56.6, -35.0), (58.4, -25.0)),
)
TIP_MM, SWELL_MM = 0.75, 2.35  # half width of the slot at its ends, and what the middle has more
NICK_MM = 1.6  # depth
NICK_REACH = 4  # points of the stem to either side
RIM_MM = 0.9  # how far the darker rim reaches
RIM: Colour = (70, 36, 16)
DARK: Colour = (34, 22, 16)
DARKEST: Colour = (14, 9, 7)


def cut_f_holes(sheet: Sheet, instrument: Instrument) -> None:
    """Cut both f-holes into the top."""
    shapes = f_hole(instrument)
    mask = sheet.mask(*(on_top(shape, side, instrument.bridge_mm) for side in (1, -1) for shape in shapes))
    sheet.lay(RIM, sheet.softened(mask, blur_mm=RIM_MM * instrument.small_parts, strength=0.55))
    sheet.lay(DARK, mask)
    sheet.lay(DARKEST, ImageChops.subtract(mask, sheet.moved(mask, 0.9, 1.1)))


def on_top(shape: Array, side: int, bridge_mm: float) -> Points:
    """Place a part of the f-hole on the top."""
    return [(side * x, bridge_mm + height) for x, height in shape]


def f_hole(instrument: Instrument) -> list[Array]:
    """Give the parts of the f-hole on the viewer's right, x and height over the bridge line."""
    grown = np.array([instrument.small_parts, instrument.f_hole_mm / VIOLIN.f_hole_mm])
    return [np.asarray(shape * grown) for shape in (*eyes(), *slot_and_nicks())]


def eyes() -> list[Array]:
    """Give both eyes."""
    turn = np.linspace(0, 2 * math.pi, 48)
    return [np.column_stack([x + r * np.cos(turn), height + r * np.sin(turn)]) for x, height, r in EYES_MM]


def slot_and_nicks() -> list[Array]:
    """Give the slot between the eyes and the nicks at its middle."""
    upper, *rest = (bezier(*points) for points in STEM_MM)
    stem = np.vstack([upper, *(piece[1:] for piece in rest)])
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(stem, axis=0).T))])
    width = TIP_MM + SWELL_MM * np.clip(np.sin(math.pi * run / run[-1]), 0, 1) ** 1.6
    step = np.gradient(stem, axis=0)
    normal = np.column_stack([-step[:, 1], step[:, 0]]) / np.hypot(step[:, 0], step[:, 1])[:, None]
    slot = np.vstack([stem + normal * width[:, None], (stem - normal * width[:, None])[::-1]])
    return [slot, *(nick(stem, side * normal, width) for side in (1, -1))]


def nick(stem: Array, outwards: Array, width: Array) -> Array:
    """Give the nick at the middle of the stem on one side."""
    middle = len(stem) // 2
    tip = stem[middle] + outwards[middle] * (width[middle] + NICK_MM)
    above, below = (stem[at] + outwards[at] * (width[at] - 0.2) for at in (middle - NICK_REACH, middle + NICK_REACH))
    return np.array([above, tip, below])
