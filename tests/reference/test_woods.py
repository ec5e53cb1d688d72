"""The table of woods against the Wood Handbook, and against itself."""

from __future__ import annotations

import pytest

from passport.physics.wood import change_coefficient, size_change_mm
from passport.reference.woods import COEFFICIENTS, WOODS, common_name

# Wood Handbook, FPL-GTR-190 (2010): coefficients of table 13-5 and total shrinkage of table 4-3 in percent.
# The shrinkages of spruces and maples are from memory.
HANDBOOK = [
    ("Picea sitchensis", 0.00148, 0.00263, 4.3, 7.5),
    ("Picea engelmannii", 0.00130, 0.00248, 3.8, 7.1),
    ("Picea rubens", 0.00130, 0.00274, 3.8, 7.8),
    ("Picea mariana", 0.00141, 0.00237, 4.1, 6.8),
    ("Acer saccharum", 0.00165, 0.00353, 4.8, 9.9),
    ("Acer rubrum", 0.00137, 0.00289, 4.0, 8.2),
    ("Acer saccharinum", 0.00102, 0.00252, 3.0, 7.2),
    ("Acer macrophyllum", 0.00126, 0.00248, 3.7, 7.1),
    ("Tilia americana", 0.00230, 0.00330, 6.6, 9.3),
    ("Prunus serotina", 0.00126, 0.00248, 3.7, 7.1),
    ("Juglans nigra", 0.00190, 0.00274, 5.5, 7.8),
]


@pytest.mark.parametrize(("species", "radial", "tangential", "shrink_r", "shrink_t"), HANDBOOK)
def test_coefficients_are_those_of_the_handbook(
    species: str, radial: float, tangential: float, shrink_r: float, shrink_t: float
) -> None:
    wood = WOODS[species]
    assert wood.radial is not None
    assert wood.tangential is not None
    assert (wood.radial.coefficient, wood.tangential.coefficient) == (radial, tangential)
    assert wood.radial.source == wood.tangential.source == COEFFICIENTS
    # The rule that stands in where the table has no coefficient gives these to the last digit printed.
    assert round(change_coefficient(shrink_r), 5) == radial
    assert round(change_coefficient(shrink_t), 5) == tangential


def test_a_wood_without_a_coefficient_moves_by_its_shrinkage() -> None:
    spruce = WOODS["Picea abies"]
    assert spruce.radial is not None
    assert spruce.radial.shrinkage_pct == 3.6
    # (3.6 / 100 / 30) / (1 - 2 x 0.036 / 3), by hand
    assert spruce.radial.coefficient == pytest.approx(0.0012 / 0.976)


@pytest.mark.parametrize(
    ("size_mm", "species", "from_pct", "to_pct", "expected_mm"),
    [
        # Equation 13-2 of the Wood Handbook with its coefficients, by hand: a violin top, a violin back, a cello top.
        (206, "Picea sitchensis", 12, 6, -1.829),
        (206, "Acer saccharum", 12, 6, -2.039),
        (440, "Picea sitchensis", 11, 7, -2.605),
    ],
)
def test_a_plate_moves_as_worked_out_by_hand(
    size_mm: float, species: str, from_pct: float, to_pct: float, expected_mm: float
) -> None:
    radial = WOODS[species].radial
    assert radial is not None
    assert size_change_mm(size_mm, radial.coefficient, from_pct, to_pct) == pytest.approx(expected_mm, abs=0.0006)


@pytest.mark.parametrize("species", WOODS)
def test_numbers_of_one_wood_agree_with_each_other(species: str) -> None:
    wood = WOODS[species]
    if wood.density_low and wood.density and wood.density_high:
        assert wood.density_low < wood.density < wood.density_high
    if wood.radial and wood.tangential:
        assert 0 < wood.radial.coefficient < wood.tangential.coefficient < 0.005
    if wood.density and wood.e_along and wood.speed_along:
        # E = rho c^2 within a twentieth: both were rounded.
        assert wood.density * wood.speed_along**2 / 1e9 == pytest.approx(wood.e_along, rel=0.05)
    if wood.block_along and wood.speed_along and wood.block_across and wood.speed_across:
        assert wood.block_along > wood.speed_along
        assert wood.block_across > wood.speed_across
    if any((wood.density, wood.e_along, wood.speed_along, wood.q_along)):
        assert wood.source


def test_a_wood_that_is_not_listed_has_no_name() -> None:
    assert common_name("Picea abies") == "Norway spruce"
    assert common_name("Abies alba") == ""
    assert common_name(None) == ""
