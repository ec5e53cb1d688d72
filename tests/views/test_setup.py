"""The set-up table in words: then, now, moved."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from passport.analysis.windows import windows_of
from passport.records.catalogue import Archive, Filed
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import Model
from passport.records.model.workshop import Gauges, Workshop
from passport.views.desk import Desk
from passport.views.setup import CANNOT_TELL, NOT_RECORDED, setup_view
from passport.views.tree import SetupRow, SetupView
from tests.archives import record

MINUS = "\N{MINUS SIGN}"
WORKSHOP = """\
name: Tamm & Penn
people: {Jory: {name: Jory Penn}}
windows: [{kind: violin, overstand: 5.8-6.1}]
"""
MODEL = "model: harrow-1\nkind: violin\nsize: 4/4\ntitle: Harrow\ntargets: {string_length: 327-329}\n"
TEXT = """\
id: ZVSPYJH
kind: violin
size: 4/4
model: harrow-1
origin: made_here
setups:
  - sheet: S1
    taken: {date: 2021-11-18, when: delivered, by: Jory}
    role: reference
    state: {strings: at_pitch, a4: 440, temperature: 20, humidity: 47, days: 12}
    fitted: {bridge: B1, adjusters: [E, A]}
    string_length: 328
    projection: 27.0
    string_height: {G: 5.0, D: 4.7, E: {value: 3.5, accepted: as the player wished}, to: underside}
    string_spacing: {bridge: 33.5, bridge_steps: [11.3, 11.2, 11.0]}
    bridge: {height: 32.3, tilt: 0}
    soundpost: {behind_foot: 2.5}
    body_stop: 195
    heard: even
  - sheet: S2
    taken: {date: 2022-01-13, when: settled, by: Osk}
    state: {strings: at_pitch}
    soundpost: {behind_foot: 3.0}
    bridge: {tilt: -0.5}
    overstand: 6.2
  - sheet: S3
    taken: {date: 2024-08-19, when: after_work}
    state: {strings: at_pitch}
    string_length: 327.25
    projection: 26.8-27.2
    string_height: {G: 5.4, D: 4.7, to: underside}
