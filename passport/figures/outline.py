"""The outline of a body, drawn from the half widths of its model.

A half outline is three curves from the neck to the bottom; each is a row of (height above the bottom edge, half width)
in mm. Bass side left, as seen from the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import dist

Point = tuple[float, float]
Curve = Sequence[Point]
# The outermost column of a thickness row is measured 15 mm inside the outline of a violin of 355 mm, and so in
# proportion on larger bodies (common practice, no source).
EDGE_COLUMN_SHARE = 15 / 355
# Straight pieces by which a curve between two points is worked with; it stays within 0.1 mm of it on a violin.
STEPS = 4
# Outlines are asked for again and again: an archive has a dozen models.
KEPT_OUTLINES = 64


def smooth(points: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    """Give cubic Bézier segments (two handles and an end) of the Catmull-Rom curve through the points.

    Knots are spaced by the chords' lengths, so that unevenly spaced points make no dents (E. Catmull and R. Rom 1974;
    C. Yuksel, S. Schaefer and J. Keyser 2011, Parameterization and applications of Catmull-Rom curves; from memory).
    At the ends the handle points at the neighbour.
    """
    for index, (start, end) in enumerate(pairwise(points)):
        before = points[index - 1] if index else start
        after = points[index + 2] if index + 2 < len(points) else end
        yield _handle(before, start, end), _handle(after, end, start), end


def _handle(behind: Point, at: Point, ahead: Point) -> Point:
    """Give the handle at a point on the side of `ahead`, by the tangent through its two neighbours."""
    back, on = dist(behind, at), dist(at, ahead)
    if not back or not on:
        return (at[0] + (ahead[0] - at[0]) / 3, at[1] + (ahead[1] - at[1]) / 3)
    weights = (-on * on, (2 * back * back + 3 * back * on + on * on), back * back)
    whole = 3 * back * (back + on)
    steps = tuple(zip(weights, (behind, at, ahead), strict=True))
    return (sum(w * point[0] for w, point in steps) / whole, sum(w * point[1] for w, point in steps) / whole)


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


@lru_cache(maxsize=KEPT_OUTLINES)
def half_outline(curves: tuple[tuple[Point, ...], ...]) -> tuple[Point, ...]:
    """Give (height, half width) along the drawn curve, from the bottom up; where curves overlap the wider counts."""
    drawn = [[curve[0], *(point for step in _steps(curve) for point in step)] for curve in curves if curve]
    heights = sorted({round(height, 1) for curve in drawn for height, _ in curve})
    ends = [(curve, min(curve)[0], max(curve)[0]) for curve in drawn]
    beside = {height: [curve for curve, low, high in ends if low <= height <= high] for height in heights}
    return tuple((height, half_width_mm(beside[height], height)) for height in heights)


def _steps(curve: Curve) -> Iterator[list[Point]]:
    """Give points along each Bézier segment, its end last."""
    for start, (first, second, end) in zip(curve, smooth(curve), strict=False):
        yield [_bezier((start, first, second, end), step / STEPS) for step in range(1, STEPS + 1)]


def _bezier(four: tuple[Point, ...], t: float) -> Point:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (sum(w * p[0] for w, p in zip(weights, four, strict=True)),
            sum(w * p[1] for w, p in zip(weights, four, strict=True)))  # fmt: skip


def row_places_mm(curves: Sequence[Curve], height: float, count: int) -> list[float]:
    """Give where the values of a row of thicknesses stand, from the bass edge to the treble edge."""
    half_width = half_width_mm(curves, height)
    outer = max(half_width - length_mm(curves) * EDGE_COLUMN_SHARE, half_width / 2)
    if count == 1:
        return [0.0]
    return [-outer + 2 * outer * index / (count - 1) for index in range(count)]


def length_mm(curves: Sequence[Curve]) -> float:
    """Give the height of the body."""
    return max(height for curve in curves for height, _ in curve)
