"""What the rooms of an instrument would bring its wood to, and how far its plates would move between them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from passport.analysis.moisture import (
    Equilibrium,
    PlateMovement,
    climates,
    closings,
    equilibrium,
    extremes,
    plate_movements,
)
from passport.records.catalogue import Archive, load
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import WoodLot
from tests import archives
from tests.archives import record

HEAD = "schema: 1\nid: ZVSPYJH\nkind: cello\nsize: 4/4\norigin: made_here\n"
TWO_ROOMS = """\
setups:
  - {sheet: S2, taken: {date: 2022-08-01, when: settled}, state: {temperature: 20, humidity: 65, days: 9}}
  - {sheet: S1, taken: {date: 2022-02-01, when: delivered}, state: {temperature: 20, humidity: 35}}
"""
WIDTH = "measurements:\n  - {taken: {date: 2021-07-13}, bout_width: {lower: 440}}\n"


def rest(room: str) -> Equilibrium:
    storage = record(WoodLot, f"schema: 1\nlot: SP09B\nspecies: Picea abies\nstorage: {{{room}}}\n").storage
    assert storage is not None
    return equilibrium(storage.temperature, storage.humidity)


def archive_of(tmp_path: Path, violin: str, **files: str) -> tuple[Archive, Instrument]:
    changes = {f"instruments/{archives.LISTED}.yml": violin, **files}
    archive = load(archives.write(tmp_path / "records", changes), date(2026, 11, 25))
    return archive, archive.instruments[archives.LISTED].record


def moves(tmp_path: Path, violin: str, **files: str) -> list[PlateMovement]:
    archive, instrument = archive_of(tmp_path, violin, **files)
    between = extremes(climates(instrument))
    assert between is not None
    return list(plate_movements(archive, instrument, between))


# Wood Handbook, table 4-2, and its equation 4-5 worked out apart for temperatures between those of the table.
@pytest.mark.parametrize(
    ("t", "h", "pct"), [("20", "35", 6.963), ("20", "50", 9.271), ("20", "55", 10.101), ("10", "80", 16.382),
                        ("68 °F", "50", 9.271), ("20", "45-55", 9.271)]
)  # fmt: skip
def test_a_room_brings_wood_to_what_the_handbook_says(t: str, h: str, pct: float) -> None:
    assert rest(f"temperature: {t}, humidity: {h}").pct == pytest.approx(pct, abs=0.06)


def test_what_is_missing_or_out_of_range_is_said() -> None:
    assert rest("humidity: 50").why_not == "the temperature is not recorded"
    assert rest("temperature: 20").why_not == "the humidity is not recorded"
    assert "95" in rest("temperature: 20, humidity: 98").why_not
    assert rest("temperature: 20, humidity: 98").pct is None


def test_every_dated_room_is_found_in_the_order_of_time() -> None:
    coats = (
        "varnish:\n  - {date: 2021-08-24, coat: 1, temperature: 23, humidity: 52}\n  - {date: 2021-09-01, coat: 2}\n"
    )
    events = "history:\n  - {date: 2021-05-04, event: top_glued, moisture: 8.8, temperature: 20, humidity: 48}\n"
    found = climates(record(Instrument, HEAD + coats + TWO_ROOMS + events))
    assert [(each.what, str(each.date.earliest)) for each in found] == [
        ("Top glued", "2021-05-04"), ("coat 1", "2021-08-24"),
        ("sheet S1, delivered", "2022-02-01"), ("sheet S2, settled", "2022-08-01"),
    ]  # fmt: skip


def test_the_driest_and_the_dampest_room_are_known_by_what_they_make_of_wood() -> None:
    between = extremes(climates(record(Instrument, HEAD + TWO_ROOMS)))
    assert between is not None
    assert [each.what for each in between] == ["sheet S1, delivered", "sheet S2, settled"]


def test_one_room_has_no_other_extreme() -> None:
    assert extremes(climates(record(Instrument, HEAD + "\n".join(TWO_ROOMS.splitlines()[:2])))) is None


def test_at_closing_wood_is_set_against_room() -> None:
    events = "history:\n  - {date: 2021-05-04, event: top_glued, moisture: 8.8, temperature: 20, humidity: 50}\n"
    closing = next(closings(record(Instrument, HEAD + events)))
    assert closing.apart_pct == pytest.approx(8.8 - 9.271, abs=0.001)


def test_a_plate_moves_by_width_coefficient_and_moisture(tmp_path: Path) -> None:
    """440 mm of quarter-cut Sitka spruce (0.00148) from 6.963 to 12.00 %: 3.28 mm; slab-cut (0.00263): 5.83 mm."""
    parts = "parts: {top: {species: Picea sitchensis, cut: quarter}, back: {species: Picea sitchensis, cut: slab}}\n"
    top, back = moves(tmp_path, HEAD + parts + WIDTH + TWO_ROOMS)
    assert top.change_mm == pytest.approx(440 * 0.00148 * (12.00 - 6.963), abs=0.01)
    assert back.change_mm == pytest.approx(440 * 0.00263 * (12.00 - 6.963), abs=0.01)
    assert top.width_from == "measured on 13 July 2021"


@pytest.mark.parametrize(
    ("part", "why_not"),
    [
        ("species: Picea sitchensis", "the cut is not recorded"),
        ("species: Picea sitchensis, cut: rift", "it is cut rift, and the rings stand at no one angle"),
        ("cut: quarter", "the species is not recorded"),
        ("species: Pyrus communis, cut: slab", "the table has no coefficient for Pyrus communis, slab cut"),
        ("species: Picea sitchensis, cut: quarter, build: laminated",
         "it is laminated, and its layers hold each other"),
    ],
)  # fmt: skip
def test_what_a_plate_lacks_is_said(tmp_path: Path, part: str, why_not: str) -> None:
    assert [move.why_not for move in moves(tmp_path, f"{HEAD}parts: {{top: {{{part}}}}}\n{WIDTH}{TWO_ROOMS}")] == [
        why_not
    ]


def test_without_a_width_and_beyond_the_span_of_the_coefficients_nothing_is_guessed(tmp_path: Path) -> None:
    part = "parts: {top: {species: Picea sitchensis, cut: quarter}}\n"
    (move,) = moves(tmp_path / "a", HEAD + part + TWO_ROOMS)
    assert (move.change_mm, move.why_not) == (None, "the width of the lower bout is not recorded")
    (move,) = moves(tmp_path / "b", HEAD + part + WIDTH + TWO_ROOMS.replace("humidity: 65", "humidity: 80"))
    assert move.change_mm is None
    assert "from 6 to 14" in move.why_not


def test_cut_species_and_width_may_be_those_of_lot_and_model(tmp_path: Path) -> None:
    lot = "schema: 1\nlot: SP09B\nspecies: Picea sitchensis\ncut: quarter\n"
    model = "schema: 1\nmodel: harrow-1\nkind: violin\nsize: 4/4\ntargets: {bout_width: {lower: 206}}\n"
    violin = f"{HEAD.replace('cello', 'violin')}model: harrow-1\nparts: {{top: {{lot: SP09B, wedge: 4}}}}\n{TWO_ROOMS}"
    (move,) = moves(tmp_path, violin, **{"wood/SP09B.yml": lot, "models/harrow-1.yml": model})
    assert (move.species, move.cut, move.width_mm, move.width_from) == (
        "Picea sitchensis", "quarter", 206, "as the model asks",
    )  # fmt: skip
