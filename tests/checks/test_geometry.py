"""What is said of a set-up whose measures do not agree, at which place, and of what nothing is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from passport.checks import geometry
from passport.findings import Finding, Severity
from passport.records.catalogue import load
from tests.analysis.test_strung import BODY, FULL, HEAD, LATER, nominal_setup

STEM = "FF494KY"
RIGHT = HEAD + BODY + FULL.replace("string_length: 327", "string_length: 328")


def judged(root: Path, text: str) -> list[Finding]:
    """Findings of this family on one instrument of the good archive."""
    (root / f"instruments/{STEM}.yml").write_text(text, encoding="utf-8")
    return list(geometry.of_instrument(load(root), STEM))


def codes(root: Path, text: str) -> list[str]:
    return [finding.code.slug for finding in judged(root, text)]


def other(old: str, new: str, text: str = RIGHT) -> str:
    assert text.count(old) == 1, old
    return text.replace(old, new)


def test_of_a_set_up_that_agrees_nothing_is_said(archive: Path) -> None:
    assert codes(archive, RIGHT) == []
    assert codes(archive, RIGHT + LATER) == []


@pytest.mark.parametrize(
    ("old", "new", "slug", "path"),
    [
        ("projection: 27.0", "projection: 24.0", "set-up-does-not-close", ("setups", 0, "projection")),
        ("height: 32.3", "height: 34.3", "set-up-does-not-close", ("setups", 0, "bridge", "height")),
        ("string_length: 328", "string_length: 325", "string-length-differs", ("setups", 0, "string_length")),
        ("G: 5.0, D: 4.7", "G: 4.6, D: 4.8", "string-heights-out-of-order", ("setups", 0, "string_height", "D")),
        ("[11.3, 11.2, 11.0]", "[11.8, 11.2, 10.5]", "uneven-gaps", ("setups", 0, "string_spacing", "bridge_steps", 0)),
        ("[11.3, 11.2, 11.0]", "[11.6, 11.6, 11.3]", "steps-differ-from-spacing",
         ("setups", 0, "string_spacing", "bridge_steps")),
        ("projection: 27.0", "projection: 32.4", "set-up-cannot-be", ("setups", 0, "projection")),
        ("crown_radius: 41", "crown_radius: 14", "set-up-cannot-be", ("setups", 0, "bridge", "crown_radius")),
        ("{length: 270", "{length: 330", "set-up-cannot-be", ("measurements", 0, "fingerboard", "length")),
    ],
)  # fmt: skip
def test_each_fault_is_told_once_at_its_place(
    archive: Path, old: str, new: str, slug: str, path: tuple[str | int, ...]
) -> None:
    (finding,) = judged(archive, other(old, new))
    assert (finding.code.slug, finding.path) == (slug, path)
    assert (finding.severity is Severity.ERROR) == (slug == "set-up-cannot-be")


def test_a_set_up_that_does_not_close_names_both_sides_and_what_to_measure_first(archive: Path) -> None:
    (finding,) = judged(archive, other("height: 32.3", "height: 34.3"))
    assert "projection 27.0 mm" in finding.what
    assert "G 5.0, D 4.7, A 4.2, E 3.5" in finding.what
    assert "34.3 mm" in finding.what
    assert "height of the bridge first" in finding.todo
    assert "32.3" in finding.todo


def test_neck_and_stop_usual_each_alone_and_not_together(archive: Path) -> None:
    text = other("{bass: 195.5, treble: 194.5}", "193", other("neck_stop: 130", "neck_stop: 131"))
    assert codes(archive, text) == ["neck-to-stop"]
    assert codes(archive, text.replace("made_here", "customer")) == []
    assert codes(archive, other("neck_stop: 131", "neck_stop: {value: 131, accepted: asked for}", text)) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("projection: 27.0", "projection: {value: 24.0, accepted: an old neck}"),
        ("string_length: 328", "string_length: {value: 325, accepted: the bridge stands forward}"),
        ("G: 5.0, D: 4.7", "G: 4.6, D: {value: 4.8, accepted: a stiff D}"),
        ("[11.3, 11.2, 11.0]", "[{value: 11.8, accepted: a wide G}, 11.2, 10.5]"),
    ],
)
def test_what_is_accepted_is_let_be(archive: Path, old: str, new: str) -> None:
    assert codes(archive, other(old, new)) == []


@pytest.mark.parametrize("when", ["as_received", "before_work"])
def test_a_sheet_taken_as_it_came_in_is_asked_only_for_what_can_be(archive: Path, when: str) -> None:
    odd = other("when: delivered", f"when: {when}")
    assert codes(archive, other("projection: 27.0", "projection: 24.0", odd)) == []
    assert codes(archive, other("[11.3, 11.2, 11.0]", "[11.8, 11.2, 10.5]", odd)) == []
    assert codes(archive, other("projection: 27.0", "projection: 32.4", odd)) == ["set-up-cannot-be"]


def test_slack_strings_and_a_trial_are_not_asked(archive: Path) -> None:
    wrong = other("projection: 27.0", "projection: 24.0")
    assert codes(archive, other("at_pitch, a4: 440", "slack", wrong)) == []
    assert codes(archive, other("role: reference", "role: trial", wrong)) == []


def test_a_height_of_another_day_is_not_held_against_todays_projection(archive: Path) -> None:
    later = LATER.replace("    string_height: {G: 5.3, D: 5.0, A: 4.5, E: 3.8, to: underside}\n", "")
    assert codes(archive, RIGHT + later.replace("26.6", "24.6")) == []
    assert codes(archive, RIGHT + LATER.replace("26.6", "24.6")) == ["set-up-does-not-close"]


def test_without_a_side_view_the_string_length_is_held_against_the_stops(archive: Path) -> None:
    bare = HEAD + "setups:\n  - sheet: S1\n    taken: {date: 2023}\n    body_stop: 195\n    neck_stop: 130\n"
    # 2 to 9 mm longer than the stops, give or take the 2 mm of a bridge that is not on the nicks.
    assert codes(archive, bare + "    string_length: 328\n") == []
    assert codes(archive, bare + "    string_length: 330\n") == []
    longer = bare.replace("195", "197").replace("130", "131")
    assert codes(archive, longer + "    string_length: 325\n") == ["string-length-differs"]


def test_a_value_outside_its_own_window_is_left_to_plausibility(archive: Path) -> None:
    assert codes(archive, other("string_length: 328", "string_length: 238")) == []


@pytest.mark.parametrize(("kind", "size", "off"), [("viola", "407", 1.5), ("cello", "4/4", 2.5), ("bass", "3/4", 7)])
def test_each_kind_has_its_own_limit(archive: Path, kind: str, size: str, off: float) -> None:
    text = nominal_setup(kind, size)
    assert text is not None
    line = next(line for line in text.splitlines() if "projection" in line)
    nominal = float(line.split(":")[1])
    assert "set-up-does-not-close" not in codes(archive, text)
    assert "set-up-does-not-close" not in codes(archive, text.replace(line, f"    projection: {nominal + off / 2:g}"))
    assert "set-up-does-not-close" in codes(archive, text.replace(line, f"    projection: {nominal - off - 1:g}"))


def test_an_instrument_without_kind_or_set_up_is_passed_over(archive: Path) -> None:
    assert codes(archive, HEAD) == []
    assert codes(archive, RIGHT.replace("kind: violin\nsize: 4/4\n", "")) == []
