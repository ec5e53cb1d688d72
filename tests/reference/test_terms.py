"""The trade's tables: whole, without doubles, and consistent with one another."""

from __future__ import annotations

import csv
from importlib import resources

import pytest

from passport.records.model.values import PerString
from passport.reference import cautions, terms
from passport.reference.kinds import KIND_WORDS, KINDS, OPEN_STRINGS, SIZES, STRING_NAMES, size_fault
from passport.reference.woods import WOODS


def rows() -> list[dict[str, str]]:
    text = (resources.files("passport.reference") / "data" / "terms.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def test_every_term_is_used_once_and_none_is_lost() -> None:
    names = [row["term"] for row in rows()]
    assert len(names) > 60
    assert len(names) == len(set(names))
    assert set(names) == set(terms.EVENTS) | set(terms.CONDITIONS)
    assert not set(terms.EVENTS) & set(terms.CONDITIONS)


@pytest.mark.parametrize("term", [*terms.EVENTS.values(), *terms.CONDITIONS.values()], ids=lambda term: term.term)
def test_every_term_has_words_and_an_audience(term: terms.Term) -> None:
    assert term.words[0].isupper()
    assert "_" not in term.words
    assert term.source
    assert term.audience in ("public", "shop")
    assert term.category in ("build", "custody", "setup", "repair", "condition")


def test_condition_and_custody_stay_in_the_shop_and_work_does_not() -> None:
    every = [*terms.EVENTS.values(), *terms.CONDITIONS.values()]
    held = [term for term in every if term.category in ("condition", "custody")]
    # What a reader of the page must know to trust it, and names nobody.
    assert {term.term for term in held if term.audience == "public"} == {
        "certificate_issued",
        "correction",
        "withdrawn",
    }
    assert {term.audience for term in every if term.category in ("build", "setup", "repair")} == {"public"}


def test_terms_that_read_otherwise_than_they_are_written_exist() -> None:
    assert set(terms.SPOKEN) <= set(terms.EVENTS) | set(terms.CONDITIONS)


def test_every_kind_has_a_word_sizes_and_four_strings_that_can_be_written() -> None:
    assert set(KINDS) == set(KIND_WORDS) == set(SIZES) == set(OPEN_STRINGS)
    for strings in OPEN_STRINGS.values():
        assert len(strings) == 4
        PerString.model_validate(dict.fromkeys(strings, "1.0"))
        assert set(strings) <= set(STRING_NAMES)


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "viola"])
def test_sizes_run_from_the_largest_down_and_each_is_accepted(kind: str) -> None:
    sizes = SIZES[kind]
    shares = [int(size.split("/")[0]) / int(size.split("/")[1]) for size in sizes]
    assert sizes[0] == "4/4"
    assert shares == sorted(shares, reverse=True)
    assert [size for size in sizes if size_fault(kind, size)] == []
    assert "4/4" in (size_fault(kind, "5/4") or "")


@pytest.mark.parametrize(
    ("size", "fine"), [("405", True), ("280", True), ("279", False), ("461", False), ("4/4", False), ("16 in", False)]
)
def test_a_viola_is_named_by_its_body_length(size: str, *, fine: bool) -> None:
    assert (size_fault("viola", size) is None) is fine


def test_names_of_woods_are_a_genus_and_a_species() -> None:
    assert WOODS
    for scientific, wood in WOODS.items():
        genus, epithet = scientific.split(" ")
        assert genus.istitle()
        assert epithet.islower()
        assert wood.common


def test_every_caution_is_a_sentence_and_the_deference_too() -> None:
    for words in (*cautions.CAUTIONS.values(), cautions.DEFERENCE):
        assert words[0].isupper()
        assert words.endswith(".")
