"""Amounts: every unit against pint and the published factor, and what is said of one typed wrong."""

from __future__ import annotations

import itertools

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.units import Amount, NotANumber, ReversedRange, UnknownUnit, WrongDimension, parse_amount

DIMENSIONS = [
    ["mm", "cm", "m", "in"],
    ["mg", "g", "kg", "oz", "lb"],
    ["Hz", "kHz"],
    ["°C", "°F"],
    ["%"],
    ["kg/m3", "g/cm3", "lb/ft3"],
    ["m/s", "km/s"],
    ["W/m2", "mW/cm2", "uW/cm2"],
    ["J/m2", "kJ/m2", "mJ/cm2", "J/cm2"],
    ["min", "h", "d", "week"],
    ["deg"],
    ["N", "kgf", "lbf"],
    ["mm2", "cm2", "m2"],
    [""],
]
EVERY_UNIT = [unit for units in DIMENSIONS for unit in units]
PAIRS = [pair for units in DIMENSIONS for pair in itertools.product(units, repeat=2)]
IN_PINT = {
    "in": "inch", "°C": "degC", "°F": "degF", "%": "percent", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3",
    "lb/ft3": "lb/ft**3", "W/m2": "W/m**2", "mW/cm2": "mW/cm**2", "uW/cm2": "uW/cm**2",
    "J/m2": "J/m**2", "kJ/m2": "kJ/m**2", "mJ/cm2": "mJ/cm**2", "J/cm2": "J/cm**2", "h": "hour",
    "d": "day", "min": "minute", "mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "": "dimensionless",
}  # fmt: skip
REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()

decimals = st.decimals(-9999, 9999, allow_nan=False, allow_infinity=False, places=2)


def problem(text: str, unit: str = "mm") -> str:
    with pytest.raises(ValueError, match=r".") as caught:
        parse_amount(text, unit)
    return str(caught.value)


# --- units -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "field"), PAIRS)
def test_every_conversion_agrees_with_pint(typed: str, field: str) -> None:
    for number in (-40.0, 0.25, 1.0, 356.75):
        other = REGISTRY.Quantity(number, IN_PINT.get(typed, typed)).to(IN_PINT.get(field, field)).magnitude
        assert parse_amount(f"{number} {typed}", field).low == pytest.approx(other, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "field", "expected"),
    [
        ("1 in", "mm", 25.4),  # international yard and pound agreement (1959)
        ("1 lb", "kg", 0.45359237),  # the same
        ("1 oz", "g", 28.349523125),  # a sixteenth of it: NIST Special Publication 811 (2008), B.8
        ("1 kgf", "N", 9.80665),  # 3rd General Conference on Weights and Measures (1901)
        ("1 lbf", "N", 4.4482216152605),  # NIST Special Publication 811 (2008), B.8
        ("1 lb/ft3", "kg/m3", 16.01846),  # NIST Special Publication 811 (2008), B.8, to seven digits
        ("212 °F", "°C", 100.0),  # definition: water boils
        ("32 °F", "°C", 0.0),  # definition: ice melts
    ],
)
def test_factors_are_the_published_ones(text: str, field: str, expected: float) -> None:
    assert parse_amount(text, field).low == pytest.approx(expected, rel=5e-7)


