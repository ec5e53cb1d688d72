"""How a number may have slipped from the pen or the keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise


def with_digits_swapped(text: str) -> Iterator[str]:
    """Give a written number with each pair of neighbouring digits the other way round, the point where it was."""
    places = [index for index, letter in enumerate(text) if letter.isdigit()]
    for one, two in pairwise(places):
        letters = list(text)
        letters[one], letters[two] = letters[two], letters[one]
        yield "".join(letters)
