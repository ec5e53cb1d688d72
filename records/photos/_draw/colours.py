"""The colours of the drawings: paper and ink, woods in white and under varnish, fittings.

Holds values alone; what a colour is laid on is decided where it is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass

Colour = tuple[int, int, int]  # red, green, blue; 0 to 255

PAPER: Colour = (244, 238, 224)
INK: Colour = (58, 44, 34)
FRAME: Colour = (176, 160, 132)
SHADOW: Colour = (60, 40, 24)

EBONY: Colour = (38, 31, 28)
EBONY_IN_SHADE: Colour = (30, 25, 23)
BOX: Colour = (126, 74, 34)
BRIDGE: Colour = (222, 190, 138)
BRIDGE_FEET: Colour = (188, 148, 92)
STEEL: Colour = (214, 210, 200)
BRASS: Colour = (184, 148, 78)


@dataclass(frozen=True)
class Finish:
    """The colours that differ between an instrument in the white and a varnished one."""

    spruce: tuple[Colour, ...]  # shades to choose from
    maple: tuple[Colour, ...]
    joint: Colour
    edge: Colour
    rim: Colour
    pegbox: Colour
    turn: Colour
    hollow: Colour
    ridge: Colour


VARNISHED = Finish(
    spruce=((203, 142, 74), (190, 122, 60), (182, 108, 52), (208, 154, 86)),
    maple=((166, 96, 48), (152, 82, 42), (146, 72, 38), (178, 114, 60)),
    joint=(110, 62, 28),
    edge=(70, 34, 16),
    rim=(226, 164, 92),
    pegbox=(54, 30, 16),
    turn=(120, 64, 30),
    hollow=(112, 56, 26),
    ridge=(214, 142, 76),
)
WHITE = Finish(
    spruce=((222, 195, 146),),
    maple=((214, 188, 142),),
    joint=(176, 144, 98),
    edge=(150, 116, 74),
    rim=(244, 226, 186),
    pegbox=(120, 90, 56),
    turn=(168, 132, 84),
    hollow=(170, 134, 88),
    ridge=(246, 230, 194),
)
