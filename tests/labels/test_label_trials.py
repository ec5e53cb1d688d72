"""Finished labels are still read at the known limits, and the trials are hard enough to fail beyond them.

The limits were found in a simulation made before this one; symbol contrast grades are those of ISO/IEC 15415 (from
memory). A floor lies under what is known by what twenty-four shots may differ.
"""

from __future__ import annotations

import pytest

from .trials import TRIALS, share_read

SHOTS = 24
BY_NAME = {trial.name: trial for trial in TRIALS}


@pytest.mark.parametrize(
    ("name", "strength", "floor"),
    [
        ("pixels a module", 3.0, 0.95),
        ("blur", 0.4, 0.95),
        ("tilt", 45, 0.8),  # about 90 %
        ("contrast", 0.40, 0.95),  # the least of grade C
        ("blot", 8, 0.65),  # usually
        ("blot", 12, 0.5),  # about two in three
    ],
)
def test_labels_are_read_at_the_known_limit(name: str, strength: float, floor: float) -> None:
    assert share_read(BY_NAME[name], strength, SHOTS) >= floor


@pytest.mark.parametrize(
    ("name", "strength"), [("pixels a module", 1.0), ("blur", 0.8), ("tilt", 75), ("contrast", 0.05), ("blot", 24)]
)
def test_harm_beyond_all_limits_is_not_survived(name: str, strength: float) -> None:
    assert share_read(BY_NAME[name], strength, SHOTS) <= 0.5
