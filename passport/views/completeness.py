"""What is missing in a record, and who will ask for it, for the shop's own page of an instrument.

Nothing of it is made for the public.
"""

from __future__ import annotations

from passport.analysis.completeness import Missing, completeness, subject_of
from passport.analysis.wanted import PURPOSES
from passport.views.desk import Desk
from passport.views.numbers import NARROW_SPACE, joined
from passport.views.titles import capital
from passport.views.tree import Fact, MissingThing, MissingView


def missing(desk: Desk, stem: str) -> MissingView | None:
    """Give the share of each purpose and each missing thing once; None for the public, or where nothing is asked."""
    found = completeness(subject_of(desk.archive, stem)) if desk.audience == "shop" else ()
    if not found:
        return None
    asked_by: dict[Missing, list[str]] = {}
    for each in found:
        for thing in each.missing:
            asked_by.setdefault(thing, []).append(PURPOSES[each.purpose])
    return MissingView(
        shares=tuple(
            Fact(
                capital(PURPOSES[each.purpose]), f"{each.percent}{NARROW_SPACE}%, {each.there} of {each.wanted} things"
            )
            for each in found
        ),
        things=tuple(
            MissingThing(capital(thing.name), thing.todo, f"for {joined(*purposes)}")
            for thing, purposes in asked_by.items()
        ),
    )
