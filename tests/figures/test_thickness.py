"""The map of a plate: where its lines run, what it says, and whether its tones can be told apart."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from scipy.interpolate import RBFInterpolator

from passport.figures.outline import half_outline, half_width_mm, row_places_mm
from passport.figures.thickness import TONES, FHoles, Figure, levels_mm, simplified, thickness_map, tone
from passport.physics.plates import Surface, thickness_surface
from tests.figures.test_plate import CURVES, SVG, measured

CURVED = tuple(map(tuple, CURVES))


def surface_of(thickness: dict[float, list[float]]) -> tuple[Surface, list[Figure]]:
    points = [
        (x, height, value)
        for height, row in thickness.items()
        for x, value in zip(row_places_mm(CURVED, height, len(row)), row, strict=True)
    ]
    figures = [Figure(f"{value:.1f}", x, height, is_thin=value < 2.2) for x, height, value in points]
    return thickness_surface(points, half_outline(CURVED)), figures


BACK = {
    325.0: [2.9, 2.8, 2.9, 2.8, 2.9],
    245.0: [2.5, 3.0, 3.5, 3.0, 2.5],
    160.0: [2.7, 3.6, 4.4, 3.6, 2.1],
    60.0: [2.6, 2.6, 2.9, 2.6, 2.6],
}
SURFACE, FIGURES = surface_of(BACK)


def drawn(**changed: object) -> ET.Element:
    return ET.fromstring(thickness_map("Back & top", CURVED, SURFACE, FIGURES, **changed))  # type: ignore[arg-type] # noqa: S314 - our own


def corners(path: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """The corners of every closed line of a band in mm."""
    found: list[tuple[float, float]] = []
    for ring in path.split("Z")[:-1]:
        numbers = [int(number) for number in re.findall(r"-?\d+", ring)]
        steps = np.cumsum(np.array(numbers).reshape(-1, 2), axis=0)
        found += [tuple(step) for step in steps / 10]
    return np.array(found)


def test_the_same_numbers_give_the_same_bytes() -> None:
    again, figures = surface_of(dict(BACK))
    assert thickness_map("B", CURVED, SURFACE, FIGURES) == thickness_map("B", CURVED, again, figures)


def test_it_has_a_title_and_tells_in_words_what_it_shows() -> None:
    root = drawn()
    assert root[0].text == "Back & top"
    words = root[1].text or ""
    assert "bass side left" in words
    assert "20 measured figures" in words
    assert "1 of them" in words
    assert "2.5, 3.0, 3.5, 4.0" in words


def test_it_is_small_and_loads_nothing() -> None:
    drawing = thickness_map("B", CURVED, SURFACE, FIGURES, FHoles((21, 215), (70, 140)))
    assert len(drawing.encode()) <= 12_000
    assert not re.search(r"(href|url\(|style=|fill=|stroke=|#)", drawing)


def test_every_measured_figure_stands_at_its_place() -> None:
    assert measured(thickness_map("B", CURVED, SURFACE, FIGURES)) == [figure.words for figure in FIGURES]


@pytest.mark.parametrize("band", range(2, 6))
def test_a_line_runs_where_the_plate_has_its_thickness(band: int) -> None:
    level = levels_mm(SURFACE)[band - 1]
    rings = corners(drawn().findall(f".//{SVG}g[@transform]/{SVG}path")[band].get("d", ""))
    heights = 355 - rings[:, 1]
    outer = np.interp(heights, sorted(BACK), [row_places_mm(CURVED, row, 5)[4] for row in sorted(BACK)])
    # Along the outline a band ends without a line.
    outer = np.minimum(outer, [half_width_mm(CURVED, height) - 6 for height in heights])
    measured_around = (np.abs(rings[:, 0]) < outer) & (heights > 60) & (heights < 325)
    assert measured_around.sum() >= 6
    oracle = RBFInterpolator(
        [(x, height) for x, height, _ in SURFACE.points_mm],
        [value for _, _, value in SURFACE.points_mm],
        kernel="thin_plate_spline",
    )
    found = oracle(np.column_stack((rings[:, 0], heights))[measured_around])
    # A corner is rounded to 0.1 mm, and a back falls by up to 0.1 mm a mm.
    assert found == pytest.approx(level, abs=0.03)


def test_a_line_stays_within_three_tenths_of_the_true_one() -> None:
    angles = np.linspace(0, 2 * np.pi, 721)
    circle = np.column_stack((80 * np.cos(angles), 80 * np.sin(angles)))
    few = simplified(circle, 0.3)
    assert 20 < len(few) < 90
    # The middle of a chord is where it lies furthest from the circle.
    assert np.hypot(*((few[1:] + few[:-1]) / 2).T).min() >= 80 - 0.3


@pytest.mark.parametrize(
    ("low", "high", "levels"),
    [
        (2.42, 3.05, (2.5, 2.6, 2.7, 2.8, 2.9, 3.0)),
        (2.42, 2.48, (2.45,)),
        (2.3, 4.5, (2.5, 3.0, 3.5, 4.0)),
        (5.8, 9.0, (6.0, 6.5, 7.0, 7.5, 8.0, 8.5)),
        (3.0, 3.0, ()),
    ],
)
def test_lines_run_at_steps_a_maker_reads(low: float, high: float, levels: tuple[float, ...]) -> None:
    surface, _ = surface_of({325.0: [low] * 5, 160.0: [low] * 5, 60.0: [low] * 5})
    surface.thickness_mm[100, 30] = high
    assert levels_mm(surface) == levels


def test_whatever_the_thickness_there_are_tones_enough() -> None:
    for high in (2.2, 2.6, 3.3, 4.7, 9.9, 30, 90):
        surface, _ = surface_of({325.0: [2.1] * 5, 160.0: [high] * 5, 60.0: [2.1] * 5})
        assert len(levels_mm(surface)) < TONES


def test_few_bands_are_spread_over_the_ramp() -> None:
    assert [tone(band, 3) for band in range(3)] == [0, 4, 7]
    assert [tone(band, 8) for band in range(8)] == list(range(8))
    assert tone(0, 1) == 0


def test_a_thin_spot_is_ringed_and_what_no_point_is_near_is_ruled() -> None:
    rings = drawn().findall(f".//{SVG}g[@class='thin']/{SVG}circle")
    thin = next(figure for figure in FIGURES if figure.is_thin)
    assert [(float(ring.get("cx", "")), float(ring.get("cy", ""))) for ring in rings] == [
        (pytest.approx(thin.x_mm, abs=0.06), pytest.approx(355 - thin.height_mm))
    ]
    hatch = drawn().find(f"{SVG}path[@class='hatch']")
    assert hatch is not None
    ruled = [tuple(map(float, run)) for run in re.findall(r"M([-\d.]+),([\d.]+)H([-\d.]+)", hatch.get("d", ""))]
    assert ruled
    for left, y, right in ruled:
        for x in np.linspace(left, right, 9):
            assert min(np.hypot(x - f.x_mm, 355 - y - f.height_mm) for f in FIGURES) > 38 - 2.5


def test_f_holes_are_drawn_only_where_they_are_known() -> None:
    assert drawn().find(f"{SVG}g[@class='f-holes']") is None
    eyes = drawn(f_holes=FHoles((21, 215), (70, 140))).findall(f".//{SVG}g[@class='f-holes']/{SVG}circle")
    assert {(float(eye.get("cx", "")), float(eye.get("cy", ""))) for eye in eyes} == {
        (-21, 140), (21, 140), (-70, 215), (70, 215),
    }  # fmt: skip
