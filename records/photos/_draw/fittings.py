"""The fittings on the top: strings, bridge, tailpiece with saddle, button or spike.

Draws what a set-up adds to the bare instrument; pegs lie in `pegs`.
"""

from __future__ import annotations

from colours import BRIDGE, BRIDGE_FEET, EBONY, EBONY_IN_SHADE, STEEL, Colour
from instrument import Instrument
from light import solid
from lines import Point, both, curve, ellipse, placed, spread
from paper import Sheet

# In mm on a full violin, x from the centre line.
FOOT_MM = 2.2  # half its thickness
STRING_MM, THINNER_MM = 0.95, 0.55  # the lowest string, and how much thinner the highest is
STRING_SHADOW_MM = 1.7
SADDLE_MM = ((16.5, 5.6), (17.5, -0.6))
GUT_MM = 1.3
BUTTON_MM = (-1.6, 6.2, 4.2)  # height of the middle, half axes
FERRULE_MM = ((6.5, 0), (7.5, -4), (5, -13))
FRET_DOWN_MM, FRET_MM = 6.5, 0.9
ROD_MM = ((2.6, -2), 2.4)  # where it leaves the button; half its thickness at the end
ROD = 0.085  # its length as a share of the body
LOWEST_END_MM = 5.0  # of the tailpiece, above the edge
# Where the strings reach their pegs, in units of the head above the nut, lowest peg first.
WINDINGS_UNITS = (18, 30, 46, 58, 64)
STRINGS_AT_NUT, STRINGS_AT_TAIL = 0.69, 0.62  # their spread as a share of board and tailpiece

WOUND: Colour = (196, 188, 170)
GLINT: Colour = (250, 247, 238)
UNDER_STRINGS: Colour = (44, 26, 16)
GUT: Colour = (40, 34, 30)
FRET: Colour = (206, 196, 176)
ROD_STEEL: Colour = (120, 118, 116)


def bridge(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the bridge from above: its feet and its upper edge."""
    size, line, feet = instrument.small_parts, instrument.bridge_mm, instrument.eyes_mm
    ground = both([(feet / 2, line + FOOT_MM * size), (feet / 2, line - FOOT_MM * size)])
    solid(sheet, ground, BRIDGE_FEET, size=size * 1.5, shadow=0.55)
    crown = curve(
        (feet * 0.26, line + 1.5 * size),
        (feet * 0.44, line + 1.0 * size),
        (feet * 0.455, line - 1.0 * size),
        (feet * 0.26, line - 1.5 * size),
    )
    solid(sheet, both(crown), BRIDGE, size=size, shadow=0.3)


def strings(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the strings with their shadow, the lowest first."""
    size, count = instrument.small_parts, instrument.strings
    shift = STRING_SHADOW_MM * size
    for at, line in enumerate(string_lines(instrument)):
        thick = (STRING_MM - THINNER_MM * at / (count - 1)) * size**0.45
        sheet.line([(x + shift * 0.7, h - shift) for x, h in line[1:3]], UNDER_STRINGS, thick * 0.8)
        sheet.line(line, STEEL if at else WOUND, thick)
        sheet.line([(x - thick * 0.25, h) for x, h in line[1:]], GLINT, thick * 0.25)


def string_lines(instrument: Instrument) -> list[list[Point]]:
    """Give each string from its peg over nut and bridge to the tailpiece, the lowest first."""
    size, count = instrument.small_parts, instrument.strings
    at_nut = spread(count, instrument.board_widths_mm[0] * STRINGS_AT_NUT)
    at_bridge = spread(count, instrument.string_span_mm)
    at_tail = spread(count, instrument.tailpiece_width_mm * STRINGS_AT_TAIL)
    over_nut, over_bridge = instrument.nut_mm + 3 * size, instrument.bridge_mm
    end = over_bridge - instrument.after_mm + 2 * size
    return [
        [winding(instrument, at, nut), (nut, over_nut), (middle, over_bridge), (tail, end)]
        for at, (nut, middle, tail) in enumerate(zip(at_nut, at_bridge, at_tail, strict=True))
    ]


def winding(instrument: Instrument, at: int, x_at_nut: float) -> Point:
    """Give where a string is wound on its peg: the outer strings on the lower pegs."""
    low_side = at < 2  # noqa: PLR2004 - the two lowest strings
    place = WINDINGS_UNITS[at if low_side else instrument.strings - at]
    widest = 0.3 * instrument.cheek_mm
    x = max(-widest, min(widest, x_at_nut * 0.55))
    return x, instrument.nut_mm + place * instrument.head_unit_mm


def tailpiece(sheet: Sheet, instrument: Instrument) -> None:
    """Draw saddle, tailgut and tailpiece."""
    size = instrument.small_parts
    top = instrument.bridge_mm - instrument.after_mm + 5 * size
    foot = max(LOWEST_END_MM * size, top - instrument.tailpiece_mm)
    solid(sheet, both(placed(SADDLE_MM, size)), EBONY_IN_SHADE, size=size, shadow=0.2)
    for side in (1, -1):
        sheet.line([(side * 4.6 * size, foot + 6 * size), (side * 5.0 * size, -1.2 * size)], GUT, GUT_MM * size)
    shape = both([(0, top + 2.4 * size), *tailpiece_side(instrument, top, foot)])
    solid(sheet, shape, instrument.fittings, size=size * 1.4, round_by=0.6)
    reach, height = instrument.tailpiece_width_mm * 0.5 * 0.9, top - FRET_DOWN_MM * size
    sheet.line([(-reach, height), (reach, height)], FRET, FRET_MM * size)


def tailpiece_side(instrument: Instrument, top: float, foot: float) -> list[Point]:
    """Give the edge of the tailpiece on the viewer's right, from its upper end down."""
    size = instrument.small_parts
    wide, slim = instrument.tailpiece_width_mm * 0.5, instrument.tailpiece_width_mm * 0.25
    return curve(
        (wide * 0.8, top + 1.4 * size),
        (wide, top - 3 * size),
        (wide * 0.96, top - 14 * size),
        ((wide + slim) / 2 * 0.98, (top + foot) / 2),
        (slim, foot + 4 * size),
        (slim * 0.72, foot),
    )


def button(sheet: Sheet, instrument: Instrument, colour: Colour) -> None:
    """Draw the end button."""
    size = instrument.small_parts
    height, across, up = (length * size for length in BUTTON_MM)
    solid(sheet, ellipse(0, height, across, up), colour, size=size, shadow=0.3)


def spike(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the spike that cellos and basses stand on."""
    size = instrument.small_parts
    leaves, thin_mm = ROD_MM
    rod = both([*placed([leaves], size), (thin_mm * size, -ROD * instrument.body_mm)])
    solid(sheet, rod, ROD_STEEL, size=size, shadow=0.3)
    solid(sheet, both(placed(FERRULE_MM, size)), EBONY, size=size, shadow=0.3)
