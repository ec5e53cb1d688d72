"""Family 6: notes that are given when they are asked for, and one line for all records."""

from __future__ import annotations

from pathlib import Path

from passport.checks import check, completeness
from passport.findings import Code, Severity
from passport.records.catalogue import Archive, load, located
from tests.checks.examples import EXAMPLES, changed, expected

VIOLIN = "instruments/CZ6EP3J.yml"


def shares(archive: Archive) -> str:
    return completeness.shares(completeness.asked(archive, stem) for stem in archive.instruments)


def test_an_ordinary_check_says_nothing_of_what_is_missing(archive: Path) -> None:
    assert [found for found in check(load(archive)) if found.code is Code.INCOMPLETE] == []


def test_each_incomplete_record_gets_one_note_at_its_number(archive: Path) -> None:
    whole = load(archive)
    found = located(note for stem in whole.instruments for note in completeness.asked(whole, stem).notes)
    below = len(archive.as_posix()) + 1
    lines = [f"{note.file[below:]}:{note.line}:{note.column} {note.code.slug}" for note in found]
    assert lines == expected(EXAMPLES / "incomplete")
    assert {note.severity for note in found} == {Severity.NOTE}


def test_a_note_names_the_shares_and_what_to_do_first(archive: Path) -> None:
    """The one place where the wording of this family is pinned."""
    note = completeness.asked(load(archive), "CZ6EP3J").notes[0]
    assert note.what == (
        "not all is recorded that may be asked for: a buyer 80 %, an insurer 46 %, customs 25 %, "
        "whoever opens it next 52 %, a description by Object ID 58 %; most wanted is a picture of the back; missing: "
        "a picture of the back, a picture of the scroll, the thickness of the back, a picture of the label, "
        "distinguishing marks, the widths of the bouts, a valuation, a mark held back as proof, "
        "the species of every wooden part, the origin of the wood, when the wood was felled or bought, "
        "the height of the arches, the stops of body and neck, the projection, the overstand, "
        "the height of the bridge, where the post stood, the length of the post"
    )
    assert note.todo == "take one, put it into photos/CZ6EP3J/, and list it under photos: with view: back"


def test_the_line_counts_the_records_that_lack_nothing_by_purpose(archive: Path) -> None:
    assert shares(load(archive)) == (
        "Nothing is missing for a buyer 0 of 1, an insurer 0 of 1, customs 0 of 1, whoever opens it next 0 of 1, "
        "a description by Object ID 0 of 1; what is: passport check --missing"
    )


def test_where_nothing_is_asked_there_is_no_line(archive: Path) -> None:
    changed(archive, VIOLIN, "publish: listed", "publish: listed\nstatus: {now: withdrawn}")
    assert shares(load(archive)) == ""
