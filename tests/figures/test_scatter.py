"""Charts of many instruments: every mark at its value, inside the drawing, with its link; the same bytes every time."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.figures.scatter import MOST_TICKS, Chart, Mark, Stretch, scatter, ticks

SVG = "{http://www.w3.org/2000/svg}"
CHART = Chart(
    columns=("2018", "2021", "<no year>"),
    unit="mm",
    shapes=("G string", "E string", "third"),
    low=3.1,
    high=5.3,
    marks=(
        Mark(0, 5.0, 0, "ZVSPYJH, G string, 5.0 mm", "../../ZVSPYJH/"),
        Mark(0, 5.0, 0, "PB8ANDH, G string, 5.0 mm", "../../PB8ANDH/"),
        Mark(1, 3.5, 1, "A & B", "../../B/?a=1&b=2"),
        Mark(2, 4.0, 2, "nowhere", ""),
    ),
    windows=(Stretch(0, 4.7, 5.3), Stretch(1, 4.7, 5.3), Stretch(2, 3.2, 3.8)),
    spans=(Stretch(1, 3.5, 4.5),),
)


def drawn(chart: Chart = CHART) -> ET.Element:
    return ET.fromstring(scatter("Heights & more", "Four numbers.", chart))  # noqa: S314 - our own drawing


def texts(root: ET.Element) -> dict[str, tuple[float, float]]:
    found = (each for each in root.iter(f"{SVG}text") if each.get("x"))
    return {each.text or "": (float(each.get("x", "")), float(each.get("y", ""))) for each in found}


def centres(root: ET.Element) -> dict[str, tuple[float, float]]:
    """The middle of each mark by its name, measured from its shape."""
    found = {}
    for group in [*root.iter(f"{SVG}a"), *root.iter(f"{SVG}g")]:
        title = group.find(f"{SVG}title")
        if title is None:
            continue
        ring, path = group.find(f"{SVG}circle"), group.find(f"{SVG}path")
        if ring is not None:
            found[title.text or ""] = (float(ring.get("cx", "")), float(ring.get("cy", "")))
        elif path is not None:
            x, y = map(float, re.match(r"M([\d.]+),([\d.]+)", path.get("d", "")).groups())  # type: ignore[union-attr]
            is_triangle = "full" in path.get("class", "")
            found[title.text or ""] = (x, y + 3.8) if is_triangle else (x + 3.2, y + 3.2)
    return found


def test_the_same_numbers_give_the_same_bytes_in_whatever_order_they_come() -> None:
    assert scatter("A", "B", CHART) == scatter("A", "B", replace(CHART, marks=CHART.marks[::-1]))


def test_a_mark_stands_at_its_value_on_the_scale() -> None:
    root = drawn()
    scale = texts(root)
    (_, at_3), (_, at_5) = scale["3"], scale["5"]
    for name, (_, y) in centres(root).items():
        value = {"A & B": 3.5, "nowhere": 4.0}.get(name, 5.0)
        assert y == pytest.approx(at_3 + (value - 3) / 2 * (at_5 - at_3) - 11 * 0.35, abs=0.7), name


def test_marks_of_one_value_stand_side_by_side_in_their_own_column() -> None:
    found = centres(drawn())
    one, other = (found[f"{number}, G string, 5.0 mm"][0] for number in ("ZVSPYJH", "PB8ANDH"))
    assert abs(one - other) >= 6
    assert max(one, other) < found["A & B"][0] < found["nowhere"][0]


def test_every_mark_is_a_link_that_says_what_it_is_and_the_keyboard_passes_it_by() -> None:
    links = list(drawn().iter(f"{SVG}a"))
    assert [link.get("href") for link in links] == ["../../PB8ANDH/", "../../ZVSPYJH/", "../../B/?a=1&b=2"]
    assert {link.get("tabindex") for link in links} == {"-1"}
    assert [link[0].text for link in links] == ["PB8ANDH, G string, 5.0 mm", "ZVSPYJH, G string, 5.0 mm", "A & B"]


def test_shapes_differ_without_any_colour() -> None:
    drawing = scatter("A", "B", CHART)
    assert not re.search(r"(fill|stroke|style)=", drawing)
    shapes = {re.sub(r"[\d.,-]+", "", link[1].get("d", "ring")) for link in drawn().iter(f"{SVG}a")}
    assert len(shapes) == 2


def test_a_title_and_a_description_tell_it_in_words_and_words_are_never_markup() -> None:
    root = drawn()
    assert (root[0].text, root[1].text) == ("Heights & more", "Four numbers.")
    assert root.get("role") == "group"
    assert "<no year>" in {each.text for each in root.iter(f"{SVG}text")}


def test_windows_of_neighbours_that_are_alike_are_one() -> None:
    band = next(each for each in drawn().iter(f"{SVG}path") if each.get("class") == "window-band")
    assert band.get("d", "").count("M") == 2


@pytest.mark.parametrize("count", [1, 7, 18])
def test_everything_lies_inside_the_drawing(count: int) -> None:
    columns = tuple(f"Harrow, pattern {number}" for number in range(count))
    marks = tuple(Mark(number, 300.0 + number, 0, "x", "y") for number in range(count) for _ in range(40))
    root = drawn(Chart(columns, "m⁴/(kg s)", ("a",), 300, 300 + count, marks))
    _, _, width, height = map(float, root.get("viewBox", "").split())
    places = [*centres(root).values(), *texts(root).values()]
    rings = [(float(ring.get("cx", "")), float(ring.get("cy", ""))) for ring in root.iter(f"{SVG}circle")]
    assert len(rings) == 40 * count
    assert all(0 <= x <= width and 0 <= y <= height for x, y in (*places, *rings))


@given(st.floats(0.1, 5000), st.floats(0, 5000))
def test_a_scale_has_few_round_ticks_around_everything(low: float, reach: float) -> None:
    found = ticks(low, low + reach)
    assert 2 <= len(found) <= MOST_TICKS
    assert found[0] <= low * (1 + 1e-6)
    assert found[-1] >= (low + reach) * (1 - 1e-6)
    steps = {round(after - before, 6) for before, after in pairwise(found)}
    assert len(steps) == 1
    assert f"{steps.pop():e}"[0] in "125"
