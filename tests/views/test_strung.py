"""The set-up worked out as the page says it: every figure can be worked out again from what stands there."""

from __future__ import annotations

import re
from math import atan, cos, degrees, hypot, radians, sin, sqrt

import pytest

from passport.records.model.instrument import Instrument
from passport.views.project import project
from passport.views.strung import setup_worked
from passport.views.tree import Workings
from tests.analysis.test_strung import BODY, FULL, HEAD, LATER
from tests.archives import demo, record

NARROW = re.compile(r"-?\d+(?:\.\d+)?")


def worked(text: str) -> tuple[Workings, ...]:
    return setup_worked(record(Instrument, text))


def number(text: str) -> float:
    found = NARROW.search(text.replace("\u2212", "-"))
    assert found is not None, text
    return float(found[0])


def given(it: Workings) -> dict[str, float]:
    """What goes in, by its sign, as a reader finds it in the table."""
    rows = next(table.rows for table in it.tables if table.caption.startswith("What goes in"))
    measures = [measure.split() for _, told in reversed(rows) for measure in told.split("; ")]
    return {words[-2]: number(words[-1]) for words in measures}


def column(it: Workings, caption: str, head: str) -> list[float]:
    table = next(table for table in it.tables if table.caption.startswith(caption))
    at = table.columns.index(head)
    return [number(row[at]) for row in table.rows]


def test_a_reader_gets_every_figure_again_from_the_page_alone() -> None:
    """The rules as printed, with the printed figures, by a reader's own sums."""
    (it,) = worked(HEAD + BODY + FULL)
    of, figures = given(it), {figure.name: number(figure.value) for figure in it.figures}
    width = of["w₁"] + (of["w₂"] - of["w₁"]) * of["N"] / of["FB"]
    thick = of["e"] + of["R"] - sqrt(of["R"] ** 2 - (width / 2) ** 2)
    belly = of["A"] - of["E"]
    nut = of["o"] + thick - of["N"] * (belly + of["P"] - of["o"] - thick) / of["S"]
    assert figures["Board’s thickness where the body begins, t"] == pytest.approx(thick, abs=0.006)
    assert figures["Belly over that plane at the bridge, h"] == pytest.approx(belly, abs=0.006)
    assert figures["Nut over the plane of the edges, n"] == pytest.approx(nut, abs=0.006)
    lean, stops = figures["Lean of the crown to the treble side, k"], of["S"] + of["N"]
    by_string = "String by string"
    places, seats, over = (column(it, by_string, head) for head in ("y", "seat", "c"))
    for y, seat in zip(places, seats, strict=True):
        assert of["H"] - (of["r"] - sqrt(of["r"] ** 2 - y**2)) - lean * y == pytest.approx(seat, abs=0.02)
    rises = [belly + seat - nut - each for seat, each in zip(seats, over, strict=True)]
    assert column(it, by_string, "L") == pytest.approx([hypot(stops, rise) for rise in rises], abs=0.06)
    necks = [degrees(atan(rise / stops)) for rise in rises]
    assert column(it, by_string, "a, °") == pytest.approx(necks, abs=0.01)
    heights = [
        each + (seat - of["P"] - each) * of["FB"] / stops + fall
        for each, seat, fall in zip(over, seats, column(it, by_string, "s"), strict=True)
    ]
    assert column(it, by_string, "height") == pytest.approx(heights, abs=0.02)
    pulls = column(it, "The pull", "T, N")
    masses, pitches = column(it, "The pull", "g/m"), column(it, "The pull", "Hz")
    for pull, mass, pitch in zip(pulls, masses, pitches, strict=True):
        assert mass / 1000 * (2 * of["L"] / 1000 * pitch) ** 2 == pytest.approx(pull, rel=0.002)
    mean_seat = sum(seat * pull for seat, pull in zip(seats, pulls, strict=True)) / sum(pulls)
    tail = degrees(atan((belly + mean_seat - of["z"]) / (of["B"] - of["S"])))
    assert figures["Angle behind the bridge, b"] == pytest.approx(tail, abs=0.01)
    assert figures["Angle of the strings over the bridge"] == pytest.approx(180 - tail - sum(necks) / 4, abs=0.06)
    loads = [pull * (sin(radians(neck)) + sin(radians(tail))) for pull, neck in zip(pulls, necks, strict=True)]
    assert column(it, by_string, "load, N") == pytest.approx(loads, abs=0.06)
    assert figures["Load on the bridge"] == pytest.approx(sum(loads), abs=0.2)
    feet = 0.72 * of["F"]
    treble = sum(load * (0.5 + y / feet) for load, y in zip(loads, places, strict=True))
    assert figures["Load of the treble foot"] == pytest.approx(treble, abs=0.2)
    push = sum(pull * (cos(radians(neck)) - cos(radians(tail))) for pull, neck in zip(pulls, necks, strict=True))
    assert figures["Pull of the crown toward the nut"] == pytest.approx(push, abs=0.1)


def test_every_figure_says_how_it_was_come_by_and_by_which_rule() -> None:
    (it,) = worked(HEAD + BODY + FULL)
    assert it.figures
    assert all(figure.how == "worked out" and figure.rule and figure.source for figure in it.figures)
    pull = next(table for table in it.tables if table.caption.startswith("The pull"))
    assert "from a table" in pull.rule
    assert "from memory" in pull.rule


def test_then_and_now_stand_together_and_the_others_have_a_line() -> None:
    newest = LATER.replace("S2", "S3").replace("2024", "2025").replace("26.6", "26.4")
    full, others = worked(HEAD + BODY + FULL + LATER + newest)
    assert full.title == "Sheet S1, 2 May 2023, and now sheet S3, 2 May 2025"
    projection = next(figure for figure in full.figures if figure.name.startswith("Projection"))
    assert projection.value == "27.0, now 26.6"
    ((sheet, _, pull, load_n, angle, length),) = others.tables[0].rows
    assert sheet == "S2"
    assert all(NARROW.match(text) for text in (pull, load_n, angle, length))


def test_a_sheet_that_the_public_may_not_see_is_not_worked_out_for_it() -> None:
    archive = demo()
    public, shop = (project(archive, (), audience) for audience in ("public", "shop"))  # type: ignore[arg-type]
    told = {site.audience: str(site.instruments["YXSP8BQ"].setup_worked) for site in (public, shop)}
    hidden = [sheet.sheet for sheet in archive.instruments["YXSP8BQ"].record.setups or () if sheet.shown_to == "shop"]
    assert hidden
    for name in hidden:
        assert re.search(rf"\b{name}\b", told["shop"])
        assert not re.search(rf"\b{name}\b", told["public"])


def test_nothing_is_worked_out_of_nothing() -> None:
    assert worked(HEAD) == ()
    (it,) = worked(HEAD + "setups:\n  - sheet: S1\n    taken: {date: 2023}\n")
    assert it.figures == ()
    assert it.drawings == ()
    assert len(it.lacking) >= 2


def test_a_five_string_bass_is_worked_out_whole() -> None:
    archive = demo()
    (it,) = setup_worked(archive.instruments["PB8ANDH"].record)
    table = next(table for table in it.tables if table.caption.startswith("String by string"))
    assert [row[0] for row in table.rows] == ["B", "E", "A", "D", "G"]
    assert it.drawings
