"""Going through a record: every group of fields inside it, and every measured value, each with its place.

Looks and changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from passport.findings import Path
from passport.records.model.marks import Record
from passport.records.model.values import Value


def fields_of(entry: Record) -> Iterator[tuple[str, Any]]:
    """Give the fields that are filled, by the name they have in the file, in the order of the form."""
    for name, field in type(entry).model_fields.items():
        value = getattr(entry, name)
        if value is not None:
            yield field.alias or name, value
    yield from (entry.__pydantic_extra__ or {}).items()


def entries_in(value: Any, path: Path) -> Iterator[tuple[Path, Record]]:
    """Give the groups of fields right below a field."""
    if isinstance(value, Record):
        yield path, value
    for key, item in _items(value):
        if isinstance(item, Record):
            yield (*path, key), item


def walked(entry: Record, path: Path = ()) -> Iterator[tuple[Path, Record]]:
    """Give a record and every group of fields inside it."""
    yield path, entry
    for name, value in fields_of(entry):
        for inner_path, inner in entries_in(value, (*path, name)):
            yield from walked(inner, inner_path)


def measured(entry: Record, path: Path = ()) -> Iterator[tuple[Path, Value]]:
    """Give every measured value inside a record, in the order of the form."""
    for name, value in fields_of(entry):
        yield from _measured_in(value, (*path, name))


def _measured_in(value: Any, path: Path) -> Iterator[tuple[Path, Value]]:
    if isinstance(value, Value):
        yield path, value
    elif isinstance(value, Record):
        yield from measured(value, path)
    for key, item in _items(value):
        yield from _measured_in(item, (*path, key))


def _items(value: Any) -> Iterator[tuple[str | int, Any]]:
    if isinstance(value, tuple):
        yield from enumerate(value)
    elif isinstance(value, dict):
        yield from value.items()
