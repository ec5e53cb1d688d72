"""A plate's thickness as a map: bands from pale to dark, their limits on the lines, measured figures at their places.

Draws a surface that is already worked out; bass side left, as seen from the front. Sizes are millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import cast

import numpy as np
from contourpy import FillType, contour_generator
from numpy.typing import NDArray

from passport.figures.drawing import HALF_X_HEIGHT, svg, tenths, text, texts
from passport.figures.outline import Curve, Point
from passport.figures.plate import Frame, frame_of, sides
from passport.physics.plates import Surface

Numbers = NDArray[np.float64]
# With fewer points the lines between them would be guesses.
FEWEST_POINTS = 12
# Farther from any measured point than 38 mm on a violin the map is hatched, and so in proportion on other bodies.
REACH_SHARE = 38 / 355
# Lines are drawn with as many corners as keep them this close to the true ones on a violin.
TOLERANCE_SHARE = 0.3 / 355
# A line runs this much below the thickness it is named for, far less than a gauge tells: where a plate is even, it
# would else run to and fro with the last digit of the sums.
BELOW_MM = 0.004
TENTH_MM = 0.1
# Steps between two lines that a maker reads with ease, in mm, and the most bands the ramp has tones for.
STEPS_MM = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)
TONES = 8
# A closed line with fewer points, the first among them twice, has no area.
LEAST_RING = 3
HATCH_SHARE = 1 / 100
# Shorter than this a ruled line looks like a slip of the pen.
HATCH_LEAST_SHARE = 0.12
LEVEL_TEXT_SHARE = 0.028
# A figure on a line keeps this many of its own heights from every other figure.
ROOM = 1.5


@dataclass(frozen=True)
class Figure:
    """One measured thickness as it is written, where it was measured, and whether it is ringed as thin."""

    words: str
    x_mm: float
    height_mm: float
    is_thin: bool


@dataclass(frozen=True)
class FHoles:
    """Where the f-holes lie, from what a sheet records: both eyes and the length, heights from the bottom edge."""

    upper: Point
    lower: Point


def thickness_map(
    title: str, curves: Sequence[Curve], surface: Surface, figures: Sequence[Figure], f_holes: FHoles | None = None
) -> str:
    """Draw the map of a plate, every measured thickness at its place."""
    frame = frame_of(curves)
    levels = levels_mm(surface)
    lines = [_band(frame, surface, level) for level in levels]
    body = (
        _bands(frame, surface, lines),
        _hatch(frame, surface),
        _f_holes(frame, f_holes),
        frame.outline,
        _on_lines(frame, surface, levels, lines, figures),
        _rings(frame, figures),
        texts("figure", frame.text, (_written(frame, figure) for figure in figures)),
        *sides(frame),
    )
    return svg(title, _words(surface, levels, figures, reach_mm(frame.length)), frame.box(), body, "plate map")


def reach_mm(length: float) -> float:
    """Give how far from a measured point the map of a body of this length is believed."""
    return float(round(length * REACH_SHARE))


def levels_mm(surface: Surface) -> tuple[float, ...]:
    """Give the thicknesses at which the bands meet; none where the plate is all of one thickness."""
    low, high = float(surface.thickness_mm.min()), float(surface.thickness_mm.max())
    step = next((step for step in STEPS_MM if high / step - low / step < TONES - 1), STEPS_MM[-1])
    first, last = floor(low / step + 1e-6) + 1, ceil(high / step - 1e-6)
    return tuple(round(index * step, 2) for index in range(first, last))[: TONES - 1]


def tone(band: int, bands: int) -> int:
    """Give the tone of a band, 0 for the palest: few bands are spread over the whole ramp."""
    return round(band * (TONES - 1) / max(bands - 1, 1))


def _band(frame: Frame, surface: Surface, level: float) -> list[Numbers]:
    """Give the outlines of all that is thicker than this."""
    generator = contour_generator(
        surface.x_mm, frame.length - surface.height_mm, surface.thickness_mm, fill_type=FillType.OuterOffset
    )
    over_all = float(surface.thickness_mm.max()) + 1
    found, offsets = cast("tuple[list[Numbers], list[list[int]]]", generator.filled(level - BELOW_MM, over_all))
    rings = [points[start:end] for points, parts in zip(found, offsets, strict=True) for start, end in pairwise(parts)]
    tolerance = frame.length * TOLERANCE_SHARE
    return [simple for ring in rings if len(simple := simplified(ring, tolerance)) > LEAST_RING]


def simplified(points: Numbers, tolerance: float) -> Numbers:
    """Leave out points so that what is left stays within the tolerance (D. Douglas and T. Peucker 1973)."""
    plane = points[:, 0] + 1j * points[:, 1]
    kept = np.zeros(len(points), dtype=bool)
    kept[[0, -1]] = True
    pieces = [(0, len(points) - 1)]
    while pieces:
        start, end = pieces.pop()
        if end - start < 2:  # noqa: PLR2004 - nothing lies between neighbours
            continue
        from_start, along = plane[start + 1 : end] - plane[start], complex(plane[end] - plane[start])
        # From the line through both ends; from the one place where they are the same.
        away = np.abs((from_start * along.conjugate()).imag) / abs(along) if along else np.abs(from_start)
        furthest = int(away.argmax())
        if away[furthest] > tolerance:
            middle = start + 1 + furthest
            kept[middle] = True
            pieces += [(start, middle), (middle, end)]
    return points[kept]


def _bands(frame: Frame, surface: Surface, lines: Sequence[Sequence[Numbers]]) -> str:
    """Lay band upon band: each covers all that is thicker, so that no line is written twice."""
    count = len(lines) + 1
    bands = (
        f'<path class="band-{tone(index, count)}" d="{"".join(map(_ring, rings))}"/>'
        for index, rings in enumerate([[_whole(frame, surface)], *lines])
    )
    return f'<g class="bands" transform="scale({TENTH_MM})">{"".join(bands)}</g>'


def _whole(frame: Frame, surface: Surface) -> Numbers:
    """Give the plate's own outline, down the treble side and up the bass side."""
    up = np.column_stack((surface.x_mm[:, 0], frame.length - surface.height_mm[:, 0]))
    down = np.column_stack((surface.x_mm[:, -1], frame.length - surface.height_mm[:, -1]))[::-1]
    return simplified(np.concatenate((down, up, down[:1])), frame.length * TOLERANCE_SHARE)


