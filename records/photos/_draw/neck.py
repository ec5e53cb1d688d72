"""The neck: fingerboard, nut and a bass's extension from the front; neck, heel and button from the back.

Draws no head, strings or fittings.
"""

from __future__ import annotations

from colours import BRASS, EBONY, EBONY_IN_SHADE, STEEL, Colour
from instrument import Instrument
from light import solid
from lines import both, curve, ellipse, placed
from paper import Sheet

# In mm on a full violin.
BOARD_END_MM = ((1, 1.4), (0.55, -0.6), (0, -1.2), (-0.55, -0.6), (-1, 1.4))  # share of the half width, mm up
NUT_MM = ((0.4, 4), (0, -1.2))  # across from the edge of the board, up from the nut line
BUTTON_MM = (10.6, 13.2)  # half axes
BUTTON_DOWN_MM, BUTTON_CUT_MM = 1.2, 2.4  # its middle and where it meets the back, below the edge of the body
BUTTON_EDGE_MM = 0.7
HEEL_STARTS = 0.2  # share of the way from the body to the nut

# In units of the head, across from the extension's edge on the bass side, up from the nut.
EXTENSION_UNITS = ((-4.5, 112), (5, 112), (6.6, 0), (-0.6, 0))
EXTENSION_IN_UNITS = 1.0  # from the cheek
GATES_UNITS, GATE_UNITS = (28, 54, 82), 3  # upper edges, height
GATE_EDGES_UNITS = (-5.6, 6.4)
EXTENSION_STRING_MM = 1.6

BARE_MAPLE: Colour = (236, 200, 140)  # the neck is rubbed, not varnished


def board(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the fingerboard."""
    size, nut = instrument.small_parts, instrument.nut_mm
    narrow, wide = (width / 2 for width in instrument.board_widths_mm)
    end = nut - instrument.board_mm
    edge = curve(*((wide * share, end + up * size) for share, up in BOARD_END_MM))
    solid(sheet, [(-narrow, nut), (narrow, nut), *edge], EBONY, size=size * 1.6, round_by=0.5, shadow=0.6)


def nut(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the nut."""
    size = instrument.small_parts
    half = placed(NUT_MM, size, x=instrument.board_widths_mm[0] / 2, height=instrument.nut_mm)
    solid(sheet, both(half), EBONY_IN_SHADE, size=size, shadow=0.2)


def extension(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the long board over the head that takes the lowest string down."""
    unit, nut = instrument.head_unit_mm, instrument.nut_mm
    edge = -instrument.cheek_mm + EXTENSION_IN_UNITS * unit
    shape = placed(EXTENSION_UNITS, unit, x=edge, height=nut)
    solid(sheet, shape, EBONY, size=unit * 1.2, shadow=0.5)
    for gate in GATES_UNITS:
        solid(sheet, placed(gate_units(gate), unit, x=edge, height=nut), BRASS, size=unit, shadow=0.3)
    sheet.line(placed(((1, 110), (2.6, 0)), unit, x=edge, height=nut), STEEL, EXTENSION_STRING_MM)
    solid(sheet, ellipse(edge + 0.4 * unit, nut + 112 * unit, 5.6 * unit, 5.6 * unit), BRASS, size=unit)


def gate_units(top: float) -> list[tuple[float, float]]:
    """Give the bar that closes the extension at a semitone."""
    start, end = GATE_EDGES_UNITS
    return [(start, top), (end, top), (end, top - GATE_UNITS), (start, top - GATE_UNITS)]


def neck_from_behind(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the board behind the neck, the neck and the heel."""
    size, nut, body = instrument.small_parts, instrument.nut_mm, instrument.body_mm
    half = instrument.board_widths_mm[0] / 2
    behind = both([(half + 0.5 * size, nut), (half + 3.6 * size, body)])
    solid(sheet, behind, EBONY, size=size)
    heel = body + (nut - body) * HEEL_STARTS
    line = curve(
        (half - 0.2 * size, nut),
        (half + 0.6 * size, (nut + heel) / 2),
        (half + 1.4 * size, heel),
        (half - 0.6 * size, body + 12 * size),
        (11.2 * size, body + 4 * size),
    )
    shape = both([*line, (10.6 * size, body - 4 * size)])
    solid(sheet, shape, rubbed(instrument.maple), size=size * 1.4, round_by=0.22)


def rubbed(maple: Colour) -> Colour:
    """Give the colour of the bare neck on an instrument whose maple has a colour."""
    red, green, blue = (
        min(255, round(part * 0.55 + bare * 0.45)) for part, bare in zip(maple, BARE_MAPLE, strict=True)
    )
    return red, green, blue


def button_of_back(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the half round at the top of the back that holds the heel."""
    size, body = instrument.small_parts, instrument.body_mm
    across, up = (axis * size for axis in BUTTON_MM)
    whole = ellipse(0, body - BUTTON_DOWN_MM * size, across, up)
    shape = [(x, height) for x, height in whole if height > body - BUTTON_CUT_MM * size]
    solid(sheet, shape, instrument.maple, size=size, round_by=0.25, shadow=0.5)
    sheet.line(shape, instrument.finish.edge, BUTTON_EDGE_MM * size)
