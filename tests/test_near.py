from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.near import LONGEST_LIST, nearest

FIELDS = ("string_length", "string_height", "string_spacing", "body_stop", "projection", *"abcdefghijklmn")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("sting_length", "string_length"), ("string_heigth", "string_height"), ("projecton", "projection")],
)
def test_word_nearest_to_the_one_typed_is_offered(typed: str, meant: str) -> None:
    assert f"“{meant}”" in nearest(typed, FIELDS, "otherwise")


def test_short_list_is_shown_whole_and_a_long_one_is_not() -> None:
    words = [f"{letter}1234" for letter in "abcdefghijklmnopq"]
    assert len(words) == LONGEST_LIST + 1
    assert all(word in nearest("zzz", words[:-1], "otherwise") for word in words[:-1])
    assert nearest("zzz", words, "otherwise") == "otherwise"


def test_without_words_there_is_another_way() -> None:
    assert nearest("a", (), "otherwise") == "otherwise"


@given(st.sampled_from(FIELDS[:5]))
def test_known_word_is_nearest_to_itself(word: str) -> None:
    assert f"“{word}”" in nearest(word, FIELDS, "otherwise")


@given(st.text(max_size=40), st.lists(st.text(max_size=10), max_size=20))
def test_any_text_gets_an_answer(typed: str, words: list[str]) -> None:
    assert nearest(typed, words, "otherwise")


def test_the_words_of_a_set_stand_in_the_same_order_in_every_run() -> None:
    assert nearest("zzz", {"tarn", "harrow", "fell", "lark"}, "") == "known here: fell, harrow, lark, tarn"
