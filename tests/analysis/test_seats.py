"""Seats of strings: held against a board and strings laid out in space, and against the sum for a flat board."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.analysis.course import from_steps
from passport.analysis.seats import StringLine, seats
from passport.physics.ranges import OutsideRange
from passport.physics.setup import string_height_mm

PROJECTION, STOPS, BOARD, RADIUS = 27.0, 325.0, 270.0, 42.0


def height_over_board_end(line: StringLine, seat_mm: float, radius_mm: float) -> float:
    """Lay board and string out in space and measure between them over the end of the board.

    x along the neck from the nut, y across, z up from the belly. The board is a cylinder whose crest is a straight line
    from an arbitrary height at the nut to the projection at the bridge; the string is straight between its two ends.
    """
    crest_at_nut = 11.0

    def board(x: float, y: float) -> float:
        crest = crest_at_nut + (PROJECTION - crest_at_nut) * x / STOPS
        return crest - (radius_mm - sqrt(radius_mm**2 - y**2))

    start = (0.0, line.nut_x_mm, board(0.0, line.nut_x_mm) + line.clearance_mm)
    end = (STOPS, line.bridge_x_mm, seat_mm)
    share = BOARD / STOPS
    y, z = (one + (other - one) * share for one, other in zip(start[1:], end[1:], strict=True))
    return z - board(BOARD, y)


@given(
    nut=st.floats(-12, 12), bridge=st.floats(-25, 25), height=st.floats(1, 9), clearance=st.floats(0, 1),
    radius=st.floats(38, 90),
)  # fmt: skip
def test_a_string_over_its_seat_has_the_height_wanted(
    nut: float, bridge: float, height: float, clearance: float, radius: float
) -> None:
    line = StringLine("D", nut, bridge, height, clearance)
    (seat,) = seats([line], projection_mm=PROJECTION, stops_mm=STOPS, board_length_mm=BOARD, board_radius_mm=radius)
    assert height_over_board_end(line, seat.above_belly_mm, radius) == pytest.approx(height, abs=1e-9)
    lowered = PROJECTION - seat.board_drop_mm
    assert string_height_mm(seat.above_belly_mm, lowered, clearance, BOARD, STOPS) == pytest.approx(height, abs=1e-9)


def test_a_string_along_the_middle_needs_what_the_rule_for_one_string_says() -> None:
    # Worked by hand from H = P + c + (h - c)(S + N)/FB: 27 + 0.4 + 4.6 * 325/270 = 32.94.
    middle = StringLine("D", 0, 0, 5.0, 0.4)
    (seat,) = seats([middle], projection_mm=27, stops_mm=325, board_length_mm=270, board_radius_mm=42)
    assert seat.above_belly_mm == pytest.approx(32.937, abs=0.001)
    assert seat.board_drop_mm == 0


def test_a_string_beside_the_middle_sits_lower_by_the_crown_of_the_board() -> None:
    # By hand, R 42: s(8.25) = 0.818; at the board's end y = -15.311, s = 2.890; b = 0.818 + 2.072 * 325/270 = 3.312.
    outer = StringLine("G", -8.25, -16.75, 5.0, 0.4)
    (seat,) = seats([outer], projection_mm=27, stops_mm=325, board_length_mm=270, board_radius_mm=42)
    assert seat.board_drop_mm == pytest.approx(3.312, abs=0.002)
    assert seat.above_belly_mm == pytest.approx(32.937 - 3.312, abs=0.002)


def test_what_cannot_be_is_refused() -> None:
    line = StringLine("G", -8, -17, 5, 0.4)
    with pytest.raises(OutsideRange):
        seats([line], projection_mm=27, stops_mm=260, board_length_mm=270, board_radius_mm=42)
    with pytest.raises(OutsideRange):
        seats([line], projection_mm=27, stops_mm=325, board_length_mm=270, board_radius_mm=10)


def test_strings_lie_evenly_about_the_middle() -> None:
    assert from_steps([11.3, 11.2, 11.0]) == pytest.approx([-16.75, -5.45, 5.75, 16.75])
    assert from_steps([7.0]) == (-3.5, 3.5)
