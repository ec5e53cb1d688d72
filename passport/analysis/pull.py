"""How hard each string pulls on the day of a set-up sheet, and what the mass by length is taken from.

The record's own figure goes before one worked out from the thickness of a plain string, and that before the table.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from passport.analysis.gathered import Gathered
from passport.analysis.known import Known
from passport.analysis.lacking import Lacking
from passport.analysis.windows import fitting_of
from passport.physics.strings import (
    A4_HZ,
    GUT_KG_M3,
    STEEL_KG_M3,
    NotANote,
    Temperament,
    frequency_hz,
    plain_string_density_kg_m,
    tension_n,
)
from passport.records.model.instrument import Instrument
from passport.reference import measures
from passport.reference.strings import TUNINGS, UsualString, usual_string


@dataclass(frozen=True)
class Pull:
    """One string: its pitch in Hz, its mass by length in g/m, its tension in N with the range of the table."""

    name: str
    note: str
    frequency_hz: float
    density: Known
    tension_n: float
    low_n: float
    high_n: float


def notes_of(record: Instrument) -> tuple[str, ...]:
    """Give the open strings by note and octave, low string first: as the record names them, else the usual ones."""
    if record.strings:
        return tuple(string.tuning or "" for string in record.strings)
    return TUNINGS.get(record.kind or "", ())


def temperament_of(kind: str) -> Temperament:
    """Give how a kind is tuned: basses in equal fourths, the others in pure fifths. Common practice, no source."""
    return "equal" if kind == "bass" else "fifths"


def pulls_of(day: Gathered, known: Mapping[str, Known], lacking: Lacking) -> tuple[Pull, ...]:
    """Give the pull of every string; nothing where one is not known, since half a set tells nothing of the whole."""
    what = "The pull of the strings"
    strung = day.sheet.state.strings if day.sheet.state else None
    if strung in ("slack", "none"):
        lacking.because(what, "the strings were slack" if strung == "slack" else "no strings were on")
        return ()
    if "string length" not in known:
        lacking.missing(what, ["string length"])
        return ()
    materials = fitting_of(day.record, day.sheet).materials
    length = known["string length"].value
    found = []
    for name, note in zip(day.record.string_names, notes_of(day.record), strict=False):
        pull = lacking.tried(what, partial(_pull, day, name, note, materials.get(name, ""), length))
        if isinstance(pull, str):
            lacking.because(what, pull)
        elif pull is not None:
            found.append(pull)
    return tuple(found) if len(found) == len(day.record.string_names) else ()


def pitch_of(day: Gathered) -> Known:
    """Give what A4 was on that day."""
    state = day.sheet.state
    if state is not None and state.a4 is not None:
        amount = state.a4.value
        return Known(amount.middle, "measured", f"sheet {day.sheet.sheet or 'without a name'}", "Hz", amount.decimals)
    return Known(A4_HZ, "assumed", "ISO 16, since the sheet does not tell", "Hz", 0)


def _pull(day: Gathered, name: str, note: str, material: str, length_mm: float) -> Pull | str:
    """Give the pull of one string, or what is missing in words; OutsideRange where a figure cannot be."""
    kind = day.record.kind or ""
    try:
        pitch = frequency_hz(note, pitch_of(day).value, temperament_of(kind))
    except NotANote as fault:
        return str(fault)
    density = _density(day, name, usual_string(kind, note, material))
    if density is None:
        return f"the mass by length of a {note} string is not recorded, and no table of ours has it"

    def tension(g_m: float) -> float:
        return tension_n(g_m / 1000, length_mm / 1000, pitch)

    return Pull(name, note, pitch, density, tension(density.value), tension(density.low), tension(density.high))


def _density(day: Gathered, name: str, usual: UsualString | None) -> Known | None:
    """Give the mass by length of a string in g/m: its own, that of a plain string so thick, or the usual one."""
    own = day.of(("string_density", name))
    if own is not None:
        return own
    thick = day.of(("string_diameter", name))
    if thick is not None and usual is not None and usual.made.startswith("plain"):
        material = GUT_KG_M3 if usual.material == "gut" else STEEL_KG_M3
        mass = 1000 * plain_string_density_kg_m(thick.value / 1000, material)
        whence = f"{material:g} kg/m³ × pi d²/4, d {thick.value:.{thick.decimals}f} mm, {thick.whence}"
        return Known(mass, "worked out", whence, "g/m", 3, thick.path, mass, mass)
    if usual is None:
        return None
    return Known(usual.typical_g_m, "from a table", usual.words, "g/m", 3, (), usual.low_g_m, usual.high_g_m)


def diameter_of(day: Gathered, name: str) -> Known | None:
    """Give how thick a string is in mm: as recorded, else as it usually is."""
    return _own_or_usual(day, "any", "string_diameter", name)


def clearance_of(day: Gathered, name: str) -> Known | None:
    """Give how far a string clears the board at the nut: as recorded, else as it usually does."""
    return _own_or_usual(day, day.record.size or "", "nut_clearance", name)


def _own_or_usual(day: Gathered, size: str, field: str, name: str) -> Known | None:
    own = day.of((field, name))
    usual = measures.measure(day.record.kind or "", size, field, name)
    if own is not None or usual is None:
        return own
    return Known(usual.nominal, "from a table", usual.words, "mm", 2, (), usual.low, usual.high)
