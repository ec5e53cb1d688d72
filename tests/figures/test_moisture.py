"""The drawing of moisture over the years: every number at its day and height, the same bytes, words for it all."""

from __future__ import annotations

import re
from datetime import date
from xml.etree import ElementTree as ET

import pytest

from passport.figures.moisture import HEIGHT, WIDTH, moisture_chart

SVG = "{http://www.w3.org/2000/svg}"
ROOM = [(date(2021, 5, 4).toordinal(), 9.0), (date(2022, 9, 8).toordinal(), 12.0), (date(2023, 2, 7).toordinal(), 6.7)]
WOOD = [(date(2021, 5, 4).toordinal(), 8.8), (date(2022, 5, 4).toordinal(), 8.6)]


def parts(drawing: str, kind: str) -> list[ET.Element]:
    return [each for each in ET.fromstring(drawing).iter() if kind in each.get("class", "").split()]  # noqa: S314


def places(drawing: str, kind: str) -> list[tuple[float, float]]:
    """The middles of the marks of a kind: each begins at its left end."""
    (path,) = parts(drawing, kind)
    found = re.findall(r"M([\d.]+),([\d.]+)a([\d.]+)", path.get("d", ""))
    return [(float(x) + float(radius), float(y)) for x, y, radius in found]


def heights(drawing: str) -> dict[float, float]:
    """Where the lines across stand, by the percent that is written beside each."""
    (group,) = parts(drawing, "end")
    lines = re.findall(r"M[\d.]+,([\d.]+)H", parts(drawing, "line-fine")[0].get("d", ""))
    return {float(text.text or ""): float(y) for text, y in zip(group, lines, strict=True)}


def test_every_number_stands_at_its_height_and_its_day() -> None:
    drawing = moisture_chart("Rooms", ROOM, WOOD)
    at = heights(drawing)
    low, high = min(at), max(at)
    year = {text.text: float(text.get("x", "")) for text in parts(drawing, "figure")[0]}
    for kind, points in (("ring", ROOM), ("dot", WOOD)):
        for (day, pct), (x, y) in zip(points, places(drawing, kind), strict=True):
            assert y == pytest.approx(at[low] + (at[high] - at[low]) * (pct - low) / (high - low), abs=0.15)
            first = date.fromordinal(day).replace(month=1, day=1)
            share = (day - first.toordinal()) / 365
            left, right = year[str(first.year)], year[str(first.year + 1)]
            assert x == pytest.approx(left + (right - left) * share, abs=0.4)


def test_all_of_it_lies_inside_the_drawing() -> None:
    for room, wood in ((ROOM, WOOD), (ROOM[:1], []), ([], WOOD), ([(ROOM[0][0], 0.2)], [(ROOM[0][0] + 40_000, 29.0)])):
        drawing = moisture_chart("Rooms", room, wood, 9.7)
        for kind in ("ring", "dot"):
            for x, y in places(drawing, kind) if parts(drawing, kind) else ():
                assert 0 < x < WIDTH
                assert 0 < y < HEIGHT


def test_long_spans_are_written_in_few_years() -> None:
    drawing = moisture_chart("Rooms", [(date(1890, 1, 1).toordinal(), 9.0), (date(2026, 1, 1).toordinal(), 9.0)], [])
    assert 2 <= len(parts(drawing, "figure")[0]) <= 9


def test_it_is_said_in_words_and_the_store_is_a_line() -> None:
    drawing = moisture_chart("A lot & its store", [], WOOD, 9.74)
    root = ET.fromstring(drawing)  # noqa: S314 - our own drawing
    assert root.findtext(f"{SVG}title") == "A lot & its store"
    words = root.findtext(f"{SVG}desc") or ""
    assert "2 dates" in words
    assert "9.7 percent" in words
    assert len(parts(drawing, "dashed")) == 1
    assert not parts(moisture_chart("A lot", [], WOOD), "dashed")


def test_the_same_numbers_give_the_same_bytes_without_a_colour() -> None:
    drawing = moisture_chart("Rooms", ROOM, WOOD, 9.7)
    assert drawing == moisture_chart("Rooms", list(ROOM), tuple(WOOD), 9.7)
    assert "#" not in drawing
    assert "style=" not in drawing
    assert not re.search(r"\d\.\d\d", re.sub(r"<(title|desc)>.*?</\1>", "", drawing))
    assert len(drawing.encode()) < 8000
