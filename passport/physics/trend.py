"""How something changes with time and with something else: least squares with known uncertainties.

JCGM 100:2008 (GUM), annex H.3, for the line; P. R. Bevington and D. K. Robinson, Data Reduction and Error Analysis for
the Physical Sciences, chapters 6 and 7, for weights and more than one slope (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from passport.physics.ranges import OutsideRange, within

# A spread of the abscissae below this share of their size cannot be told from none.
FLAT = 1e-9


@dataclass(frozen=True)
class Fitted:
    """The value at zero and the slopes; `covariance` is that of (value at zero, slopes), row by row."""

    at_zero: float
    slopes: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]

    def slope_u(self, index: int) -> float:
        """Give the standard uncertainty of a slope."""
        return sqrt(self.covariance[index + 1][index + 1])

    def at(self, *abscissae: float) -> float:
        """Give the fitted value at a place."""
        return self.at_zero + sum(slope * x for slope, x in zip(self.slopes, abscissae, strict=True))


def least_squares(values: Sequence[float], uncertainties: Sequence[float], *abscissae: Sequence[float]) -> Fitted:
    """Fit value = a + b1 x1 + b2 x2 ... with weights 1/u^2.

    More values than there are constants, every uncertainty above 0, the abscissae spread and independent of each other;
    OutsideRange. Where the values scatter more than their uncertainties allow, these are raised to fit (R. T. Birge,
    Physical Review 40 (1932) 207), never lowered.
    """
    count, constants = len(values), len(abscissae) + 1
    within("the number of values", count, constants + 1, 100_000, "")
    for each in uncertainties:
        within("the uncertainty", each, 1e-12, 1e9, "")
    design = np.column_stack([np.ones(count), *(np.asarray(x, dtype=float) for x in abscissae)])
    weights = 1 / np.asarray(uncertainties, dtype=float)
    weighted = design * weights[:, None]
    if np.linalg.matrix_rank(weighted / np.linalg.norm(weighted, axis=0).clip(min=FLAT), tol=FLAT) < constants:
        raise OutsideRange("the spread of what it depends on", 0, FLAT, 1e9, "")
    measured = np.asarray(values, dtype=float) * weights
    covariance = np.linalg.inv(weighted.T @ weighted)
    found = covariance @ weighted.T @ measured
    chi_squared = float(np.sum((measured - weighted @ found) ** 2))
    raised = max(1.0, chi_squared / (count - constants))
    return Fitted(
        at_zero=float(found[0]),
        slopes=tuple(map(float, found[1:])),
        covariance=tuple(tuple(float(each) * raised for each in row) for row in covariance),
    )
