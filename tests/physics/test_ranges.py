"""What a sum says to a number it was not made for."""

from __future__ import annotations

from math import inf, nan

import pytest

from passport.physics.ranges import OutsideRange, within


@pytest.mark.parametrize("value", [1.0, 1.5, 2.0])
def test_both_ends_of_a_range_belong_to_it_and_the_value_comes_back_unchanged(value: float) -> None:
    assert within("the size", value, 1, 2, "mm") == value


@pytest.mark.parametrize("value", [0.999, 2.001, nan, inf, -inf])
def test_what_lies_outside_or_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(OutsideRange):
        within("the size", value, 1, 2, "mm")


def test_even_a_range_without_end_holds_no_infinity() -> None:
    with pytest.raises(OutsideRange):
        within("the size", inf, 0, inf, "mm")


def test_the_fault_carries_its_numbers_and_is_a_sentence() -> None:
    with pytest.raises(ValueError, match=r"^the size is 3 mm, and the formula holds from 1 to 2$") as raised:
        within("the size", 3, 1, 2, "mm")
    assert isinstance(raised.value, OutsideRange)
    assert (raised.value.name, raised.value.value, raised.value.low, raised.value.high, raised.value.unit) == (
        "the size", 3, 1, 2, "mm",
    )  # fmt: skip


def test_a_number_without_a_unit_leaves_no_gap_in_the_sentence() -> None:
    with pytest.raises(OutsideRange, match=r"is 3, and"):
        within("the share", 3, 1, 2, "")
