"""The strict reader refuses what two programs could read differently; the canonical form is that of RFC 8785."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.credentials.strict import LARGEST_WHOLE, MOST_BYTES, MOST_DEPTH, canonical, read
from passport.credentials.words import RefusedError
from tests.credentials.published import published


def refusal(content: bytes) -> str:
    with pytest.raises(RefusedError) as refused:
        read(content)
    assert refused.value.said.text
    return refused.value.said.code


def nested(depth: int) -> bytes:
    return b'{"a":' * depth + b"1" + b"}" * depth


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b'{"a": 1, "a": 1}', "form.twice"),
        (b'{"a": {"b": [], "\\u0062": []}}', "form.twice"),
        (b'{"a": NaN}', "form.json"),
        (b'{"a": -Infinity}', "form.json"),
        (b'{"a": 1e999}', "form.number"),
        (b'{"a": 9007199254740992}', "form.number"),
        (b'{"a": -9007199254740992}', "form.number"),
        (b'{"a": ' + b"9" * 5000 + b"}", "form.number"),
        (b'{"a": "\\ud800"}', "form.letters"),
        (b'{"\\udc00": 1}', "form.letters"),
        (b'{"a": "\xff"}', "form.letters"),
        (b'\xef\xbb\xbf{"a": 1}', "form.json"),
        (b'{"a": "\n"}', "form.json"),
        (b'{"a": 01}', "form.json"),
        (b"{'a': 1}", "form.json"),
        (b'{"a": 1,}', "form.json"),
        (b'{"a": 1} {}', "form.json"),
        (b'{"a": 1', "form.json"),
        (b'{"a": "', "form.json"),
        (b'{"a": "\\', "form.json"),
        (b'{"a": "' + b"[" * 100, "form.json"),
        # Read in the square of its length, this would take hours.
        (b'{"a": "' + b'\\"' * 490_000, "form.json"),
        (b"[1]", "form.json"),
        (b"", "form.json"),
        (nested(MOST_DEPTH + 1), "form.deep"),
        (b"[" * 900_000, "form.deep"),
        (b'{"a":"' + b"a" * MOST_BYTES + b'"}', "form.large"),
    ],
)
def test_what_could_be_read_in_two_ways_is_refused(content: bytes, code: str) -> None:
    assert refusal(content) == code


def test_what_is_just_within_the_limits_is_read() -> None:
    assert read(nested(MOST_DEPTH))
    assert read(b'{"a": 9007199254740991}') == {"a": LARGEST_WHOLE}
    assert read(b'{"a": "{[{[{[{[{[{[{[{[{[{[{[\\"{{"}')["a"].endswith('"{{')
    assert read('{"ä": "\\ud83d\\ude02"}'.encode()) == {"ä": "\N{FACE WITH TEARS OF JOY}"}


@pytest.mark.parametrize("text", ["3", "3.0", "3e0", "0.3E1", "30e-1"])
def test_what_is_written_alike_when_signed_is_read_alike(text: str) -> None:
    # RFC 8785, section 3.2.2.3: numbers are written as ECMAScript does, where 3.0 is 3.
    found = read(f'{{"a": {text}}}'.encode())
    assert canonical(found) == b'{"a":3}'
    assert repr(found["a"]) == "3"


PLAIN = st.none() | st.booleans() | st.integers(-(10**15), 10**15) | st.text()


@given(st.dictionaries(st.text(), st.recursive(PLAIN, st.lists, max_leaves=9)))
def test_what_was_made_canonical_is_read_and_stays_the_same(document: dict[str, object]) -> None:
    assert canonical(read(canonical(document))) == canonical(document)


def test_the_example_of_the_standard() -> None:
    # RFC 8785, section 3.2.3: names are sorted by their UTF-16 code units.
    given_text = r'{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}'  # noqa: E501
    values = list(json.loads(canonical(read(given_text.encode()))).values())
    assert values == [
        "Carriage Return", "One", "Control", "Latin Small Letter O With Diaeresis", "Euro Sign",
        "Emoji: Grinning Face", "Hebrew Letter Dalet With Dagesh",
    ]  # fmt: skip


def test_the_published_cases() -> None:
    cases = published("jcs-rfc8785.json")["cases"]
    assert len(cases) == 6
    for case in cases:
        assert canonical(json.loads(case["input"])).hex() == case["outputHex"], case["name"]
