"""Pitch and tension: ISO 16, the arithmetic of fifths, pint for the units, and two published strings."""

from __future__ import annotations

from math import log2, pi

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.physics.strings import (
    A4_HZ,
    GUT_KG_M3,
    STEEL_KG_M3,
    NotANote,
    frequency_hz,
    linear_density_kg_m,
    plain_string_density_kg_m,
    tension_n,
)
from tests.physics.edges import refuses

units = pint.application_registry

letters = st.sampled_from("CDEFGAB")
signs = st.sampled_from(["", "#", "b"])
octaves = st.integers(-1, 9)
densities = st.floats(1e-4, 0.05)
lengths = st.floats(0.15, 1.2)
pitches = st.floats(30, 1000)


# Equal temperament from ISO 16:1975, A4 = 440 Hz: f = 440 2^((n - 69)/12) with n the number of the key (arithmetic).
EQUAL = [
    ("E1", 41.203), ("A1", 55.0), ("D2", 73.416), ("G2", 97.999), ("C2", 65.406), ("D3", 146.832), ("A3", 220.0),
    ("C3", 130.813), ("G3", 195.998), ("D4", 293.665), ("A4", 440.0), ("E5", 659.255), ("C4", 261.626),
    ("B3", 246.942), ("F4", 349.228),
]  # fmt: skip
# Pure fifths 3:2 up and down from A4 = 440 Hz (arithmetic): 440 x 3/2; 440 / (3/2), its square and cube, and octaves.
PURE = [
    ("E5", 660.0), ("A4", 440.0), ("D4", 293.333), ("G3", 195.556), ("C3", 130.370), ("A3", 220.0), ("D3", 146.667),
    ("G2", 97.778), ("C2", 65.185), ("B5", 990.0), ("F2", 86.914),
]  # fmt: skip


@pytest.mark.parametrize(("note", "pitch"), EQUAL)
def test_open_strings_in_equal_temperament(note: str, pitch: float) -> None:
    assert frequency_hz(note) == pytest.approx(pitch, abs=0.0006)


@pytest.mark.parametrize(("note", "pitch"), PURE)
def test_open_strings_in_pure_fifths(note: str, pitch: float) -> None:
    assert frequency_hz(note, temperament="fifths") == pytest.approx(pitch, abs=0.0006)


@pytest.mark.parametrize(("note", "same", "temperament"), [
    ("C#4", "Db4", "equal"), ("B3", "Cb4", "equal"), ("E♯4", "F4", "equal"), ("A♭4", "G#4", "equal"),
    ("C#4", "C♯4", "fifths"), ("Bb3", "B♭3", "fifths"),
])  # fmt: skip
def test_one_pitch_spelled_in_two_ways(note: str, same: str, temperament: str) -> None:
    assert frequency_hz(note, temperament=temperament) == pytest.approx(frequency_hz(same, temperament=temperament))  # type: ignore[arg-type]


def test_a_sharp_in_fifths_is_higher_than_the_flat_by_the_pythagorean_comma() -> None:
    """The comma is 3^12 / 2^19 (definition)."""
    sharp, flat = frequency_hz("G#4", temperament="fifths"), frequency_hz("Ab4", temperament="fifths")
    assert sharp / flat == pytest.approx(3**12 / 2**19, rel=1e-12)


@given(letters, signs, octaves, st.floats(300, 550))
def test_the_temperaments_stay_within_the_comma_and_an_octave_doubles(
    letter: str, sign: str, octave: int, a4_hz: float
) -> None:
    equal = frequency_hz(f"{letter}{sign}{octave}", a4_hz)
    fifths = frequency_hz(f"{letter}{sign}{octave}", a4_hz, "fifths")
    # A pure fifth is 1.955 cents wider than an equal one; no spelled note is more than eleven fifths from A.
    assert abs(1200 * log2(fifths / equal)) <= 11 * 1.9551
    if octave < 9:
        assert frequency_hz(f"{letter}{sign}{octave + 1}", a4_hz, "fifths") == pytest.approx(2 * fifths)
        assert frequency_hz(f"{letter}{sign}{octave + 1}", a4_hz) == pytest.approx(2 * equal)
    assert equal / frequency_hz(f"{letter}{sign}{octave}") == pytest.approx(a4_hz / 440)


def test_basses_tune_in_fourths_of_five_semitones() -> None:
    for low, high in (("E1", "A1"), ("A1", "D2"), ("D2", "G2")):
        assert frequency_hz(high) / frequency_hz(low) == pytest.approx(2 ** (5 / 12))


@pytest.mark.parametrize("note", ["", "A", "H4", "a4", "A44", "A4 ", "A##4", "4A", "A-"])
def test_what_is_no_note_is_refused(note: str) -> None:
    with pytest.raises(NotANote, match="is not a note"):
        frequency_hz(note)