def _ring(points: Numbers) -> str:
    """Write a closed line in steps from point to point, in whole tenths of a mm."""
    corners = np.rint(points[:-1] / TENTH_MM).astype(int)
    steps = np.diff(corners, axis=0)
    steps = steps[steps.any(axis=1)]
    return f"M{_pairs(corners[:1])}l{_pairs(steps)}Z"


def _pairs(numbers: NDArray[np.int_]) -> str:
    """Write numbers with no more between them than must be: a minus parts them too."""
    return " ".join(map(str, numbers.ravel().tolist())).replace(" -", "-")


def _hatch(frame: Frame, surface: Surface) -> str:
    """Rule lines across all that no measured point is near."""
    far = surface.distance_mm > reach_mm(frame.length)
    step, next_height = frame.length * HATCH_SHARE, 0.0
    found = []
    for row in range(len(far)):
        height = float(surface.height_mm[row, 0])
        if height >= next_height:
            next_height = height + step
            found += list(_runs(far[row], surface.x_mm[row], frame.length - height, frame.length * HATCH_LEAST_SHARE))
    return f'<path class="hatch" d="{"".join(found)}"/>' if found else ""


def _runs(far: NDArray[np.bool_], x: Numbers, y: float, least: float) -> Iterator[str]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], far, [False]))))
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        if x[end - 1] - x[start] > least:
            yield f"M{tenths(x[start])},{tenths(y)}H{tenths(x[end - 1])}"


