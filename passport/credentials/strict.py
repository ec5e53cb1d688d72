"""The strict reader of JSON that somebody else wrote, and the canonical bytes of what was read.

Refuses everything that two programs might read differently. The canonical form is RFC 8785 (JCS).
"""

from __future__ import annotations

import json
import re
from typing import Any

import rfc8785

from passport.credentials.words import RefusedError

Json = dict[str, Any]

# A passport of a much-mended instrument has some 60 KB and is 7 deep.
MOST_BYTES = 1_000_000
MOST_DEPTH = 20
# Beyond this, JSON's numbers are no longer whole in every program (RFC 8259, section 6).
LARGEST_WHOLE = 2**53 - 1
LONGEST_NUMBER = 40
# A text without an end is taken to the end of all, so that no sign is looked at twice.
_BRACKETS = re.compile(r'"(?:[^"\\]|\\.)*+"?|[\[{]|[\]}]', re.DOTALL)


def read(content: bytes) -> Json:
    """Read one JSON object; RefusedError says what is wrong with it."""
    if len(content) > MOST_BYTES:
        raise RefusedError("form.large")
    try:
        text = content.decode()
    except UnicodeDecodeError as error:
        raise RefusedError("form.letters") from error
    _refuse_depth(text)
    try:
        found = json.loads(
            text, object_pairs_hook=_object, parse_constant=_constant, parse_int=_whole, parse_float=_number
        )
    except json.JSONDecodeError as error:
        raise RefusedError("form.json") from error
    if not isinstance(found, dict):
        raise RefusedError("form.json")
    try:
        json.dumps(found, ensure_ascii=False).encode()
    except UnicodeEncodeError as error:
        raise RefusedError("form.letters") from error
    return found


def canonical(document: Json) -> bytes:
    """Give the one form of a document that is signed and digested."""
    return rfc8785.dumps(document)


def _refuse_depth(text: str) -> None:
    depth = 0
    for found in _BRACKETS.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(found[0], 0)
        if depth > MOST_DEPTH:
            raise RefusedError("form.deep")


def _object(pairs: list[tuple[str, Any]]) -> Json:
    found: Json = {}
    for name, value in pairs:
        if name in found:
            raise RefusedError("form.twice", name=name.encode(errors="replace").decode())
        found[name] = value
    return found


def _constant(_: str) -> float:
    raise RefusedError("form.json")


def _whole(text: str) -> int:
    if len(text) > LONGEST_NUMBER or abs(int(text)) > LARGEST_WHOLE:
        raise RefusedError("form.number")
    return int(text)


def _number(text: str) -> int | float:
    number = float(text)
    if len(text) > LONGEST_NUMBER or abs(number) > LARGEST_WHOLE:
        raise RefusedError("form.number")
    # 3.0 and 3 are signed as the same bytes, and so must be the same to whoever reads them.
    return int(number) if number.is_integer() else number
