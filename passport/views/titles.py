"""The name under which a field is read: the title its model gives it, with the place it was measured at.

Titles themselves stand in the model only.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Any

from passport.findings import Path
from passport.records.model.marks import Record, classes_in


@cache
def title_of(kind: type[Record], path: Path, strings: tuple[str, ...] = ()) -> str:
    """Give the title of a quantity: "Body stop, bass side", "String height, G", "Steps at the bridge, G to D"."""
    words: list[str] = []
    here: Any = kind
    for part in path:
        field = here.model_fields.get(part) if here is not None else None
        title = (field.title or str(part)) if field is not None else ""
        words.append((lowered(title) if words else title) or _place(part, strings))
        here = next(classes_in(field.annotation), None) if field is not None else None
    return ", ".join(word for word in words if word != "everywhere")


def _place(part: str | int, strings: Sequence[str]) -> str:
    """Name a place that the record itself names: a string, or the step between two of them."""
    if isinstance(part, int):
        return f"{strings[part]} to {strings[part + 1]}" if part + 1 < len(strings) else str(part + 1)
    return part


def lowered(text: str) -> str:
    """Begin with a small letter."""
    return text[:1].lower() + text[1:]


def spoken(word: str) -> str:
    """Give a word of the record as it is read: "in_the_white" is "in the white"."""
    return word.replace("_", " ")


def capital(text: str) -> str:
    """Begin with a capital."""
    return text[:1].upper() + text[1:]
