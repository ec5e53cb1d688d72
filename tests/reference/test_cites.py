"""The table of listings, against what is published; which rows were read and which remembered stands in it."""

from __future__ import annotations

from datetime import date
from itertools import groupby, pairwise

import pytest

from passport.reference.cites import AS_OF, is_known, listing, listings
from passport.reference.species import COMMON_NAMES


@pytest.mark.parametrize(
    ("species", "origin", "day", "appendix", "annotation"),
    [
        # CITES CoP20: new annotation #10 in force on 5 March 2026 (trade federations).
        ("Paubrasilia echinata", "", "2026-03-04", "II", "#10"),
        ("Paubrasilia echinata", "", "2026-03-05", "II", "#10 (new)"),
        # Appendix I, not the entry of its genus (CITES).
        ("Dalbergia nigra", "Brazil", "2026-11-25", "I", ""),
        ("Dalbergia latifolia", "India", "2026-11-25", "II", "#15"),
        ("Diospyros perrieri", "Madagascar", "2026-11-25", "II", "#5"),
        ("Diospyros", "", "2026-11-25", "II", "#5"),
        ("Mammuthus primigenius", "Siberia", "2026-11-25", "none", ""),
    ],
)
def test_an_entry_holds_for_its_species_origin_and_day(
    species: str, origin: str, day: str, appendix: str, annotation: str
) -> None:
    found = listing(species, origin, date.fromisoformat(day))
    assert found is not None
    assert (found.appendix, found.annotation) == (appendix, annotation)


@pytest.mark.parametrize(
    ("species", "origin", "day"),
    [
        ("Picea abies", "", "2026-11-25"),
        ("Dalbergia latifolia", "India", "2016-12-31"),  # the genus came in on 2 January 2017 (CoP17, from memory)
        ("Diospyros crassiflora", "Cameroon", "2026-11-25"),
        ("Diospyros crassiflora", "", "2026-11-25"),
        ("", "", "2026-11-25"),
    ],
)
def test_where_the_table_has_no_entry_it_says_nothing(species: str, origin: str, day: str) -> None:
    assert listing(species, origin, date.fromisoformat(day)) is None


def test_finished_instruments_of_rosewood_are_exempt_from_november_2019() -> None:
    # CITES CoP18, annotation #15, in force 26 November 2019 (trade federations).
    before, after = (listing("Dalbergia", "", date(2019, 11, day)) for day in (25, 26))
    assert before is not None
    assert after is not None
    assert "exempt" in after.words
    assert "exempt" not in before.words


def test_the_entries_of_a_taxon_follow_one_another_without_gap_or_overlap() -> None:
    rows = sorted(listings(), key=lambda each: (each.taxon, each.since))
    for _, group in groupby(rows, key=lambda each: each.taxon):
        entries = list(group)
        for one, next_one in pairwise(entries):
            assert (next_one.since - one.until).days == 1
        assert all(entry.since <= entry.until for entry in entries)
        assert entries[-1].until == date.max
    assert date(2026, 3, 5) < AS_OF


def test_every_row_says_where_it_is_from() -> None:
    assert len(listings()) > 15
    assert all(each.source and each.words and each.common for each in listings())
    assert any(each.is_found for each in listings())


def test_a_species_is_known_by_itself_or_by_its_genus() -> None:
    assert all(map(is_known, COMMON_NAMES))
    assert is_known("Swietenia macrophylla")
    assert not is_known("Swietonia macrophylla")
    assert not is_known("")
