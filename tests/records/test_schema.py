"""The schemas for editors: valid by JSON Schema's own metaschema, and in step with what the checks accept."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from passport.records.catalogue import FILES, FOLDERS
from passport.records.schema import DIALECT, NAMES, schemas
from tests.archives import DEMO, VIOLIN

GOOD = Path(__file__).parents[1] / "examples" / "good"
SCHEMAS: dict[str, Any] = {name: json.loads(content) for name, content in schemas()}


class EditorLoader(yaml.SafeLoader):
    """Reads as an editor does: numbers and flags are resolved, dates stay text."""


EditorLoader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in found if tag != "tag:yaml.org,2002:timestamp"]
    for first, found in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def tree_of(text: str) -> Any:
    return yaml.load(text, EditorLoader)  # noqa: S506 - a safe loader


def validator(name: str) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(SCHEMAS[name])


def records() -> list[tuple[str, Path]]:
    roots = [DEMO, *([GOOD] if GOOD.is_dir() else [])]
    found = [
        (f"{NAMES[folder]}.json", path)
        for root in roots
        for folder in FOLDERS
        for path in sorted((root / folder).glob("*.yml"))
    ]
    return found + [
        (f"{name.removesuffix('.yml')}.json", root / name)
        for root in roots
        for name in FILES
        if (root / name).is_file()
    ]


def test_there_is_a_schema_for_every_kind_of_record() -> None:
    assert set(SCHEMAS) == {f"{NAMES[folder]}.json" for folder in FOLDERS} | {"workshop.json", "gauges.json"}


@pytest.mark.parametrize("name", SCHEMAS)
def test_a_schema_keeps_to_the_metaschema_of_its_draft(name: str) -> None:
    assert SCHEMAS[name]["$schema"] == DIALECT == jsonschema.Draft202012Validator.META_SCHEMA["$id"]
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[name])


def test_every_record_of_the_archives_is_valid() -> None:
    found = records()
    assert len(found) > 70
    made = {name: validator(name) for name in SCHEMAS}
    faults = [
        f"{path}: {fault.message[:90]}"
        for name, path in found
        for fault in made[name].iter_errors(tree_of(path.read_text(encoding="utf-8")))
    ]
    assert faults == []


@pytest.mark.parametrize(
    ("wrong", "instead"),
    [
        ("serial: TP 88", "seriall: TP 88"),
        ("kind: violin", "kind: violn"),
        ("publish: listed", "publish: everywhere"),
        ("role: reference", "role: referense"),
        ("string_length: 328\n", "string_lenght: 328\n"),
        ("when: delivered", "when: later"),
        ("event: setup_complete", "event: setup_done"),
        ("view: front", "view: sideways"),
        (f"id: {'ZVSPYJH'}\n", "\n"),
        ("kind: violin\n", "\n"),
        ("{date: 2021-11-18, event: setup_complete", "{event: setup_complete"),
    ],
)
def test_an_unknown_field_or_word_or_a_missing_field_is_refused(wrong: str, instead: str) -> None:
    assert not list(validator("instrument.json").iter_errors(tree_of(VIOLIN)))
    assert wrong in VIOLIN
    assert list(validator("instrument.json").iter_errors(tree_of(VIOLIN.replace(wrong, instead))))


def test_every_field_an_editor_offers_has_a_title() -> None:
    properties = SCHEMAS["instrument.json"]["properties"]
    assert len(properties) > 20
    assert [name for name, field in properties.items() if not field.get("title")] == []


def test_the_schemas_are_the_same_each_time() -> None:
    assert dict(schemas()) == dict(schemas())


@pytest.mark.parametrize(
    ("stop", "fine"),
    [
        ("195", True),
        ("195.0-195.5", True),
        ("{value: 195, note: at the nick}", True),
        ("{bass: 195.5, treble: {value: 195, accepted: as found}}", True),
        ("{left: 195}", False),
        ("{value: 195, said: so}", False),
        ("[195]", False),
    ],
)
def test_a_measure_by_side_may_be_one_value_a_group_or_side_by_side(stop: str, *, fine: bool) -> None:
    text = VIOLIN.replace("string_length: 328\n", f"string_length: 328\n    body_stop: {stop}\n")
    assert (not list(validator("instrument.json").iter_errors(tree_of(text)))) is fine
