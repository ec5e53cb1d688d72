"""Stiffness and radiation ratio of lots, and what a tapped bar tells."""

from __future__ import annotations

import pytest

from passport.analysis.wood import sound_of, tapped
from passport.records.model.supplies import WoodLot
from tests.archives import record

LOT = "schema: 1\nlot: SP09B\nspecies: Picea abies\n"
BAR = "grain: along, length: 400, thickness: 10, frequency: 359.8"


def lot(text: str) -> WoodLot:
    return record(WoodLot, LOT + text)


def test_a_lot_has_stiffness_and_radiation_ratio() -> None:
    """420 kg/m3 and 5600 m/s: 13.17 GPa and 13.33 (worked out apart); 1400 m/s across is a sixteenth as stiff."""
    sound = sound_of(lot("density: 410-430\nsound_speed: {along: 5600, across: 1400, method: tapped_bar}\n"))
    assert sound is not None
    assert sound.e_along_gpa == pytest.approx(13.17, abs=0.005)
    assert sound.radiation == pytest.approx(13.333, abs=0.0005)
    assert sound.along_to_across == pytest.approx(16)
    assert (sound.is_block, sound.lacking) == (False, ())


def test_the_density_of_the_piece_counts_before_that_of_the_lot() -> None:
    own = sound_of(lot("density: 420\nsound_speed: {along: 5600}\n"), lot("density: 400\n").density)
    assert own is not None
    assert own.radiation == pytest.approx(14)
    assert own.along_to_across is None


def test_what_cannot_be_worked_out_is_said() -> None:
    assert sound_of(lot("density: 420\n")) is None
    lacking = sound_of(lot("sound_speed: {along: 5600, method: ultrasonic}\n"))
    assert lacking is not None
    assert lacking.is_block
    assert lacking.lacking == ("The stiffness: the density is not recorded.",)
    heavy = sound_of(lot("density: 4200\nsound_speed: {along: 5600}\n"))
    assert heavy is not None
    assert heavy.e_along_gpa is None
    assert "4200" in heavy.lacking[0]


def test_a_tapped_bar_gives_back_its_speed() -> None:
    """A bar of 5600 m/s, 400 by 10 mm, rings at 359.8 Hz (worked out apart): 13.17 GPa; 359.8 Hz over 3 Hz: Q 120."""
    made = lot(f"density: 420\ntap_tests: [{{{BAR}, bandwidth: 3}}]\n")
    bar = tapped((made.tap_tests or ())[0], made)
    assert bar.e_gpa == pytest.approx(13.171, abs=0.005)
    assert bar.speed_m_s == pytest.approx(5600, rel=0.0005)
    assert bar.q == pytest.approx(119.9, abs=0.1)


def test_a_bar_lacks_what_was_not_measured() -> None:
    made = lot("tap_tests: [{length: 400, thickness: 10}, {density: 420, length: 90, thickness: 10, frequency: 900}]\n")
    bare, thick = (tapped(test, made) for test in made.tap_tests or ())
    assert (bare.e_gpa, bare.q) == (None, None)
    assert bare.lacking == ("The stiffness of the bar: density and frequency not recorded.",)
    assert thick.e_gpa is None
    assert "thickness" in thick.lacking[0]
