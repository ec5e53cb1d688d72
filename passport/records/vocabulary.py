"""The lists of words that fields take, gathered from where the model defines them.

Looks at the model only; no record is read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args

from passport.records.catalogue import FILES, FOLDERS
from passport.records.model.marks import Record, classes_in
from passport.records.model.words import OneOf


@dataclass(frozen=True)
class WordList:
    """The words of a field, and where fields of this name take them: by kind of record, under which of its fields."""

    field: str
    places: Mapping[str, tuple[str, ...]]
    words: tuple[str, ...]


def word_lists() -> tuple[WordList, ...]:
    """Give every list of words, by field in the order of the form."""
    found: dict[tuple[str, tuple[str, ...]], dict[str, dict[str, None]]] = {}
    for kind, model in (*FOLDERS.items(), *((name.removesuffix(".yml"), model) for name, model in FILES.items())):
        for path, words in _lists_in(model, ()):
            below = found.setdefault((path[-1], words), {}).setdefault(kind, {})
            below.update(dict.fromkeys(path[:-1][:1]))
    return tuple(
        WordList(field, {kind: tuple(below) for kind, below in kinds.items()}, words)
        for (field, words), kinds in found.items()
    )


def _lists_in(model: type[Record], path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    for name, field in model.model_fields.items():
        here = (*path, field.alias or name)
        for words in _one_of((field.annotation, *field.metadata)):
            yield here, words
        for inner in classes_in(field.annotation):
            yield from _lists_in(inner, here)


def _one_of(annotations: tuple[Any, ...]) -> Iterator[tuple[str, ...]]:
    """Find the lists inside annotations such as `tuple[Annotated[str, OneOf(…)], ...] | None`."""
    for each in annotations:
        if isinstance(each, OneOf):
            yield each.words
        # Of an annotated type, get_args gives the type and what it is annotated with.
        yield from _one_of(get_args(each))


def vocabulary() -> Iterator[str]:
    """Give every text of the form itself: titles of fields, how they are measured, and the words they take."""
    for model in (*FOLDERS.values(), *FILES.values()):
        yield from _texts_of(model)


def _texts_of(model: type[Record]) -> Iterator[str]:
    for name, field in model.model_fields.items():
        yield from filter(None, (name, field.title, field.description))
        for words in _one_of((field.annotation, *field.metadata)):
            yield from words
        for inner in classes_in(field.annotation):
            yield from _texts_of(inner)