@pytest.mark.parametrize(
    ("text", "field", "low", "digits"),
    [
        ("355 mm", "mm", 355.0, 0),
        ("35.5 cm", "mm", 355.0, 0),
        ("35.50 cm", "mm", 355.0, 1),
        ("14 in", "mm", 355.6, 1),
        ("14in", "mm", 355.6, 1),
        ("14 in.", "mm", 355.6, 1),
        ("14 inches", "mm", 355.6, 1),
        ('14"', "mm", 355.6, 1),
        ("14\u2033", "mm", 355.6, 1),
        ("3/8 in", "mm", 9.525, 1),
        ("13 7/8 in", "mm", 352.425, 1),
        ("13\u215e in", "mm", 352.425, 1),
        ("-1/4 in", "mm", -6.35, 1),
        ("3/8 in", "in", 0.375, 3),
        ("0.035 in", "mm", 0.889, 2),
        ("2.2 lb", "g", 997.903214, 0),
        ("0.39 g/cm3", "kg/m3", 390.0, 0),
        ("0.39 g/cm³", "kg/m3", 390.0, 0),
        ("5.25 km/s", "m/s", 5250.0, 0),
        ("0.8 mW/cm²", "W/m2", 8.0, 0),
        ("800 µW/cm2", "W/m2", 8.0, 2),
        ("68 F", "°C", 20.0, 1),
        ("68 F", "C", 20.0, 1),
        ("47 % RH", "%", 47.0, 0),
        ("90 min", "h", 1.5, 2),
        ("2 weeks", "d", 14.0, 0),
        ("1.5°", "deg", 1.5, 1),
        ("294 HZ", "Hz", 294.0, 0),
        ("12", "", 12.0, 0),
    ],
)
def test_units_are_read_as_they_are_written(text: str, field: str, low: float, digits: int) -> None:
    amount = parse_amount(text, field)
    assert amount.low == amount.high == pytest.approx(low)
    assert amount.decimals == digits


# --- numbers -----------------------------------------------------------------------------------------


def test_what_was_typed_is_kept() -> None:
    assert parse_amount("30,0 – 30.25 mm", "mm") == Amount(30.0, 30.25, 2, "mm", "30,0 – 30.25 mm")
    assert parse_amount("5.0", "mm") == Amount(5.0, 5.0, 1, "mm", "5.0")
    assert parse_amount("5", "C") == Amount(5.0, 5.0, 0, "°C", "5")


@given(decimals)
def test_a_number_comes_back_as_typed(number: object) -> None:
    amount = parse_amount(str(number), "mm")
    assert f"{amount.low:.{amount.decimals}f}" == str(number).replace("-0.00", "0.00")


@given(decimals, st.sampled_from(EVERY_UNIT))
def test_a_decimal_comma_and_a_real_minus_sign_change_nothing(number: object, unit: str) -> None:
    plain = parse_amount(f"{number} {unit}", unit)
    other = parse_amount(f"{number} {unit}".replace(".", ",").replace("-", "\u2212"), unit)
    assert (plain.low, plain.decimals) == (other.low, other.decimals)


