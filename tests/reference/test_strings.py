"""The table of strings against the diameters it is derived from, and against the tensions it was made of."""

from __future__ import annotations

import pytest

from passport.physics.strings import GUT_KG_M3, STEEL_KG_M3, frequency_hz, plain_string_density_kg_m, tension_n
from passport.records.model.instrument import Instrument
from passport.reference.kinds import KINDS, OPEN_STRINGS
from passport.reference.strings import TUNINGS, all_strings, usual_string


@pytest.mark.parametrize("kind", KINDS)
def test_every_open_string_of_a_kind_is_in_the_table(kind: str) -> None:
    assert tuple(note.rstrip("0123456789") for note in TUNINGS[kind]) == OPEN_STRINGS[kind]
    assert Instrument(kind=kind).string_names == OPEN_STRINGS[kind]
    assert all(usual_string(kind, note) for note in TUNINGS[kind])


def test_each_row_rises_from_low_to_high_and_stands_once() -> None:
    rows = all_strings()
    assert all(row.low_g_m < row.typical_g_m < row.high_g_m for row in rows)
    assert len({(row.kind, row.note, row.material) for row in rows}) == len(rows)


@pytest.mark.parametrize("kind", KINDS)
def test_the_lower_string_is_the_heavier(kind: str) -> None:
    masses = [row.typical_g_m for note in TUNINGS[kind] if (row := usual_string(kind, note))]
    assert masses == sorted(masses, reverse=True)


# Diameters of plain strings in mm: steel E 0.25 to 0.27; gut A 0.80, D 1.08, as a maker of gut strings prints them.
@pytest.mark.parametrize(
    ("note", "material", "low_mm", "usual_mm", "high_mm", "density"),
    [
        ("E5", "", 0.25, None, 0.27, STEEL_KG_M3),
        ("A4", "gut", 0.76, 0.80, 0.84, GUT_KG_M3),
        ("D4", "gut", 1.00, 1.08, 1.16, GUT_KG_M3),
    ],
)
def test_plain_strings_weigh_what_their_thickness_says(
    note: str, material: str, low_mm: float, usual_mm: float | None, high_mm: float, density: float
) -> None:
    row = usual_string("violin", note, material)
    assert row is not None
    for thick, mass in ((low_mm, row.low_g_m), (usual_mm, row.typical_g_m), (high_mm, row.high_g_m)):
        if thick is not None:
            assert 1000 * plain_string_density_kg_m(thick / 1000, density) == pytest.approx(mass, rel=0.035)


# Usual tensions in N, from memory, no brand; the bass from memory and rough.
@pytest.mark.parametrize(
    ("kind", "tensions"),
    [
        ("violin", (45, 46, 56, 78)),
        ("viola", (55, 55, 58, 75)),
        ("cello", (132, 133, 140, 170)),
        ("bass", (275, 275, 280, 285)),
    ],
)
def test_the_table_gives_the_usual_tensions_at_its_length(kind: str, tensions: tuple[float, ...]) -> None:
    for note, wanted in zip(TUNINGS[kind], tensions, strict=True):
        row = usual_string(kind, note)
        assert row is not None
        pull = tension_n(row.typical_g_m / 1000, row.length_mm / 1000, frequency_hz(note))
        assert pull == pytest.approx(wanted, rel=0.002)


def test_a_string_of_another_material_is_the_usual_one_where_the_table_has_no_other() -> None:
    assert usual_string("violin", "G3", "gut") == usual_string("violin", "G3")
    assert usual_string("cello", "F1") is None
