"""What every function of this room says to a number it was not made for.

Raises, never mends.
"""

from __future__ import annotations

from math import isfinite


class OutsideRange(ValueError):
    """A number lies outside what a formula holds for; `name` says which, `low` and `high` the range in `unit`."""

    def __init__(self, name: str, value: float, low: float, high: float, unit: str) -> None:
        super().__init__(f"{name} is {value:g} {unit}".rstrip() + f", and the formula holds from {low:g} to {high:g}")
        self.name = name
        self.value = value
        self.low = low
        self.high = high
        self.unit = unit


def within(name: str, value: float, low: float, high: float, unit: str) -> float:
    """Give the value back when it is finite and from `low` to `high`; OutsideRange otherwise."""
    if not (isfinite(value) and low <= value <= high):
        raise OutsideRange(name, value, low, high, unit)
    return value