def _f_holes(frame: Frame, f_holes: FHoles | None) -> str:
    """Draw the line of each f-hole from eye to eye, both eyes as dots; their true size is not recorded."""
    if f_holes is None:
        return ""
    (x1, h1), (x2, h2) = f_holes.upper, f_holes.lower
    y1, y2, r = frame.length - h1, frame.length - h2, frame.length * 0.007
    third = (y2 - y1) / 3
    found = []
    for side in (-1, 1):
        a, b = side * x1, side * x2
        handles = f"{b:.1f},{y1 + third:.1f} {a:.1f},{y2 - third:.1f}"
        found.append(f'<path d="M{a:.1f},{y1:.1f}C{handles} {b:.1f},{y2:.1f}"/>')
        found += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}"/>' for x, y in ((a, y1), (b, y2))]
    return f'<g class="f-holes">{"".join(found)}</g>'


def _on_lines(
    frame: Frame,
    surface: Surface,
    levels: Sequence[float],
    lines: Sequence[Sequence[Numbers]],
    figures: Sequence[Figure],
) -> str:
    """Write each thickness on its line, where most room is; nowhere if there is none."""
    size = frame.length * LEVEL_TEXT_SHARE
    taken = np.array([(figure.x_mm, frame.length - figure.height_mm) for figure in figures])
    written = []
    for level, rings in zip(levels, lines, strict=True):
        places = _inside(frame, surface, np.concatenate([(ring[1:] + ring[:-1]) / 2 for ring in rings] or [taken[:0]]))
        room = np.hypot(*(places[:, None] - taken).transpose(2, 0, 1)).min(axis=1, initial=frame.length)
        if len(places) and room.max() >= size * ROOM:
            x, y = places[int(room.argmax())]
            taken = np.vstack((taken, (x, y)))
            written.append(text(_level(level, levels), x, y + size * HALF_X_HEIGHT))
    return texts("level", size, written)


def _level(level: float, levels: Sequence[float]) -> str:
    """Write a level with as many decimals as any of them needs, and one at least."""
    return f"{level:.2f}" if any(round(each, 1) != each for each in levels) else f"{level:.1f}"


def _inside(frame: Frame, surface: Surface, places: Numbers) -> Numbers:
    """Give the places at which a figure stands clear of the outline."""
    heights = frame.length - places[:, 1]
    half_width = np.interp(heights, surface.height_mm[:, 0], surface.x_mm[:, -1])
    clear_aside = np.abs(places[:, 0]) < half_width - frame.text
    clear_of_ends = np.abs(heights - frame.length / 2) < frame.length / 2 - frame.text
    return np.asarray(places[clear_aside & clear_of_ends])


def _rings(frame: Frame, figures: Sequence[Figure]) -> str:
    size = frame.text * 0.95
    rings = "".join(
        f'<circle cx="{tenths(figure.x_mm)}" cy="{frame.length - figure.height_mm:.1f}" r="{size:.1f}"/>'
        for figure in figures
        if figure.is_thin
    )
    return f'<g class="thin">{rings}</g>' if rings else ""


def _written(frame: Frame, figure: Figure) -> str:
    return text(figure.words, figure.x_mm, frame.length - figure.height_mm + frame.text * HALF_X_HEIGHT)


def _words(surface: Surface, levels: Sequence[float], figures: Sequence[Figure], reach: float) -> str:
    low, high = float(surface.thickness_mm.min()), float(surface.thickness_mm.max())
    thin = sum(figure.is_thin for figure in figures)
    lines = ", ".join(_level(level, levels) for level in levels)
    meet = f"; bands meet at {lines}" if lines else ""
    words = [
        "Thickness in millimetres, bass side left, as seen from the front.",
        f"{low:.1f} to {high:.1f}, darker where thicker{meet}.",
        f"The {len(figures)} measured figures stand at their places, and in the table beside it.",
        f"{thin} of them are ringed as thin." if thin else "",
        f"Hatched where no measured point is within {reach:g} mm.",
    ]
    return " ".join(filter(None, words))
