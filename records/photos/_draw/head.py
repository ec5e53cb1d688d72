"""The head: pegbox and scroll, from the front and from the back.

Draws the carved wood alone; pegs and machine heads lie in `pegs`.
"""

from __future__ import annotations

from colours import Colour
from instrument import Instrument
from light import solid
from lines import Point, both, curve, ellipse, mirrored, placed
from paper import Sheet

# Shapes on the viewer's right, across and up, in units of the head (see instrument.HEAD_UNITS).
# Across from the centre line, up from the nut:
RIDGE_UNITS = ((0, 108), (6.4, 105.5), (8.8, 97), (8.2, 84), (8.4, 72), (8.9, 64))
THROAT_UNITS = ((-5.6, 68), (0, 73), (5.6, 68))
TURNS_UNITS = ((99.0, 6.4), (90.0, 6.6), (81.0, 6.2))  # height, half width
TURN_SAG_UNITS = 2.4
FLUTE_UNITS = ((1.6, 104), (5.4, 92), (5.2, 70))
FLUTE_BY_CHEEK_UNITS = ((-5, 34), (-6, 16))  # across from the cheek
FLUTE_ENDS_UNITS = (1, 9)
# Across from the cheek, up from the nut:
PEGBOX_UNITS = ((-3.6, 74), (-1.2, 40), (0.3, 0))
PEGBOX_BACK_UNITS = ((-2.8, 74), (-1.2, 40), (0.3, 0))
OPENING_UNITS = ((-6.4, 63), (-4.8, 38), (-3.4, 2))
# Across from the centre line, up from the eye:
EYE_UNITS = 88  # above the nut
EAR_UNITS = ((6, 11), (14, 10), (20.5, 3), (20.8, -3), (15, -9), (8, -11))
EYE_OUT_UNITS = 20.6
EYE_AXES_UNITS = (1.9, 4.4)

THROAT: Colour = (84, 44, 20)


def head(sheet: Sheet, instrument: Instrument, *, front: bool) -> None:
    """Draw pegbox and scroll, from the front or from the back."""
    ears(sheet, instrument)
    unit, nut = instrument.head_unit_mm, instrument.nut_mm
    box = placed(PEGBOX_UNITS if front else PEGBOX_BACK_UNITS, unit, x=instrument.cheek_mm, height=nut)
    solid(sheet, both(box), instrument.maple, size=unit, round_by=0.3)
    ridge = both(curve(*placed(RIDGE_UNITS, unit, height=nut)))
    solid(sheet, ridge, instrument.maple, size=unit, round_by=0.55, shadow=0.3)
    if front:
        opening(sheet, instrument)
        turns(sheet, instrument)
    else:
        flutes(sheet, instrument)


def ears(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the eyes of the scroll, which stand out on both sides."""
    unit, colour = instrument.head_unit_mm, instrument.maple
    height = instrument.nut_mm + EYE_UNITS * unit
    ear = curve(*placed(EAR_UNITS, unit, height=height))
    across, up = (axis * unit for axis in EYE_AXES_UNITS)
    for side in (1, -1):
        solid(sheet, mirrored(ear, side), colour, size=unit, round_by=0.5)
        eye = ellipse(side * EYE_OUT_UNITS * unit, height, across, up)
        solid(sheet, eye, colour, size=unit, round_by=0.6, shadow=0.2)


def opening(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the hollow of the pegbox and the throat above it."""
    unit, nut = instrument.head_unit_mm, instrument.nut_mm
    hollow = both(placed(OPENING_UNITS, unit, x=instrument.cheek_mm, height=nut))
    solid(sheet, hollow, instrument.finish.pegbox, size=unit, shadow=0, round_by=-0.5)
    sheet.line(curve(*placed(THROAT_UNITS, unit, height=nut)), THROAT, 0.7 * unit)


def turns(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the lines where one turn of the scroll passes behind the next."""
    unit = instrument.head_unit_mm
    for height, width in TURNS_UNITS:
        upper = height + TURN_SAG_UNITS
        bend = placed(((-width, upper), (0, height), (width, upper)), unit, height=instrument.nut_mm)
        sheet.line(curve(*bend), instrument.finish.turn, 0.45 * unit)


def flutes(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the two hollows and the ridge down the back of the head."""
    unit, nut, finish = instrument.head_unit_mm, instrument.nut_mm, instrument.finish
    sheet.line(placed(((0, 104), (0, 14)), unit, height=nut), finish.ridge, 0.9 * unit)
    right = flute(instrument)
    middle = placed(((0, 9), (0, 104)), unit, height=nut)
    for side in (1, -1):
        line = mirrored(right, side)
        soft = sheet.softened(sheet.mask([*line, *middle]), blur_mm=1.3 * unit, strength=0.3)
        sheet.lay(finish.hollow, soft)
        sheet.line(line, finish.hollow, 0.4 * unit)


def flute(instrument: Instrument) -> list[Point]:
    """Give the outer line of the hollow on the viewer's right."""
    unit, nut = instrument.head_unit_mm, instrument.nut_mm
    return curve(
        *placed(FLUTE_UNITS, unit, height=nut),
        *placed(FLUTE_BY_CHEEK_UNITS, unit, x=instrument.cheek_mm, height=nut),
        *placed([FLUTE_ENDS_UNITS], unit, height=nut),
    )
