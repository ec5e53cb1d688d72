"""What is an error, what a warning, what is noted, and of what nothing is said."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.analysis.windows import Window
from passport.checks import check, plausibility
from passport.findings import Code, Finding, Severity
from passport.records.catalogue import load
from passport.units import parse_amount
from tests.checks.examples import changed

HEAD = "schema: 1\nid: FF494KY\nkind: violin\nsize: 4/4\norigin: made_here\n"
SHEET = "setups:\n  - sheet: S1\n    taken: {date: 2023-05-02, when: delivered, by: Tobin}\n"
BODY = "measurements:\n  - taken: {date: 2023-05-02, when: in_the_white, by: Nella}\n"


def judged(root: Path, text: str) -> list[Finding]:
    """Findings of this family on one instrument of the good archive."""
    (root / "instruments/FF494KY.yml").write_text(text, encoding="utf-8")
    return list(plausibility.of_instrument(load(root), "FF494KY"))


def codes(root: Path, text: str) -> list[str]:
    return [finding.code.slug for finding in judged(root, text)]


@pytest.mark.parametrize(
    ("line", "likely"),
    [
        ("body_length: {caliper: 35.5}", "355"),
        ("body_length: {caliper: 3550}", "355"),
        ("body_length: {caliper: 14}", "355.6"),
        ("body_length: {caliper: 535}", "355"),
        ('body_length: {caliper: "355 in"}', "355"),
        ("bout_width: {lower: 2060}", "206"),
        ("rib_height: {neck: 300-302}", "30–30.2"),
        ("arch_height: {top: 1.55}", "15.5"),
    ],
)
def test_slip_of_typing_is_an_error_that_names_the_likely_value(archive: Path, line: str, likely: str) -> None:
    (finding,) = judged(archive, f"{HEAD}{BODY}    {line}\n")
    assert finding.code is Code.SLIP
    assert finding.severity is Severity.ERROR
    assert f"is it {likely}, " in finding.todo


@pytest.mark.parametrize(
    "line",
    [
        "overstand: 0.6",  # an old neck, set nearly level
        "overstand: 2.6",
        "string_height: {E: 0.35, to: underside}",
        "string_height: {E: 6.3, to: underside}",
        "soundpost: {inset_from_foot_edge: 5}",
        "soundpost: {behind_foot: 25}",
        "afterlength: {A: 45}",
        "string_length: 352",
        "projection: 20",
    ],
)
def test_rare_value_is_never_an_error(archive: Path, line: str) -> None:
    assert codes(archive, f"{HEAD}{SHEET}    {line}\n") == ["unusual-value"]


@given(number=st.floats(0.55, 1.75))
def test_nothing_near_its_window_is_an_error(number: float) -> None:
    window = Window(90.0, 110.0, 100.0, "mm", "trade", "")
    amount = parse_amount(f"{100 * number:.1f}", "mm")
    assert plausibility._slip(amount, window, ("projection",)) == ""  # noqa: SLF001 - the rule itself


def test_unusual_value_says_its_window_whose_it_is_and_where_that_is_from(archive: Path) -> None:
    (trade,) = judged(archive, f"{HEAD}{SHEET}    projection: 25\n")
    assert "25 lies below 26–28 mm, the trade’s window (published: a page on fingerboards)" in trade.what
    changed(archive, "workshop.yml", "a4: 440\n", "a4: 440\nwindows: [{kind: violin, projection: 25.5-28}]\n")
    (ours,) = judged(archive, f"{HEAD}{SHEET}    projection: 25\n")
    assert "among the workshop’s own windows" in ours.what
    (model,) = judged(archive, f"{HEAD}model: plain-violin\n{SHEET}    string_height: {{E: 4.5, to: underside}}\n")
    assert "the window of model plain-violin" in model.what
    assert {finding.severity for finding in (trade, ours, model)} == {Severity.WARNING}


def test_accepted_value_is_noted_and_not_called_anything_else(archive: Path) -> None:
    (finding,) = judged(archive, f"{HEAD}{SHEET}    projection: {{value: 250, accepted: it is so}}\n")
    assert finding.code is Code.ACCEPTED
    assert finding.severity is Severity.NOTE
    assert finding.what.endswith("accepted: it is so")
    assert codes(archive, f"{HEAD}{SHEET}    projection: {{value: 27, accepted: it is so}}\n") == []


@pytest.mark.parametrize("when", ["as_received", "before_work"])
def test_sheet_of_an_instrument_as_it_came_in_is_there_for_what_is_unusual(archive: Path, when: str) -> None:
    sheet = SHEET.replace("delivered", when)
    assert codes(archive, f"{HEAD}{sheet}    projection: 22\n    string_height: {{E: 35, to: underside}}\n") == []
    assert codes(archive, f"{HEAD}{sheet}    string_length: 32.7\n") == ["slip-of-typing"]


def test_trial_is_a_trial(archive: Path) -> None:
    assert codes(archive, f"{HEAD}{SHEET}    role: trial\n    projection: 30\n") == []
    assert codes(archive, f"{HEAD}{SHEET}    role: trial\n    projection: 270\n") == ["slip-of-typing"]


@pytest.mark.parametrize(("state", "said"), [("at_pitch", 1), ("slack", 0), ("none", 0)])
def test_height_of_strings_that_are_not_at_pitch_says_nothing(archive: Path, state: str, said: int) -> None:
    sheet = f"{HEAD}{SHEET}    state: {{strings: {state}}}\n"
    assert len(judged(archive, f"{sheet}    string_height: {{E: 5.5, to: underside}}\n")) == said
    assert codes(archive, f"{sheet}    tailpiece_length: 120\n") == ["unusual-value"]


@pytest.mark.parametrize("origin", ["customer", "second_hand", "set_up_here"])
def test_dimensions_of_other_hands_work_are_facts(archive: Path, origin: str) -> None:
    head = HEAD.replace("made_here", origin)
    assert codes(archive, f"{head}{BODY}    body_length: {{caliper: 348}}\n") == []
    assert (
        codes(archive, f"{head}{BODY}    body_length: {{caliper: 34.8}}\n") == []
    )  # ten times 34.8 is not usual either
    assert codes(archive, f"{head}{BODY}    body_length: {{caliper: 35.2}}\n") == ["slip-of-typing"]
    assert codes(archive, f"{head}{SHEET}    string_length: 320\n    tailpiece_length: 120\n") == ["unusual-value"]


def test_of_a_plate_the_point_furthest_out_is_reported_once(archive: Path) -> None:
    plates = "plates:\n  top:\n    thickness:\n      200: [3.0, 2.0, 2.9]\n      160: [2.8, 1.9, 27]\n"
    slip, unusual = judged(archive, HEAD + plates)
    assert (slip.code, slip.path[3:]) == (Code.SLIP, ("160", 2))
    assert (unusual.code, unusual.path[3:]) == (Code.UNUSUAL, ("160", 1))
    assert "2 points in all" in unusual.what


def test_masses_taps_and_the_bar_are_held_too(archive: Path) -> None:
    stages = (
        "    stages:\n      - {when: f_holes_cut, mass: 90}\n      - {when: bass_bar_fitted, mode5: 500}\n"
        "      - {when: arching_done, mass: 300}\n"
    )
    bar = "    bass_bar: {length: 2750, thickness: 5.5}\n"
    assert sorted(codes(archive, f"{HEAD}plates:\n  top:\n{stages}{bar}")) == [
        "slip-of-typing", "unusual-value", "unusual-value",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("event", "found"),
    [
        ("{event: neck_set, projection: 25}", ["unusual-value"]),
        ("{event: neck_set, projection: 2.7}", ["slip-of-typing"]),
        ("{event: intake, projection: 25}", []),
        ("{event: neck_set, humidity: 145}", ["impossible-value"]),
        ("{event: neck_set, overstand: 6.1, projection: 27}", []),
    ],
)
def test_events_are_held_by_what_they_are(archive: Path, event: str, found: list[str]) -> None:
    assert codes(archive, f"{HEAD}history: [{event}]\n") == found


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("wood/MA10.yml", "pieces: 6", "pieces: 6\nmoisture: [{date: 2020, value: 300}]"),
        ("wood/MA10.yml", "pieces: 6", "pieces: 6\nsound_speed: {along: 52000}"),
        ("wood/MA10.yml", "pieces: 6", "pieces: 6\nstorage: {humidity: 101}"),
        ("varnish/OV20.yml", "batch: OV20", "batch: OV20\nsolids: 120"),
        ("varnish/OV20.yml", "batch: OV20", "batch: OV20\nrecipe: {cook: [{after: 1, temperature: 900}]}"),
        ("workshop.yml", "a4: 440", "a4: 44"),
        ("models/plain-violin.yml", "size: 4/4", "size: 4/4\nplates: {top: {mass: -60}}"),
    ],
)
def test_what_cannot_be_is_an_error_in_every_record(archive: Path, file: str, old: str, new: str) -> None:
    if "plates:" in new:
        text = (archive / file).read_text(encoding="utf-8")
        (archive / file).write_text(text.split("plates:")[0] + "plates: {top: {mass: -60}}\n", encoding="utf-8")
    else:
        changed(archive, file, old, new)
    assert "impossible-value" in [finding.code.slug for finding in check(load(archive))]


@pytest.mark.parametrize(
    ("new", "found"),
    [
        ("projection: 270", ["slip-of-typing"]),
        ("projection: 20", []),  # an aim of one's own
        ("string_length: 32.5-32.9", ["slip-of-typing"]),
    ],
)
def test_windows_of_the_workshop_and_targets_of_models_are_looked_at_for_slips(
    archive: Path, new: str, found: list[str]
) -> None:
    changed(archive, "workshop.yml", "a4: 440\n", f"a4: 440\nwindows: [{{kind: violin, size: 4/4, {new}}}]\n")
    changed(archive, "models/plain-violin.yml", "targets:\n", f"targets:\n  {new}\n")
    slips = [finding.code.slug for finding in check(load(archive)) if "instruments/" not in finding.file]
    assert slips == found * 2


def test_slip_in_a_model_makes_no_error_of_what_is_right(archive: Path) -> None:
    changed(archive, "models/plain-violin.yml", "targets:\n", "targets:\n  string_length: 32.5-32.9\n")
    assert codes(archive, f"{HEAD}model: plain-violin\n{SHEET}    string_length: 328\n") == ["unusual-value"]


def test_windows_of_the_workshop_name_a_size_and_strings_of_their_kind(archive: Path) -> None:
    groups = "windows: [{kind: violin, size: 9/8}, {kind: cello, string_height: {E: 3-4}}, {size: 4/4}]\n"
    changed(archive, "workshop.yml", "a4: 440\n", f"a4: 440\n{groups}")
    assert sorted(finding.code.slug for finding in check(load(archive))) == [
        "bad-size",
        "missing-field",
        "unknown-string",
    ]


@pytest.mark.parametrize(
    "line",
    [
        "string_density: {G: 28}", "string_density: {G: 0.28}", 'string_density: {G: "2.8 kg/m"}',
        "string_density: {G: 0}", "string_diameter: {G: 8.0}", "string_diameter: {G: 0.08}",
    ],
)  # fmt: skip
def test_a_string_that_no_instrument_of_its_kind_has_is_impossible(archive: Path, line: str) -> None:
    (finding,) = judged(archive, f"{HEAD}{SHEET}    {line}\n")
    assert finding.code is Code.IMPOSSIBLE
    assert finding.path[:3] == ("setups", 0, line.split(":", maxsplit=1)[0])


@pytest.mark.parametrize("line", ["string_density: {G: 2.7, E: 0.42}", "string_diameter: {G: 0.8, E: 0.26}"])
def test_usual_strings_are_left_in_peace(archive: Path, line: str) -> None:
    assert judged(archive, f"{HEAD}{SHEET}    {line}\n") == []


@pytest.mark.parametrize(
    "coat",
    [
        "effective_irradiance: -1",
        "effective_irradiance: 0",
        "irradiance: 10000",
        "hours: -20",
        "dose: -5",
        "wet_mass: -3",
    ],
)
def test_light_and_masses_that_cannot_be_are_errors(archive: Path, coat: str) -> None:
    (finding,) = judged(archive, f"{HEAD}varnish:\n  - {{date: 2023-01-01, coat: 1, uv: led, {coat}}}\n")
    assert finding.code is Code.IMPOSSIBLE


def test_a_plate_thinner_than_nothing_is_an_error(archive: Path) -> None:
    (finding,) = judged(archive, f"{HEAD}plates: {{top: {{thickness: {{160: [2.8, -2.8, 2.8]}}}}}}\n")
    assert (finding.code, finding.path[-1]) == (Code.IMPOSSIBLE, 1)
