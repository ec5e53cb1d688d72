from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passport.findings import Code
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.values import Millimetres
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.records.reader import read
from passport.records.validation import validated

HEAD = "id: CZ6EP3J\nkind: violin\nsize: 4/4\norigin: made_here\n"
SHEET = HEAD + "setups:\n  - taken: {date: 2023-05-02}\n"
KINDS = (Instrument, Model, VarnishBatch, WoodLot, Gauges, Private, Workshop)


def checked(text: str, kind: type[Record] = Instrument) -> tuple[Any, list[tuple[str, int, int]]]:
    """Give the record and its findings with their places."""
    reading = read(text.encode(), "r.yml")
    assert reading.findings == ()
    record, findings = validated(kind, reading.tree, "r.yml")
    placed = [(found.code.slug, *reading.place_of(found.path, on_key=found.on_key)) for found in findings]
    return record, sorted(placed, key=lambda found: (found[1:], found[0]))


def todo_of(text: str, kind: type[Record] = Instrument) -> str:
    (finding,) = validated(kind, read(text.encode(), "r.yml").tree, "r.yml")[1]
    return finding.todo


def setup(fields: str) -> tuple[Any, list[tuple[str, int, int]]]:
    """Check a set-up sheet with one more line, the seventh of the file; columns as in that line."""
    record, found = checked(f"{SHEET}    {fields}\n")
    return record.setups[0], found


# --- value forms ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "low", "high"),
    [
        ("328", 328, 328),
        ("328.50", 328.5, 328.5),
        ('"328,5"', 328.5, 328.5),
        ("327-329", 327, 329),
        ("12 7/8 in", 327.025, 327.025),  # 1 in = 25.4 mm, exact
        ("32.8 cm", 328, 328),
        ("{value: 328}", 328, 328),
        ("{value: 327-329, gauge: rule, note: by eye, accepted: long neck}", 327, 329),
    ],
)
def test_measured_value_may_be_bare_or_a_group(typed: str, low: float, high: float) -> None:
    sheet, found = setup(f"string_length: {typed}")
    assert found == []
    assert isinstance(sheet.string_length, Millimetres)
    assert (sheet.string_length.value.low, sheet.string_length.value.high) == pytest.approx((low, high))


def test_what_stands_beside_a_value_is_kept() -> None:
    sheet, _ = setup("string_length: {value: 328, gauge: rule, note: by eye, accepted: long neck}")
    assert (sheet.string_length.gauge, sheet.string_length.note, sheet.string_length.accepted) == (
        "rule", "by eye", "long neck",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "found"),
    [
        ("string_length: long", [("bad-number", 7, 20)]),
        ("string_length: 1_000", [("bad-number", 7, 20)]),
        ("string_length: 1e3", [("bad-number", 7, 20)]),
        ("string_length: .nan", [("bad-number", 7, 20)]),
        ("string_length: .inf", [("bad-number", 7, 20)]),
        ("string_length: 329-327", [("bad-number", 7, 20)]),
        ("string_length: 3/8", [("bad-number", 7, 20)]),
        ("string_length: 328 mn", [("bad-unit", 7, 20)]),
        ("string_length: 328 g", [("bad-unit", 7, 20)]),
        ("string_length: {value: long, gauge: rule}", [("bad-number", 7, 28)]),
        ("string_length: {gauge: rule}", [("missing-field", 7, 5)]),
        ("string_length: {valu: 3, gauge: rule}", [("missing-field", 7, 5), ("unknown-field", 7, 21)]),
        ("string_length: [328]", [("wrong-shape", 7, 20)]),
        ("string_length: {value: [328]}", [("wrong-shape", 7, 28)]),
        ("string_height: {G: 5.0, H: 4.6}", [("unknown-string", 7, 29)]),
        ("string_height: {G: tall, E: {value: low}}", [("bad-number", 7, 24), ("bad-number", 7, 41)]),
        ("string_height: {G: 5.0, to: top}", [("not-a-known-word", 7, 33)]),
        ("string_height: 5.0", [("wrong-shape", 7, 20)]),
        ("body_stop: {bass: x, trebel: 195}", [("bad-number", 7, 23), ("unknown-field", 7, 26)]),
        ("body_stop: x", [("bad-number", 7, 16)]),
        ("body_stop: {value: x, gauge: rule}", [("bad-number", 7, 24)]),
        ("arch_height: {top: 15, belly: 3}", [("unknown-field", 7, 28)]),
        ("string_spacing: {bridge_steps: [11, x, 12]}", [("bad-number", 7, 41)]),
        ("string_spacing: {bridge_steps: [11, {note: y}, 12]}", [("missing-field", 7, 41)]),
        ("string_spacing: {bridge_steps: 11}", [("wrong-shape", 7, 36)]),
        ("audience: everyone", [("not-a-known-word", 7, 15)]),
        ("audience: [shop]", [("wrong-shape", 7, 15)]),
    ],
)
def test_fault_of_a_value_is_placed_and_takes_nothing_else_with_it(
    fields: str, found: list[tuple[str, int, int]]
) -> None:
    record, faults = checked(f"{SHEET}    {fields}\n    overstand: 6.2\n")
    assert faults == found
    assert record.id == "CZ6EP3J"
    assert record.setups[0].taken.date.text == "2023-05-02"
    assert record.setups[0].overstand.value.low == 6.2


