"""What CITES, the convention on trade in endangered species, says of a species on a day, as far as this table knows.

Look-up only; it replaces no authority. Each row says whether it was read in a source or is from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache

from passport.reference.tables import rows_of
from passport.reference.woods import WOODS

# When the table was last gone through. Appendices change after every conference of the parties.
AS_OF = date(2026, 11, 1)
DEFERENCE = (
    "Ask your management authority before anything crosses a border; its word counts, and rules differ by country."
)


@dataclass(frozen=True)
class Listing:
    """One entry of an appendix: I, II or III, its annotation, from when to when, what it means for instruments.

    `part_of` names the origin it is limited to; `is_found` tells that it was read in `source`, else it was remembered.
    """

    taxon: str
    common: str
    part_of: str
    appendix: str
    annotation: str
    since: date
    until: date
    words: str
    is_found: bool
    source: str

    def holds(self, scientific: str, origin: str, day: date) -> bool:
        """Tell whether the entry holds for wood of this origin on this day.

        Of an entry limited to an origin, wood that names neither origin nor species is taken for listed.
        """
        may_be_from_there = not origin and scientific == self.taxon
        is_from_there = self.part_of.casefold() in origin.casefold() or may_be_from_there
        return is_from_there and self.since <= day <= self.until


@cache
def listings() -> tuple[Listing, ...]:
    """Give the whole table."""
    return tuple(
        Listing(
            taxon=row["taxon"],
            common=row["common"],
            part_of=row["part_of"],
            appendix=row["appendix"],
            annotation=row["annotation"],
            since=date.fromisoformat(row["since"]) if row["since"] else date.min,
            until=date.fromisoformat(row["until"]) if row["until"] else date.max,
            words=row["words"],
            is_found=row["class"] == "found",
            source=row["source"],
        )
        for row in rows_of("cites.csv")
    )


def listing(scientific: str, origin: str, day: date) -> Listing | None:
    """Give the entry for a species on a day, its own before that of its genus; None where this table has none."""
    genus = scientific.split(" ", maxsplit=1)[0]
    of_species = [each for each in listings() if each.taxon == scientific]
    entries = of_species or [each for each in listings() if each.taxon == genus]
    return next((each for each in entries if each.holds(scientific, origin, day)), None)


@cache
def known_names() -> frozenset[str]:
    """Give every scientific name that the tables have."""
    return frozenset((*WOODS, *(each.taxon for each in listings())))


def is_known(scientific: str) -> bool:
    """Tell whether the tables have a species, or the genus it belongs to."""
    genus = scientific.split(" ", maxsplit=1)[0]
    return bool(genus) and any(name == scientific or name.split(" ")[0] == genus for name in known_names())
