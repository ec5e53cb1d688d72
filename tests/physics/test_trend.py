"""Least squares against the GUM's worked example and against scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import curve_fit

from passport.physics.ranges import OutsideRange
from passport.physics.trend import least_squares

# JCGM 100:2008, annex H.3, table H.6: a thermometer's corrections b at temperatures t, and what the text finds.
THERMOMETER = (
    (21.521, -0.171), (22.012, -0.169), (22.512, -0.166), (23.003, -0.159), (23.507, -0.164), (23.999, -0.165),
    (24.513, -0.156), (25.002, -0.157), (25.503, -0.159), (26.010, -0.161), (26.511, -0.160),
)  # fmt: skip


def test_the_thermometer_of_the_gum_gives_its_line_and_its_uncertainties() -> None:
    temperatures = [t - 20 for t, _ in THERMOMETER]
    # The example knows no uncertainty but the scatter; so small a one leaves all to the scatter.
    fit = least_squares([b for _, b in THERMOMETER], [1e-6] * 11, temperatures)
    assert fit.at_zero == pytest.approx(-0.1712, abs=0.00005)
    assert fit.slopes[0] == pytest.approx(0.00218, abs=0.000005)
    assert fit.covariance[0][0] ** 0.5 == pytest.approx(0.0029, abs=0.00005)
    assert fit.slope_u(0) == pytest.approx(0.00067, abs=0.000005)
    assert fit.at(10.0) == pytest.approx(-0.1494, abs=0.00005)
    variance = fit.covariance[0][0] + 100 * fit.covariance[1][1] + 20 * fit.covariance[0][1]
    assert variance**0.5 == pytest.approx(0.0041, abs=0.00005)


def test_weights_and_two_slopes_agree_with_scipy() -> None:
    x1, x2 = np.array([0.0, 1.0, 2.5, 3.0, 4.2]), np.array([8.0, 11.0, 7.0, 10.5, 9.0])
    y, u = np.array([1.0, 1.2, 0.4, 0.9, 0.3]), np.array([0.5, 0.4, 0.9, 0.3, 0.6])

    def plane(x: np.ndarray, a: float, b: float, c: float) -> np.ndarray:
        return a + b * x[0] + c * x[1]

    known, covariance = curve_fit(plane, np.vstack([x1, x2]), y, sigma=u, absolute_sigma=True)
    fit = least_squares(list(y), list(u), list(x1), list(x2))
    assert (fit.at_zero, *fit.slopes) == pytest.approx(tuple(known), rel=1e-5)
    assert np.array(fit.covariance) == pytest.approx(covariance, rel=1e-4)


def test_scatter_beyond_the_uncertainties_raises_them_and_less_never_lowers_them() -> None:
    x = [0.0, 1.0, 2.0, 3.0]
    straight = least_squares([0.0, 1.0, 2.0, 3.0], [0.1] * 4, x)
    # sum of (x - mean)^2 is 5: u = 0.1 / root 5.
    assert straight.slope_u(0) == pytest.approx(0.1 / 5**0.5)
    assert least_squares([0.0, 2.0, 1.0, 3.0], [0.1] * 4, x).slope_u(0) > 3 * straight.slope_u(0)


@pytest.mark.parametrize(
    ("values", "uncertainties", "days"),
    [
        ([1.0, 2.0], [0.1, 0.1], [0.0, 1.0]),
        ([1.0, 2.0, 3.0], [0.1, 0.0, 0.1], [0.0, 1.0, 2.0]),
        ([1.0, 2.0, 3.0], [0.1, 0.1, 0.1], [5.0, 5.0, 5.0]),
    ],
    ids=["too few", "a sureness of nothing", "all on one day"],
)
def test_what_fixes_no_line_is_refused(values: list[float], uncertainties: list[float], days: list[float]) -> None:
    with pytest.raises(OutsideRange):
        least_squares(values, uncertainties, days)


def test_each_slope_has_an_uncertainty_of_its_own() -> None:
    """Of two independent abscissae the one spread twice as far is known twice as well (arithmetic)."""
    fit = least_squares([0.0, 0.0, 0.0, 0.0], [1.0] * 4, [-1, 1, -1, 1], [-2, -2, 2, 2])
    assert fit.slope_u(0) == pytest.approx(0.5)
    assert fit.slope_u(1) == pytest.approx(0.25)


@pytest.mark.parametrize("uncertainty", [1e-12, 1e9])
def test_uncertainties_are_held_to_their_range(uncertainty: float) -> None:
    with pytest.raises(OutsideRange) as raised:
        least_squares([1.0, 2.0, 3.0], [uncertainty / 2 if uncertainty < 1 else uncertainty * 2] * 3, [1, 2, 3])
    assert (raised.value.low, raised.value.high) == (1e-12, 1e9)
