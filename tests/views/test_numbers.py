"""Figures as they are printed: SI Brochure 9 (5.4.3, a space before the unit), true minus and en dash by Unicode."""

from __future__ import annotations

import pytest

from passport.records.dates import parse_date
from passport.records.model.values import Celsius, Degrees, Density, Millimetres, Money
from passport.units import parse_amount
from passport.views.numbers import amount_text, date_text, difference_text, figure, joined, size_text, with_unit


@pytest.mark.parametrize(
    ("number", "decimals", "written"),
    [
        (5.0, 1, "5.0"),
        (328, 0, "328"),
        (-0.5, 1, "\N{MINUS SIGN}0.5"),
        (-0.0, 1, "0.0"),
        (-0.04, 1, "0.0"),
        (-0.06, 1, "\N{MINUS SIGN}0.1"),
    ],
)
def test_a_figure_has_its_decimals_a_true_minus_and_no_minus_zero(number: float, decimals: int, written: str) -> None:
    assert figure(number, decimals) == written


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("4.10", "4.10"),
        ("30.0-30.2", "30.0\N{EN DASH}30.2"),
        ("-0.5", "\N{MINUS SIGN}0.5"),
        # 25.4 mm an inch, exact by international agreement of 1959.
        ("14.0 in", "355.6"),
    ],
)
def test_an_amount_keeps_the_digits_it_was_measured_with(typed: str, written: str) -> None:
    assert amount_text(parse_amount(typed, "mm")) == written


def test_a_unit_stands_behind_a_thin_space_and_the_degree_of_an_angle_behind_none() -> None:
    assert with_unit(Millimetres("328")) == "328\N{NARROW NO-BREAK SPACE}mm"
    assert with_unit(Celsius("21")) == "21\N{NARROW NO-BREAK SPACE}°C"
    assert with_unit(Degrees("158")) == "158°"
    assert with_unit(Density("390")) == "390\N{NARROW NO-BREAK SPACE}kg/m³"
    assert with_unit(Money("4711")) == "4711"
    assert with_unit(None) == ""


@pytest.mark.parametrize(
    ("moved", "decimals", "written"),
    [
        (0.2, 1, "+0.2"),
        (-0.5, 1, "\N{MINUS SIGN}0.5"),
        (0.0, 1, "0.0"),
        (0.04, 1, "0.0"),
        (-0.04, 1, "0.0"),
        (5.2 - 5.0, 1, "+0.2"),
        (None, 1, ""),
    ],
)
def test_a_difference_has_a_sign_unless_it_is_nothing(moved: float | None, decimals: int, written: str) -> None:
    assert difference_text(moved, decimals) == written


@pytest.mark.parametrize(
    ("kind", "size", "written"),
    [
        ("violin", "4/4", "4/4"),
        ("cello", "3/4", "3/4"),
        ("violin", "1/16", "1/16"),
        ("viola", "405", "405\N{NARROW NO-BREAK SPACE}mm"),
    ],
)
def test_a_size_is_written_as_the_trade_writes_it(kind: str, size: str, written: str) -> None:
    assert size_text(kind, size) == written


def test_a_date_is_said_in_words_and_nothing_is_nothing() -> None:
    assert date_text(parse_date("2021-11-18")) == parse_date("2021-11-18").words()
    assert "2021" in date_text(parse_date("2021-11-18"))
    assert date_text(None) == ""
    assert joined("", "a", "", "b") == "a, b"
