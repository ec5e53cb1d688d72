from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, get_args, get_type_hints

import pytest
from pydantic import BaseModel, Field

import passport.records.model as model_room
from passport.records.catalogue import FILES, FOLDERS
from passport.records.model import values
from passport.records.model.events import Event
from passport.records.model.instrument import Instrument, Photo
from passport.records.model.marks import Entry, Record, by_entry, is_required, mark_of, public, shop
from passport.records.model.sheets import MeasurementSheet, SetupSheet
from passport.records.model.supplies import Recipe
from passport.records.model.values import Stations, Value
from passport.records.model.workshop import Private
from passport.records.validation import validated
from passport.reference import terms
from passport.units import parse_amount

for module in pkgutil.iter_modules(model_room.__path__):
    importlib.import_module(f"{model_room.__name__}.{module.name}")


def _below(kind: type[Any]) -> Iterator[type[Any]]:
    for inner in kind.__subclasses__():
        if inner.__module__.startswith(model_room.__name__):
            yield inner
            yield from _below(inner)


RECORDS = sorted(set(_below(Record)), key=lambda kind: kind.__name__)
# A dataclass with slots is made twice, and the first of the two is used by nobody.
VALUES = sorted(
    {kind for kind in _below(Value) if getattr(values, kind.__name__) is kind}, key=lambda kind: kind.__name__
)
ENTRIES = (Event, Photo, MeasurementSheet, SetupSheet, Recipe)


def _classes_in(annotation: Any) -> Iterator[type[Any]]:
    if isinstance(annotation, type):
        yield annotation
    for inner in get_args(annotation):
        yield from _classes_in(inner)


def test_all_classes_of_the_model_are_seen() -> None:
    assert len(RECORDS) > 40
    assert {*FOLDERS.values(), *FILES.values(), *ENTRIES} <= set(RECORDS)


@pytest.mark.parametrize("kind", RECORDS)
def test_every_field_carries_one_of_three_marks(kind: type[Record]) -> None:
    for name, field in kind.model_fields.items():
        assert mark_of(field) in {"public", "shop", "by_entry"}, name
        assert field.title, name


@pytest.mark.parametrize("kind", RECORDS)
def test_every_field_may_be_left_out(kind: type[Record]) -> None:
    assert all(getattr(kind(), name) is None for name in kind.model_fields)


@pytest.mark.parametrize("kind", RECORDS)
def test_only_entries_decide_for_themselves(kind: type[Record]) -> None:
    for name, field in kind.model_fields.items():
        holds_entries = any(issubclass(inner, Entry) for inner in _classes_in(field.annotation))
        assert (mark_of(field) == "by_entry") == holds_entries, name


@pytest.mark.parametrize("kind", RECORDS)
def test_every_group_inside_is_a_marked_one(kind: type[Record]) -> None:
    for name, hint in get_type_hints(kind).items():
        if not name.startswith("model_"):
            groups = [inner for inner in _classes_in(hint) if issubclass(inner, BaseModel)]
            assert all(issubclass(inner, Record) for inner in groups), name


def test_nothing_private_is_public() -> None:
    assert {mark_of(field) for field in Private.model_fields.values()} == {"shop"}


def test_class_with_an_unmarked_field_cannot_be_made() -> None:
    with pytest.raises(TypeError, match="does not say who may see it"):

        class Unmarked(Record):
            plain: str | None = None

    with pytest.raises(TypeError, match="does not say who may see it"):

        class MarkedByHand(Record):
            plain: str | None = Field(default=None, title="Plain")


@pytest.mark.parametrize(("mine", "other"), [(public, shop), (shop, public), (by_entry, public), (public, by_entry)])
def test_subclass_cannot_change_a_mark(mine: Any, other: Any) -> None:
    class Mine(Record):
        word: str | None = mine("Word")

    class Between(Mine):
        """Adds nothing."""

    with pytest.raises(TypeError, match="changes the mark"):

        class Other(Between):
            word: str | None = other("Word")


def test_subclass_may_say_a_field_better_under_the_same_mark() -> None:
    class Mine(Record):
        word: str | None = shop("Word")

    class Better(Mine):
        word: str | None = shop("Word", "one only", required=True)

    assert is_required(Better.model_fields["word"])


def test_record_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="frozen"):
        Instrument().serial = "PR 1"


# --- leaves -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", [Value, *VALUES])
def test_value_is_a_leaf(kind: type[Value]) -> None:
    assert is_dataclass(kind)
    assert not issubclass(kind, BaseModel)
    assert [field.name for field in fields(kind)] == ["value", "gauge", "note", "accepted"]
    for hint in get_type_hints(kind).values():
        assert not any(issubclass(inner, Record | Value) for inner in _classes_in(hint))


@pytest.mark.parametrize("kind", VALUES)
def test_unit_of_every_value_is_one_that_is_understood(kind: type[Value]) -> None:
    assert parse_amount("1", kind.unit).low == 1


def test_every_measured_field_has_a_unit_of_its_own() -> None:
    assert len({kind.unit for kind in VALUES}) == len(VALUES)


def test_stations_hold_measured_values_only() -> None:
    kinds = [kind for kind in RECORDS if issubclass(kind, Stations)]
    assert len(kinds) >= 4
    for kind in kinds:
        for field in kind.model_fields.values():
            assert any(issubclass(inner, Value) for inner in _classes_in(field.annotation))


# --- who sees an entry ------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ENTRIES)
@pytest.mark.parametrize("audience", ["public", "shop"])
def test_word_of_an_entry_comes_first(kind: type[Entry], audience: str) -> None:
    assert kind.model_validate({"audience": audience}).shown_to == audience


@pytest.mark.parametrize("event", sorted(terms.EVENTS))
def test_event_without_a_word_is_shown_as_the_list_says(event: str) -> None:
    assert Event.model_validate({"event": event}).shown_to == terms.EVENTS[event].audience


def test_event_of_no_known_kind_stays_in_the_shop() -> None:
    assert Event().shown_to == "shop"


@pytest.mark.parametrize(
    ("when", "shown_to"),
    [
        ("as_received", "shop"), ("before_work", "shop"), ("in_the_white", "public"), ("after_work", "public"),
        ("settled", "public"), ("delivered", "public"), (None, "public"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", [MeasurementSheet, SetupSheet])
def test_sheet_of_an_instrument_as_it_came_stays_in_the_shop(
    kind: type[Entry], when: str | None, shown_to: str
) -> None:
    assert kind.model_validate({"taken": {"when": when}}).shown_to == shown_to


@pytest.mark.parametrize(
    ("view", "shown_to"),
    [("damage", "shop"), ("inside", "shop"), ("work", "shop"), ("front", "public"), (None, "public")],
)
def test_picture_of_damage_stays_in_the_shop(view: str | None, shown_to: str) -> None:
    assert Photo.model_validate({"view": view}).shown_to == shown_to


def test_recipe_stays_in_the_shop_until_it_is_opened() -> None:
    assert Recipe().shown_to == "shop"


@pytest.mark.parametrize(
    ("fields_typed", "published"),
    [
        ({"origin": "made_here"}, "listed"),
        ({"origin": "set_up_here"}, "listed"),
        ({"origin": "second_hand"}, "shop_only"),
        ({"origin": "customer"}, "shop_only"),
        ({"origin": "customer", "publish": "listed"}, "listed"),
        ({"origin": "made_here", "publish": "unlisted"}, "unlisted"),
    ],
)
def test_what_belongs_to_others_is_not_published_unless_said(fields_typed: dict[str, str], published: str) -> None:
    record, _ = validated(Instrument, dict(fields_typed), "r.yml")
    assert record.published == published
