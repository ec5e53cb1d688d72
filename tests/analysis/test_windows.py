"""Which window counts: the model's, else the workshop's, else the trade's; and where there is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from passport.analysis.windows import Fitting, Window, Windows, fitting_of, materials_of, windows_of
from passport.records.catalogue import Archive, load
from passport.records.model.instrument import Instrument
from passport.units import parse_amount
from tests.archives import WORKSHOP, record, write

MODEL = """\
model: harrow-1
kind: violin
size: 4/4
targets:
  projection: 26.5-27.5
  overstand: 6
  bridge: {crown_radius: 41}
  rib_thickness: 1.0-1.2
  body_stop: {bass: 194.5-196, treble: 194-195}
  string_height: {G: 4.7-5.3, to: underside}
plates:
  top:
    thickness: {160: [2.7, 2.8, 3.0-3.2]}
    mass: 57-66
    mode5: 310-350
"""
WINDOWS = """\
windows:
  - {kind: violin, string_spacing: {nut: 16-16.4}, saddle_height_above_top: 3.9-4.1}
  - {kind: violin, size: 4/4, projection: 20-21, saddle_height_above_top: 3.5-4.5}
  - {kind: viola, overstand: 7-9}
"""
VIOLIN = "id: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\n"
PLAIN = Fitting({"G": "synthetic", "D": "synthetic", "A": "synthetic", "E": "steel"})


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return load(write(tmp_path, {"workshop.yml": WORKSHOP + WINDOWS, "models/harrow-1.yml": MODEL}))


def windows(archive: Archive, more: str = "", head: str = VIOLIN) -> Windows:
    return windows_of(archive, record(Instrument, head + more))


def ends(window: Window | None) -> tuple[str, float, float] | None:
    return (window.whose, window.low, window.high) if window else None


def test_model_comes_first_then_the_workshop_then_the_trade(archive: Archive) -> None:
    ours = windows(archive, "model: harrow-1\n")
    assert ends(ours.of(("projection",), PLAIN)) == ("model", 26.5, 27.5)
    assert ends(ours.of(("string_spacing", "nut"), PLAIN)) == ("workshop", 16, 16.4)
    assert ends(ours.of(("neck_stop",), PLAIN)) == ("trade", 129, 131)
    assert ends(windows(archive).of(("projection",), PLAIN)) == ("workshop", 20, 21)


def test_windows_of_a_size_come_before_those_of_all_sizes(archive: Archive) -> None:
    saddle = ("saddle_height_above_top",)
    assert ends(windows(archive).of(saddle, PLAIN)) == ("workshop", 3.5, 4.5)
    small = windows(archive, head=VIOLIN.replace("4/4", "3/4"))
    assert ends(small.of(saddle, PLAIN)) == ("workshop", 3.9, 4.1)
    viola = windows(archive, head=VIOLIN.replace("violin", "viola").replace("4/4", "405"))
    assert ends(viola.of(("overstand",), PLAIN)) == ("workshop", 7, 9)


def test_a_window_says_whose_it_is(archive: Archive) -> None:
    ours = windows(archive, "model: harrow-1\n")
    said = [ours.of(place, PLAIN) for place in (("projection",), ("string_spacing", "nut"), ("tailpiece_length",))]
    assert [window.source for window in said if window] == [
        "model harrow-1", "the workshop’s own windows", "handbooks of violin making, from memory",
    ]  # fmt: skip


def test_around_a_single_aim_lies_the_trades_half_width(archive: Archive) -> None:
    window = windows(archive, "model: harrow-1\n").of(("overstand",), PLAIN)
    assert ends(window) == ("model", 5.25, 6.75)  # the trade's 5.5 to 7 is 1.5 wide
    assert window is not None
    assert window.aim == 6
    radius = windows(archive, "model: harrow-1\n").of(("bridge", "crown_radius"), PLAIN)
    assert ends(radius) == ("model", 39.8, 42.2)  # 3 % where the trade has none


def test_a_value_for_everywhere_fits_where_any_place_does_and_the_other_way_round(archive: Archive) -> None:
    ours = windows(archive, "model: harrow-1\n")
    assert ends(ours.of(("body_stop", "value"), PLAIN)) == ("model", 194, 196)
    assert ends(ours.of(("body_stop", "treble"), PLAIN)) == ("model", 194, 195)
    assert ends(ours.of(("rib_thickness", "bottom"), PLAIN)) == ("model", 1.0, 1.2)


@pytest.mark.parametrize(
    ("material", "low", "high"), [("steel", 4.0, 5.0), ("synthetic", 4.5, 5.5), ("gut", 5.5, 6.5), ("", 4.0, 6.5)]
)
def test_string_heights_follow_the_string_fitted(archive: Archive, material: str, low: float, high: float) -> None:
    window = windows(archive).of(("string_height", "G"), Fitting({"G": material}))
    assert ends(window) == ("trade", low, high)
    assert window is not None
    assert ("not recorded" in window.condition) is (material == "")


def test_heights_to_the_centre_are_half_a_string_more(archive: Archive) -> None:
    to_centre = Fitting({"G": "synthetic"}, (), {"string_height": "centre"})
    # A violin's G is 0.8 mm thick: from memory.
    assert ends(windows(archive).of(("string_height", "G"), to_centre)) == ("trade", 4.9, 5.9)
    assert ends(windows(archive, "model: harrow-1\n").of(("string_height", "G"), to_centre)) == ("model", 5.1, 5.7)


@pytest.mark.parametrize(
    "strings",
    [
        "[{tuning: C3}, {tuning: G3}, {tuning: D4}, {tuning: A4}, {tuning: E5}]",
        "[{tuning: C3}, {tuning: G3}, {tuning: D4}, {tuning: A4}]",
        "[{tuning: A3}, {tuning: E4}, {tuning: B4}, {tuning: F#5}]",
    ],
)
def test_other_strings_than_the_usual_have_no_window_rather_than_a_wrong_one(archive: Archive, strings: str) -> None:
    ours = windows(archive, f"model: harrow-1\nstrings: {strings}\n")
    for place in (
        ("string_height", "G"),
        ("string_spacing", "nut"),
        ("afterlength", "A"),
        ("fingerboard", "width_nut"),
    ):
        assert ours.of(place, PLAIN) is None
    assert ours.of(("projection",), PLAIN) is not None


def test_left_handed_instruments_have_the_same_heights_by_string(archive: Archive) -> None:
    left = windows(archive, "handed: left\n")
    assert left.of(("string_height", "E"), PLAIN) == windows(archive).of(("string_height", "E"), PLAIN)


def test_nothing_is_known_of_a_string_an_instrument_has_not_or_of_a_kind_without_a_table(archive: Archive) -> None:
    assert windows(archive).of(("afterlength", "C"), PLAIN) is None
    bass = windows(archive, head="id: ZVSPYJH\nkind: bass\nsize: 7/8\norigin: made_here\n")
    assert bass.of(("string_length",), PLAIN) is None


def test_a_model_of_another_kind_asks_nothing(archive: Archive) -> None:
    cello = windows(archive, "model: harrow-1\n", VIOLIN.replace("violin", "cello"))
    assert ends(cello.of(("projection",), PLAIN)) == ("trade", 79, 84)


def test_an_e_string_with_an_adjuster_may_be_shorter_behind_the_bridge(archive: Archive) -> None:
    ours = windows(archive)
    assert ends(ours.of(("afterlength", "E"), PLAIN)) == ("trade", 52.5, 56)
    adjusted = Fitting({}, ("E", "A"))
    assert ours.of(("afterlength", "E"), adjusted) is None
    assert ours.of(("afterlength", "A"), adjusted) is not None


def test_length_with_the_callipers_and_over_the_arch_have_windows_of_their_own(archive: Archive) -> None:
    straight, over = (windows(archive).of(("body_length", how), PLAIN) for how in ("caliper", "over_arch"))
    assert straight is not None
    assert over is not None
    assert (over.low > straight.low, over.high > straight.high) == (True, True)


def test_thickness_is_held_against_the_models_point_else_against_the_plate(archive: Archive) -> None:
    ours = windows(archive, "model: harrow-1\n")
    assert ends(ours.of_thickness("top", "160", 0, 3)) == ("model", 2.4, 3.0)
    assert ends(ours.of_thickness("top", "160", 2, 3)) == ("model", 3.0, 3.2)
    assert ends(ours.of_thickness("top", "160", 0, 5)) == ("trade", 2.2, 4.5)
    assert ends(ours.of_thickness("back", "160", 0, 3)) == ("trade", 2.1, 5.0)


def test_a_models_mass_is_without_the_bar_and_its_taps_with_it(archive: Archive) -> None:
    ours = windows(archive, "model: harrow-1\n")
    stage = ("plates", "top", "stages")
    assert ends(ours.of((*stage, "f_holes_cut", "mass"), PLAIN)) == ("model", 57, 66)
    assert ends(ours.of((*stage, "bass_bar_fitted", "mass"), PLAIN)) == ("trade", 58, 78)
    assert ends(ours.of((*stage, "bass_bar_fitted", "mode5"), PLAIN)) == ("model", 310, 350)
    assert ours.of((*stage, "f_holes_cut", "mode5"), PLAIN) is None


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("medium, steel E, synthetic A D G", {"E": "steel", "A": "synthetic", "D": "synthetic", "G": "synthetic"}),
        ("steel core, adjusters in the tailpiece", {"": "steel"}),
        ("synthetic, steel A", {"": "synthetic", "A": "steel"}),
        ("steel E, gut A D, wound G", {"E": "steel", "A": "gut", "D": "gut"}),
        ("Gut; E steel", {"": "gut", "E": "steel"}),
        ("orchestral, low B heavy", {}),
        ("steel or synthetic", {}),
    ],
)
def test_materials_are_read_from_what_was_fitted(said: str, found: dict[str, str]) -> None:
    assert materials_of(said) == found


def test_a_sheet_that_names_no_strings_has_those_last_named_before() -> None:
    sheets = "setups:\n" + "".join(
        f"  - {{sheet: S{number}, taken: {{date: 202{number}}}{fitted}}}\n"
        for number, fitted in enumerate(
            (', fitted: {strings: "gut"}', "", ', fitted: {strings: "synthetic, steel E"}', "")
        )
    )
    violin = record(Instrument, VIOLIN + sheets)
    materials = [fitting_of(violin, sheet).materials for sheet in violin.setups or ()]
    assert [each["E"] for each in materials] == ["gut", "gut", "steel", "steel"]
    assert [each["G"] for each in materials] == ["gut", "gut", "synthetic", "synthetic"]


def test_the_strings_of_the_instrument_itself_count_before_the_set() -> None:
    text = "strings: [{tuning: G3, note: gut}, {tuning: D4}, {tuning: A4}, {tuning: E5}]\n"
    text += "setups:\n  - {sheet: S1, taken: {date: 2021}, fitted: {strings: steel}}\n"
    violin = record(Instrument, VIOLIN + text)
    materials = fitting_of(violin, (violin.setups or ())[0]).materials
    assert materials == {"G": "gut", "D": "steel", "A": "steel", "E": "steel"}


@pytest.mark.parametrize(
    ("typed", "side"),
    [
        ("26", ""),
        ("28", ""),
        ("25.9", "below"),
        ("28.1", "above"),
        ("26-28", ""),
        ("25.5-27", "below"),
        ("27-29", "above"),
    ],
)
def test_both_ends_of_a_range_count(typed: str, side: str) -> None:
    assert Window(26, 28, None, "mm", "trade", "").side(parse_amount(typed, "mm")) == side


def test_a_value_that_equals_the_end_that_is_shown_lies_inside() -> None:
    window = Window(0.2549, 0.6171, None, "mm", "trade", "")
    assert window.side(parse_amount("0.62", "mm")) == ""
    assert window.side(parse_amount("0.25", "mm")) == ""
    assert window.side(parse_amount("0.63", "mm")) == "above"
    assert window.side(parse_amount("0.24", "mm")) == "below"
