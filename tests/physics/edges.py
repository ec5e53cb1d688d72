"""How a test asks a sum where it ends: both ends of a range are met, and nothing beyond them, nor what is no number.

Knows no formula.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan, nextafter

import pytest

from passport.physics.ranges import OutsideRange


def refuses(sum_of: Callable[[float], object], low: float, high: float, unit: str, named: str) -> None:
    """Hold a sum of one number to its range: `low` and `high` are answered, all else raises and says what and why."""
    for inside in (low, high):
        sum_of(inside)
    for outside in (nextafter(low, -inf), nextafter(high, inf), -inf, inf, nan):
        with pytest.raises(OutsideRange) as raised:
            sum_of(outside)
        said = raised.value
        assert (said.name, said.low, said.high, said.unit) == (named, low, high, unit)
        assert said.value == outside or outside != outside  # noqa: PLR0124 - not a number is not equal to itself
