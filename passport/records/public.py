"""The public part of a record, by the marks of its fields.

By allow-list: a field passes when its mark says so, and never otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, TypeVar, cast

from passport.findings import Path
from passport.records.model.marks import Entry, Mark, Record, classes_in, mark_of
from passport.records.model.values import Value

R = TypeVar("R", bound=Record)


def public_part(entry: R) -> R:
    """Give a copy of a record that holds its public fields only; where all of them are, the record itself."""
    if _is_wholly_public(type(entry)):
        return entry
    kept: dict[str, Any] = {}
    for name, alias, mark in _marks(type(entry)):
        shown = _shown(getattr(entry, name), mark)
        if shown is not None:
            kept[alias] = shown
    shown_entry = type(entry).model_construct(**kept)
    if entry.__pydantic_extra__:
        # Names that a record gives itself (strings, gauges) are part of the field they stand in and pass with it.
        object.__setattr__(shown_entry, "__pydantic_extra__", dict(entry.__pydantic_extra__))
    return cast("R", shown_entry)


@cache
def _marks(kind: type[Record]) -> tuple[tuple[str, str, Mark], ...]:
    """Give the fields of a kind that may pass at all: name, name in the file, mark."""
    fields = ((name, field.alias or name, mark_of(field)) for name, field in kind.model_fields.items())
    return tuple(field for field in fields if field[2] in ("public", "by_entry"))


@cache
def _is_wholly_public(kind: type[Record]) -> bool:
    """Tell whether no field of a kind, nor of any group of fields inside it, is kept from anyone."""
    return all(
        mark_of(field) == "public" and all(map(_is_wholly_public, classes_in(field.annotation)))
        for field in kind.model_fields.values()
    )


def _shown(value: Any, mark: Mark) -> Any:
    if value is None:
        return None
    if isinstance(value, tuple):
        shown = [_shown(item, mark) for item in value]
        return tuple(item for item in shown if item is not None)
    if isinstance(value, dict):
        shown_items = {key: _shown(item, mark) for key, item in value.items()}
        return {key: item for key, item in shown_items.items() if item is not None}
    if mark == "by_entry":
        return public_part(value) if isinstance(value, Entry) and value.shown_to == "public" else None
    return public_part(value) if isinstance(value, Record) else value


def public_texts(entry: Record, path: Path = ()) -> Iterator[tuple[Path, str]]:
    """Give the words in public fields of a record, not the numbers, each with its place in the whole record."""
    for name, alias, mark in _marks(type(entry)):
        yield from _texts(getattr(entry, name), mark, (*path, alias))
    for name, value in (entry.__pydantic_extra__ or {}).items():
        yield from _texts(value, "public", (*path, name))


def _texts(value: Any, mark: Mark, path: Path) -> Iterator[tuple[Path, str]]:
    if isinstance(value, (tuple, dict)):
        for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _texts(inner, mark, (*path, key))
    elif isinstance(value, Record):
        if mark == "public" or (isinstance(value, Entry) and value.shown_to == "public"):
            yield from public_texts(value, path)
    elif isinstance(value, Value):
        yield from ((path, text) for text in (value.note, value.accepted) if text)
    elif isinstance(value, str) and mark == "public":
        yield path, value
