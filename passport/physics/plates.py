"""Plates: a surface through the measured thicknesses, what it weighs, and what thinning does to a tap tone.

Heights are mm from the bottom edge, x mm from the joint, the treble side plus, as seen from the front. A half outline
is a row of (height, half width), one half width a height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import dist

import numpy as np
from numpy.typing import NDArray

from passport.physics.ranges import within

Numbers = NDArray[np.float64]
PointMm = tuple[float, float, float]
# Rows 2 mm apart on a violin of 355 mm, nodes 2 to 3 mm apart across, and as fine in proportion on any other body.
ROWS = 178
COLUMNS = 61
# Rows of the outline that lie closer to the one before than this share of a step tell the eye nothing.
LEAST_STEP_SHARE = 0.5
FEWEST_POINTS = 3
# Plates of one model are measured at the same places: their splines differ by the thicknesses alone.
KEPT_GRIDS = 8
# Both f-holes take 2 % of the area of a violin's top: so much of the square of their length each. Derived from that
# share and a length of 75 mm; common practice, no source.
F_HOLE_SHARE = 0.082
# A percent of moisture lowers mode 5 by 3 Hz where it lies at 333 Hz. Derived from a report of some 36 Hz between 1 and
# 12 %.
MODE5_SHARE_PER_PCT = 3 / 333


@dataclass(frozen=True, eq=False)
class Surface:
    """The thickness all over a plate, on a grid of rows across the body that end at its outline.

    Arrays of one shape, rows from the bottom up, columns from the bass side: where each node lies, its thickness, the
    area it stands for, and how far the nearest measured point is. `points_mm` are the points it goes through.
    """

    x_mm: Numbers
    height_mm: Numbers
    thickness_mm: Numbers
    node_area_mm2: Numbers
    distance_mm: Numbers
    points_mm: tuple[PointMm, ...]


@dataclass(frozen=True)
class Asymmetry:
    """Where two points that mirror each other differ most: by how much the treble side is thicker, in mm."""

    difference_mm: float
    x_mm: float
    height_mm: float


@dataclass(frozen=True, eq=False)
class _Grid:
    """All of a surface but its thickness: that is `weights` (nodes by points) times the measured thicknesses."""

    x: Numbers
    height: Numbers
    area: Numbers
    distance: Numbers
    weights: Numbers


def thickness_surface(points_mm: Sequence[PointMm], outline: Sequence[tuple[float, float]]) -> Surface:
    """Give the thickness all over a plate: the thin-plate spline through points (x, height, thickness), in mm.

    It goes through every point and bends least between them. Beyond the outermost point of a row, and beyond the
    outermost rows, it is followed half of the way only: there is nothing to hold it. At least three points that are no
    line, no two at one place, thickness 0 to 100 mm; body 50 to 2500 mm high; OutsideRange. J. Duchon, Splines
    minimizing rotation-invariant semi-norms in Sobolev spaces (1977); F. L. Bookstein, Principal warps, IEEE
    Transactions on Pattern Analysis and Machine Intelligence 11 (1989) 567.
    """
    for *_, thickness in points_mm:
        within("the thickness", thickness, 0, 100, "mm")
    grid = _grid(tuple((x, height) for x, height, _ in points_mm), tuple(outline))
    thickness_mm = (grid.weights @ np.array([thickness for *_, thickness in points_mm])).reshape(grid.x.shape)
    return Surface(grid.x, grid.height, thickness_mm, grid.area, grid.distance, tuple(points_mm))


@lru_cache(maxsize=KEPT_GRIDS)
def _grid(places: tuple[tuple[float, float], ...], outline: tuple[tuple[float, float], ...]) -> _Grid:
    heights, halves = _rows(outline)
    across = np.linspace(-1, 1, COLUMNS)
    x, height = halves[:, None] * across, np.broadcast_to(heights[:, None], (len(heights), COLUMNS))
    area = _share(heights)[:, None] * _share(across) * halves[:, None]
    known = _distinct(places)
    distance = np.sqrt(_squares(x, height, known).min(axis=-1)).reshape(x.shape)
    return _Grid(x, height, area, distance, _weights(known, *_followed(x, height, places)))


def _rows(outline: Sequence[tuple[float, float]]) -> tuple[Numbers, Numbers]:
    """Give the heights of the rows, the outline's own among them, and the half widths there."""
    known = np.array(sorted(outline), dtype=float)
    low, high = float(known[0, 0]), float(known[-1, 0])
    within("the height of the body", high - low, 50, 2500, "mm")
    within("the half width of the body", float(known[:, 1].max()), 1, 2500, "mm")
    step = (high - low) / ROWS
    wanted = np.unique(np.concatenate((known[:, 0], np.linspace(low, high, ROWS + 1))))
    places = np.floor((wanted - low) / (step * LEAST_STEP_SHARE))
    first = np.concatenate(([True], places[1:] != places[:-1]))
    first[-1] = True
    heights = wanted[first]
    return heights, np.interp(heights, known[:, 0], known[:, 1])


