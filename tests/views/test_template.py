"""Templates as views: plain values only, and of every number where it is from."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from passport.errors import PassportError
from passport.records.catalogue import Archive, load
from passport.reference.kinds import KINDS
from passport.views.bar_template import bar_template
from passport.views.bridge_template import bridge_template
from passport.views.post_template import post_template
from passport.views.template import LEFT_HANDED
from passport.views.tree import TemplateView
from tests import archives
from tests.views.test_plain import strange

HOW = {"measured", "worked out", "from a table", "assumed", "given"}


@pytest.fixture(scope="module")
def templates() -> list[TemplateView]:
    demo = archives.demo()
    made = [(bridge_template(demo, stem, 27.0 if stem == "ZVSPYJH" else None, {}), post_template(demo, stem),
             bar_template(demo, stem)) for stem in ("ZVSPYJH", "YXSP8BQ", "8NG3NYF")]  # fmt: skip
    return [view for views in made for view in views]


def test_a_template_is_made_of_plain_values(templates: list[TemplateView]) -> None:
    assert [place for view in templates for place in strange(view, view.title)] == []


def test_every_number_says_how_it_was_come_by(templates: list[TemplateView]) -> None:
    for view in templates:
        assert {worked.how for worked in view.used} <= HOW
        for worked in view.used:
            assert worked.source or worked.rule, worked.name
            assert worked.value, worked.name


def test_what_may_hurt_has_its_caution(templates: list[TemplateView]) -> None:
    assert all(view.cautions for view in templates)


def test_seats_can_be_done_again_by_hand_from_what_is_printed(templates: list[TemplateView]) -> None:
    view = templates[0]
    said = {worked.name: worked.value for worked in view.used}
    projection, stops = float(said["Projection"]), float(said["Stops together"])
    share, radius = float(said["Fingerboard, length"]) / stops, float(said["Fingerboard, radius"])
    for row in view.tables[0].rows:
        height, clearance, nut, end, _, lower, seat = (float(word.replace("\u2212", "-")) for word in row[1:8])
        crown = [radius - (radius**2 - place**2) ** 0.5 for place in (nut, end)]
        assert crown[0] + (crown[1] - crown[0]) / share == pytest.approx(lower, abs=0.02)
        assert projection - lower + clearance + (height - clearance) / share == pytest.approx(seat, abs=0.06)


def bridge(archive: Archive, stem: str) -> TemplateView:
    return bridge_template(archive, stem, None, {})


@pytest.mark.parametrize("make", [bridge, post_template, bar_template])
def test_every_instrument_of_the_demo_is_drawn_or_refused_in_words(
    make: Callable[[Archive, str], TemplateView],
) -> None:
    demo = archives.demo()
    drawn: set[str | None] = set()
    refused: list[PassportError] = []
    for stem, filed in demo.instruments.items():
        try:
            make(demo, stem)
            drawn.add(filed.record.kind)
        except PassportError as refusal:
            refused.append(refusal)
    assert drawn == set(KINDS)
    assert all(refusal.todo for refusal in refused)


def test_a_left_handed_instrument_is_told_to_turn_the_sheet(tmp_path: Path) -> None:
    text = (archives.DEMO / "instruments" / "ZVSPYJH.yml").read_text("utf-8")
    for changed, said in ((text, False), (f"{text}\nhanded: left\n", True)):
        root = archives.write(tmp_path / str(said), {"instruments/ZVSPYJH.yml": changed})
        assert (LEFT_HANDED in post_template(load(root), "ZVSPYJH").lines) is said
