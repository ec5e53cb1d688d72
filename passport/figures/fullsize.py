"""Drawings at full size: a millimetre of the drawing is a millimetre on the bench.

Coordinates are rounded to 0.01 mm, ten times finer than anybody cuts; x to the treble side, y down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

# The length that is measured before anything is cut.
CHECK_MM = 100.0
TEXT_MM, LINE_MM = 2.8, 3.8
TICK_MM = 1.5
DECIMALS = 2


@dataclass(frozen=True)
class FullSize:
    """The inside of a drawing, where it begins and how large it is; `words` says what it shows."""

    title: str
    words: str
    inside: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


def full_size(title: str, words: str, inside: Iterable[str], edges: tuple[float, float, float, float]) -> FullSize:
    """Put a drawing together; `edges` are its first x and y and its last x and y."""
    left, top, right, bottom = (round(edge, 1) for edge in edges)
    return FullSize(title, words, "".join(inside), left, top, round(right - left, 1), round(bottom - top, 1))


def n(number: float) -> str:
    """Write a coordinate."""
    return f"{round(number, DECIMALS) + 0.0:g}"


def path(kind: str, d: str) -> str:
    """Draw a path of one kind of line."""
    return f'<path class="{kind}" d="{d}"/>'


def segment(kind: str, x1: float, y1: float, x2: float, y2: float) -> str:
    """Draw a straight line."""
    return path(kind, f"M{n(x1)},{n(y1)}L{n(x2)},{n(y2)}")


def words_at(text: str, x: float, y: float, kind: str = "middle", *, turned: bool = False) -> str:
    """Set words with their foot at a place; turned, they run upwards."""
    place = f'x="{n(x)}" y="{n(y)}"'
    turn = f' transform="rotate(-90 {n(x)} {n(y)})"' if turned else ""
    return f'<text class="{kind}" {place}{turn}>{escape(text)}</text>'


def across(x1: float, x2: float, y: float, text: str) -> str:
    """Draw a dimension line along x with its figure above it."""
    ends = "".join(f"M{n(x)},{n(y - TICK_MM)}V{n(y + TICK_MM)}" for x in (x1, x2))
    line = path("line-fine", f"M{n(x1)},{n(y)}H{n(x2)}{ends}")
    return line + words_at(text, (x1 + x2) / 2, y - 0.8)


def check_lines(x: float, y: float) -> str:
    """Draw a line of 100 mm across and one along, from one corner, each with its length."""
    lines = path("check check-across", f"M{n(x)},{n(y)}H{n(x + CHECK_MM)}") + path(
        "check check-along", f"M{n(x)},{n(y)}V{n(y - CHECK_MM)}"
    )
    far = path("line-fine", f"M{n(x + CHECK_MM)},{n(y - TICK_MM)}v3M{n(x - TICK_MM)},{n(y - CHECK_MM)}h3")
    said = f"{CHECK_MM:g} mm: measure this line before you cut"
    return (
        lines + far + words_at(said, x + CHECK_MM / 2, y + LINE_MM)
        + words_at(said, x - 1.2, y - CHECK_MM / 2, turned=True)
    )  # fmt: skip
