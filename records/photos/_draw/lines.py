"""The lines that shapes are made of: curves through points, ellipses, mirrored halves.

Computes points from points; knows no instrument and draws nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Point = tuple[float, float]
Points = Iterable[Sequence[float] | Array]

OUTLINE_STEPS = 24  # points drawn for each point of a model's outline
PART_STEPS = 12  # the same for small parts
ELLIPSE_POINTS = 72


def smooth(points: Array, steps: int = OUTLINE_STEPS) -> Array:
    """Run a cubic through the points of one curve, its pace by the square root of the chord."""
    chords = np.diff(points, axis=0)
    paces = np.diff(np.concatenate([[0.0], np.cumsum(np.sqrt(np.hypot(*chords.T)))]))
    tangents = tangents_of(chords / paces[:, None], paces)
    t = np.linspace(0, 1, steps, endpoint=False)[:, None]
    pieces = [
        hermite(t, pace, (points[at], points[at + 1]), (tangents[at], tangents[at + 1]))
        for at, pace in enumerate(paces)
    ]
    return np.vstack([*pieces, points[-1:]])


def tangents_of(rises: Array, paces: Array) -> Array:
    """Give the direction in each point from the rises of the chords beside it."""
    before, behind = paces[:-1, None], paces[1:, None]
    inner = (rises[:-1] * behind + rises[1:] * before) / (before + behind)
    return np.vstack([2 * rises[:1] - inner[:1], inner, 2 * rises[-1:] - inner[-1:]])


def hermite(t: Array, pace: float, ends: tuple[Array, Array], tangents: tuple[Array, Array]) -> Array:
    """Give points of the cubic between two points that leaves and arrives along two tangents."""
    start, end = ends
    leaving, arriving = tangents
    return (
        (2 * t**3 - 3 * t**2 + 1) * start + (t**3 - 2 * t**2 + t) * pace * leaving
        + (3 * t**2 - 2 * t**3) * end + (t**3 - t**2) * pace * arriving
    )  # fmt: skip


def bezier(*points: Point, steps: int = 40) -> Array:
    """Give points of a cubic from its two ends and the two handles between them."""
    t = np.linspace(0, 1, steps)[:, None]
    a, b, c, d = (np.array(point) for point in points)
    return np.asarray((1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d)


def curve(*corners: Point) -> list[Point]:
    """Run a smooth line through points."""
    return [(float(x), float(height)) for x, height in smooth(np.array(corners, float), PART_STEPS)]


def ellipse(x: float, height: float, across: float, up: float) -> list[Point]:
    """Give points of an ellipse from its middle and its two half axes."""
    turn = np.linspace(0, 2 * math.pi, ELLIPSE_POINTS)
    return list(zip(x + across * np.cos(turn), height + up * np.sin(turn), strict=True))


def placed(points: Iterable[Point], unit: float, *, x: float = 0.0, height: float = 0.0) -> list[Point]:
    """Bring a shape from units to mm and set it where it belongs."""
    return [(x + across * unit, height + up * unit) for across, up in points]


def mirrored(points: Iterable[Point], side: int) -> list[Point]:
    """Give the shape on the viewer's right, or mirrored for side -1."""
    return [(side * x, height) for x, height in points]


def both(points: Sequence[Point]) -> list[Point]:
    """Close one half of a shape, given from top to bottom, with its mirror image."""
    return [*points, *mirrored(reversed(points), -1)]


def spread(count: int, width: float) -> list[float]:
    """Give the places of strings across a width, low string first."""
    return [width * (at / (count - 1) - 0.5) for at in range(count)]
