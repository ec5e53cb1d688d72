"""How sure a difference is: standard uncertainties combined, and a change held against a limit.

JCGM 100:2008 (GUM), Evaluation of measurement data, and ISO 14253-1, decision rules; k = 2 throughout.
"""

from __future__ import annotations

from math import hypot
from typing import Literal

from passport.physics.ranges import within

Verdict = Literal["moved", "not moved", "cannot tell"]

# Whatever is finite and not absurd, in any unit.
LARGEST = 1e9
# Coverage factor: about 95 % where the uncertainty is normal. JCGM 100:2008, 6.3.3.
COVERAGE = 2.0
# A value that is read to a step lies anywhere within half of it: a rectangular distribution, JCGM 100:2008, 4.3.7.
RECTANGULAR = 3**0.5


def combined(*standard_uncertainties: float) -> float:
    """Give the combined standard uncertainty of independent ones, in their unit: the root of the sum of squares.

    None negative; OutsideRange. JCGM 100:2008, 5.1.2, for sums and differences.
    """
    return hypot(*(within("the uncertainty", each, 0, LARGEST, "") for each in standard_uncertainties))


def of_resolution(step: float) -> float:
    """Give the standard uncertainty of a reading to the nearest step: half the step over root 3.

    JCGM 100:2008, 4.3.7.
    """
    return within("the step", step, 0, LARGEST, "") / 2 / RECTANGULAR


def verdict(change: float, standard_uncertainty: float, limit: float) -> Verdict:
    """Say whether something moved by more than a limit, all in one unit, with guard bands of k = 2 on both sides.

    Moved where the change exceeds the limit by more than the expanded uncertainty, not moved where it stays below by
    that at least, cannot tell between. Limit above 0, uncertainty not negative; OutsideRange. ISO 14253-1:1998, 5.2
    and 5.3 (clauses from memory): conformity and non-conformity are proved only outside the zone of uncertainty. The
    edition of 2017 is content with k = 1.65 (from memory); 2 is the stricter.
    """
    within("the limit", limit, 1e-12, LARGEST, "")
    expanded = COVERAGE * within("the uncertainty", standard_uncertainty, 0, LARGEST, "")
    size = abs(within("the change", change, -LARGEST, LARGEST, ""))
    if size > limit + expanded:
        return "moved"
    return "not moved" if size + expanded <= limit else "cannot tell"
