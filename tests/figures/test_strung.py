"""The drawings of a set-up: read back from their SVG, by geometry."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from math import hypot

import pytest

from passport.figures.strung import (
    HEIGHTS_TIMES,
    THICK_TIMES,
    GapShape,
    SideFigures,
    SideShape,
    gap_drawing,
    side_drawing,
)

NAME = "{http://www.w3.org/2000/svg}"
SHAPE = SideShape(
    body=355, stop=195, neck=130, board=270, board_thickness=8.9, arch=11.6, nut=-0.5, nut_clearance=0.3,
    projection=27, bridge=32.3, saddle=4.2, after=54.5, tailpiece=108,
)  # fmt: skip
FIGURES = SideFigures("N 130", "S 195", "160", "L 328", "H 32.3", "P 27.0", "z 4.2", "a 7.5°", "b 13°", "159.4°")
GAPS = GapShape((-16.75, -5.45, 5.75, 16.75), (1.8, 4.4, 3.8, 0.0), (0.8, 0.82, 0.68, 0.26), 41)
ROWS = (("gap", ("10.49", "10.45", "10.53")), ("equal", ("10.49",) * 3))


def side(shape: SideShape = SHAPE) -> ET.Element:
    return ET.fromstring(side_drawing("Side", "Words.", shape, FIGURES))  # noqa: S314 - our own drawing


def gaps(shape: GapShape = GAPS) -> ET.Element:
    return ET.fromstring(gap_drawing("Gaps", "Words.", shape, "GDAE", ROWS))  # noqa: S314 - our own drawing


def corners(drawing: ET.Element) -> list[tuple[float, float]]:
    """Every corner of the strong lines, in millimetres of the set-up."""
    path = next(each for each in drawing.iter(f"{NAME}path") if each.get("class") == "line-strong").get("d") or ""
    pairs = re.findall(r"(-?[\d.]+),(-?[\d.]+)", path)
    return [(float(x), -float(y) / HEIGHTS_TIMES) for x, y in pairs]


@pytest.mark.parametrize(
    "corner",
    [(-130, -0.5), (-130, -0.2), (195, 43.9), (355, 4.2), (355, 0.0)],
    ids=["nut", "string", "seat", "saddle", "edge"],
)
def test_every_corner_stands_where_it_was_measured(corner: tuple[float, float]) -> None:
    assert min(hypot(x - corner[0], y - corner[1]) for x, y in corners(side())) < 0.06


def test_the_line_of_the_board_meets_the_projection_at_the_bridge() -> None:
    fine = next(each for each in side().iter(f"{NAME}path") if each.get("class") == "line-fine").get("d") or ""
    assert f"L195.0,{-(11.6 + 27) * HEIGHTS_TIMES:.1f}" in fine


@pytest.mark.parametrize("drawing", [side, gaps])
def test_a_drawing_says_what_it_is_and_what_is_exaggerated(drawing: object) -> None:
    made = drawing()  # type: ignore[operator]
    words = [made.findtext(f"{NAME}title"), made.findtext(f"{NAME}desc")]
    assert all(words)
    assert "times as" in (words[1] or "")
    assert any("times as" in (text.text or "") for text in made.iter(f"{NAME}text"))


@pytest.mark.parametrize(("drawing", "shape"), [(side, SHAPE), (gaps, GAPS)])
def test_nothing_lies_outside_the_sheet(drawing: object, shape: object) -> None:
    made = drawing(shape)  # type: ignore[operator]
    left, top, width, height = map(float, (made.get("viewBox") or "").split())
    for text in made.iter(f"{NAME}text"):
        assert left <= float(text.get("x") or 0) <= left + width
        assert top <= float(text.get("y") or 0) <= top + height


def test_every_figure_is_written_once() -> None:
    texts = [text.text for text in side().iter(f"{NAME}text")]
    assert sorted(texts[:-1]) == sorted(vars(FIGURES).values())


def test_strings_touch_the_crown_and_are_so_many_times_as_thick() -> None:
    circles = list(gaps().iter(f"{NAME}circle"))
    for circle, place, seat, thick in zip(circles, GAPS.places, GAPS.seats, GAPS.diameters, strict=True):
        radius = float(circle.get("r") or 0)
        assert float(circle.get("cx") or 0) == pytest.approx(place, abs=0.051)
        assert radius == pytest.approx(thick * THICK_TIMES / 2, abs=0.006)
        assert -float(circle.get("cy") or 0) - radius == pytest.approx(seat, abs=0.06)


def test_no_colour_and_no_tailpiece_where_none_is_measured() -> None:
    made = side_drawing("Side", "Words.", replace(SHAPE, tailpiece=0.0), FIGURES)
    assert len(made) < len(side_drawing("Side", "Words.", SHAPE, FIGURES))
    for drawing in (made, gap_drawing("Gaps", "Words.", GAPS, "GDAE", ROWS)):
        assert not re.search(r"fill=|stroke=|style=|#[0-9a-f]{3}", drawing)


def test_the_same_numbers_give_the_same_bytes() -> None:
    assert side_drawing("Side", "Words.", SHAPE, FIGURES) == side_drawing("Side", "Words.", SHAPE, FIGURES)
    flat = replace(GAPS, crown_radius=None)
    assert gap_drawing("Gaps", "W.", flat, "GDAE", ROWS) == gap_drawing("Gaps", "W.", flat, "GDAE", ROWS)
