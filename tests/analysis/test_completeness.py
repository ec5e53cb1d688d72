"""What is asked of which instrument, and that a share is what it says."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from passport.analysis.completeness import Completeness, completeness, most_wanted
from passport.analysis.wanted import (
    CUSTOMS,
    DESCRIPTION,
    INSURER,
    OBJECT_ID_NOT_ASKED,
    PURPOSES,
    THINGS,
    Subject,
    Thing,
)
from passport.records.model.instrument import PHOTO_VIEWS, Instrument
from passport.records.model.marks import Record, classes_in
from passport.records.model.supplies import WoodLot
from passport.records.model.workshop import Private
from tests.archives import record

HEAD = "id: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\n"
LOT = "lot: A1\nspecies: Picea abies\norigin: a hill\nfelled: 2009\n"
EBONY = "lot: EB\nspecies: Diospyros crassiflora\norigin: Cameroon\nbought: 2016\n"
LOTS = {"A1": record(WoodLot, LOT), "EB": record(WoodLot, EBONY + "papers: {invoice: 4}\n")}
PRIVATE = """\
id: ZVSPYJH
owners: [{name: someone}]
valuations: [{date: 2022-01-01, amount: 9000}]
held_back: a knot
"""
# A record that lacks nothing, line by line.
WHOLE = {
    "serial": "serial: TP 88",
    "made": "made: {finished: 2021-11, hands: {body: Ilse}}",
    "label": "label: {text: made in 2021}",
    "marks": "marks: a knot in the back",
    "parts": "parts:\n  top: {lot: A1}\n  back: {lot: A1}\n  ribs: {lot: A1}\n  neck: {lot: A1}\n  board: {lot: EB}\n"
             "  fittings: {species: Buxus sempervirens, origin: a hedge}",
    "measurements": "measurements:\n  - taken: {date: 2021-05-20}\n    body_length: {caliper: 355}\n"
                    "    bout_width: {upper: 168}\n    rib_height: 30\n    arch_height: {top: 15.6}",
    "plates": "plates:\n  top: {thickness: {160: [3.0]}}\n  back: {thickness: {160: [4.4]}}",
    "varnish": "varnish: [{date: 2021-06-21, coat: 1, batch: OV20}]",
    "setups": "setups:\n  - taken: {date: 2021-11-18}\n    role: reference\n    state: {humidity: 47}\n"
              "    fitted: {strings: medium}\n    string_length: 328\n    body_stop: 195\n    neck_stop: 130\n"
              "    overstand: 6.2\n    projection: 27\n    string_height: {G: 5.0, E: 3.5}\n"
              "    bridge: {height: 32.3}\n    soundpost: {length: 51, behind_foot: 2.5}",
    "history": "history: [{date: 2021-11-25, event: sold}]",
    "photos": "photos:\n  - {file: a.jpg, view: front}\n  - {file: b.jpg, view: back}\n  - {file: c.jpg, view: scroll}"
              "\n  - {file: d.jpg, view: label}",
}  # fmt: skip


def subject(text: str, private: str = PRIVATE, lots: Mapping[str, WoodLot] = LOTS) -> Subject:
    return Subject("ZVSPYJH", record(Instrument, text), record(Private, private), lots)


def whole(**changes: str) -> str:
    """The whole record with some of its parts exchanged, or left out where they are empty."""
    lines = {**WHOLE, **changes}
    return HEAD + "\n".join(line for line in lines.values() if line) + "\n"


def lacking(found: tuple[Completeness, ...]) -> set[str]:
    return {thing.name for each in found for thing in each.missing}


def asked(text: str) -> dict[str, int]:
    return {each.purpose: each.wanted for each in completeness(subject(text))}


def test_a_record_that_lacks_nothing_is_whole_for_every_purpose() -> None:
    found = completeness(subject(whole()))
    assert [each.purpose for each in found] == list(PURPOSES)
    assert [(each.percent, each.missing) for each in found] == [(100, ())] * len(PURPOSES)


def test_an_empty_record_lacks_all_that_is_asked_for() -> None:
    found = completeness(subject(HEAD + "made: {finished: 2021}\n", "id: ZVSPYJH\n", {}))
    there = {"when it was made"}
    names = {thing.name for thing in THINGS if thing.asked(subject(HEAD))}
    # Of what never left the shop nobody else is the owner; wood of no lot has no day and no species to be protected.
    assert names - lacking(found) == there | {"when the wood was felled or bought"}


@pytest.mark.parametrize("part", [name for name in WHOLE if name not in ("history", "made")])
def test_what_is_taken_out_of_a_record_is_missing_and_nothing_else_is(part: str) -> None:
    """Each part of the record is asked for by somebody, and its things are missing with it and only with it."""
    without = lacking(completeness(subject(whole(**{part: ""}))))
    assert without
    others = {name for name in WHOLE if name not in (part, "history", "made")}
    assert all(not without & lacking(completeness(subject(whole(**{other: ""})))) for other in others - {"setups"})


def test_the_private_record_counts_for_the_insurer_alone() -> None:
    found = completeness(subject(whole(), "id: ZVSPYJH\n"))
    assert {each.purpose: len(each.missing) for each in found if each.missing} == {INSURER: 3}


@pytest.mark.parametrize(("wanted", "missing", "percent"), [(3, 1, 66), (200, 1, 99), (7, 7, 0), (7, 0, 100)])
def test_a_share_is_whole_percent_rounded_down(wanted: int, missing: int, percent: int) -> None:
    thing = completeness(subject(HEAD + "made: {finished: 2021}\n"))[0].missing[0]
    assert Completeness("buyer", wanted, (thing,) * missing).percent == percent


# --- of whom what is asked -----------------------------------------------------------------------------------------


def test_nothing_is_asked_on_the_bench_nor_of_what_is_out_of_use() -> None:
    assert asked(HEAD) == {}
    assert asked(HEAD + "setups: [{taken: {date: 2021-05-02}, role: trial}]\n") == {}
    assert asked(HEAD + "setups: [{taken: {date: 2021-11-02}}]\n") != {}
    assert asked(HEAD + "history: [{date: 2021-11-25, event: sold}]\n") != {}
    for now in ("withdrawn", "missing", "destroyed"):
        assert asked(HEAD + f"made: {{finished: 2021}}\nstatus: {{now: {now}}}\n") == {}


def test_of_a_customers_instrument_no_buyer_asks_and_nobody_asks_how_it_was_made() -> None:
    text = HEAD.replace("made_here", "customer")
    names = lacking(completeness(subject(text)))
    assert "buyer" not in asked(text)
    assert not names & {"the thickness of the top", "the batch of every coat", "the serial", "who made it"}
    assert {"whose work it is", "its condition as it came"} <= names


def test_of_second_hand_a_certificate_is_asked_and_of_a_set_up_only_the_set_up() -> None:
    second_hand = lacking(completeness(subject(HEAD.replace("made_here", "second_hand"))))
    set_up_here = lacking(completeness(subject(HEAD.replace("made_here", "set_up_here"))))
    assert "the number of its certificate" in second_hand - set_up_here
    assert "a reference set-up" in set_up_here
    assert not set_up_here & {"the thickness of the top", "the batch of every coat", "its condition as it came"}


@pytest.mark.parametrize(
    ("kind", "size", "wanted"),
    [("violin", "4/4", set()), ("viola", "405", set()), ("cello", "4/4", {"the endpin"}),
     ("bass", "3/4", {"the endpin", "the machine heads"})],
)  # fmt: skip
def test_of_a_bass_its_machine_heads_are_asked(kind: str, size: str, wanted: set[str]) -> None:
    text = whole().replace("kind: violin\nsize: 4/4", f"kind: {kind}\nsize: {size}")
    text = text.replace("string_height: {G: 5.0, E: 3.5}", "string_height: {G: 5.0}")
    assert lacking(completeness(subject(text))) == wanted


def test_where_there_is_no_label_no_picture_of_it_is_asked() -> None:
    bare = whole(label="label: {text: none}", photos=WHOLE["photos"].replace("view: label", "view: corner"))
    assert lacking(completeness(subject(bare))) == set()


@pytest.mark.parametrize(
    ("species", "asks"),
    [("Dalbergia latifolia", True), ("Paubrasilia echinata", True), ("Diospyros crassiflora", True),
     ("Picea abies", False), ("Acer pseudoplatanus", False)],
)  # fmt: skip
def test_papers_are_asked_of_woods_in_the_appendices(species: str, asks: bool) -> None:  # noqa: FBT001
    """CITES, Appendices I and II: Dalbergia spp., Paubrasilia echinata, Diospyros of Madagascar; the genus is asked."""
    lots = {**LOTS, "EB": record(WoodLot, f"lot: EB\nspecies: {species}\norigin: far\nbought: 2016\n")}
    found = completeness(subject(whole(), lots=lots))
    assert lacking(found) == ({"papers of woods that may be protected"} if asks else set())
    assert all(not each.missing for each in found if each.purpose != CUSTOMS)


def test_papers_of_others_wood_stand_in_the_private_record() -> None:
    text = whole(parts=WHOLE["parts"].replace("board: {lot: EB}", "board: {species: Dalbergia nigra, origin: far}"))
    assert lacking(completeness(subject(text))) == {"papers of woods that may be protected"}
    assert lacking(completeness(subject(text, PRIVATE + "papers: [permit 12]\n"))) == set()


# --- Object ID --------------------------------------------------------------------

# ICOM, Object ID, the international standard for describing cultural objects: its nine categories of information and,
# before and after them, photographs and the short description.
OBJECT_ID = (
    "photographs", "type", "materials and techniques", "measurements", "inscriptions and markings",
    "distinguishing features", "title", "subject", "date or period", "maker", "short description",
)  # fmt: skip


def test_every_category_of_object_id_is_asked_for_or_there_is_a_reason() -> None:
    mapped = {thing.category for thing in THINGS if DESCRIPTION in thing.purposes}
    assert mapped | OBJECT_ID_NOT_ASKED.keys() == set(OBJECT_ID)
    assert not mapped & OBJECT_ID_NOT_ASKED.keys()
    assert all(OBJECT_ID_NOT_ASKED.values())


@pytest.mark.parametrize("origin", ["made_here", "set_up_here", "second_hand", "customer"])
def test_whatever_its_origin_a_description_asks_for_each_category(origin: str) -> None:
    it = subject(HEAD.replace("made_here", origin))
    found = {thing.category for thing in THINGS if DESCRIPTION in thing.purposes and thing.asked(it)}
    assert found == set(OBJECT_ID) - OBJECT_ID_NOT_ASKED.keys()


def test_type_is_in_every_record_as_the_reason_says() -> None:
    needed = [Instrument.model_fields[name].json_schema_extra for name in ("kind", "size")]
    assert all(isinstance(extra, dict) and extra["needed"] for extra in needed)


# --- what to do next ----------------------------------------------------------------


def field_names(*kinds: type[Record]) -> set[str]:
    """Every name of a field in these records, and in the groups of fields inside them."""
    names: set[str] = set()
    for kind in kinds:
        for name, field in kind.model_fields.items():
            names |= {field.alias or name, *field_names(*classes_in(field.annotation))}
    return names


@pytest.mark.parametrize("thing", THINGS, ids=lambda thing: thing.name)
def test_what_to_do_names_fields_and_views_that_there_are(thing: Thing) -> None:
    todo = thing.todo(subject(HEAD))
    known = field_names(Instrument, WoodLot, Private)
    named = set(re.findall(r"\b([a-z_]+):", todo))
    assert named <= known
    assert all(view in PHOTO_VIEWS for view in re.findall(r"view: (\w+)", todo))
    assert "<ID>" not in todo


def test_names_are_not_repeated_and_everything_is_asked_by_someone() -> None:
    names = [thing.name for thing in THINGS]
    assert len(names) == len(set(names))
    assert all(thing.purposes and set(thing.purposes) <= PURPOSES.keys() for thing in THINGS)


def test_most_wanted_is_what_most_ask_for_and_of_equals_the_first() -> None:
    found = completeness(subject(whole(serial="", photos=WHOLE["photos"].replace("view: front", "view: corner"))))
    first = most_wanted(found)
    assert first is not None
    assert first.name == "a picture of the front"
    assert most_wanted(completeness(subject(whole()))) is None