@given(decimals, st.sampled_from(PAIRS))
def test_a_conversion_there_and_back_gives_the_number(number: object, pair: tuple[str, str]) -> None:
    typed, field = pair
    there = parse_amount(f"{number} {typed}", field).low
    digits = 15 - len(str(int(abs(there))))
    back = parse_amount(f"{there:.{digits}f} {field}", typed).low
    assert back == pytest.approx(float(str(number)), rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("dash", ["-", " - ", "\u2013", " \u2013 ", "\u2014"])
@given(low=decimals, high=decimals)
def test_a_range_has_two_ends_and_a_middle(dash: str, low: object, high: object) -> None:
    first, second = sorted((float(str(low)), float(str(high))))
    amount = parse_amount(f"{first:.2f}{dash}{second:.2f} mm", "mm")
    assert (amount.low, amount.high) == (first, second)
    assert amount.is_range == (first != second)
    assert amount.low <= amount.middle <= amount.high
    assert amount.decimals == 2


def test_a_range_may_be_of_fractions_and_is_shown_as_finely_as_its_finer_end() -> None:
    assert parse_amount("1/8-1/4 in", "mm").high == pytest.approx(6.35)
    assert parse_amount("30-30.25", "mm").decimals == 2
    assert parse_amount("30.0-30.2", "mm").middle == pytest.approx(30.1)


@given(st.text(max_size=20), st.sampled_from(EVERY_UNIT))
def test_any_text_is_an_amount_or_gets_one_sentence(text: str, unit: str) -> None:
    try:
        amount = parse_amount(text, unit)
    except (NotANumber, UnknownUnit, WrongDimension, ReversedRange) as caught:
        said = str(caught)
    else:
        said = amount.written
        assert amount.low <= amount.high
    assert said


# --- what is refused ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "leave the line out"),
        ("   ", "leave the line out"),
        ("nan", "leave the line out"),
        ("-.inf", "leave the line out"),
        ("Infinity", "leave the line out"),
        ("1_000", "leave them out"),
        ("1 000", "leave them out"),
        ("1'000 mm", "leave them out"),
        ("1e3", "write it in full"),
        ("1E-3 mm", "write it in full"),
        ("1.000,5", "like 1000.5"),
        ("1,000.5", "like 1000.5"),
        ("1,000,000", "like 1000.5"),
        ("1:30", "like 1.5"),
        ("5 ± 0.1", "like 4.9-5.1"),
        ("30 to 31", "write a dash"),
        ("30 mm - 31 mm", "write one, at the end"),
        ("about 5", "put the words into note:"),
        ("ca. 5 mm", "put the words into note:"),
        ("~5", "put the words into note:"),
        ("5?", "put the words into note:"),
        ("5 mm chinrest on", "put the words into note:"),
        ("3/8", "3/8 needs its unit: write 3/8 in"),
        ("13 7/8", "13 7/8 needs its unit: write 13 7/8 in"),
        ("3/8 mm", "only inches have those"),
        ("1/3 in", "is not on an inch rule"),
        ("1/0 in", "is not on an inch rule"),
        ("9" * 20, "has more digits than a measurement"),
        ("9" * 5000, "is not a number"),
        ("yes", "is not a number"),
        ("5.", "is not a number"),
        ("--5", "is not a number"),
        ("4-5-6", "is not a number"),
        ("\u0663", "is not a number"),  # a digit, but not one of ours
    ],
)
def test_what_is_no_number_is_told_what_to_write(text: str, said: str) -> None:
    with pytest.raises(NotANumber) as caught:
        parse_amount(text, "mm")
    assert said in str(caught.value)
    assert caught.value.written == text
    assert len(str(caught.value)) < 200


def test_a_bare_fraction_of_anything_but_a_length_is_wanted_as_a_decimal() -> None:
    assert "write a decimal" in problem("1/2", "g")


@pytest.mark.parametrize(
    ("text", "field", "near"),
    [
        ("5 mn", "mm", "mm"),
        ("5 mmm", "mm", "mm"),
        ("5 gr", "g", "g"),
        ("5 kgs", "g", "kg"),
        ("5 herz", "Hz", "Hz"),
        ("5 furlongs", "mm", None),
        ("5 K", "°C", None),
    ],
)
def test_an_unknown_unit_is_told_the_near_one(text: str, field: str, near: str | None) -> None:
    with pytest.raises(UnknownUnit) as caught:
        parse_amount(text, field)
    assert (caught.value.unit, caught.value.near) == (text.split()[1], near)
    assert (f"did you mean {near}?" if near else "write ") in str(caught.value)


def test_a_field_whose_own_unit_is_unknown_says_so() -> None:
    with pytest.raises(UnknownUnit) as caught:
        parse_amount("5", "milimetres")
    assert caught.value.unit == "milimetres"


@pytest.mark.parametrize(
    ("text", "field"), [("5 g", "mm"), ("20°", "°C"), ("5 mm", ""), ("5 kg", "N"), ("5 mm2", "mm")]
)
def test_a_unit_of_something_else_is_refused(text: str, field: str) -> None:
    with pytest.raises(WrongDimension) as caught:
        parse_amount(text, field)
    assert caught.value.wanted == field
    assert (field or "the number alone") in str(caught.value)


@pytest.mark.parametrize(
    ("text", "said"), [("30.2-30.0", "write 30.0-30.2"), ("13-7/8 in", "write 13 7/8 with a space")]
)
def test_a_range_runs_from_the_smaller_to_the_larger(text: str, said: str) -> None:
    with pytest.raises(ReversedRange) as caught:
        parse_amount(text, "mm")
    assert said in str(caught.value)
    assert caught.value.written == text
