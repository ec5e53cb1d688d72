"""Water in wood: what a climate makes of it, and how it is weighed.

S. V. Glass and S. L. Zelinka, Moisture Relations and Physical Properties of Wood, chapter 4 of the Wood Handbook,
General Technical Report FPL-GTR-190 (2010), cited below by equation; its constants for degrees Celsius.
"""

from __future__ import annotations

from passport.physics.ranges import within


def equilibrium_moisture_pct(temperature_c: float, humidity_pct: float) -> float:
    """Give the moisture that wood comes to in a climate, in % of its dry mass.

    Temperature -1.5 to 55 degrees C (30 to 130 degrees F, the part of the published table that was held against it,
    with its rounding), relative humidity 0 to 95 %; OutsideRange. Wood Handbook, equation 4-5; its table 4-2 is met
    within 0.06. What wood comes to after weeks in that climate, not what it holds today.
    """
    t = within("the temperature", temperature_c, -1.5, 55, "degrees C")
    h = within("the relative humidity", humidity_pct, 0, 95, "%") / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def moisture_pct(mass: float, oven_dry_mass: float) -> float:
    """Give the moisture of a piece from its mass and its mass oven-dry, in % of the dry mass.

    Both in one unit, above 0; the mass from once to four times the dry one (green wood at its wettest); OutsideRange.
    Wood Handbook, equation 4-1.
    """
    within("the oven-dry mass", oven_dry_mass, 1e-6, 1e9, "")
    within("the mass", mass, oven_dry_mass, 4 * oven_dry_mass, "")
    return 100 * (mass - oven_dry_mass) / oven_dry_mass
