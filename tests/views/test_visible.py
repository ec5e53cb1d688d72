"""Nothing of the shop's passes: a word of its own planted in every shop field of every kind of record, none found."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

import pytest

from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.events import Condition, Event
from passport.records.model.marks import Record, mark_of
from passport.records.public import _is_wholly_public, public_part
from passport.views.project import case_label, project
from tests.archives import whole
from tests.canaries import Planter, planted_archive


@pytest.fixture(scope="module")
def planted() -> tuple[Archive, list[str]]:
    return planted_archive()


def test_canaries_are_planted_in_every_kind_of_record(planted: tuple[Archive, list[str]]) -> None:
    assert len(planted[1]) > 40


def test_the_shop_sees_its_own_words(planted: tuple[Archive, list[str]]) -> None:
    archive, canaries = planted
    text = repr(whole(project(archive, (), "shop")))
    assert sum(canary in text for canary in canaries) > 20


def test_the_public_sees_none_of_them(planted: tuple[Archive, list[str]]) -> None:
    archive, canaries = planted
    text = repr(whole(project(archive, (), "public")))
    assert "ZVSPYJH" in text
    assert [canary for canary in canaries if canary in text] == []


def test_what_has_moved_is_told_to_the_public_beside_what_is_hidden(planted: tuple[Archive, list[str]]) -> None:
    """Else the canaries would stand where nothing of drift, trend and season is worked out."""
    latest, years = project(planted[0], (), "public").instruments["ZVSPYJH"].drift
    assert any("moved" in row[2] for row in latest.tables[-1].rows)
    assert any("sheets have taught" in note for note in latest.notes)
    hidden = [line for line in latest.lacking if "cannot be compared" in line]
    assert any(line.startswith("String height, G") for line in hidden)
    assert any(line.startswith("Afterlength, G") for line in hidden)
    assert years.drawings


def test_a_label_says_none_of_them(planted: tuple[Archive, list[str]]) -> None:
    archive, canaries = planted
    assert [canary for canary in canaries if canary in repr(case_label(archive, "ZVSPYJH"))] == []


def test_a_shop_only_instrument_has_no_public_view(planted: tuple[Archive, list[str]]) -> None:
    archive, _ = planted
    filed = archive.instruments["ZVSPYJH"]
    hidden = Filed(filed.file, filed.record.model_copy(update={"publish": "shop_only"}))
    site = project(dataclasses.replace(archive, instruments={"ZVSPYJH": hidden}), (), "public")
    assert len(site.instruments) == 0
    assert "ZVSPYJH" not in repr(whole(site))


@pytest.mark.parametrize(
    ("event", "shown"),
    [
        ("seam_reglued", "public"),
        ("setup_complete", "public"),
        ("sold", "shop"),
        ("intake", "shop"),
        ("theft_report", "shop"),
    ],
)
def test_an_event_is_shown_as_its_kind_is_unless_it_says_otherwise(event: str, shown: str) -> None:
    assert Event.model_validate({"event": event}).shown_to == shown
    assert Event.model_validate({"event": event, "audience": "public"}).shown_to == "public"
    assert Event.model_validate({"event": event, "audience": "shop"}).shown_to == "shop"


def test_what_was_found_and_said_never_leaves_a_public_event() -> None:
    event = Event(
        event="seam_reglued",
        said="the player's words",
        found=(Condition.model_validate({"mould": "inside"}),),
        did="glued",
    )
    shown = public_part(event)
    assert (shown.said, shown.found, shown.did) == (None, None, "glued")


def _records() -> Iterator[type[Record]]:
    kinds = [Record]
    while kinds:
        kind = kinds.pop()
        kinds += kind.__subclasses__()
        yield kind


def test_a_public_part_keeps_every_public_field() -> None:
    planter = Planter()
    for kind in _records():
        record = planter.fill(kind, hidden=False)
        shown = public_part(record)
        for name, field in kind.model_fields.items():
            expected = mark_of(field) != "shop" and getattr(record, name) is not None
            assert (getattr(shown, name) is not None) == expected, f"{kind.__name__}.{name}"


def test_only_kinds_without_any_field_of_the_shops_pass_as_they_are() -> None:
    wholly = {kind.__name__ for kind in _records() if _is_wholly_public(kind)}
    assert {"SetupSheet", "Bridge", "PerString", "Parts"} <= wholly
    assert not wholly & {"Instrument", "Event", "Condition", "Private", "Workshop", "Person", "WoodLot", "OtherNumbers"}
