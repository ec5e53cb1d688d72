"""What could not be worked out, and why, in a maker's words.

Turns a number that a formula was not made for into a sentence, so that no record makes a page fail.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

from passport.physics.ranges import OutsideRange

T = TypeVar("T")


class Lacking:
    """The sentences so far, each once, in the order they were said."""

    def __init__(self) -> None:
        self._said: dict[str, None] = {}

    @property
    def sentences(self) -> tuple[str, ...]:
        """Give what was said."""
        return tuple(self._said)

    def missing(self, what: str, names: Sequence[str]) -> None:
        """Say which measures are missing for what."""
        if not names:
            return
        each = [f"the {name}" for name in names]
        listed = " and ".join(filter(None, (", ".join(each[:-1]), each[-1])))
        self.because(what, f"{listed} {'are' if len(each) > 1 else 'is'} not recorded")

    def because(self, what: str, why: str) -> None:
        """Say why it cannot be worked out."""
        self._said[f"{what}: {why}."] = None

    def tried(self, what: str, work: Callable[[], T]) -> T | None:
        """Give what comes of the work; where a number cannot be, say so and give nothing."""
        try:
            return work()
        except OutsideRange as fault:
            self.because(what, f"cannot be worked out, because {fault}")
            return None
