"""Combined uncertainty against the GUM, verdicts against the zones of ISO 14253-1.

JCGM 100:2008, annex H.1, the end gauge, typed from memory; its arithmetic is checked here.
"""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from passport.physics.uncertainty import COVERAGE, combined, of_resolution, verdict
from tests.physics.edges import refuses

changes = st.floats(-100, 100)
uncertainties = st.floats(0, 20)
limits = st.floats(0.01, 50)


def test_the_end_gauge_of_the_gum() -> None:
    """H.1.3 and H.1.4, in nm: the comparison 5.8, 3.9, 6.7 gives 9.7; with 25, 2.9 and 16.6 the length has 32."""
    comparison = combined(5.8, 3.9, 6.7)
    assert comparison == pytest.approx(9.7, abs=0.05)
    length = combined(25, 9.7, 2.9, 16.6)
    # Printed as 1002; the components printed beside it are rounded.
    assert length**2 == pytest.approx(1002, abs=1.5)
    assert length == pytest.approx(32, abs=0.5)


def test_a_reading_to_a_step_has_twenty_nine_hundredths_of_it() -> None:
    """JCGM 100:2008, F.2.2.1: a resolution of dx has the standard uncertainty 0.29 dx (from memory); root of 1/12."""
    assert of_resolution(1) == pytest.approx(0.29, abs=0.005)
    variance = integrate.quad(lambda x: x**2 / 0.5, -0.25, 0.25)[0]
    assert of_resolution(0.5) == pytest.approx(sqrt(variance), rel=1e-9)
    assert of_resolution(0.5) == pytest.approx(stats.uniform(loc=0, scale=0.5).std())


@given(st.lists(uncertainties, min_size=1, max_size=6))
def test_nothing_gets_surer_by_adding_what_is_unsure(several: list[float]) -> None:
    whole = combined(*several)
    assert max(several) <= whole * (1 + 1e-12)
    assert whole <= sum(several) * (1 + 1e-12)
    assert whole == pytest.approx(combined(*reversed(several)))


def test_nothing_unsure_is_sure() -> None:
    assert combined() == 0
    assert combined(0, 0) == 0


# Limit 0.5, standard uncertainty 0.125, so U = 0.25 exactly: conformity up to 0.25, non-conformity above 0.75, the zone
# of uncertainty between (ISO 14253-1:1998, 5.2 and 5.3, from memory). All these numbers are exact in binary.
ZONES = [
    (0.0, "not moved"), (0.25, "not moved"), (0.2501, "cannot tell"), (0.5, "cannot tell"), (0.75, "cannot tell"),
    (0.7501, "moved"), (5.0, "moved"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "said"), ZONES)
@pytest.mark.parametrize("way", [1, -1])
def test_the_zones_of_a_verdict(change: float, said: str, way: int) -> None:
    assert verdict(way * change, 0.125, 0.5) == said


def test_the_zone_is_two_standard_uncertainties_wide_on_either_side() -> None:
    """JCGM 100:2008, 6.3.3: k = 2 is a level of confidence of about 95 %."""
    assert COVERAGE == 2
    assert stats.norm.cdf(COVERAGE) - stats.norm.cdf(-COVERAGE) == pytest.approx(0.95, abs=0.005)


def test_a_sure_change_is_held_against_the_bare_limit() -> None:
    assert verdict(0.5, 0, 0.5) == "not moved"
    assert verdict(0.5000001, 0, 0.5) == "moved"


@given(changes, uncertainties, uncertainties, limits)
def test_a_worse_ruler_never_turns_one_answer_into_the_other(
    change: float, one: float, more: float, limit: float
) -> None:
    better, worse = verdict(change, one, limit), verdict(change, one + more, limit)
    assert worse in {better, "cannot tell"}


@given(changes, limits)
def test_a_ruler_worse_than_the_limit_can_never_clear(change: float, limit: float) -> None:
    assert verdict(change, limit, limit) != "not moved"


@given(changes, uncertainties, limits)
def test_both_ways_are_alike(change: float, uncertainty: float, limit: float) -> None:
    assert verdict(change, uncertainty, limit) == verdict(-change, uncertainty, limit)


def test_what_cannot_be_is_refused() -> None:
    refuses(combined, 0, 1e9, "", "the uncertainty")
    refuses(of_resolution, 0, 1e9, "", "the step")
    refuses(lambda change: verdict(change, 0.1, 0.5), -1e9, 1e9, "", "the change")
    refuses(lambda uncertainty: verdict(0, uncertainty, 0.5), 0, 1e9, "", "the uncertainty")
    refuses(lambda limit: verdict(0, 0, limit), 1e-12, 1e9, "", "the limit")
