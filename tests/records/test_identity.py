"""The id: its check character against the standard, and what is said of one typed wrong."""

from __future__ import annotations

import json
import os
import random
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from passport.records.identity import (
    ALPHABET,
    address_tail,
    check_character,
    is_valid,
    minted,
    near,
    normalised,
    why_wrong,
)


def draws(seed: int) -> random.Random:
    return random.Random(seed)  # noqa: S311 - the same draws at every run are wanted


bodies = st.text(ALPHABET, min_size=6, max_size=6)
ids = st.builds(lambda seed: minted((), draws(seed).choice), st.integers(0, 2**32))
SOME_IDS = [minted((), draws(seed).choice) for seed in range(200)]


def swapped(identifier: str, at: int) -> str:
    return identifier[:at] + identifier[at + 1] + identifier[at] + identifier[at + 2 :]


def replaced(identifier: str, at: int, character: str) -> str:
    return identifier[:at] + character + identifier[at + 1 :]


# --- the check character -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("G123498654321", "H"),  # Red Book of the UK blood services (JPAC), ISBT 128 worked example
        ("G123489654321", "Y"),  # documentation of python-stdnum, stdnum.iso7064.mod_37_2
    ],
)
def test_check_character_agrees_with_published_examples(body: str, expected: str) -> None:
    assert check_character(body) == expected


def test_check_character_agrees_with_the_collected_vectors() -> None:
    folder = os.environ.get("PASSPORT_VECTORS")
    if not folder:
        pytest.skip("PASSPORT_VECTORS does not say where the published vectors lie")
    cases = json.loads((Path(folder) / "iso7064.json").read_text(encoding="utf-8"))["cases"]
    ours = [case for case in cases if case["system"] == "MOD 37-2"]
    assert ours
    for case in ours:
        assert check_character(case["body"]) == case["check"], case["source"]


@given(st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=40))
def test_check_character_agrees_with_another_implementation(body: str) -> None:
    assert check_character(body) == mod_37_2.calc_check_digit(body)


@pytest.mark.parametrize("body", ["", "AB CD", "ab", "A*B", "Å", "٣"])
def test_a_body_of_other_characters_has_no_check_character(body: str) -> None:
    assert check_character(body) is None


def test_every_single_substitution_is_caught() -> None:
    for identifier in SOME_IDS:
        for at in range(len(identifier)):
            for character in set(ALPHABET) - {identifier[at]}:
                wrong = replaced(identifier, at, character)
                assert not is_valid(wrong)
                assert not mod_37_2.is_valid(wrong)


def test_every_swap_of_neighbours_is_caught() -> None:
    swaps = [swapped(i, at) for i in SOME_IDS for at in range(6) if i[at] != i[at + 1]]
    assert len(swaps) > 1000
    assert not [wrong for wrong in swaps if is_valid(wrong) or mod_37_2.is_valid(wrong)]


def test_about_84_in_100_bodies_have_a_check_character_of_the_set() -> None:
    # The check values run over all 37 nearly evenly, and 31 of them are in the set: 31 / 37 = 0.838.
    draw = draws(7)
    checks = [check_character("".join(draw.choices(ALPHABET, k=6))) for _ in range(20_000)]
    assert sum(check in set(ALPHABET) for check in checks) / len(checks) == pytest.approx(31 / 37, abs=0.01)


# --- valid or not ------------------------------------------------------------------------------------


@given(bodies)
def test_an_id_is_valid_only_with_its_check_character(body: str) -> None:
    valid = [body + last for last in ALPHABET if is_valid(body + last)]
    expected = mod_37_2.calc_check_digit(body)
    assert valid == ([body + expected] if expected in ALPHABET else [])


@pytest.mark.parametrize("identifier", ["zvspyjh", "ZVS-PYJH", "ZVSPYJ", "ZVSPYJHH", "", "ZVSPYJ*", "ZVSPYJH\n"])
def test_an_id_is_valid_only_as_it_is_kept(identifier: str) -> None:
    assert is_valid("ZVSPYJH")
    assert not is_valid(identifier)


@pytest.mark.parametrize("typed", ["zvspyjh", "ZVS-PYJH", "zvs pyjh", " ZVSPYJH ", "ZVS\u2013PYJH", "ZVS\u00a0PYJH"])
def test_an_id_may_be_typed_in_any_case_with_dashes_and_spaces(typed: str) -> None:
    assert normalised(typed) == "ZVSPYJH"
    assert why_wrong(typed) is None


