"""Going through a record: every group of fields inside it, and every measured value, each with its place.

Looks and changes nothing.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from passport.findings import Path
from passport.records.model.marks import Record
from passport.records.model.values import Value

# A dozen questions are asked of a record, one after another; it is gone through once for all of them.
KEPT_WALKS = 256


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


Groups = tuple[tuple[Path, Record], ...]
Values = tuple[tuple[Path, Value], ...]


def walked(entry: Record, path: Path = ()) -> Groups:
    """Give a record and every group of fields inside it; `path` is the place of the record itself."""
    found = _walk_of(_This(entry))[0]
    return tuple(((*path, *inner), group) for inner, group in found) if path else found


def measured(entry: Record, path: Path = ()) -> Values:
    """Give every measured value inside a record, in the order of the form; `path` is the place of the record itself."""
    found = _walk_of(_This(entry))[1]
    return tuple(((*path, *inner), value) for inner, value in found) if path else found


class _This:
    """A very record, and not another that says the same: comparing two takes longer than walking one."""

    def __init__(self, entry: Record) -> None:
        self.entry = entry

    def __hash__(self) -> int:
        return id(self.entry)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _This) and self.entry is other.entry


@lru_cache(maxsize=KEPT_WALKS)
def _walk_of(this: _This) -> tuple[Groups, Values]:
    groups: list[tuple[Path, Record]] = []
    values: list[tuple[Path, Value]] = []
    _walk(this.entry, (), groups, values)
    return tuple(groups), tuple(values)


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
