"""Light and film: the limit of ICNIRP 2004, definitions, and pint for the units."""

from __future__ import annotations

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.physics.varnish import dose_j_m2, film_thickness_um, permitted_exposure_s, solids_pct
from tests.physics.edges import refuses

units = pint.application_registry


def test_ten_watts_for_eight_hours() -> None:
    assert dose_j_m2(10, 8 * 3600) == pytest.approx(288_000)  # definition


@given(st.floats(0, 2000), st.floats(0, 1e8))
def test_a_dose_is_what_the_units_make_of_it(irradiance: float, seconds: float) -> None:
    dose = (irradiance * units.watt / units.metre**2 * seconds * units.second).to(units.joule / units.metre**2)
    assert dose_j_m2(irradiance, seconds) == pytest.approx(dose.magnitude)


# 30 J/m2 in a day: ICNIRP, Guidelines on limits of exposure to ultraviolet radiation, Health Physics 87 (2004) 171-186.
# The pairs of its table of permissible times that are not rounded (from memory), and 50 minutes for 0.01 W/m2.
@pytest.mark.parametrize(
    ("effective_w_m2", "seconds"), [(0.01, 3000), (0.05, 600), (0.1, 300), (0.5, 60), (1.0, 30), (3.0, 10), (30.0, 1)]
)
def test_permitted_exposure(effective_w_m2: float, seconds: float) -> None:
    assert permitted_exposure_s(effective_w_m2) == pytest.approx(seconds)


@pytest.mark.parametrize("effective_w_m2", [1e-6, 0.001])
def test_no_permitted_exposure_is_longer_than_a_working_day(effective_w_m2: float) -> None:
    assert permitted_exposure_s(effective_w_m2) == 8 * 60 * 60


def test_ten_grams_on_a_tenth_of_a_square_metre_are_a_tenth_of_a_millimetre() -> None:
    """10 g at 1 g/cm3 are 10 cm3; over 1000 cm2 that is 0.01 cm (arithmetic)."""
    assert film_thickness_um(10, 100_000, 1000) == pytest.approx(100)


@given(st.floats(0, 1000), st.floats(1e3, 1e8), st.floats(700, 2000))
def test_a_film_is_what_the_units_make_of_it(grams: float, area: float, density: float) -> None:
    thickness = grams * units.gram / (density * units.kilogram / units.metre**3 * area * units.millimetre**2)
    assert film_thickness_um(grams, area, density) == pytest.approx(thickness.to(units.micrometre).magnitude)


def test_solids_are_what_stays() -> None:
    assert solids_pct(1.2, 2.0) == pytest.approx(60)  # definition
    assert solids_pct(0.0, 1.0) == 0


def test_what_cannot_be_is_refused() -> None:
    refuses(lambda e: dose_j_m2(e, 1), 0, 2000, "W/m2", "the irradiance")
    refuses(lambda t: dose_j_m2(1, t), 0, 1e8, "s", "the time")
    refuses(permitted_exposure_s, 1e-6, 1000, "W/m2", "the effective irradiance")
    refuses(lambda m: film_thickness_um(m, 1e5, 1000), 0, 1000, "g", "the dry mass")
    refuses(lambda area: film_thickness_um(1, area, 1000), 1e3, 1e8, "mm2", "the area")
    refuses(lambda rho: film_thickness_um(1, 1e5, rho), 700, 2000, "kg/m3", "the density of the film")
    refuses(lambda dry: solids_pct(dry, 2.0), 0, 2.0, "", "the dry mass")
    refuses(lambda wet: solids_pct(0.0, wet), 1e-6, 1e9, "", "the wet mass")
