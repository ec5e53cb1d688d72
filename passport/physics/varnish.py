"""Varnish under light: the dose a coat gets, how long a person may stand in it, and how thick a film is.

SI units, film thickness in micrometres. A permitted exposure is never a promise of safety; the pages say so.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist

from passport.physics.ranges import within

# Limit of effective radiant exposure, 180 to 400 nm, in eight hours: ICNIRP, Guidelines on limits of exposure to
# ultraviolet radiation of wavelengths between 180 nm and 400 nm, Health Physics 87 (2004) 171-186.
EXPOSURE_LIMIT_J_M2 = 30.0
# Limit of UV-A, 315 to 400 nm, to the unprotected eye in eight hours, not weighted: the same guidelines.
EYE_LIMIT_J_M2 = 10_000.0
# An arched plate has this much more surface than its outline. Common practice, no source.
ARCH_FACTOR = 1.02
# The limit is one of a working day, so no answer is longer than that.
WORKING_DAY_S = 8 * 3600.0


def dose_j_m2(irradiance_w_m2: float, seconds: float) -> float:
    """Give the radiant exposure in J/m2: H = E t; 0 to 2000 W/m2, 0 to 1e8 s; OutsideRange. Definition."""
    within("the irradiance", irradiance_w_m2, 0, 2000, "W/m2")
    return irradiance_w_m2 * within("the time", seconds, 0, 1e8, "s")


def permitted_exposure_s(effective_irradiance_w_m2: float) -> float:
    """Give how long unprotected eyes and skin may be exposed in a day, in s: 30 J/m2 / E_eff, at most eight hours.

    `effective_irradiance_w_m2` is weighted by the hazard of each wavelength, not what a plain meter reads; above 0 to
    1000 W/m2; OutsideRange. ICNIRP 2004.
    """
    within("the effective irradiance", effective_irradiance_w_m2, 1e-6, 1000, "W/m2")
    return min(EXPOSURE_LIMIT_J_M2 / effective_irradiance_w_m2, WORKING_DAY_S)


def eye_exposure_s(uva_irradiance_w_m2: float) -> float:
    """Give how long unprotected eyes may look into UV-A in a day, in s: 10 000 J/m2 / E, at most eight hours.

    `uva_irradiance_w_m2` as a plain UV-A meter reads it; above 0 to 2000 W/m2; OutsideRange. ICNIRP 2004.
    """
    within("the irradiance", uva_irradiance_w_m2, 1e-6, 2000, "W/m2")
    return min(EYE_LIMIT_J_M2 / uva_irradiance_w_m2, WORKING_DAY_S)


def body_area_mm2(half_outline_mm: Sequence[tuple[float, float]], rib_height_mm: float) -> float:
    """Give the outer surface of a body in mm2: twice the outline's area, a little more for the arch, and the ribs.

    `half_outline_mm` is a row of (height above the bottom edge, half width) from the neck to the bottom, joined by
    straight lines; the ribs are as long as the outline. At least three points, ribs 0 to 400 mm; OutsideRange.
    Geometry (the shoelace formula).
    """
    within("the number of points", len(half_outline_mm), 3, 1e6, "")
    within("the rib height", rib_height_mm, 0, 400, "mm")
    ends = [(half_outline_mm[0][0], 0.0), *half_outline_mm, (half_outline_mm[-1][0], 0.0)]
    steps = tuple(pairwise(ends))
    half_area = abs(sum(h1 * w2 - h2 * w1 for (h1, w1), (h2, w2) in steps)) / 2
    half_round = sum(dist(one, other) for one, other in steps)
    return 4 * half_area * ARCH_FACTOR + 2 * half_round * rib_height_mm


def film_thickness_um(dry_mass_g: float, area_mm2: float, film_kg_m3: float) -> float:
    """Give the thickness of a dry film in micrometres: m / (rho A).

    Dry mass 0 to 1000 g, area 1000 mm2 to 1e8 mm2, film density 700 to 2000 kg/m3; OutsideRange. Geometry.
    """
    within("the dry mass", dry_mass_g, 0, 1000, "g")
    within("the area", area_mm2, 1e3, 1e8, "mm2")
    within("the density of the film", film_kg_m3, 700, 2000, "kg/m3")
    # g / (kg/m3 mm2) = 1e-3 kg / (kg/m3 1e-6 m2) = 1e3 m = 1e9 um
    return dry_mass_g / (film_kg_m3 * area_mm2) * 1e9


def solids_pct(dry_mass: float, wet_mass: float) -> float:
    """Give the solids of a varnish in %: 100 m_dry / m_wet, both in one unit, the dry one not larger; OutsideRange."""
    within("the wet mass", wet_mass, 1e-6, 1e9, "")
    return 100 * within("the dry mass", dry_mass, 0, wet_mass, "") / wet_mass
