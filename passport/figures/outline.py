"""The outline of a body, drawn from the half widths of its model.

A half outline is three curves from the neck to the bottom; each is a row of (height above the bottom edge, half width)
in mm. Bass side left, as seen from the front.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from html import escape
from itertools import pairwise

Point = tuple[float, float]
Curve = Sequence[Point]


def smooth(points: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    """Give cubic Bézier segments (two handles and an end) of the Catmull-Rom curve through the points.

    Catmull and Rom 1974; the handles lie a sixth of the neighbours' chord away. Ends use their own point twice.
    """
    padded = [points[0], *points, points[-1]]
    for before, start, end, after in zip(padded, padded[1:], padded[2:], padded[3:], strict=False):
        first = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        second = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        yield first, second, end


def body_path(curves: Sequence[Curve]) -> str:
    """Give the SVG path of the whole outline in mm; x runs from bass to treble side, y down from the neck."""
    top = max(height for curve in curves for height, _ in curve)
    treble = [[(width, top - height) for height, width in curve] for curve in curves if curve]
    bass = [[(-x, y) for x, y in reversed(curve)] for curve in reversed(treble)]
    return (
        f"M{_pair(treble[0][0], (0.0, 0.0))}{''.join(map(_curve_to, (*treble, *bass), _ends_before(treble + bass)))}Z"
    )


def _ends_before(curves: Sequence[Sequence[Point]]) -> list[Point]:
    """Give where the pen stands before each curve."""
    return [curves[0][0], *(curve[-1] for curve in curves[:-1])]


def _curve_to(curve: Sequence[Point], pen: Point) -> str:
    """Give a straight line to the curve's beginning, then the curve, in steps from where the pen stands."""
    out = [f"l{_pair(curve[0], pen)}"]
    pen = curve[0]
    for first, second, end in smooth(curve):
        out.append(f"c{_pair(first, pen)} {_pair(second, pen)} {_pair(end, pen)}")
        pen = end
    return "".join(out)


def _pair(point: Point, origin: Point) -> str:
    """Write the step between two points; both are rounded to 0.1 mm first, so that no error adds up."""
    steps = (round(round(to, 1) - round(start, 1), 1) for to, start in zip(point, origin, strict=True))
    return ",".join(f"{step + 0.0:g}" for step in steps)


def half_width_mm(curves: Sequence[Curve], height: float) -> float:
    """Give the half width of the body at a height above the bottom edge; 0 outside the body."""
    widths = [
        w1 + (w2 - w1) * (height - h1) / (h2 - h1)
        for curve in curves
        for (h1, w1), (h2, w2) in pairwise(curve)
        if h1 != h2 and min(h1, h2) <= height <= max(h1, h2)
    ]
    return max(widths, default=0.0)


def length_mm(curves: Sequence[Curve]) -> float:
    """Give the height of the body."""
    return max(height for curve in curves for height, _ in curve)


def svg(title: str, words: str, box: tuple[float, float, float, float], inside: Iterable[str], kind: str) -> str:
    """Wrap a drawing in millimetres: with a title and a description in words for those who cannot see it."""
    view = " ".join(f"{side:.1f}" for side in box)
    name = f"drawing {kind}"
    head = f'<svg class="{name}" viewBox="{view}" role="img" xmlns="http://www.w3.org/2000/svg">'
    return f"{head}<title>{escape(title)}</title><desc>{escape(words)}</desc>{''.join(inside)}</svg>"
