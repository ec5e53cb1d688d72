"""Where the strings must rest on the bridge for the heights wanted, string by string.

Plain numbers in, plain numbers out: millimetres throughout, the middle line of the instrument at 0, bass side minus.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from passport.analysis.course import drop_mm, end_places
from passport.physics.setup import bridge_height_mm


@dataclass(frozen=True)
class StringLine:
    """A string seen from above, and how high it is wanted: over the end of the board, and over the board at the nut."""

    name: str
    nut_x_mm: float
    bridge_x_mm: float
    height_mm: float
    clearance_mm: float


@dataclass(frozen=True)
class Seat:
    """Where a string's underside rests; `board_drop_mm` is by how much the board's line is lower under it.

    `end_x_mm` is its place over the end of the board; the height counts from the belly at the middle of the bridge.
    """

    string: StringLine
    end_x_mm: float
    board_drop_mm: float
    above_belly_mm: float


def seats(
    strings: Sequence[StringLine],
    *,
    projection_mm: float,
    stops_mm: float,
    board_length_mm: float,
    board_radius_mm: float,
) -> tuple[Seat, ...]:
    """Give the seat of each string; OutsideRange where a number cannot be.

    The projection is that of the board's middle. Under a string that runs beside it the crowned board is lower, at the
    nut by s(y_nut), at its end by s(y_end), with s(y) = R - sqrt(R^2 - y^2); its line from the one to the other meets
    the bridge lower by s_nut + (s_end - s_nut)(S + N)/FB. Geometry.
    """
    return tuple(_seat(string, projection_mm, stops_mm, board_length_mm, board_radius_mm) for string in strings)


def _seat(string: StringLine, projection_mm: float, stops_mm: float, board_length_mm: float, radius_mm: float) -> Seat:
    share = board_length_mm / stops_mm
    (end_x_mm,) = end_places([string.nut_x_mm], [string.bridge_x_mm], share)
    at_nut, at_end = (drop_mm(radius_mm, x_mm) for x_mm in (string.nut_x_mm, end_x_mm))
    board_drop_mm = at_nut + (at_end - at_nut) / share
    above_mm = bridge_height_mm(
        string.height_mm, projection_mm - board_drop_mm, string.clearance_mm, board_length_mm, stops_mm
    )
    return Seat(string, end_x_mm, board_drop_mm, above_mm)
