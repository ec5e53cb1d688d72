"""The outline against values worked out by hand and against the curve's own definition."""

from __future__ import annotations

import re
from itertools import pairwise
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.figures.drawing import svg
from passport.figures.outline import Point, body_path, half_width_mm, length_mm, smooth

UPPER = [(100.0, 5.0), (90.0, 30.0), (70.0, 35.0), (60.0, 33.0)]
MIDDLE = [(60.0, 33.0), (50.0, 20.0), (40.0, 38.0)]
LOWER = [(40.0, 38.0), (20.0, 45.0), (5.0, 30.0), (0.0, 0.0)]
CURVES = (UPPER, MIDDLE, LOWER)
points = st.lists(
    st.tuples(st.floats(-300, 300), st.floats(-300, 300)).map(lambda p: (round(p[0], 1), round(p[1], 1))),
    min_size=3, max_size=8, unique=True,
)  # fmt: skip


@pytest.mark.parametrize(
    ("height", "half_width"),
    [
        (100, 5.0),
        (95, 17.5),  # half way from 5 to 30
        (80, 32.5),
        (65, 34.0),
        (60, 33.0),
        (55, 26.5),  # half way from 33 to 20
        (45, 29.0),
        (30, 41.5),
        (1, 6.0),  # a fifth of the way from 0 to 30
        (0, 0.0),
        (100.1, 0.0),
        (-0.1, 0.0),
    ],
)
def test_the_half_width_lies_on_the_line_between_two_points(height: float, half_width: float) -> None:
    assert half_width_mm(CURVES, height) == pytest.approx(half_width)


def test_where_curves_overlap_the_wider_counts() -> None:
    assert half_width_mm([[(10.0, 5.0), (0.0, 5.0)], [(8.0, 7.0), (6.0, 7.0)]], 7) == 7


def test_the_body_is_as_long_as_its_highest_point() -> None:
    assert length_mm(CURVES) == 100


def bezier(start: Point, first: Point, second: Point, end: Point, t: float) -> Point:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    parts = (start, first, second, end)
    return (
        sum(w * p[0] for w, p in zip(weights, parts, strict=True)),
        sum(w * p[1] for w, p in zip(weights, parts, strict=True)),
    )


def pyramid(four: list[Point], t: float) -> Point:
    """The Catmull-Rom curve between the second and third of four points, knots apart by the chords' lengths.

    P. Barry and R. Goldman 1988, A recursive evaluation algorithm for a class of Catmull-Rom splines (from memory).
    """
    knots = [0.0]
    for one, other in pairwise(four):
        knots.append(knots[-1] + dist(one, other))
    at = knots[1] + t * (knots[2] - knots[1])
    level: list[Point] = list(four)
    for reach in (1, 2, 2):
        if reach == 2 and len(level) == 2:
            spans = [(knots[1], knots[2])]
        else:
            spans = [(knots[i], knots[i + reach]) for i in range(len(level) - 1)]
        level = [
            (((b - at) * p[0] + (at - a) * q[0]) / (b - a), ((b - at) * p[1] + (at - a) * q[1]) / (b - a))
            for (a, b), (p, q) in zip(spans, pairwise(level), strict=True)
        ]
    return level[0]


@given(points)
def test_the_curve_goes_through_every_point(through: list[Point]) -> None:
    assert [end for _, _, end in smooth(through)] == through[1:]


@given(points.filter(lambda found: len(found) > 3))
def test_between_its_points_it_is_the_catmull_rom_curve(through: list[Point]) -> None:
    segments = list(smooth(through))
    for index in range(1, len(through) - 2):
        first, second, end = segments[index]
        for t in (0.25, 0.5, 0.8):
            wanted = pyramid(through[index - 1 : index + 3], t)
            assert bezier(through[index], first, second, end, t) == pytest.approx(wanted, abs=1e-6)


def test_three_points_in_a_line_stay_in_it() -> None:
    for first, second, _ in smooth([(0.0, 0.0), (10.0, 20.0), (40.0, 80.0)]):
        assert first[1] == pytest.approx(2 * first[0])
        assert second[1] == pytest.approx(2 * second[0])


def drawn(path: str) -> list[Point]:
    """Every point of a path of relative lines and curves, handles included, in its order."""
    found: list[Point] = []
    for command, rest in re.findall(r"([Mlc])([^Mlc Z]*(?: [^Mlc Z]*)*)", path):
        here = found[-1] if found else (0.0, 0.0)
        pairs = [tuple(map(float, pair.split(","))) for pair in rest.split()]
        assert len(pairs) == (3 if command == "c" else 1)
        found += [(here[0] + x, here[1] + y) for x, y in pairs]
    return found


def test_the_outline_is_the_same_on_both_sides() -> None:
    path = body_path(CURVES)
    assert path.endswith("Z")
    found = drawn(path)
    right = {(round(x, 1), round(y, 1)) for x, y in found if x > 0.05}
    left = {(round(-x, 1), round(y, 1)) for x, y in found if x < -0.05}
    assert len(right) > 15
    assert all(min(dist(one, other) for other in left) < 0.11 for one in right)
    assert all(min(dist(one, other) for other in right) < 0.11 for one in left)


def test_the_outline_goes_through_the_models_points_with_the_neck_above() -> None:
    found = drawn(body_path(CURVES))
    for height, width in (*UPPER, *MIDDLE, *LOWER):
        assert min(dist((width, 100 - height), point) for point in found) < 0.08


def test_a_drawing_tells_what_it_shows_and_no_word_of_it_is_markup() -> None:
    made = svg('<b>"A&B"</b>', "1 < 2", (0, 0, 10, 10), ["<path/>"], "plate")
    assert "<title>&lt;b&gt;&quot;A&amp;B&quot;&lt;/b&gt;</title>" in made
    assert "<desc>1 &lt; 2</desc>" in made
    assert 'role="img"' in made