def _share(at: Numbers) -> Numbers:
    """Give the length that each of these places stands for by the trapezoid rule."""
    steps = np.diff(at)
    return (np.concatenate((steps, [0])) + np.concatenate(([0], steps))) / 2


def _distinct(places: tuple[tuple[float, float], ...]) -> Numbers:
    """Give the places as an array; OutsideRange where a surface cannot stand on them."""
    within("the number of points", len(set(places)), max(FEWEST_POINTS, len(places)), 10_000, "")
    known = np.array(places, dtype=float)
    spread = np.linalg.svd(known - known.mean(axis=0), compute_uv=False)
    within("how far the points lie from one line", float(spread[-1]), 1e-3, 1e6, "mm")
    return known


def _followed(x: Numbers, height: Numbers, places: Sequence[tuple[float, float]]) -> tuple[Numbers, Numbers]:
    """Give where the thickness of each node is taken: at the node, or half way to it from the last measured place."""
    rows = sorted({height for _, height in places})
    ends = [[x for x, at in places if at == row] for row in rows]
    inside = np.clip(height, rows[0], rows[-1])
    low = np.interp(inside[:, 0], rows, [min(row) for row in ends])
    high = np.interp(inside[:, 0], rows, [max(row) for row in ends])
    return (np.clip(x, low[:, None], high[:, None]) + x) / 2, (inside + height) / 2


def _squares(x: Numbers, height: Numbers, known: Numbers) -> Numbers:
    """Give the squared distance of every node from every point."""
    squares: Numbers = (x.ravel()[:, None] - known[:, 0]) ** 2
    squares += (height.ravel()[:, None] - known[:, 1]) ** 2
    return squares


def _bent(squares: Numbers) -> Numbers:
    """Give r^2 log r^2, twice the bending of a thin plate by one point, from r^2 and in its place; 0 at the point."""
    np.maximum(squares, 1e-30, out=squares)
    squares *= np.log(squares)
    return squares


def _weights(known: Numbers, x: Numbers, height: Numbers) -> Numbers:
    """Give what each measured thickness adds to that of each node (Bookstein 1989, equations for L and its inverse)."""
    count = len(known)
    middle, scale = known.mean(axis=0), float(np.abs(known - known.mean(axis=0)).max())
    known = (known - middle) / scale
    x, height = (x - middle[0]) / scale, (height - middle[1]) / scale
    flat = np.column_stack((np.ones(count), known))
    system = np.zeros((count + 3, count + 3))
    system[:count, :count] = _bent(_squares(known[:, 0], known[:, 1], known))
    system[:count, count:], system[count:, :count] = flat, flat.T
    solved = np.linalg.solve(system, np.eye(count + 3, count))
    nodes = _bent(_squares(x, height, known)) @ solved[:count]
    plane: Numbers = np.column_stack((np.ones(x.size), x.ravel(), height.ravel())) @ solved[count:]
    return np.asarray(nodes + plane)


def area_mm2(surface: Surface) -> float:
    """Give the area inside the outline in mm2, seen from above, f-holes included; trapezoid rule."""
    return float(surface.node_area_mm2.sum())


def mean_thickness_mm(surface: Surface) -> float:
    """Give the mean thickness in mm, every mm2 counting alike; edge band and f-holes are not part of the surface."""
    return float((surface.thickness_mm * surface.node_area_mm2).sum() / surface.node_area_mm2.sum())


def mass_g(volume_mm3: float, density_kg_m3: float, arch_factor: float) -> float:
    """Give the mass in g of a plate whose volume is that over its shadow: m = rho k V.

    Density 100 to 1500 kg/m3; `arch_factor` k, by which the arched plate is larger than its shadow, 1 to 1.2;
    OutsideRange.
    """
    within("the density", density_kg_m3, 100, 1500, "kg/m3")
    within("the arch factor", arch_factor, 1, 1.2, "")
    return density_kg_m3 * arch_factor * volume_mm3 * 1e-6


def edge_length_mm(surface: Surface) -> float:
    """Give the length of the outline in mm, both sides."""
    sides = ((surface.x_mm[:, side], surface.height_mm[:, side]) for side in (0, -1))
    around = sum(float(np.hypot(np.diff(x), np.diff(height)).sum()) for x, height in sides)
    ends = (surface.x_mm[end, -1] - surface.x_mm[end, 0] for end in (0, -1))
    return around + float(sum(ends))


