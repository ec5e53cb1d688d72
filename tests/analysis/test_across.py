"""Which numbers are set side by side: alike stages of plates, the reference set-up, wood by density and speed."""

from __future__ import annotations

import pytest

from passport.analysis.across import SUBJECTS, densities, numbers, quantities
from passport.records.model.instrument import Instrument
from passport.reference.kinds import KINDS
from tests.archives import record

VIOLIN = """\
id: ZVSPYJH
origin: made_here
kind: violin
size: 4/4
parts:
  top: {lot: SP09B, density: 390}
  back: {lot: MA11A}
  ribs: {species: Acer pseudoplatanus, density: 600}
plates:
  top:
    stages:
      - {when: arching_done, mass: 90, mode2: 190}
      - {when: f_holes_cut, mass: 61, mode2: 150}
      - {when: f_holes_cut, mass: 60}
      - {when: bass_bar_fitted, mass: 65, mode5: 338}
  back:
    stages:
      - {when: before_closing, mass: 101}
      - {when: graduation_done, mode1: 112}
setups:
  - sheet: S1
    taken: {date: 2021}
    role: reference
    string_length: 328
    string_height: {G: 5.0, D: 4.7, E: 3.5, to: TO}
  - {sheet: S2, taken: {date: 2022}, role: check, string_length: 327, projection: 27}
"""


def told(text: str) -> dict[str, float]:
    return {quantity.name: value.value.middle for quantity, value in numbers(record(Instrument, text))}


def test_plates_count_at_the_stage_they_are_held_against_and_the_set_up_as_its_reference_has_it() -> None:
    assert told(VIOLIN.replace("TO", "underside")) == {
        "top_mass_no_bar": 60, "top_mass_with_bar": 65, "back_mass": 101, "tap_back_mode1": 112, "tap_top_mode5": 338,
        "string_length": 328, "string_height_G": 5.0, "string_height_E": 3.5,
    }  # fmt: skip


def test_a_height_to_the_centre_of_the_string_is_not_set_beside_one_to_its_underside() -> None:
    assert not {"string_height_G", "string_height_E"} & set(told(VIOLIN.replace("TO", "centre")))


def test_a_piece_counts_where_its_lot_and_its_own_density_are_known() -> None:
    found = list(densities(record(Instrument, VIOLIN.replace("TO", "underside"))))
    assert [(part, lot, value.value.middle) for part, lot, value in found] == [("top", "SP09B", 390)]


@pytest.mark.parametrize("kind", KINDS)
def test_every_quantity_has_a_name_of_its_own_and_a_page(kind: str) -> None:
    names = [quantity.name for quantity in quantities(kind)]
    assert len(names) == len(set(names))
    assert {quantity.subject for quantity in quantities(kind)} == set(SUBJECTS)
