"""The whole instrument from the front and from the back.

Puts the parts together in the order in which they lie on each other; each part draws itself.
"""

from __future__ import annotations

from body import plate
from colours import EBONY
from f_holes import cut_f_holes
from fittings import bridge, button, spike, strings, tailpiece
from head import head
from instrument import Instrument
from neck import board, button_of_back, extension, neck_from_behind, nut
from paper import Sheet, sheet_for, sheet_for_head
from pegs import pegs


def front(instrument: Instrument) -> Sheet:
    """Draw an instrument from the front; in the white it has no fittings yet."""
    sheet = sheet_for(instrument)
    head(sheet, instrument, front=True)
    if not instrument.white:
        pegs(sheet, instrument)
    plate(sheet, instrument, top=True)
    cut_f_holes(sheet, instrument)
    if instrument.white:
        board(sheet, instrument)
        nut(sheet, instrument)
    else:
        set_up(sheet, instrument)
    if instrument.extension:
        extension(sheet, instrument)
    return sheet


def set_up(sheet: Sheet, instrument: Instrument) -> None:
    """Draw what lies over the top of an instrument ready to play."""
    tailpiece(sheet, instrument)
    if instrument.kind in ("cello", "bass"):
        spike(sheet, instrument)
    else:
        button(sheet, instrument, instrument.fittings)
    board(sheet, instrument)
    nut(sheet, instrument)
    bridge(sheet, instrument)
    strings(sheet, instrument)


def back(instrument: Instrument) -> Sheet:
    """Draw an instrument from the back."""
    sheet = sheet_for(instrument)
    pegs(sheet, instrument)
    head(sheet, instrument, front=False)
    neck_from_behind(sheet, instrument)
    plate(sheet, instrument, top=False)
    button_of_back(sheet, instrument)
    button(sheet, instrument, EBONY)
    return sheet


def scroll(instrument: Instrument) -> Sheet:
    """Draw the head from the front."""
    sheet = sheet_for_head(instrument)
    head(sheet, instrument, front=True)
    pegs(sheet, instrument)
    board(sheet, instrument)
    nut(sheet, instrument)
    return sheet
