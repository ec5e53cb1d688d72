"""The drawing of a measure over the years."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from datetime import date

from passport.figures.trend import Mark, Run, trend_drawing

NAMESPACE = "{http://www.w3.org/2000/svg}"
RUNS = (
    Run("S1", (
        Mark(date(2022, 3, 18), 0.0, 0.0), Mark(date(2022, 9, 8), -0.5, 1.2, counts=False),
        Mark(date(2024, 9, 10), -3.0, 1.2),
    )),
    Run("S<8", (Mark(date(2024, 10, 8), 0.0, 0.0), Mark(date(2026, 9, 22), -0.3, 1.2))),
)  # fmt: skip


def drawn(runs: tuple[Run, ...] = RUNS) -> ET.Element:
    return ET.fromstring(trend_drawing("Neck", "mm", runs, 1.5, 4.0))  # noqa: S314 - our own drawing


def places(svg: ET.Element) -> list[tuple[float, float, str]]:
    circles = svg.iter(f"{NAMESPACE}circle")
    return [(float(each.get("cx", "")), float(each.get("cy", "")), each.get("class", "")) for each in circles]


def test_places_are_in_proportion_to_days_and_changes_and_falling_goes_down() -> None:
    first, second, third, fourth, last = places(drawn())
    per_day = (last[0] - first[0]) / (date(2026, 9, 22) - date(2022, 3, 18)).days
    assert abs(second[0] - first[0] - per_day * (date(2022, 9, 8) - date(2022, 3, 18)).days) < 0.11
    assert first[1] == fourth[1]
    assert abs((second[1] - first[1]) * 6 - (third[1] - first[1])) < 0.5
    assert third[1] > second[1] > first[1]
    assert [each[2] for each in (first, second, third, fourth, last)] == ["dot", "dot-hollow", "dot", "dot", "dot"]


def test_limits_lie_where_a_change_of_so_much_would() -> None:
    svg = drawn()
    (limits,) = (path for path in svg.iter(f"{NAMESPACE}path") if "line-limit" in (path.get("class") or ""))
    heights = [float(y) for y in re.findall(r"M[\d.]+,([\d.]+)H", limits.get("d", ""))]
    zero, _, fallen, *_ = (y for _, y, _ in places(svg))
    per_mm = (fallen - zero) / 3
    assert [round((y - zero) / per_mm, 1) for y in heights] == [-1.5, 1.5, 4.0]


def test_everything_stays_inside_and_is_told_in_words() -> None:
    svg = drawn()
    _, _, width, height = map(float, svg.get("viewBox", "").split())
    for text in svg.iter(f"{NAMESPACE}text"):
        assert 0 <= float(text.get("x", "")) <= width
        assert 0 <= float(text.get("y", "")) <= height
    assert svg.findtext(f"{NAMESPACE}title") == "Neck"
    assert "2022 to 2026" in (svg.findtext(f"{NAMESPACE}desc") or "")
    assert {"S1", "S<8", "look", "act", "2023"} <= {text.text for text in svg.iter(f"{NAMESPACE}text")}


def test_the_same_gives_the_same_bytes_and_no_colours_of_its_own() -> None:
    one, other = (trend_drawing("Neck", "mm", RUNS, 1.5, 4.0) for _ in range(2))
    assert one == other
    assert "style" not in one
    assert "#" not in one
    assert len(one.encode()) < 8000


def test_sheets_of_one_day_and_without_any_change_can_be_drawn() -> None:
    same = (Run("S1", (Mark(date(2022, 3, 18), 0.0, 0.0), Mark(date(2022, 3, 18), 0.0, 0.0))),)
    assert len(places(drawn(same))) == 2
