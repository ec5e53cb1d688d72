"""The limit of the eyes, the surface of bodies whose surface is known, and the years of drying."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, inf, nan, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.physics.ranges import OutsideRange
from passport.physics.varnish import ARCH_FACTOR, body_area_mm2, eye_exposure_s
from passport.physics.wood import air_drying_years
from tests.physics.edges import refuses

SQUARE = [(100.0, 0.0), (100.0, 50.0), (0.0, 50.0), (0.0, 0.0)]


# 10 000 J/m2 of UV-A to the unprotected eye in eight hours: ICNIRP, Guidelines on limits of exposure to ultraviolet
# radiation, Health Physics 87 (2004) 171-186. 10 W/m2 for 1000 s is the guidelines' own way of saying it.
@pytest.mark.parametrize(("irradiance", "seconds"), [(10, 1000), (100, 100), (8, 1250), (0.1, 28_800), (1e-6, 28_800)])
def test_the_eye_bears_ten_thousand_joules(irradiance: float, seconds: float) -> None:
    assert eye_exposure_s(irradiance) == pytest.approx(seconds)


def test_a_square_box_has_two_faces_and_four_sides() -> None:
    assert body_area_mm2(SQUARE, 10) == pytest.approx(2 * ARCH_FACTOR * 100 * 100 + 400 * 10)


def test_an_arched_face_is_two_hundredths_larger_than_its_shadow() -> None:
    """Common practice, no source; the square of 200 mm stands off the joint at both ends."""
    half = [(200.0, 100.0), (100.0, 100.0), (0.0, 100.0)]
    assert body_area_mm2(half, 30) == pytest.approx(2 * 200**2 * 1.02 + 4 * 200 * 30)


def test_a_round_box_has_the_surface_of_a_drum() -> None:
    """A circle of 100 mm radius in a thousand steps, ribs of 30 mm: 2 pi r^2 with its arch, and 2 pi r h."""
    half = [(100 + 100 * cos(pi * step / 1000), 100 * sin(pi * step / 1000)) for step in range(1001)]
    drum = 2 * ARCH_FACTOR * pi * 100**2 + 2 * pi * 100 * 30
    assert body_area_mm2(half, 30) == pytest.approx(drum, rel=1e-5)


@given(st.floats(0.1, 10), st.floats(0, 40))
def test_a_body_of_twice_the_size_has_four_times_the_surface(scale: float, rib: float) -> None:
    larger = [(height * scale, width * scale) for height, width in SQUARE]
    assert body_area_mm2(larger, rib * scale) == pytest.approx(scale**2 * body_area_mm2(SQUARE, rib))


def test_an_outline_may_begin_and_end_off_the_joint() -> None:
    """The neck end of an outline is a straight line from the joint: the square without its two end points."""
    assert body_area_mm2([*SQUARE[1:3], (0.0, 25.0)], 10) == pytest.approx(body_area_mm2(SQUARE, 10))


def test_a_plank_of_an_inch_dries_for_a_year() -> None:
    """The rule as it is printed; a wedge of 50 mm then takes 1.97 years."""
    assert air_drying_years(25.4) == pytest.approx(1)
    assert air_drying_years(50) == pytest.approx(1.97, abs=0.005)


@pytest.mark.parametrize("asked", [eye_exposure_s, lambda wrong: body_area_mm2(SQUARE, wrong), air_drying_years])
@pytest.mark.parametrize("wrong", [-1, 1e9, inf, nan])
def test_what_cannot_be_is_refused(asked: Callable[[float], float], wrong: float) -> None:
    with pytest.raises(OutsideRange):
        asked(wrong)


def test_a_refusal_names_what_may_be() -> None:
    refuses(eye_exposure_s, 1e-6, 2000, "W/m2", "the irradiance")
    refuses(lambda rib: body_area_mm2(SQUARE, rib), 0, 400, "mm", "the rib height")


@pytest.mark.parametrize("few", [[], SQUARE[:2]])
def test_two_points_are_no_outline(few: list[tuple[float, float]]) -> None:
    with pytest.raises(OutsideRange) as raised:
        body_area_mm2(few, 30)
    assert (raised.value.low, raised.value.high) == (3, 1e6)
