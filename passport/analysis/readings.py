"""What a pattern of changes most likely means, in order, and what to measure next.

The patterns stand in `reference.drift`; here they are only held against what was found.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from passport.reference import drift

# Of a quantity: how it stands (up, down, still, wetter, drier), and whether that is sure.
Stands = Mapping[str, tuple[tuple[str, bool], ...]]


@dataclass(frozen=True)
class Likely:
    """One reading; not sure where it rests on the season or on changes that the gauges cannot tell.

    `because` are the quantities.
    """

    reading: drift.Reading
    is_sure: bool
    because: tuple[str, ...]


def likely(stands: Stands) -> tuple[Likely, ...]:
    """Give the readings that fit, those resting on sure changes first, each group likeliest first."""
    found = [each for reading in drift.readings() if (each := _held(reading, stands))]
    return (*(each for each in found if each.is_sure), *(each for each in found if not each.is_sure))


def _held(reading: drift.Reading, stands: Stands) -> Likely | None:
    sure = True
    for quantity, wanted in reading.when:
        fits = [is_sure for stand, is_sure in stands.get(quantity, ()) if _fits(stand, wanted)]
        if wanted == "untold":
            if stands.get(quantity):
                return None
            continue
        if not fits:
            return None
        sure = sure and any(fits)
    because = tuple(quantity for quantity, wanted in reading.when if wanted != "untold" and quantity != "season")
    return Likely(reading, sure, because)


def _fits(stand: str, wanted: str) -> bool:
    return stand == wanted or (wanted == "moved" and stand in ("up", "down"))
