"""Going through a record: every group of fields inside it, and every measured value, each with its place.

Looks and changes nothing.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from passport.findings import Path
from passport.records.model.marks import Record
from passport.records.model.values import Value


@cache
def _names(kind: type[Record]) -> tuple[tuple[str, str], ...]:
    """Give each field's name in the model and in the file."""
    return tuple((name, field.alias or name) for name, field in kind.model_fields.items())


def fields_of(entry: Record) -> list[tuple[str, Any]]:
    """Give the fields that are filled, by the name they have in the file, in the order of the form."""
    values = entry.__dict__
    filled = [(alias, values[name]) for name, alias in _names(type(entry)) if values[name] is not None]
    own = entry.__pydantic_extra__ or {}
    return filled + [(name, value) for name, value in own.items() if value is not None]


def walked(entry: Record, path: Path = ()) -> list[tuple[Path, Record]]:
    """Give a record and every group of fields inside it."""
    found: list[tuple[Path, Record]] = []
    _walk(entry, path, found, [])
    return found


def measured(entry: Record, path: Path = ()) -> list[tuple[Path, Value]]:
    """Give every measured value inside a record, in the order of the form."""
    found: list[tuple[Path, Value]] = []
    _walk(entry, path, [], found)
    return found


def _walk(entry: Record, path: Path, groups: list[tuple[Path, Record]], values: list[tuple[Path, Value]]) -> None:
    groups.append((path, entry))
    for name, value in fields_of(entry):
        _look_into(value, (*path, name), groups, values)


def _look_into(value: Any, path: Path, groups: list[tuple[Path, Record]], values: list[tuple[Path, Value]]) -> None:
    if isinstance(value, Value):
        values.append((path, value))
    elif isinstance(value, Record):
        _walk(value, path, groups, values)
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            _look_into(item, (*path, index), groups, values)
    elif isinstance(value, dict):
        for key, item in value.items():
            _look_into(item, (*path, key), groups, values)