@given(st.text(max_size=12))
def test_whatever_is_typed_gets_a_sentence_unless_it_is_an_id(typed: str) -> None:
    said = why_wrong(typed)
    assert (said is None) == is_valid(normalised(typed))
    assert said is None or "\n" not in said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "nothing is written"),
        ("ZVSPYJ", "an id has 7 characters, and ZVSPYJ has 6"),
        ("ZVSPYJHH", "an id has 7 characters, and ZVSPYJHH has 8"),
        ("ZV5PYJ0", "holds 0, but 0, O, 1, I and L never occur"),
        ("lVSPOJH", "holds L and O, but 0, O, 1, I and L never occur"),
        ("ZVSPÄJH", "holds Ä, but an id is made of letters A to Z and digits"),
        ("ZVSPYJG", "its last character does not fit the six before it"),
        ("VZSPYJH", "its last character does not fit the six before it"),
    ],
)
def test_what_is_wrong_is_said_in_one_sentence(typed: str, said: str) -> None:
    assert said in (why_wrong(typed) or "")


# --- the near ones -----------------------------------------------------------------------------------


@given(ids, st.integers(0, 6), st.sampled_from(ALPHABET + "0O1IL"))
def test_one_mistyped_character_finds_the_id(identifier: str, at: int, character: str) -> None:
    typed = replaced(identifier, at, character)
    assert near(typed, [identifier]) == ((identifier,) if typed != identifier else ())


@given(ids, st.integers(0, 5))
def test_swapped_neighbours_find_the_id(identifier: str, at: int) -> None:
    typed = swapped(identifier, at)
    assert near(typed.lower(), [identifier]) == ((identifier,) if typed != identifier else ())


@given(ids, st.integers(0, 6))
def test_a_lost_character_finds_the_id(identifier: str, at: int) -> None:
    assert near(identifier[:at] + identifier[at + 1 :], [identifier]) == (identifier,)


@given(ids, st.integers(0, 7), st.sampled_from(ALPHABET + "0O1IL"))
def test_a_character_too_many_finds_the_id(identifier: str, at: int, extra: str) -> None:
    assert near(identifier[:at] + extra + identifier[at:], [identifier]) == (identifier,)


def test_several_characters_that_never_occur_find_the_id() -> None:
    assert near("ZV0P1JL", ["ZVSPYJH"]) == ("ZVSPYJH",)


def test_an_id_that_is_mostly_unreadable_finds_nothing() -> None:
    assert near("0000000", SOME_IDS) == ()
    assert near("ZVS0000", ["ZVSPYJH"]) == ()


def test_two_slips_are_not_near() -> None:
    assert near("ZVSPYKG", ["ZVSPYJH"]) == ()
    assert near("SVZPYJH", ["ZVSPYJH"]) == ()  # not neighbours
    assert near("ZVSPY", ["ZVSPYJH"]) == ()


def test_the_nearest_come_first_and_five_at_most() -> None:
    known = ["ZVSPYJA", "ZVSPYJB", "ZVSPYJC", "ZVSPYJD", "ZVSPYJE", "ZVSPYJF", "ZVSPYJH"]
    assert near("ZVSPYJG", known) == ("ZVSPYJA", "ZVSPYJB", "ZVSPYJC", "ZVSPYJD", "ZVSPYJE")
    assert near("0VSPYJH", ["AVSPYJG", "ZVSPYJH"]) == ("ZVSPYJH", "AVSPYJG")


# --- drawing new ones --------------------------------------------------------------------------------


@given(ids)
def test_a_new_id_is_valid_and_no_number(identifier: str) -> None:
    assert is_valid(identifier)
    assert not identifier.isdigit()


@pytest.mark.parametrize(
    "passed_over",
    [
        pytest.param("2222236", id="all digits"),
        pytest.param("23E4567", id="an exponent"),
        pytest.param("DEC2358", id="a date to a spreadsheet"),
        pytest.param("ZVSPYJH", id="taken"),
    ],
)
def test_a_valid_id_is_passed_over(passed_over: str) -> None:
    assert is_valid(passed_over)
    characters = iter(passed_over[:6] + "GKMPQR")
    assert minted({"ZVSPYJH"}, lambda _: next(characters)) == "GKMPQRW"


def test_a_body_whose_check_character_is_outside_the_set_is_passed_over() -> None:
    assert check_character("23E459") == "1"
    characters = iter("23E459" + "GKMPQR")
    assert minted((), lambda _: next(characters)) == "GKMPQRW"


def test_no_number_is_ever_drawn() -> None:
    # A chooser that loves digits and E; float() stands for any reader of numbers.
    draw = draws(3)
    drawn = [minted((), lambda _: draw.choice("23456789EEK")) for _ in range(3000)]
    assert not [identifier for identifier in drawn if _is_float(identifier)]


def _is_float(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def test_ids_taken_are_not_drawn_again() -> None:
    first = minted((), draws(1).choice)
    assert minted({first}, draws(1).choice) != first


def test_an_address_tail_is_capitals_and_digits_of_the_set() -> None:
    tails = {address_tail() for _ in range(50)}
    assert len(tails) == 50
    assert all(len(tail) == 17 and set(tail.upper()) <= set(ALPHABET) for tail in tails)
    assert all(set(tail) <= set(ALPHABET) for tail in tails)
