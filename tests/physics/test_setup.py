"""The set-up from the side and along the bridge: coordinates and statics solved by numpy and scipy, printed examples.

G. Hart, The Violin: its famous makers and their imitators, gives the one published load on a bridge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import FrozenInstanceError
from math import acos, cos, degrees, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from passport.physics.ranges import OutsideRange
from passport.physics.setup import (
    afterlength_semitones,
    bridge_height_mm,
    bridge_load_n,
    bridge_push_n,
    crown_sagitta_mm,
    equal_gaps,
    feet_load_n,
    projection_mm,
    side_view,
    string_height_mm,
    string_loads_n,
)
from tests.physics.edges import refuses

# What a side view is worked out from, in mm, by the name of the argument.
Side = dict[str, float]

VIOLIN: Side = {
    "body_length_mm": 355, "body_stop_mm": 195, "neck_stop_mm": 130, "overstand_mm": 6, "board_thickness_mm": 8.9,
    "board_length_mm": 270, "arch_mm": 11.5, "projection_mm": 27, "bridge_height_mm": 33, "saddle_mm": 4,
    "nut_clearance_mm": 0.4,
}  # fmt: skip
CELLO: Side = {
    "body_length_mm": 755, "body_stop_mm": 400, "neck_stop_mm": 280, "overstand_mm": 21, "board_thickness_mm": 22,
    "board_length_mm": 580, "arch_mm": 18, "projection_mm": 81, "bridge_height_mm": 90, "saddle_mm": 14,
    "nut_clearance_mm": 0.6,
}  # fmt: skip

sides = st.builds(
    dict,
    body_length_mm=st.floats(330, 370), body_stop_mm=st.floats(180, 205), neck_stop_mm=st.floats(120, 140),
    overstand_mm=st.floats(3, 9), board_thickness_mm=st.floats(6, 11), board_length_mm=st.floats(250, 290),
    arch_mm=st.floats(8, 16), projection_mm=st.floats(22, 30), bridge_height_mm=st.floats(28, 37),
    saddle_mm=st.floats(2, 8), nut_clearance_mm=st.floats(-3, 1),
)  # fmt: skip
angles = st.floats(0, 60)
tensions = st.lists(st.floats(0, 300), min_size=1, max_size=6)
heights = st.floats(20, 40)
clearances = st.floats(-3, 1)


# Worked out by hand from the geometry, a set-up for gut; the violin's 327 to 328 mm and 158 degrees are the trade's.
@pytest.mark.parametrize(("side", "length", "neck", "tail", "included", "height"), [
    (VIOLIN, 328.09, 7.87, 14.20, 157.92, 5.05), (CELLO, 687.85, 8.66, 14.83, 156.51, 7.76),
])  # fmt: skip
def test_worked_side_views(side: Side, length: float, neck: float, tail: float, included: float, height: float) -> None:
    view = side_view(**side)
    assert view.string_length_mm == pytest.approx(length, abs=0.006)
    assert view.neck_side_deg == pytest.approx(neck, abs=0.006)
    assert view.tail_side_deg == pytest.approx(tail, abs=0.006)
    assert view.included_deg == pytest.approx(included, abs=0.006)
    assert view.height_at_board_end_mm == pytest.approx(height, abs=0.006)


def test_what_was_worked_out_stays_as_it_is() -> None:
    with pytest.raises(FrozenInstanceError):
        side_view(**VIOLIN).seat_mm = 0  # type: ignore[misc]


@given(sides)
def test_a_side_view_is_what_its_coordinates_give(side: Side) -> None:
    """The board is the line through its top at the edge and its aim at the bridge, the string two straight lines."""
    view = side_view(**side)
    stop, neck = side["body_stop_mm"], side["neck_stop_mm"]
    aim = side["arch_mm"] + side["projection_mm"]
    foot, slope = np.linalg.solve([[1, 0], [1, stop]], [side["overstand_mm"] + side["board_thickness_mm"], aim])
    nut = np.array([-neck, foot - slope * neck])
    seat = np.array([stop, side["arch_mm"] + side["bridge_height_mm"]])
    start = nut + np.array([0, side["nut_clearance_mm"]])
    saddle = np.array([side["body_length_mm"], side["saddle_mm"]])
    rise, fall = (seat - start)[1] / (seat - start)[0], (seat - saddle)[1] / (saddle - seat)[0]
    assert view.board_slope == pytest.approx(slope, abs=1e-9)
    assert view.nut_mm == pytest.approx(nut[1])
    assert view.seat_mm == pytest.approx(seat[1])
    assert view.string_length_mm == pytest.approx(integrate.quad(lambda _: np.sqrt(1 + rise**2), start[0], seat[0])[0])
    assert np.tan(np.radians([view.neck_side_deg, view.tail_side_deg])) == pytest.approx([rise, fall])
    towards = [(start - seat) / np.linalg.norm(start - seat), (saddle - seat) / np.linalg.norm(saddle - seat)]
    assert view.included_deg == pytest.approx(degrees(acos(float(np.dot(*towards)))))
    end = -neck + side["board_length_mm"]
    string_there = np.interp(end, [start[0], seat[0]], [start[1], seat[1]])
    assert view.height_at_board_end_mm == pytest.approx(string_there - (foot + slope * end), abs=1e-9)


def test_a_bridge_for_a_wanted_string_height() -> None:
    """P 27, c 0.4, h 5.0, 325 mm of stops, 270 mm of board: 32.94 mm (worked out by hand)."""
    assert bridge_height_mm(5.0, 27, 0.4, 270, 325) == pytest.approx(32.94, abs=0.005)


def test_a_projection_that_falls_a_millimetre_raises_the_strings() -> None:
    """By 0.83 mm on a violin, whose board goes 270 mm of 325 (arithmetic)."""
    raised = string_height_mm(33, 26, 0.4, 270, 325) - string_height_mm(33, 27, 0.4, 270, 325)
    assert raised == pytest.approx(0.83, abs=0.005)


@given(heights, st.floats(15, 35), clearances, st.floats(200, 300), st.floats(300, 360))
def test_bridge_string_and_projection_give_each_other_back(
    bridge: float, projection: float, clearance: float, board: float, stops: float
) -> None:
    string = string_height_mm(bridge, projection, clearance, board, stops)
    assert bridge_height_mm(string, projection, clearance, board, stops) == pytest.approx(bridge)
    assert projection_mm(bridge, string, clearance, board, stops) == pytest.approx(projection)


@given(heights, st.floats(15, 35), clearances, st.floats(200, 300), st.floats(300, 360))
def test_scipy_finds_the_same_bridge(
    bridge: float, projection: float, clearance: float, board: float, stops: float
) -> None:
    wanted = string_height_mm(bridge, projection, clearance, board, stops)
    found = optimize.brentq(lambda h: string_height_mm(h, projection, clearance, board, stops) - wanted, 0, 500)
    assert found == pytest.approx(bridge)


def test_eighteen_pounds_of_tension_are_eight_on_the_bridge() -> None:
    """Hart: 18 lb of tension give 8 lb by the parallelogram of forces; that is an included angle of 154.32 degrees."""
    included = degrees(2 * acos(8 / (2 * 18)))
    assert included == pytest.approx(154.32, abs=0.005)
    half = (180 - included) / 2
    assert bridge_load_n([18], half, half) == pytest.approx(8)
    found = optimize.brentq(lambda angle: bridge_load_n([18], angle, angle) - 8, 1, 59)
    assert 180 - 2 * found == pytest.approx(154.32, abs=0.005)


# F / T = 2 cos(theta / 2) where the bridge halves the angle (arithmetic).
@pytest.mark.parametrize(("included", "factor"), [
    (154, 0.450), (155, 0.4329), (157, 0.3987), (158, 0.3816), (160, 0.347),
])  # fmt: skip
def test_load_factors_of_a_bridge_that_halves_the_angle(included: float, factor: float) -> None:
    half = (180 - included) / 2
    assert bridge_load_n([1], half, half) == pytest.approx(factor, abs=0.0005)
    assert bridge_push_n([1], half, half) == pytest.approx(0, abs=1e-12)


def test_the_load_of_a_violin() -> None:
    """224 N at 158 degrees: 85.5 N; at 7.87 and 14.2 degrees 85.6 N down and 4.73 N toward the nut (arithmetic)."""
    assert bridge_load_n([78, 56, 46, 44], 11, 11) == pytest.approx(85.5, abs=0.05)
    assert bridge_load_n([224], 7.87, 14.2) == pytest.approx(85.6, abs=0.05)
    assert bridge_push_n([224], 7.87, 14.2) == pytest.approx(4.73, abs=0.005)


def test_a_popular_figure_asks_for_an_angle_no_violin_has() -> None:
    """35 lbf (155.7 N) from 224 N is an included angle of 139.3 degrees (arithmetic)."""
    found = optimize.brentq(lambda angle: bridge_load_n([224], angle, angle) - 155.7, 1, 59)
    assert 180 - 2 * found == pytest.approx(139.3, abs=0.06)


@given(tensions, angles, angles)
def test_the_bridge_takes_up_what_the_strings_pull(pulls: list[float], neck: float, tail: float) -> None:
    """Sum of the pulls as vectors: from the seat down to the nut, and down to the saddle."""
    to_nut = np.array([-cos(radians(neck)), -sin(radians(neck))])
    to_saddle = np.array([cos(radians(tail)), -sin(radians(tail))])
    along, up = sum((pull * (to_nut + to_saddle) for pull in pulls), np.zeros(2))
    assert bridge_load_n(pulls, neck, tail) == pytest.approx(-up, abs=1e-9)
    assert bridge_push_n(pulls, neck, tail) == pytest.approx(-along, abs=1e-9)


@given(tensions, st.data())
def test_each_string_has_its_own_angles(pulls: list[float], data: st.DataObject) -> None:
    count = len(pulls)
    necks = data.draw(st.lists(angles, min_size=count, max_size=count))
    tails = data.draw(st.lists(angles, min_size=count, max_size=count))
    alone = [bridge_load_n([pull], neck, tail) for pull, neck, tail in zip(pulls, necks, tails, strict=True)]
    assert string_loads_n(pulls, necks, tails) == pytest.approx(alone)
    assert bridge_load_n(pulls, necks, tails) == pytest.approx(sum(alone))


@given(st.floats(0, 59), st.floats(0, 59), st.floats(0.1, 1))
def test_a_steeper_string_loads_more(neck: float, tail: float, more: float) -> None:
    assert bridge_load_n([50], neck + more, tail) > bridge_load_n([50], neck, tail)
    assert bridge_load_n([50], neck, tail + more) > bridge_load_n([50], neck, tail)


@pytest.mark.parametrize("loading", [string_loads_n, bridge_load_n, bridge_push_n])
def test_angles_for_some_of_the_strings_are_no_answer(loading: object) -> None:
    assert callable(loading)
    with pytest.raises(ValueError, match="zip"):
        loading([50, 60], [8], 14)


def test_harts_rule_for_the_feet() -> None:
    """Outer strings on their own foot, the third 2/3 bass and 1/3 treble, the second 1/3 and 2/3, for even spacing."""
    for load, place, treble_share in ((9, -18, 0), (9, -6, 1 / 3), (9, 6, 2 / 3), (9, 18, 1)):
        bass, treble = feet_load_n([load], [place], 36)
        assert (bass, treble) == pytest.approx((load * (1 - treble_share), load * treble_share))


loaded = st.lists(st.tuples(st.floats(1, 100), st.floats(-20, 20)), min_size=1, max_size=6)


@given(loaded, st.floats(40, 60))
def test_the_feet_carry_the_strings_without_turning(strings: list[tuple[float, float]], feet: float) -> None:
    """Statics: the forces add up and the moments about the middle cancel."""
    loads, places = zip(*strings, strict=True)
    moment = sum(load * place for load, place in strings)
    expected = np.linalg.solve([[1, 1], [-feet / 2, feet / 2]], [sum(loads), moment])
    assert feet_load_n(loads, places, feet) == pytest.approx(tuple(expected), abs=1e-9)
    mirrored = feet_load_n(loads, [-place for place in places], feet)
    assert mirrored == pytest.approx(feet_load_n(loads, places, feet)[::-1], abs=1e-9)


def test_afterlengths() -> None:
    """Six to one is two octaves and a pure fifth: 24 + 12 log2(3/2) = 31.02 semitones (arithmetic)."""
    assert afterlength_semitones(327, 54.5) == pytest.approx(31.02, abs=0.005)
    assert afterlength_semitones(300, 150) == pytest.approx(12)
    assert afterlength_semitones(300, 300) == 0
    # D4 behind the bridge sounds at 6 x 293.665 = 1761.99 Hz; 1.5 mm more is 47.0 cents less.
    assert 293.665 * 2 ** (afterlength_semitones(327, 54.5) / 12) == pytest.approx(1761.99, abs=0.005)
    cents = 100 * (afterlength_semitones(327, 56) - afterlength_semitones(327, 54.5))
    assert cents == pytest.approx(-47.0, abs=0.05)


@given(st.lists(st.floats(0.2, 4), min_size=2, max_size=6), st.floats(30, 100))
def test_equal_gaps_are_equal(diameters: Sequence[float], spacing: float) -> None:
    """The places of the strings and the one gap as a system of linear equations."""
    count = len(diameters)
    rows, rights = [], []
    for low in range(count - 1):
        row = [0.0] * (count + 1)
        row[low], row[low + 1], row[count] = -1, 1, -1
        rows.append(row)
        rights.append(diameters[low] / 2 + diameters[low + 1] / 2)
    for string, place in ((0, 0.0), (count - 1, spacing)):
        row = [0.0] * (count + 1)
        row[string] = 1
        rows.append(row)
        rights.append(place)
    *places, expected = np.linalg.solve(rows, rights)
    gap, steps = equal_gaps(spacing, diameters)
    assert gap == pytest.approx(expected)
    assert steps == pytest.approx(np.diff(places))
    assert sum(steps) == pytest.approx(spacing)
    assert equal_gaps(spacing, diameters[::-1])[1] == pytest.approx(steps[::-1])


def test_strings_as_thin_as_nothing_stand_evenly() -> None:
    assert equal_gaps(33, [0, 0, 0, 0]) == (pytest.approx(11), pytest.approx((11, 11, 11)))


# s = R - sqrt(R^2 - (w/2)^2) (geometry).
@pytest.mark.parametrize(("radius", "chord", "rise"), [(42, 24, 1.751), (42, 42, 5.627), (42, 0, 0), (42, 84, 42)])
def test_crowns(radius: float, chord: float, rise: float) -> None:
    assert crown_sagitta_mm(radius, chord) == pytest.approx(rise, abs=0.0005)


@given(st.floats(1, 500), st.floats(0.01, 1))
def test_chord_and_rise_are_on_the_circle(radius: float, share: float) -> None:
    """Intersecting chords: (w/2)^2 = s (2 R - s) (Euclid, Elements, III 35)."""
    chord = 2 * radius * share
    rise = crown_sagitta_mm(radius, chord)
    assert rise * (2 * radius - rise) == pytest.approx((chord / 2) ** 2, rel=1e-6)


def with_one(name: str, value: float, base: Side = VIOLIN) -> object:
    """Work a side view out with one measure changed."""
    return side_view(**{**base, name: value})


def test_side_views_that_cannot_be_are_refused() -> None:
    for name in ("overstand", "board_thickness", "arch", "saddle", "projection", "bridge_height"):
        refuses(lambda value, name=name: with_one(f"{name}_mm", value), 0, 500, "mm", f"the {name.replace('_', ' ')}")
    refuses(lambda value: with_one("nut_clearance_mm", value), -500, 500, "mm", "the nut clearance")
    long: Side = {**VIOLIN, "body_length_mm": 2500, "neck_stop_mm": 1, "board_length_mm": 1}
    refuses(lambda value: with_one("body_stop_mm", value, long), 1, 2499, "mm", "the body stop")
    least: Side = {**VIOLIN, "body_stop_mm": 1, "board_length_mm": 100}
    refuses(lambda value: with_one("body_length_mm", value, least), 2, 2500, "mm", "the body length")
    refuses(lambda value: with_one("board_length_mm", value), 1, 325, "mm", "the board's length")


def test_stops_that_cannot_be_are_refused() -> None:
    short: Side = {**VIOLIN, "body_stop_mm": 1, "board_length_mm": 1}
    for value in (0.999, 2500.001):
        with pytest.raises(OutsideRange) as raised:
            with_one("neck_stop_mm", value, short)
        assert (raised.value.name, raised.value.low, raised.value.high) == ("the neck stop", 1, 2500)
    assert with_one("neck_stop_mm", 1, short)
    assert with_one("neck_stop_mm", 2499, short)
    with pytest.raises(OutsideRange, match="the sum of the stops"):
        with_one("neck_stop_mm", 2500, short)


# From the board's centre line, and an outer string of a round board lies below it.
BELOW = {"the string height", "the nut clearance"}


def test_heights_that_cannot_be_are_refused() -> None:
    for sum_of, names in (
        (string_height_mm, ("the bridge height", "the projection", "the nut clearance")),
        (bridge_height_mm, ("the string height", "the projection", "the nut clearance")),
        (projection_mm, ("the bridge height", "the string height", "the nut clearance")),
    ):
        for place, named in enumerate(names):
            base = [5.0, 5.0, 5.0]
            refuses(
                lambda value, place=place, sum_of=sum_of, base=base: sum_of(
                    *base[:place], value, *base[place + 1 :], 270, 325
                ),
                -500 if named in BELOW else 0, 500, "mm", named,
            )  # fmt: skip
        refuses(lambda board, sum_of=sum_of: sum_of(5, 5, 0.5, board, 325), 1, 325, "mm", "the board's length")
        refuses(lambda stops, sum_of=sum_of: sum_of(5, 5, 0.5, 1, stops), 1, 2500, "mm", "the sum of the stops")


def test_loads_that_cannot_be_are_refused() -> None:
    for loading in (string_loads_n, bridge_load_n, bridge_push_n):
        refuses(lambda pull, loading=loading: loading([50, pull], 8, 14), 0, 1000, "N", "the tension")
        refuses(lambda neck, loading=loading: loading([50, 60], neck, 14), 0, 60, "degrees", "the angle")
        refuses(lambda tail, loading=loading: loading([50, 60], 8, [14, tail]), 0, 60, "degrees", "the angle")
    refuses(lambda feet: feet_load_n([10, 10], [-0.25, 0.25], feet), 1, 500, "mm", "the distance of the feet")
    refuses(lambda load: feet_load_n([load], [0], 30), 0, 1000, "N", "the load of a string")


def test_a_bridge_that_would_tip_is_refused() -> None:
    for edge in (-15, 15):
        feet_load_n([10], [edge], 30)
        with pytest.raises(OutsideRange, match="the load that goes from foot to foot"):
            feet_load_n([10], [edge * 1.001], 30)
    with pytest.raises(ValueError, match="zip"):
        feet_load_n([10, 10], [0], 30)


def test_lengths_behind_the_bridge_that_cannot_be_are_refused() -> None:
    refuses(lambda string: afterlength_semitones(string, 50), 1, 2500, "mm", "the string length")
    refuses(lambda after: afterlength_semitones(300, after), 1, 2500, "mm", "the afterlength")


def test_strings_across_the_bridge_that_cannot_be_are_refused() -> None:
    refuses(lambda spacing: equal_gaps(spacing, [0.2, 0.2]), 1, 500, "mm", "the spacing")
    refuses(lambda diameter: equal_gaps(30, [0.2, diameter]), 0, 10, "mm", "the diameter")
    for count in (2, 10):
        equal_gaps(100, [1] * count)
    for count in (0, 1, 11):
        with pytest.raises(OutsideRange) as raised:
            equal_gaps(100, [1] * count)
        assert (raised.value.name, raised.value.low, raised.value.high) == ("the number of strings", 2, 10)
    assert equal_gaps(10, [10, 10])[0] == 0
    with pytest.raises(OutsideRange, match="the gap between the strings"):
        equal_gaps(9.99, [10, 10])


def test_arcs_that_cannot_be_are_refused() -> None:
    refuses(lambda radius: crown_sagitta_mm(radius, 1), 1, 500, "mm", "the radius")
    refuses(lambda chord: crown_sagitta_mm(42, chord), 0, 84, "mm", "the chord")
