"""The course of the strings against the worked examples of the trade's side view, and against plain geometry."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.analysis.course import Body, Course, seen_from_the_side
from passport.physics.setup import string_loads_n

# Two set-ups worked out by hand with the rule of the side view, strings on the centre line: L, a, b, the angle and the
# height at the end of the board.
VIOLIN = Course(195, 130, 270, 27, 33, (0.4,), (None,), (0.0,), (0.0,))
VIOLIN_BODY = Body(355, 6, 8.9, 11.5, 4)
CELLO = Course(400, 280, 580, 81, 90, (0.6,), (None,), (0.0,), (0.0,))
CELLO_BODY = Body(755, 21, 22, 18, 14)
# A violin on its crowns, heights such that the crown does not lean.
CROWNED = Course(
    195, 130, 270, 27, 32.3, (0.4, 0.35, 0.3, 0.25), (None,) * 4, (-16.75, -5.45, 5.75, 16.75),
    (-8.25, -2.75, 2.75, 8.25), 41, 42,
)  # fmt: skip


@pytest.mark.parametrize(
    ("course", "body", "length", "neck", "tail", "included", "height"),
    [(VIOLIN, VIOLIN_BODY, 328.1, 7.87, 14.20, 157.9, 5.05), (CELLO, CELLO_BODY, 687.8, 8.66, 14.83, 156.5, 7.76)],
)
def test_the_worked_examples(
    course: Course, body: Body, length: float, neck: float, tail: float, included: float, height: float
) -> None:
    (view,) = seen_from_the_side(course, body)
    assert view.string_length_mm == pytest.approx(length, abs=0.06)
    assert view.neck_side_deg == pytest.approx(neck, abs=0.006)
    assert view.tail_side_deg == pytest.approx(tail, abs=0.006)
    assert view.included_deg == pytest.approx(included, abs=0.06)
    assert course.heights_worked_mm[0] == pytest.approx(height, abs=0.006)


def test_the_published_load_of_eight_pounds_on_eighteen() -> None:
    """G. Hart, The Violin: 18 lb of string tension press 8 lb on the bridge; so the strings bend by 154.3 degrees."""
    # A bridge and a saddle that make the two sides equal to half of what is left of 180 degrees.
    side = (180 - 154.32) / 2
    rise = 325 * sin(radians(side)) / (1 - sin(radians(side)) ** 2) ** 0.5
    course = replace(VIOLIN, bridge_mm=0, projection_mm=0, clearances_mm=(0.0,))
    nut_at_plane = Body(355, 0, 0, 0, 0)
    course = replace(course, bridge_mm=rise)
    (view,) = seen_from_the_side(course, nut_at_plane)
    assert view.neck_side_deg == pytest.approx(side, abs=0.01)
    assert sum(string_loads_n([18.0], view.neck_side_deg, side)) == pytest.approx(8, abs=0.01)


def test_outer_strings_sit_lower_by_the_fall_of_the_crown() -> None:
    # An arc of 41 mm falls 3.58 mm at 16.75 from its middle: 41 - sqrt(41^2 - 16.75^2).
    assert CROWNED.seats_mm[0] == pytest.approx(32.3 - 3.577, abs=0.001)
    assert CROWNED.seats_mm[0] == pytest.approx(CROWNED.seats_mm[-1])
    assert CROWNED.lean is None


def test_a_height_is_that_of_a_straight_line_over_a_round_board() -> None:
    """The string from nut to bridge in space, and the arc of the board under it, without the rule."""
    nut = 0.25 - (42 - (42**2 - 8.25**2) ** 0.5)
    seat = CROWNED.seats_mm[-1] - 27
    at_end = nut + (seat - nut) * 270 / 325
    across = 8.25 + (16.75 - 8.25) * 270 / 325
    board = (42**2 - across**2) ** 0.5 - 42
    assert CROWNED.heights_worked_mm[-1] == pytest.approx(at_end - board, abs=1e-9)


heights = st.tuples(*(st.floats(2, 9) for _ in range(4)))


@given(heights=heights)
def test_the_crown_leans_as_the_outer_heights_ask(heights: tuple[float, float, float, float]) -> None:
    course = replace(CROWNED, heights_mm=heights)
    worked = course.heights_worked_mm
    assert worked[0] - worked[-1] == pytest.approx(heights[0] - heights[-1], abs=1e-9)


@given(heights=heights, wrong=st.floats(-3, 3))
def test_a_projection_that_is_wrong_by_so_much_is_found_wrong_by_so_much(
    heights: tuple[float, float, float, float], wrong: float
) -> None:
    course = replace(CROWNED, heights_mm=heights)
    # Worked out from bridge and heights alone, whatever projection is written down.
    assert replace(course, projection_mm=27 + wrong).projection_worked_mm == pytest.approx(course.projection_worked_mm)


@given(projection=st.floats(20, 30), bridge=st.floats(31, 40))
def test_heights_worked_out_close_the_sum_again(projection: float, bridge: float) -> None:
    course = replace(CROWNED, projection_mm=projection, bridge_mm=bridge)
    closed = replace(course, heights_mm=course.heights_worked_mm)
    assert closed.projection_worked_mm == pytest.approx(projection, abs=1e-9)
    assert closed.lean == pytest.approx(0, abs=1e-12)
    assert closed.spread_mm == pytest.approx(0, abs=1e-9)


def test_a_string_is_as_long_as_its_rise_and_its_run() -> None:
    course, body = replace(CROWNED, heights_mm=(5.0, 4.7, 4.2, 3.5)), Body(355, 6.2, 8.9, 11.6, 4.2)
    nut = 6.2 + 8.9 - 130 * (11.6 + 27 - 6.2 - 8.9) / 195
    for view, seat, at_nut in zip(seen_from_the_side(course, body), course.seats_mm, course.at_nut_mm, strict=True):
        rise = 11.6 + seat - nut - at_nut
        assert view.string_length_mm == pytest.approx(hypot(325, rise))
        assert view.neck_side_deg == pytest.approx(degrees(atan(rise / 325)))
