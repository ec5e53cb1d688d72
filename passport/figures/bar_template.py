"""The line of the bass bar at full size, in pieces that go on a sheet, and the whole top small with the bar in it.

Looked at from the inside, neck end up, since there the bar is laid; x runs from the joint to the bass side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from passport.figures.fullsize import FullSize, check_lines, full_size, n, path, segment, words_at
from passport.figures.outline import Curve, body_path, length_mm

# As long as a piece may be, so that it goes on either paper with its heading.
PIECE_MM = 205.0
# What neighbouring pieces have in common, half on either side of the line they are laid on.
OVERLAP_MM = 10.0
TICK_EVERY_MM = 50.0
OVERVIEW_MM = 95.0


@dataclass(frozen=True)
class BarLines:
    """What is drawn, in mm: the middle of the bar at the line of the bridge, its slant, its thickness, its two ends.

    Heights count from the line of the bridge, toward the neck plus; `half` is half the thickness, as it is crossed by
    a line square to the joint.
    """

    centre: float
    slope: float
    half: float
    lower_end: float
    upper_end: float

    def at(self, height: float, side: int = 0) -> float:
        """Give the distance from the joint of the middle, or of the inner (-1) or outer (1) edge."""
        return self.centre - self.slope * height + side * self.half

    @property
    def widest(self) -> float:
        """Give how far from the joint the bar reaches."""
        return max(self.at(self.lower_end, 1), self.at(self.upper_end, 1))


def bar_pieces(title: str, bar: BarLines) -> tuple[FullSize, ...]:
    """Draw the bar in as few pieces as fit, the lowest first."""
    length = bar.upper_end - bar.lower_end
    count = ceil(length / PIECE_MM)
    cuts = [bar.lower_end, *(bar.lower_end + length * index / count for index in range(1, count)), bar.upper_end]
    return tuple(
        _piece(f"{title}, piece {number} of {count}", bar, low, high)
        for number, (low, high) in enumerate(pairwise(cuts), 1)
    )


def bar_whole(title: str, bar: BarLines) -> FullSize:
    """Draw the bar in one piece."""
    return _piece(title, bar, bar.lower_end, bar.upper_end)


def _piece(title: str, bar: BarLines, low: float, high: float) -> FullSize:
    bottom = low - (OVERLAP_MM / 2 if low > bar.lower_end else 0.0)
    top = high + (OVERLAP_MM / 2 if high < bar.upper_end else 0.0)
    corner = (-12.0, -bottom + 9)
    inside = (
        segment("line-strong joint", 0, -bottom, 0, -top),
        *(segment("line-strong", bar.at(bottom, side), -bottom, bar.at(top, side), -top) for side in (-1, 1)),
        segment("line-broken", bar.at(bottom), -bottom, bar.at(top), -top),
        *_ends(bar, low, high),
        *(mark for height in _ticks(bottom, top) for mark in _tick(bar, height)),
        words_at("joint of the top, neck end up", 4, -(bottom + top) / 2, turned=True),
        check_lines(*corner),
    )
    said = (
        f"The bar from {bottom:.0f} to {top:.0f} mm from the line of the bridge, toward the neck plus, "
        "looked at from the inside; the table has the distances from the joint."
    )
    return full_size(
        title, said, inside, (-17.0, min(-top - 4, corner[1] - 104), max(bar.widest + 32, 92.0), corner[1] + 6)
    )


def _ends(bar: BarLines, low: float, high: float) -> list[str]:
    """Draw the ends of the bar, and where pieces meet the line on which they are laid together."""
    drawn = []
    for height in (low, high):
        if height in (bar.lower_end, bar.upper_end):
            drawn.append(segment("line-strong", bar.at(height, -1), -height, bar.at(height, 1), -height))
        else:
            drawn.append(segment("join", -8, -height, bar.widest + 26, -height))
            drawn.append(words_at(f"join, {_height_words(height)}", bar.widest + 26, -height - 1, "end"))
    return drawn


def _ticks(bottom: float, top: float) -> list[float]:
    first, last = ceil(bottom / TICK_EVERY_MM), int(top // TICK_EVERY_MM)
    return [TICK_EVERY_MM * index for index in range(first, last + 1)]


def _height_words(height: float) -> str:
    """Say how far something is from the line of the bridge, and on which side."""
    return f"{abs(height):.0f} {'up' if height > 0 else 'down'}"


def _tick(bar: BarLines, height: float) -> tuple[str, str]:
    kind = "bridge-line" if height == 0 else "line-fine"
    name = "line of the bridge" if height == 0 else _height_words(height)
    return (
        segment(kind, -3, -height, bar.at(height, 1) + 3, -height),
        words_at(name, bar.at(height, 1) + 4, -height + 1, "start"),
    )


def bar_overview(title: str, bar: BarLines, curves: Sequence[Curve], length: float, stop: float) -> FullSize:
    """Draw the whole top small, from the inside: the bar, the joint and the line of the bridge."""
    drawn = OVERVIEW_MM / length_mm(curves)
    scale = OVERVIEW_MM / length
    y = stop * scale
    half = max(width for curve in curves for _, width in curve) * drawn
    corners = [
        (bar.at(height, side) * scale, y - height * scale)
        for height, side in ((bar.lower_end, -1), (bar.lower_end, 1), (bar.upper_end, 1), (bar.upper_end, -1))
    ]
    outline = f'<path class="outline" stroke-width="{0.3 / drawn:.2f}" d="{body_path(curves)}"/>'
    inside = (
        f'<g transform="scale({drawn:.5f})">{outline}</g>',
        path("bar", "M" + "L".join(f"{n(x)},{n(at)}" for x, at in corners) + "Z"),
        segment("line-broken", 0, 0, 0, OVERVIEW_MM),
        segment("line-broken", -half, y, half, y),
        words_at("treble side", -half, OVERVIEW_MM + 5, "start"),
        words_at("bass side", half, OVERVIEW_MM + 5, "end"),
    )
    said = "The whole top from the inside, small and not to scale: where the bar lies in it."
    return full_size(title, said, inside, (-half - 3, -3, half + 3, OVERVIEW_MM + 8))