def edge_thickness_mm(surface: Surface) -> float:
    """Give the mean thickness of the surface along the outline in mm, every mm of it counting alike."""
    whole = weighed = 0.0
    for side in (0, -1):
        steps = np.hypot(np.diff(surface.x_mm[:, side]), np.diff(surface.height_mm[:, side]))
        thickness = surface.thickness_mm[:, side]
        whole += float(steps.sum())
        weighed += float((steps * (thickness[1:] + thickness[:-1]) / 2).sum())
    return weighed / whole


def edge_band_mm3(length_mm: float, width_mm: float, edge_mm: float, inner_mm: float) -> float:
    """Give the volume that a thick edge adds to the surface in mm3: length times width times how much thicker it is.

    The band is taken as straight, which makes it less than 1 % too large. Lengths 0 to 20 000 mm, width 0 to 100 mm,
    both thicknesses 0 to 100 mm; OutsideRange.
    """
    within("the length of the edge", length_mm, 0, 20_000, "mm")
    for name, value in (("width of the band", width_mm), ("edge", edge_mm), ("plate inside the edge", inner_mm)):
        within(f"the {name}", value, 0, 100, "mm")
    return length_mm * width_mm * (edge_mm - inner_mm)


def f_hole_area_mm2(length_mm: float) -> float:
    """Give the area of one f-hole in mm2 from its length, 20 to 400 mm; OutsideRange. Common practice, no source."""
    return F_HOLE_SHARE * within("the length of the f-hole", length_mm, 20, 400, "mm") ** 2


def asymmetry_mm(surface: Surface) -> Asymmetry | None:
    """Give the two measured points, mirrored in the joint, that differ most; None where no two mirror each other.

    Within a hundredth of a mm, the first of several that differ as much, from the top down and from the outside in.
    """
    thickness = {(round(x, 2), round(height, 2)): value for x, height, value in surface.points_mm}
    pairs = [
        Asymmetry(round(value - thickness[-x, height], 6), x, height)
        for (x, height), value in sorted(thickness.items(), key=lambda point: (-point[0][1], -point[0][0]))
        if x > 0 and (-x, height) in thickness
    ]
    return max(pairs, key=lambda pair: abs(pair.difference_mm), default=None)


def stands_out(surface: Surface) -> tuple[PointMm, float]:
    """Give the measured point that differs most from what its four nearest neighbours make one expect, and by how much.

    Expected is their mean, each by the inverse of its squared distance (D. Shepard, A two-dimensional interpolation
    function for irregularly-spaced data, 1968).
    """

    def beyond(point: PointMm) -> float:
        others = sorted((dist(point[:2], other[:2]), other[2]) for other in surface.points_mm if other is not point)[:4]
        shares = [1 / away**2 for away, _ in others]
        return point[2] - sum(share * value for share, (_, value) in zip(shares, others, strict=True)) / sum(shares)

    found = max(surface.points_mm, key=lambda point: abs(beyond(point)))
    return found, beyond(found)


def tap_scaling_hz(
    frequency_hz: float, thickness_ratio: float, length_ratio: float = 1.0, speed_ratio: float = 1.0
) -> float:
    """Give a plate's tap tone after a change, each ratio new to old: f ~ (t / L^2) sqrt(E / rho), speed sqrt(E / rho).

    Holds for a change all over; thinning in one place moves a tone less. Frequency 1 to 20 000 Hz, ratios 0.2 to 5;
    OutsideRange. Theory of thin plates, G. Kirchhoff 1850.
    """
    within("the frequency", frequency_hz, 1, 20_000, "Hz")
    for name, ratio in (("thickness", thickness_ratio), ("length", length_ratio), ("speed", speed_ratio)):
        within(f"the ratio of {name}", ratio, 0.2, 5, "")
    return frequency_hz * thickness_ratio / length_ratio**2 * speed_ratio


def mode5_at_hz(frequency_hz: float, mc_from_pct: float, mc_to_pct: float) -> float:
    """Give mode 5 at another moisture: 0.9 % lower a percent, 3 Hz on a violin. Moistures 0 to 20 %; OutsideRange.

    Derived from one report of some 36 Hz between 1 and 12 %: an estimate, to compare plates tapped on different days.
    """
    within("the frequency", frequency_hz, 1, 20_000, "Hz")
    for moisture in (mc_from_pct, mc_to_pct):
        within("the moisture", moisture, 0, 20, "%")
    return frequency_hz * (1 - MODE5_SHARE_PER_PCT * (mc_to_pct - mc_from_pct))