@pytest.mark.parametrize("typed", ["195", "{value: 195, note: both alike}"])
def test_one_value_may_stand_for_all_stations(typed: str) -> None:
    sheet, found = setup(f"body_stop: {typed}")
    assert found == []
    assert sheet.body_stop.value.value.low == 195
    assert sheet.body_stop.bass is None


def test_string_still_to_be_filled_is_passed_over() -> None:
    sheet, found = setup("string_height: {G: , D: 4.6, to: underside}")
    assert found == []
    assert list(sheet.string_height.strings) == ["D"]


def test_single_word_may_stand_for_a_list_of_words() -> None:
    record, found = checked("lot: WI01\nspecies: Salix alba\nuses: blocks\n", WoodLot)
    assert (record.uses, found) == (("blocks",), [])


# --- several faults ---------------------------------------------------------------------------------


def test_faults_of_one_record_are_all_found_at_once() -> None:
    text = (
        "id: CZ6EP30\nkind: violine\nsize: [4/4]\nhanded: both\nsets: 1\n"
        "made: {finished: 2023-13, plaice: here}\nparts: none\nstrings: [{number: six}]\n"
    )
    assert checked(text)[1] == [
        ("missing-field", 1, 1),  # origin
        ("bad-id", 1, 5), ("not-a-known-word", 2, 7), ("wrong-shape", 3, 7), ("not-a-known-word", 4, 9),
        ("unknown-field", 5, 1), ("bad-date", 6, 18), ("unknown-field", 6, 27), ("wrong-shape", 7, 8),
        ("bad-number", 8, 20),
    ]  # fmt: skip


def test_required_field_that_does_not_fit_is_not_missing_too() -> None:
    assert checked(HEAD.replace("violin", "fiddle"))[1] == [("not-a-known-word", 2, 7)]


def test_missing_fields_are_placed_in_their_group() -> None:
    text = HEAD + "history:\n  - {event: sold}\n  - by: Nella\nsetups:\n  - sheet: S1\n"
    assert checked(text)[1] == [
        ("missing-field", 6, 5), ("missing-field", 7, 5), ("missing-field", 7, 5), ("missing-field", 9, 5),
    ]  # fmt: skip


def test_entry_that_does_not_fit_shifts_no_other() -> None:
    events = ["sold", "neck_set", "top_glued", "setup_complete"]
    good = [f"  - {{date: 2023-01-0{day}, event: {event}}}" for day, event in enumerate(events, 1)]
    for at in range(len(good)):
        for bad in ("  - words", "  -", "  - [a]", "  - {date: x, event: y}"):
            lines = [*good[:at], bad, *good[at + 1 :]]
            record, found = checked(HEAD + "history:\n" + "\n".join(lines) + "\n")
            assert {line for _, line, _ in found} == {6 + at}
            kept = [event.event for event in record.history]
            assert kept == [*events[:at], None, *events[at + 1 :]]


def test_list_of_bare_values_goes_whole() -> None:
    record, found = checked("batch: B\nmade: 2023\nhazards: [uv, fire, solvent, water]\n", VarnishBatch)
    assert found == [("not-a-known-word", 3, 15), ("not-a-known-word", 3, 30)]
    assert record.hazards is None
    assert record.batch == "B"


def test_row_that_does_not_fit_leaves_the_other_rows() -> None:
    rows = "      325: [3.0, 2.9]\n      near: [2.8, 3.1]\n      160: [2.8, x]\n      60: 2.8\n"
    record, found = checked(HEAD + "plates:\n  top:\n    thickness:\n" + rows)
    assert found == [("bad-number", 9, 7), ("bad-number", 10, 18), ("wrong-shape", 11, 11)]
    assert list(record.plates.top.thickness) == ["325"]


