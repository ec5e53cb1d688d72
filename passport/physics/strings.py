"""Strings: the pitch of a note, and what tension, length and mass have to do with it.

SI units throughout. T = mu (2 L f)^2: M. Mersenne, Harmonie universelle (1636); N. H. Fletcher and T. D. Rossing, The
Physics of Musical Instruments, 2nd edition (1998), section 2.2 (the section from memory).
"""

from __future__ import annotations

import re
from math import log2, pi
from typing import Literal

from passport.physics.ranges import within

Temperament = Literal["equal", "fifths"]

# Standard tuning frequency of A4: ISO 16:1975.
A4_HZ = 440.0
SEMITONES_IN_OCTAVE = 12
PURE_FIFTH = 3 / 2
# Steel: the usual handbook value, from memory. Gut: what the trade's old rule F L d = 49 sqrt(K) (Hz, m, mm, kgf) comes
# to, within one part in ten thousand.
STEEL_KG_M3 = 7850.0
GUT_KG_M3 = 1300.0

_NOTE = re.compile(r"([A-G])([#b♯♭]?)(-?\d)")
_SEMITONE_FROM_C = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
# Steps along the row of fifths F C G D A E B, counted from A.
_FIFTHS_FROM_A = {"F": -4, "C": -3, "G": -2, "D": -1, "A": 0, "E": 1, "B": 2}
# A sharp lies seven fifths further on, a flat seven back.
_FIFTHS_IN_SHARP = 7
_NAMES = ("C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B")
_ALTERED = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}


class NotANote(ValueError):
    """What was given is no note with its octave, such as A4, C#3 or Bb2."""


def frequency_hz(note: str, a4_hz: float = A4_HZ, temperament: Temperament = "equal") -> float:
    """Give the pitch of a note with its octave (A4, C#3, Bb2) in Hz.

    `equal` is twelve-tone equal temperament, f = a4 2^(n/12); `fifths` is a chain of pure fifths 3:2 from A, as
    violins, violas and cellos are tuned. Double basses are tuned in fourths, most often to equal temperament.
    `a4_hz` 300 to 550 (what is played today, 392 to 466, with room to spare; common practice, no source). NotANote,
    OutsideRange. Source: ISO 16:1975; arithmetic.
    """
    within("the tuning pitch", a4_hz, 300, 550, "Hz")
    match = _NOTE.fullmatch(note)
    if match is None:
        raise NotANote(f"“{note}” is not a note with its octave, such as A4, C#3 or Bb2")
    letter, sign, octave = match[1], _ALTERED[match[2]], int(match[3])
    semitones = _SEMITONE_FROM_C[letter] - _SEMITONE_FROM_C["A"] + sign + SEMITONES_IN_OCTAVE * (octave - 4)
    if temperament == "equal":
        return float(a4_hz * 2 ** (semitones / SEMITONES_IN_OCTAVE))
    fifths = _FIFTHS_FROM_A[letter] + _FIFTHS_IN_SHARP * sign
    # A fifth is seven semitones; whole octaves make up the rest.
    octaves = (semitones - 7 * fifths) // SEMITONES_IN_OCTAVE
    return float(a4_hz * PURE_FIFTH**fifths * 2.0**octaves)


def note_near(frequency_hz: float, a4_hz: float = A4_HZ) -> tuple[str, float]:
    """Give the note of equal temperament nearest to a pitch, as A6 or C#3, and how many cents the pitch lies above it.

    15 to 20 000 Hz, `a4_hz` 300 to 550; OutsideRange. The inverse of `frequency_hz`.
    """
    within("the frequency", frequency_hz, 15, 20_000, "Hz")
    steps = SEMITONES_IN_OCTAVE * log2(frequency_hz / within("the tuning pitch", a4_hz, 300, 550, "Hz"))
    nearest = round(steps)
    octave, name = divmod(nearest + _SEMITONE_FROM_C["A"] + SEMITONES_IN_OCTAVE * 4, SEMITONES_IN_OCTAVE)
    return f"{_NAMES[name]}{octave}", 100 * (steps - nearest)


def tension_n(linear_density_kg_m: float, length_m: float, frequency_hz: float) -> float:
    """Give the tension of a string in N: T = mu (2 L f)^2.

    Linear density 1e-5 to 0.2 kg/m, speaking length 0.1 to 2 m, 15 to 3000 Hz; OutsideRange.
    """
    within("the linear density", linear_density_kg_m, 1e-5, 0.2, "kg/m")
    return linear_density_kg_m * _wave_speed_m_s(length_m, frequency_hz) ** 2


def linear_density_kg_m(tension_n: float, length_m: float, frequency_hz: float) -> float:
    """Give the mass by length of a string in kg/m from its tension (1 to 1000 N), the inverse of `tension_n`."""
    within("the tension", tension_n, 1, 1000, "N")
    return tension_n / _wave_speed_m_s(length_m, frequency_hz) ** 2


def _wave_speed_m_s(length_m: float, frequency_hz: float) -> float:
    within("the string length", length_m, 0.1, 2, "m")
    within("the frequency", frequency_hz, 15, 3000, "Hz")
    return 2 * length_m * frequency_hz


def plain_string_density_kg_m(diameter_m: float, material_kg_m3: float) -> float:
    """Give the mass by length in kg/m of a round string of one material: mu = rho pi d^2 / 4.

    Diameter 0.0001 to 0.005 m, density 500 to 20 000 kg/m3; OutsideRange. Not for wound strings. Geometry.
    """
    within("the diameter", diameter_m, 1e-4, 5e-3, "m")
    within("the density", material_kg_m3, 500, 20_000, "kg/m3")
    return material_kg_m3 * pi * diameter_m**2 / 4
