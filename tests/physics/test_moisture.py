"""Water in wood against the Wood Handbook.

`emc_table.csv`: equilibrium moisture in % by temperature (30 to 130 degrees F in degrees C) and relative humidity, 110
cells of a published chart in the layout of table 4-2 of the Wood Handbook (the handbook's own page was not seen). One
cell is corrected: 43.3 degrees C at 20 % is printed as 3.0 between 4.2 and 3.9; the equation gives 4.05, so 4.0 is
meant. The chart's figures are of one decimal, hence the tolerance: half of the last digit and the rounded temperature.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from passport.physics.moisture import equilibrium_moisture_pct, moisture_pct
from passport.physics.ranges import OutsideRange
from tests.physics.edges import refuses

with (Path(__file__).parent / "emc_table.csv").open(encoding="utf-8", newline="") as file:
    CELLS = [(float(row["temp_C"]), float(row["rh"]), float(row["emc"])) for row in csv.DictReader(file)]

temperatures = st.floats(-1.5, 55)
humidities = st.floats(0, 95)


def in_fahrenheit(temperature_f: float, humidity_pct: float) -> float:
    """Give the same by the constants that the handbook prints for degrees F (Wood Handbook, equation 4-5)."""
    t, h = temperature_f, humidity_pct / 100
    w = 330 + 0.452 * t + 0.00415 * t**2
    k = 0.791 + 0.000463 * t - 0.000000844 * t**2
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    return 1800 / w * (k * h / (1 - k * h) + k1 * k * h * (1 + 2 * k2 * k * h) / (1 + k1 * k * h * (1 + k2 * k * h)))


def test_every_cell_of_the_published_table_is_met() -> None:
    assert len(CELLS) == 110
    far = [cell for cell in CELLS if equilibrium_moisture_pct(*cell[:2]) != pytest.approx(cell[2], abs=0.06)]
    assert not far


# The first four as published sums; the rest worked out apart with an arbitrary-precision calculator from the constants
# for degrees C, to the ends of the range, so that no digit of a constant can be wrong.
WORKED = [
    (20, 35, 6.963), (20, 50, 9.271), (20, 55, 10.101), (10, 80, 16.382),
    (-1, 95, 24.33347), (54, 95, 21.54556), (54, 60, 9.47563), (54, 5, 1.00021), (-1, 5, 1.39941),
    (40, 90, 19.31886), (30, 30, 5.98539),
]  # fmt: skip


@pytest.mark.parametrize(("temperature_c", "humidity_pct", "moisture"), WORKED)
def test_worked_climates(temperature_c: float, humidity_pct: float, moisture: float) -> None:
    digits = 0.0005 if moisture == round(moisture, 3) else 0.000006
    assert equilibrium_moisture_pct(temperature_c, humidity_pct) == pytest.approx(moisture, abs=digits)


@given(temperatures, humidities)
@example(-1.5, 95)
def test_the_constants_for_celsius_and_for_fahrenheit_agree(temperature_c: float, humidity_pct: float) -> None:
    """Two published sets, rounded apart: they differ by 0.013 at most, where it is coldest and dampest."""
    assert equilibrium_moisture_pct(temperature_c, humidity_pct) == pytest.approx(
        in_fahrenheit(32 + 1.8 * temperature_c, humidity_pct), abs=0.013
    )


@given(temperatures, humidities, humidities)
def test_damper_air_makes_damper_wood(temperature_c: float, one: float, other: float) -> None:
    assume(other - one > 1e-6)
    assert equilibrium_moisture_pct(temperature_c, one) < equilibrium_moisture_pct(temperature_c, other)


@given(temperatures)
def test_wood_in_perfectly_dry_air_is_dry(temperature_c: float) -> None:
    assert equilibrium_moisture_pct(temperature_c, 0) == 0


def test_a_climate_outside_the_table_is_refused() -> None:
    refuses(lambda t: equilibrium_moisture_pct(t, 50), -1.5, 55, "degrees C", "the temperature")
    refuses(lambda h: equilibrium_moisture_pct(20, h), 0, 95, "%", "the relative humidity")


def test_moisture_is_the_water_over_the_dry_mass() -> None:
    """Wood Handbook, equation 4-1 (the example of 438 g and 400 g from memory)."""
    assert moisture_pct(438, 400) == pytest.approx(9.5)
    assert moisture_pct(400, 400) == 0


def test_masses_that_cannot_be_are_refused() -> None:
    refuses(lambda dry: moisture_pct(max(dry, 1e-6) * 2 if dry < 1e9 else dry, dry), 1e-6, 1e9, "", "the oven-dry mass")
    refuses(lambda mass: moisture_pct(mass, 100), 100, 400, "", "the mass")
    with pytest.raises(OutsideRange):
        moisture_pct(399, 400)
