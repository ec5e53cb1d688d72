from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.analysis.usage import LotUse, pieces_taken
from passport.checks import check
from passport.findings import Code, Severity
from passport.records.catalogue import load
from tests.checks.examples import changed, found

VIOLIN = "instruments/CZ6EP3J.yml"
NECK = "neck: {lot: MA10, wedge: 3}"


def _instrument(root: Path, number: str, fields: str = "") -> None:
    text = f"schema: 1\nid: {number}\nkind: violin\nsize: 4/4\norigin: made_here\n{fields}"
    (root / f"instruments/{number}.yml").write_text(text, encoding="utf-8")


def test_what_is_not_used_yet_is_no_more_than_a_note(archive: Path) -> None:
    (archive / "wood/WI01.yml").write_text("lot: WI01\nspecies: Salix alba\n", encoding="utf-8")
    (archive / "varnish/OV21.yml").write_text("batch: OV21\nmade: 2024\n", encoding="utf-8")
    assert [finding.severity for finding in check(load(archive))] == [Severity.NOTE] * 2


@pytest.mark.parametrize("part", ["ribs", "bass_bar", "blocks", "linings", "soundpost"])
def test_small_parts_may_come_from_a_wedge_that_is_used_up(archive: Path, part: str) -> None:
    _instrument(archive, "FF494KY", f"parts: {{{part}: {{lot: MA10, wedge: 1}}}}\n")
    assert found(archive) == []


@pytest.mark.parametrize("part", ["top", "back", "neck", "board"])
def test_whole_parts_of_two_instruments_cannot_share_a_wedge(archive: Path, part: str) -> None:
    _instrument(archive, "FF494KY", f"parts:\n  {part}: {{lot: MA10, wedge: 1}}\n")
    line = f"instruments/FF494KY.yml:7:{len(part) + 24} wedge-twice"
    assert found(archive) == [line]


def test_two_whole_parts_without_a_wedge_number_are_two_wedges(archive: Path) -> None:
    changed(archive, VIOLIN, NECK, "neck: {lot: MA10}\n  board: {lot: MA10}")
    assert found(archive) == []


@pytest.mark.parametrize("wedge", ["a", "²", "1b", "9" * 5000, "half of 9"])
def test_wedge_that_is_no_number_is_a_name(archive: Path, wedge: str) -> None:
    changed(archive, VIOLIN, NECK, f"neck: {{lot: MA10, wedge: {wedge}}}")
    assert found(archive) == []


@pytest.mark.parametrize(("wedge", "beyond"), [("6", False), ("7", True)])
def test_last_wedge_of_a_lot_is_the_number_of_its_pieces(archive: Path, wedge: str, beyond: bool) -> None:  # noqa: FBT001
    changed(archive, VIOLIN, NECK, f"neck: {{lot: MA10, wedge: {wedge}}}")
    assert any("wedge-beyond-the-lot" in line for line in found(archive)) is beyond


def test_lot_without_a_number_of_pieces_is_not_counted(archive: Path) -> None:
    changed(archive, "wood/MA10.yml", "pieces: 6\n", "")
    changed(archive, VIOLIN, NECK, "neck: {lot: MA10, wedge: 99}")
    assert found(archive) == []


WEDGES = st.tuples(st.sampled_from(["top", "back", "neck", "ribs"]), st.sampled_from(["", "1", "2", "3"]))


@given(st.lists(WEDGES))
def test_pieces_taken_never_exceed_the_parts_and_grow_with_them(parts: list[tuple[str, str]]) -> None:
    uses = [LotUse("CZ6EP3J", part, "MA10", wedge, ()) for part, wedge in parts]
    counts = [pieces_taken(uses[:length]) for length in range(len(uses) + 1)]
    assert counts == sorted(counts)
    assert all(count <= length for length, count in enumerate(counts))


def test_order_of_files_decides_which_of_two_equal_numbers_is_reported(archive: Path) -> None:
    _instrument(archive, "FF494KY")
    changed(archive, "instruments/FF494KY.yml", "id: FF494KY", "id: 3YJ834Z")
    assert [line.split()[-1] for line in found(archive)] == ["name-differs-from-file", "repeated-id"]
    assert all(line.startswith("instruments/FF494KY.yml:2:5 ") for line in found(archive))


def test_number_typed_with_dash_and_small_letters_is_the_same_number(archive: Path) -> None:
    changed(archive, VIOLIN, "id: CZ6EP3J", "id: cz6-ep3j")
    assert found(archive) == []


@pytest.mark.parametrize("origin", ["second_hand", "customer"])
def test_hands_on_the_work_of_others_need_not_be_ours(archive: Path, origin: str) -> None:
    changed(archive, VIOLIN, "origin: made_here", f"origin: {origin}")
    changed(archive, VIOLIN, "body: Nella", "body: someone of the old school")
    assert found(archive) == []


def test_who_gave_an_opinion_or_a_price_need_not_be_ours(archive: Path) -> None:
    changed(archive, VIOLIN, "publish: listed", "attribution: {wording: workshop of, by: an expert}\npublish: listed")
    changed(archive, "private/3YJ834Z.yml", "location: on the shelf", "prices: [{amount: 100, by: an office}]")
    assert found(archive) == []


def test_instrument_of_a_customer_needs_no_page_of_its_own(archive: Path) -> None:
    changed(archive, "instruments/3YJ834Z.yml", "origin: made_here\npublish: unlisted", "origin: customer")
    (archive / "private/3YJ834Z.yml").unlink()
    assert found(archive) == []


def test_sheet_may_be_named_as_what_was_before_and_after(archive: Path) -> None:
    changed(archive, VIOLIN, "    said: buzzes in wet weather", "    before: S1\n    after: S9")
    assert [line.split()[-1] for line in found(archive)] == ["unknown-sheet"]


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        (VIOLIN, "gauge: thickness_gauge", "gauge: tape"),
        (VIOLIN, "body_length: rule", "body_length: tape"),
        (VIOLIN, "gauge: caliper, accepted", "gauge: tape, accepted"),
        ("wood/SP10.yml", "value: 8.9, gauge: moisture_pin", "value: 8.9, gauge: tape"),
    ],
)
def test_gauge_is_looked_up_wherever_it_is_named(archive: Path, file: str, old: str, new: str) -> None:
    changed(archive, file, old, new)
    lines = (archive / file).read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if ": tape" in text)
    column = lines[line - 1].index(": tape") + 3
    assert found(archive) == [f"{file}:{line}:{column} unknown-gauge"]


def test_a_record_that_is_there_but_cannot_be_read_is_reported_once_and_not_as_unknown(archive: Path) -> None:
    for folder in ("wood", "models", "varnish"):
        for path in (archive / folder).glob("*.yml"):
            path.write_text("a: [", encoding="utf-8")
    (archive / "gauges.yml").write_text("a: [", encoding="utf-8")
    assert {finding.code for finding in check(load(archive))} == {Code.BROKEN_YAML}
