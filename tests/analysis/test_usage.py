"""What is gone from a wood lot, and which coats and events carry a batch."""

from __future__ import annotations

import pytest

from passport.analysis.usage import LotUse, batch_uses, by_lot, lot_uses, pieces_taken
from passport.records.model.instrument import Instrument
from tests.archives import record

HEAD = "id: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\n"


def uses(parts: str) -> tuple[LotUse, ...]:
    return tuple(lot_uses("ZVSPYJH", record(Instrument, f"{HEAD}parts: {{{parts}}}\n")))


@pytest.mark.parametrize(
    ("parts", "gone"),
    [
        ("", 0),
        ("top: {lot: A, wedge: 1}", 1),
        ("top: {lot: A}", 1),
        # The bar comes from what is left of the top's wedge.
        ("top: {lot: A, wedge: 1}, bass_bar: {lot: A, wedge: 1}", 1),
        ("top: {lot: A, wedge: 1}, bass_bar: {lot: A, wedge: 7}", 2),
        ("ribs: {lot: A}, bass_bar: {lot: A}, blocks: {lot: A}, linings: {lot: A}", 0),
        ("back: {lot: A}, neck: {lot: A}, board: {lot: A}, top: {lot: A}", 4),
        ("top: {lot: A, wedge: 1}, back: {lot: A, wedge: 1}", 1),
        ("top: {lot: A, wedge: 1}, back: {lot: A}, ribs: {lot: A, wedge: 3}", 3),
        ("top: {species: Picea abies}", 0),
    ],
)
def test_each_wedge_is_gone_once_and_a_whole_part_without_a_wedge_takes_one(parts: str, gone: int) -> None:
    assert pieces_taken(uses(parts) if parts else ()) == gone


def test_uses_are_grouped_by_lot_and_know_their_place_in_the_record() -> None:
    grouped = by_lot(
        uses("top: {lot: A, wedge: 1}, back: {lot: B}, ribs: {lot: B}, board: {species: Buxus sempervirens}")
    )
    assert {lot: [use.part for use in found] for lot, found in grouped.items()} == {"A": ["top"], "B": ["back", "ribs"]}
    assert grouped["A"][0].path == ("parts", "top")


def test_an_instrument_without_parts_uses_no_lot() -> None:
    assert list(lot_uses("ZVSPYJH", record(Instrument, HEAD))) == []


def test_coats_and_events_use_a_batch() -> None:
    text = HEAD + (
        "varnish: [{date: 2020-01-01, coat: ground, batch: A}, {date: 2020-01-02, batch: B}, {date: 2020-01-03}]\n"
        "history: [{date: 2021-01-01, event: varnish_retouch, batch: C}, {date: 2021-01-02, event: sold}]\n"
    )
    found = [(use.batch, use.what, use.path) for use in batch_uses("ZVSPYJH", record(Instrument, text))]
    assert found == [
        ("A", "coat ground", ("varnish", 0, "batch")),
        ("B", "coat", ("varnish", 1, "batch")),
        ("C", "varnish retouch", ("history", 0, "batch")),
    ]
