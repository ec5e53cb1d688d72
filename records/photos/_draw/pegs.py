"""What the strings are wound on: pegs, and the machine heads of basses.

Draws them beside the pegbox, whose measures come with the instrument.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from colours import BRASS, Colour
from instrument import USUAL_STRINGS, Instrument
from light import solid
from lines import Point, curve, ellipse, mirrored, placed
from paper import Sheet

# In units of the head (see instrument.HEAD_UNITS); heights above the nut, from the lowest up, by turns on either side.
PEG_HEIGHTS_UNITS = (15.0, 25.0, 38.0, 51.0)
MACHINE_HEIGHTS_UNITS = (17.0, 31.0, 45.0, 59.0)
FIFTH_MACHINE_UNITS = 66.0
PEGBOX_NARROWS, MACHINES_NARROW = 0.035, 0.03  # the cheeks, for each unit up

# Shapes on the viewer's right. Across from the cheek, up from the middle of the peg:
SHAFT_UNITS, SHAFT_THICK_UNITS, SHAFT_THIN_UNITS = 11, 3.3, 3.1
INTO_CHEEK_MM = 1
COLLAR_UNITS = (11.5, 1.7, 4.6)  # middle, half axes
GRIP_FROM_UNITS = 21
# Across from the middle of the grip:
GRIP_UNITS = ((-9, 2.6), (-4, 7.4), (5, 8.2), (9.5, 3), (9.5, -3), (5, -8.2), (-4, -7.4), (-9, -2.6))
PIN_UNITS, PIN_RADIUS_UNITS = 10, 1.3
# Across from the cheek, up from the middle of the machine:
PLATE_UNITS = ((0, 7), (2.4, 7), (2.4, -7), (0, -7))
WHEEL_UNITS = (3.6, 2.0, 5.4)  # middle, half axes
STEM_UNITS = ((4, -4.4), (15, -4.4), (15, -6.0), (4, -6.0))
KEY_UNITS = ((14, -3.6), (19, -0.4), (24, -1.6), (24, -8.8), (19, -10), (14, -6.8))

PIN: Colour = (206, 186, 150)


def pegs(sheet: Sheet, instrument: Instrument) -> None:
    """Draw the pegs, or the machine heads."""
    if instrument.kind == "bass":
        machines(sheet, instrument)
        return
    for cheek, height, side in places(instrument, PEG_HEIGHTS_UNITS, PEGBOX_NARROWS):
        peg(sheet, instrument, (cheek, height), side)


def places(instrument: Instrument, heights: Sequence[float], narrows: float) -> Iterator[tuple[float, float, int]]:
    """Give for each peg how far out the cheek is, how high the peg sits, and its side."""
    unit = instrument.head_unit_mm
    for at, place in enumerate(heights):
        yield instrument.cheek_mm - place * unit * narrows, instrument.nut_mm + place * unit, 1 if at % 2 else -1


def peg(sheet: Sheet, instrument: Instrument, place: Point, side: int) -> None:
    """Draw one peg."""
    unit, (cheek, height) = instrument.head_unit_mm, place
    end = cheek + GRIP_FROM_UNITS * unit
    out, across, up = COLLAR_UNITS
    collar = ellipse(cheek + out * unit, height, across * unit, up * unit)
    grip = curve(*placed(GRIP_UNITS, unit, x=end, height=height))
    for piece in (shaft(cheek, height, unit), collar, grip):
        solid(sheet, mirrored(piece, side), instrument.fittings, size=unit, shadow=0.3)
    pin = sheet.at(side * (end + PIN_UNITS * unit), height)
    sheet.dot(pin, PIN, PIN_RADIUS_UNITS * unit * sheet.dots_per_mm)


def shaft(cheek: float, height: float, unit: float) -> list[Point]:
    """Give the part of a peg between pegbox and grip, a little thinner inside."""
    start, end = cheek - INTO_CHEEK_MM, cheek + SHAFT_UNITS * unit
    thin, thick = SHAFT_THIN_UNITS * unit, SHAFT_THICK_UNITS * unit
    return [(start, height + thin), (end, height + thick), (end, height - thick), (start, height - thin)]


def machines(sheet: Sheet, instrument: Instrument) -> None:
    """Draw brass plates, wheels and keys."""
    more = (FIFTH_MACHINE_UNITS,) if instrument.strings > USUAL_STRINGS else ()
    for cheek, height, side in places(instrument, (*MACHINE_HEIGHTS_UNITS, *more), MACHINES_NARROW):
        for piece in machine(cheek, height, instrument.head_unit_mm):
            solid(sheet, mirrored(piece, side), BRASS, size=instrument.head_unit_mm, shadow=0.25)


def machine(cheek: float, height: float, unit: float) -> Iterator[list[Point]]:
    """Give the parts of one machine, from the lowest to the uppermost."""
    yield placed(STEM_UNITS, unit, x=cheek, height=height)
    yield placed(PLATE_UNITS, unit, x=cheek, height=height)
    out, across, up = WHEEL_UNITS
    yield ellipse(cheek + out * unit, height, across * unit, up * unit)
    yield curve(*placed(KEY_UNITS, unit, x=cheek, height=height))
