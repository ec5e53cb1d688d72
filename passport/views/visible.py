"""Who may see what: the one function that takes away everything an audience may not see.

By allow-list: a field passes when its mark says so, and never otherwise. Whatever builds a view sees only this.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import cache, partial
from typing import Any, TypeVar, cast

from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience, Entry, Mark, Record, classes_in, mark_of
from passport.views.addresses import instrument_paths

R = TypeVar("R", bound=Record)


def visible(archive: Archive, audience: Audience) -> Archive:
    """Give the archive as an audience may see it: the instruments it has pages of, and of those what it may see."""
    paths = instrument_paths(archive, audience)
    with_pages = {stem: filed for stem, filed in archive.instruments.items() if stem in paths}
    if audience == "shop":
        return replace(archive, instruments=with_pages)
    hidden = _hidden_supplies(archive, with_pages)
    return replace(
        archive,
        workshop=_public(archive.workshop),
        gauges=_public(archive.gauges),
        instruments=_all_public(with_pages),
        wood=_all_public(archive.wood, hidden["wood"]),
        varnish=_all_public(archive.varnish, hidden["varnish"]),
        models=_all_public(archive.models, hidden["models"]),
        private={},
        findings=(),
    )


def _all_public(records: Mapping[str, Filed[R]], without: Collection[str] = ()) -> dict[str, Filed[R]]:
    return {stem: _public(filed) for stem, filed in records.items() if stem not in without}


def _hidden_supplies(archive: Archive, shown: Mapping[str, Filed[Instrument]]) -> Mapping[str, set[str]]:
    """Give the lots, batches and models that instruments without a page alone use: their pages would tell of those."""
    hidden: dict[str, set[str]] = {"wood": set(), "varnish": set(), "models": set()}
    for stem in archive.instruments.keys() - shown.keys():
        for folder, name in archive.instruments[stem].look.names:
            hidden[folder].add(name)
    for filed in shown.values() if any(hidden.values()) else ():
        for folder, name in filed.look.names:
            hidden[folder].discard(name)
    return hidden


def _public(filed: Filed[R]) -> Filed[R]:
    return Filed(filed.file, partial(_public_record, filed), filed.look)


def _public_record(filed: Filed[R]) -> R:
    return public_part(filed.record)


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