def test_point_of_an_outline_is_two_numbers() -> None:
    text = "model: m\nkind: violin\nsize: 4/4\noutline:\n  upper: [[355, 0], [350]]\n  lower: [[0, 0], [1, 2]]\n"
    record, found = checked(text, Model)
    assert found == [("wrong-shape", 5, 21)]
    assert record.outline.upper is None
    assert len(record.outline.lower) == 2


# --- what to do -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "near"),
    [
        (HEAD + "modle: m\n", "model"),
        (HEAD + "made: {finised: 2023}\n", "finished"),
        (SHEET + "    sting_length: 328\n", "string_length"),
        (SHEET + "    string_length: {value: 3, acepted: so}\n", "accepted"),
        (SHEET + "    string_height: {E: {value: 3, acepted: so}}\n", "accepted"),
        (SHEET + "    body_stop: {trebel: 3}\n", "treble"),
        (HEAD.replace("violin", "violine"), "violin"),
        (HEAD + "history: [{date: 2023, event: neck set}]\n", "neck_set"),
    ],
)
def test_near_name_is_offered(text: str, near: str) -> None:
    assert f"“{near}”" in todo_of(text)


def test_field_unlike_any_other_is_met_with_the_short_list_or_a_way_out() -> None:
    assert "body" in todo_of(HEAD + "made: {hands: {zzz: Nella}}\n")
    assert "note" in todo_of(HEAD + "zzzzzz: 1\n")


@pytest.mark.parametrize("fields", ["id: CZ6EP30", "schema: one", "made: {finished: 2023-13}"])
def test_list_of_words_is_not_offered_where_no_word_is_wanted(fields: str) -> None:
    text = HEAD.replace("id: CZ6EP3J", fields) if fields.startswith("id") else f"{HEAD}{fields}\n"
    assert "explain" not in todo_of(text)


# --- anything at all --------------------------------------------------------------------------------

NAMES = st.sampled_from(
    [
        "id", "kind", "size", "origin", "value", "gauge", "note", "[key]", "", "setups", "history", "taken", "date",
        "string_height", "G", "to", "plates", "top", "thickness", "325", "found", "parts", "lot", "gauges", "people",
        "bridge_steps", "string_spacing", "measurements", "rib_height", "photos", "file", "outline", "upper", "recipe",
        "moisture", "hazards", "made", "hands", "audience", "schema", "schema_", "yield", "model_config", "strings",
    ]
)  # fmt: skip
WORDS = ("", "1", "5.0", "x", "violin", "4/4", "2023", "G", "made_here", "CZ6EP3J", "sold")
LEAVES = st.none() | st.sampled_from(WORDS)
TREES = st.dictionaries(
    NAMES,
    st.recursive(
        LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=4), max_leaves=20
    ),
    max_size=6,
)


@given(TREES, st.sampled_from(KINDS))
@settings(max_examples=300)
def test_any_tree_gives_a_record_and_findings_that_say_what_to_do(tree: Any, kind: type[Record]) -> None:
    record, findings = validated(kind, tree, "r.yml")
    assert isinstance(record, kind)
    assert all(found.what for found in findings)
    # What is left of the tree is right: read alone it gives the same record, and nothing that was right is lost.
    for name, value in tree.items():
        alone, found = validated(kind, {name: value}, "r.yml")
        if not [finding for finding in found if finding.code is not Code.MISSING_FIELD]:
            field = next((field for field, info in kind.model_fields.items() if (info.alias or field) == name), None)
            assert field is not None
            assert getattr(record, field) == getattr(alone, field)


@given(TREES)
def test_fault_in_one_place_is_reported_once(tree: Any) -> None:
    _, findings = validated(Instrument, tree, "r.yml")
    told = [(found.code, found.path, found.what) for found in findings]
    assert len(told) == len(set(told))


@pytest.mark.parametrize("tree", [None, "words", [], ["a"], {}])
def test_what_is_no_group_of_fields_lacks_all_required_ones(tree: Any) -> None:
    _, findings = validated(Instrument, tree, "r.yml")
    assert {found.code for found in findings} == {Code.MISSING_FIELD}
    assert len(findings) == 4  # id, kind, size, origin


def test_a_list_where_a_date_belongs_has_the_wrong_shape() -> None:
    _, findings = validated(Instrument, {"made": {"finished": ["2021"]}}, "r.yml")
    assert [finding.path for finding in findings if finding.code is Code.WRONG_SHAPE] == [("made", "finished")]
    assert Code.BAD_DATE not in {finding.code for finding in findings}
