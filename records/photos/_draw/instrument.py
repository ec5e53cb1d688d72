"""What the drawing needs to know of one instrument, and the sizes that follow from it.

Holds measures; reads no record and draws nothing. Lengths in mm, heights above the bottom edge of the body.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np
from colours import BOX, EBONY, VARNISHED, WHITE, Colour, Finish
from lines import Array, Point

USUAL_STRINGS = 4
WIDER_FOR_FIFTH_STRING = 1.15
HEAD_UNITS = 108  # the head is drawn in units of this part of the height from nut to the top of the scroll
SLIMMEST_CHEEKS_UNITS = 11.4  # half width; cellos and basses have cheeks wider than the neck
TINTS_OF_FITTINGS = 3  # one instrument in so many has fittings of boxwood


@dataclass(frozen=True)
class FullSize:
    """Measures of a full-sized instrument; common practice, no source."""

    body_mm: float
    eyes_mm: float  # between the upper eyes of the f-holes, and the feet of the bridge
    f_hole_mm: float
    string_span_mm: float  # outer strings at the bridge
    tailpiece_width_mm: float
    tailpiece_mm: float
    board_widths_mm: Point  # at the nut, at the end
    head_mm: float  # from the nut to the top of the scroll
    below: float  # room for what stands out below, as a share of the body


FULL_SIZE = {
    "violin": FullSize(355, 42.0, 75.0, 33.5, 43.0, 110, (24.0, 42.0), 108.0, 0.015),
    "viola": FullSize(405, 48.0, 78.0, 36.0, 46.0, 126, (25.0, 46.0), 122.0, 0.015),
    "cello": FullSize(755, 88.0, 136.0, 47.0, 60.0, 236, (32.0, 64.0), 206.0, 0.1),
    "bass": FullSize(1110, 142.0, 196.0, 82.0, 96.0, 350, (43.0, 90.0), 330.0, 0.09),
}
VIOLIN = FULL_SIZE["violin"]


@dataclass(frozen=True)
class Back:
    """How the back is made."""

    pieces: int
    slab: bool
    flat: bool
    rising: bool  # the flame rises from the joint


@dataclass(frozen=True)
class Instrument:
    """One instrument as it is drawn."""

    number: str
    kind: str
    curves: tuple[Array, ...]  # upper, middle and lower bout: height, half width
    body_mm: float
    bridge_mm: float  # height of the bridge line
    nut_mm: float  # height of the nut
    board_mm: float
    string_mm: float
    strings: int
    back: Back
    white: bool
    left_handed: bool
    extension: bool

    @property
    def full(self) -> FullSize:
        """Give the measures of the full size."""
        return FULL_SIZE[self.kind]

    @property
    def fraction(self) -> float:
        """Give the size against the full size of its kind."""
        return self.body_mm / self.full.body_mm

    @property
    def against_violin(self) -> float:
        """Give the size of the body against that of a full violin."""
        return self.body_mm / VIOLIN.body_mm

    @property
    def small_parts(self) -> float:
        """Give the size of small parts against those of a full violin."""
        return self.eyes_mm / VIOLIN.eyes_mm

    @property
    def half(self) -> Array:
        """Give half the outline: height, half width."""
        return np.vstack(self.curves)

    @property
    def eyes_mm(self) -> float:
        """Give the distance between the upper eyes, and the feet of the bridge."""
        return self.full.eyes_mm * self.fraction

    @property
    def f_hole_mm(self) -> float:
        """Give the length of the f-holes."""
        return self.full.f_hole_mm * self.fraction

    @property
    def wider(self) -> float:
        """Give how much wider a fifth string makes the board."""
        return WIDER_FOR_FIFTH_STRING if self.strings > USUAL_STRINGS else 1.0

    @property
    def board_widths_mm(self) -> Point:
        """Give the width of the board at the nut and at its end; small sizes keep room for fingers."""
        at_nut, at_end = self.full.board_widths_mm
        return at_nut * self.wider * self.fraction**0.6, at_end * self.wider * self.fraction**0.7

    @property
    def string_span_mm(self) -> float:
        """Give the distance of the outer strings at the bridge."""
        return float(self.full.string_span_mm * self.fraction**0.7 * self.wider)

    @property
    def tailpiece_width_mm(self) -> float:
        """Give the width of the tailpiece at its upper end."""
        return float(self.full.tailpiece_width_mm * self.fraction**0.8 * self.wider**0.5)

    @property
    def tailpiece_mm(self) -> float:
        """Give the length of the tailpiece."""
        return self.full.tailpiece_mm * self.fraction

    @property
    def after_mm(self) -> float:
        """Give the length of string below the bridge: a sixth of the rest."""
        return self.string_mm / 6

    @property
    def top_of_scroll_mm(self) -> float:
        """Give the height of the highest point."""
        return self.nut_mm + self.full.head_mm * self.fraction

    @property
    def head_unit_mm(self) -> float:
        """Give the unit in which the head is drawn."""
        return (self.top_of_scroll_mm - self.nut_mm) / HEAD_UNITS

    @property
    def cheek_mm(self) -> float:
        """Give half the width of the pegbox at the nut."""
        return max(self.board_widths_mm[0] / 2, SLIMMEST_CHEEKS_UNITS * self.head_unit_mm)

    @property
    def seed(self) -> int:
        """Give a number that stays the same for this instrument."""
        return zlib.crc32(self.number.encode())

    @property
    def finish(self) -> Finish:
        """Give the colours of its wood."""
        return WHITE if self.white else VARNISHED

    @property
    def spruce(self) -> Colour:
        """Give the colour of the top."""
        return self.finish.spruce[self.seed % len(self.finish.spruce)]

    @property
    def maple(self) -> Colour:
        """Give the colour of back and head."""
        return self.finish.maple[self.seed % len(self.finish.maple)]

    @property
    def fittings(self) -> Colour:
        """Give the colour of pegs, tailpiece and button."""
        return EBONY if self.seed % TINTS_OF_FITTINGS else BOX
