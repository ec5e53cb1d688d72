"""What every drawing on a page is put together with: its frame, with words for those who cannot see it, and its texts.

Drawings at full size, that are cut from, have their own in `fullsize`.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

# Lowers a figure so that its middle, not its foot, stands at its place.
HALF_X_HEIGHT = 0.35


def svg(
    title: str, words: str, box: tuple[float, float, float, float], inside: Iterable[str], kind: str, role: str = "img"
) -> str:
    """Wrap a drawing: with a title and a description in words for those who cannot see it.

    One that holds links is a group of them; an image could not hold any.
    """
    view = " ".join(f"{side:.1f}" for side in box)
    name = f"drawing {kind}"
    head = f'<svg class="{name}" viewBox="{view}" role="{role}" xmlns="http://www.w3.org/2000/svg">'
    return f"{head}<title>{escape(title)}</title><desc>{escape(words)}</desc>{''.join(inside)}</svg>"


def text(words: str, x: float, y: float) -> str:
    """Set words at a place."""
    return f'<text x="{tenths(x)}" y="{tenths(y)}">{escape(words)}</text>'


def tenths(number: float) -> str:
    """Write a number to a tenth; zero has no sign."""
    return f"{round(number, 1) + 0.0:.1f}"


def texts(kind: str, size: float, written: Iterable[str]) -> str:
    """Set several texts in one size; what they share is written once."""
    return f'<g class="{kind}" font-size="{size:.1f}">{"".join(written)}</g>'
