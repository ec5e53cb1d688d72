"""The lists of words, held against the enumerations of the JSON Schemas that pydantic makes from the same model."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from passport.records.schema import schemas
from passport.records.vocabulary import word_lists


def enumerations(node: Any) -> Iterator[tuple[str, ...]]:
    if isinstance(node, dict):
        if "enum" in node:
            # What an editor takes for a number or a flag stands there twice, once as the word it is.
            yield tuple(word for word in node["enum"] if isinstance(word, str))
        for inner in node.values():
            yield from enumerations(inner)
    if isinstance(node, list):
        for inner in node:
            yield from enumerations(inner)


def test_they_are_those_that_the_editor_offers() -> None:
    offered = {words for _, schema in schemas() for words in enumerations(json.loads(schema))}
    assert {each.words for each in word_lists()} == offered
    assert len(offered) > 15


def test_a_field_with_other_words_in_another_place_stands_twice() -> None:
    cuts = [each for each in word_lists() if each.field == "cut"]
    assert [each.places for each in cuts] == [{"instruments": ("parts",)}, {"wood": ()}, {"workshop": ("stocks",)}]
    assert "mixed" in cuts[1].words
    assert "mixed" not in cuts[0].words