"""


def view(text: str = TEXT) -> SetupView:
    made = setup_of(record(Instrument, text))
    assert made is not None
    return made


def setup_of(instrument: Instrument) -> SetupView | None:
    """The view of an instrument on the desk of a small workshop."""
    archive = Archive(
        root=Path(),
        today=date(2026, 1, 1),
        workshop=Filed("workshop.yml", record(Workshop, WORKSHOP)),
        gauges=Filed("gauges.yml", Gauges()),
        instruments={},
        wood={},
        varnish={},
        models={"harrow-1": Filed("models/harrow-1.yml", record(Model, MODEL))},
        private={},
        photos={},
        printed=(),
        unread=frozenset(),
        findings=(),
    )
    return setup_view(Desk(archive, "shop", {}), instrument, windows_of(archive, instrument))


def rows(made: SetupView) -> dict[str, SetupRow]:
    return {row.name: row for group in made.groups for row in group.rows}


def cells(row: SetupRow) -> tuple[str, ...]:
    return (row.then, row.now, row.moved, row.unit, row.now_from)


def test_the_sheets_say_who_measured_when_and_in_what_state() -> None:
    made = view()
    assert (made.reference.name, made.reference.by, made.reference.when) == ("S1", "Jory Penn", "delivered")
    words = "strung, at pitch, A4 440_Hz, 20_°C, 47_% humidity, 12 days in this climate"
    assert made.reference.state == words.replace("_", "\N{NARROW NO-BREAK SPACE}")
    assert [(fact.name, fact.value) for fact in made.reference.fitted] == [("Bridge", "B1"), ("Adjusters", "E, A")]
    assert made.reference.heard == "even"
    assert made.latest is not None
    assert (made.latest.name, made.latest.when) == ("S3", "after work")


def test_a_name_that_the_workshop_does_not_know_is_printed_as_written() -> None:
    later = TEXT.split("  - sheet: S3", maxsplit=1)[0]
    latest = view(later).latest
    assert latest is not None
    assert latest.by == "Osk"


def test_moved_has_the_sign_and_the_decimals_of_what_was_measured() -> None:
    found = rows(view())
    assert cells(found["String length"]) == ("328", "327.25", f"{MINUS}0.75", "mm", "")
    assert cells(found["Projection"]) == ("27.0", "26.8\N{EN DASH}27.2", "0.0", "mm", "")
    assert cells(found["String height, G"]) == ("5.0", "5.4", "+0.4", "mm", "")
    assert cells(found["String height, D"]) == ("4.7", "4.7", "0.0", "mm", "")
    assert cells(found["Bridge, tilt at the crown"]) == ("0", f"{MINUS}0.5", f"{MINUS}0.5", "mm", "S2")


def test_a_value_from_an_earlier_sheet_than_the_latest_names_its_sheet() -> None:
    assert cells(rows(view())["Post, behind the foot"]) == ("2.5", "3.0", "+0.5", "mm", "S2")


def test_a_value_that_was_not_measured_again_has_no_now_and_did_not_move() -> None:
    assert cells(rows(view())["Body stop"]) == ("195", "", "", "mm", "")


def test_a_value_that_only_a_later_sheet_has_was_not_recorded_then() -> None:
    assert cells(rows(view())["Overstand"]) == (NOT_RECORDED, "6.2", "", "mm", "S2")


def test_values_taken_in_another_state_or_to_another_point_cannot_be_told_apart() -> None:
    slack = view(
        TEXT.replace("state: {strings: at_pitch}\n    string_length", "state: {strings: slack}\n    string_length")
    )
    assert rows(slack)["String length"].moved == CANNOT_TELL
    assert rows(slack)["Post, behind the foot"].moved == "+0.5"
    centre = view(TEXT.replace("{G: 5.4, D: 4.7, to: underside}", "{G: 5.4, D: 4.7, to: centre}"))
    assert rows(centre)["String height, G"].moved == CANNOT_TELL
    assert rows(centre)["String length"].moved == f"{MINUS}0.75"


def test_a_step_between_strings_is_named_by_its_strings() -> None:
    names = [name for name in rows(view()) if "teps at the bridge" in name]
    assert names == [f"String spacing, steps at the bridge, {pair}" for pair in ("G to D", "D to A", "A to E")]


def test_what_is_asked_first_stands_in_the_headline_in_this_order() -> None:
    assert [row.name for row in view().headline] == [
        "String length", "Projection", "String height, G", "String height, E",
        "Post, behind the foot", "Bridge, height",
    ]  # fmt: skip


def test_the_point_measured_to_and_the_makers_words_travel_with_the_number() -> None:
    found = rows(view())
    assert found["String height, G"].note == "to the underside of the string"
    assert found["String height, E"].note == "to the underside of the string; as the player wished"


def test_every_quantity_of_every_sheet_stands_in_one_group() -> None:
    named = [row.name for group in view().groups for row in group.rows]
    assert len(named) == len(set(named)) == 14


def test_without_a_set_up_there_is_no_view() -> None:
    assert setup_of(record(Instrument, TEXT.split("setups:", maxsplit=1)[0])) is None


def test_each_value_stands_beside_its_window_with_whose_it_is() -> None:
    found = rows(view())
    beside = {name: (row.window, row.whose, row.mark) for name, row in found.items()}
    assert beside["String length"] == ("327\N{EN DASH}329", "model", "")
    assert beside["Overstand"] == ("5.8\N{EN DASH}6.1", "workshop", "above")
    assert beside["Projection"] == ("26\N{EN DASH}28", "trade", "")
    assert beside["Bridge, tilt at the crown"] == ("", "", "")


def test_the_last_value_is_the_one_that_is_marked() -> None:
    later = rows(view(TEXT.replace("string_length: 327.25", "string_length: 326.5")))["String length"]
    assert (later.then, later.now, later.mark) == ("328", "326.5", "below")
    back = rows(view(TEXT.replace("string_length: 328\n", "string_length: 331\n")))["String length"]
    assert (back.then, back.mark) == ("331", "")


def test_the_foot_of_the_table_says_what_stands_behind_the_windows() -> None:
    told = {fact.name: fact.value for fact in view().sources}
    assert (told["Model"], told["Workshop"]) == ("Harrow", "our own")
    assert "common practice, no source" in told["Trade"]
    assert "material is not recorded" in told["Strings"]