def test_a_pitch_nobody_tunes_to_is_refused() -> None:
    assert A4_HZ == 440
    refuses(lambda a4: frequency_hz("A4", a4), 300, 550, "Hz", "the tuning pitch")


def test_a_plain_steel_e_string() -> None:
    """0.26 mm of steel at 7850 kg/m3, 327 mm, 659.255 Hz: 0.4168 g/m and 77.5 N (worked out apart)."""
    density = plain_string_density_kg_m(0.00026, STEEL_KG_M3)
    assert density * 1000 == pytest.approx(0.4168, abs=5e-5)
    assert tension_n(density, 0.327, 659.255) == pytest.approx(77.5, abs=0.05)


def test_a_plain_gut_a_string() -> None:
    """0.80 mm of gut at 1300 kg/m3, 327 mm, 440 Hz: 54.11 N (worked out apart)."""
    assert tension_n(plain_string_density_kg_m(0.0008, GUT_KG_M3), 0.327, 440) == pytest.approx(54.11, abs=0.005)


def test_the_old_rule_for_gut() -> None:
    """F L d = 49 sqrt(K), a rule for gut in Hz, m, mm and kgf, printed with the example 440 Hz, 0.50 m, 5 kgf: 0.50 mm.

    One kilogram-force is 9.80665 N exactly.
    """
    diameter_mm = 49 * 5**0.5 / (440 * 0.50)
    assert diameter_mm == pytest.approx(0.50, abs=0.005)
    density = plain_string_density_kg_m(diameter_mm / 1000, GUT_KG_M3)
    assert tension_n(density, 0.50, 440) == pytest.approx(5 * 9.80665, rel=2e-4)


def test_a_millimetre_more_string_is_six_tenths_of_a_percent_more_tension() -> None:
    """dT/T = 2 dL/L: 0.612 % for 1 mm on 327 at one pitch (arithmetic, first order; exactly 0.6125)."""
    assert tension_n(4e-4, 0.328, 660) / tension_n(4e-4, 0.327, 660) - 1 == pytest.approx(0.00612, abs=1e-5)


def test_the_same_string_on_a_three_quarter_violin() -> None:
    """307 for 327 mm: 0.8814 of the tension; for equal tension 1.1345 times the mass (arithmetic)."""
    assert tension_n(4e-4, 0.307, 660) / tension_n(4e-4, 0.327, 660) == pytest.approx(0.8814, abs=5e-5)
    assert linear_density_kg_m(77, 0.307, 660) / linear_density_kg_m(77, 0.327, 660) == pytest.approx(1.1345, abs=5e-5)


@given(densities, lengths, pitches)
def test_tension_is_what_the_units_make_of_it(density: float, length: float, pitch: float) -> None:
    speed = 2 * (length * units.metre) * (pitch * units.hertz)
    tension = (density * units.kilogram / units.metre * speed**2).to(units.newton)
    assert tension_n(density, length, pitch) == pytest.approx(tension.magnitude)


@given(st.floats(1, 1000), lengths, pitches)
def test_tension_and_mass_are_each_others_inverse(tension: float, length: float, pitch: float) -> None:
    density = linear_density_kg_m(tension, length, pitch)
    if 1e-5 <= density <= 0.2:
        assert tension_n(density, length, pitch) == pytest.approx(tension)


@given(st.floats(1e-4, 5e-3), st.floats(500, 20_000))
def test_a_metre_of_plain_string_weighs_its_volume(diameter: float, density: float) -> None:
    area = (pi * (diameter / 2) ** 2) * units.metre**2
    mass = (area * 1 * units.metre * density * units.kilogram / units.metre**3).to(units.kilogram)
    assert plain_string_density_kg_m(diameter, density) == pytest.approx(mass.magnitude)


def test_strings_that_cannot_be_are_refused() -> None:
    refuses(lambda mu: tension_n(mu, 0.3, 440), 1e-5, 0.2, "kg/m", "the linear density")
    refuses(lambda length: tension_n(1e-3, length, 440), 0.1, 2, "m", "the string length")
    refuses(lambda pitch: tension_n(1e-3, 0.3, pitch), 15, 3000, "Hz", "the frequency")
    refuses(lambda tension: linear_density_kg_m(tension, 0.3, 440), 1, 1000, "N", "the tension")
    refuses(lambda length: linear_density_kg_m(50, length, 440), 0.1, 2, "m", "the string length")
    refuses(lambda d: plain_string_density_kg_m(d, 1300), 1e-4, 5e-3, "m", "the diameter")
    refuses(lambda rho: plain_string_density_kg_m(5e-4, rho), 500, 20_000, "kg/m3", "the density")
