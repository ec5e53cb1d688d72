"""Words as they are typed, and words out of a fixed list.

Knows nothing of records, so that both the marks and the values may use it.
"""

from __future__ import annotations

from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, PydanticCustomError, core_schema


def refuse(kind: str, sentence: str, todo: str = "", **context: Any) -> PydanticCustomError:
    """Make the error that `records.validation` turns into a finding with the code `kind`."""
    return PydanticCustomError("passport", "{sentence}", {"kind": kind, "sentence": sentence, "todo": todo, **context})


def text_of(raw: Any) -> str:
    """Give a scalar as it was typed; anything else is refused."""
    if not isinstance(raw, str):
        raise refuse("wrong-shape", "words or a number stand here, not a list or a group of fields")
    return raw


# Editors that go by YAML 1.1 take these two words for flags.
FLAGS = {"yes": True, "no": False}


def _as_editors_read(word: str) -> list[str | int | bool]:
    """Give a word as an editor may see it; here it is text, whatever it looks like."""
    flag = [FLAGS[word]] if word in FLAGS else []
    return [word, *([int(word)] if word.isdecimal() else []), *flag]


class OneOf:
    """A word out of a fixed list."""

    def __init__(self, *words: str) -> None:
        self.words = words

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._known)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"enum": [read for word in self.words for read in _as_editors_read(word)]}

    def _known(self, raw: Any) -> str:
        text = text_of(raw)
        if text not in self.words:
            raise refuse("not-a-known-word", f"“{text}” is not one of the words used here", words=self.words)
        return text
