"""The name under which a field is read: the title its model gives it, with the place it was measured at.

Titles themselves stand in the model only.
"""

from __future__ import annotations

from typing import Any, get_args

from pydantic import BaseModel

from passport.findings import Path
from passport.records.model.marks import Record


def title_of(kind: type[Record], path: Path) -> str:
    """Give the title of a quantity: "Body stop, bass side", "String height, G"."""
    words: list[str] = []
    here: Any = kind
    for part in path:
        field = here.model_fields.get(part) if here is not None else None
        words.append(str(part) if field is None else (field.title or str(part)))
        here = _record_class(field.annotation) if field is not None else None
    named = [words[0], *(word if len(word) < LONGEST_STRING_NAME else _lowered(word) for word in words[1:])]
    return ", ".join(word for word in named if word != "everywhere")


# "G" and "F#" keep their capital; words lose it behind the comma.
LONGEST_STRING_NAME = 3


def _lowered(word: str) -> str:
    return word[0].lower() + word[1:]


def _record_class(annotation: Any) -> type[Record] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel) and issubclass(annotation, Record):
        return annotation
    return next((found for inner in get_args(annotation) if (found := _record_class(inner)) is not None), None)


def spoken(word: str) -> str:
    """Give a word of the record as it is read: "in_the_white" is "in the white"."""
    return word.replace("_", " ")


def capital(text: str) -> str:
    """Begin with a capital."""
    return text[:1].upper() + text[1:]
