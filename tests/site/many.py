"""A catalogue of a few hundred invented instruments, and what a plain count over its lines finds in it."""

from __future__ import annotations

import itertools
import random
from collections.abc import Collection, Mapping
from dataclasses import replace

from stdnum.iso7064 import mod_37_2

from passport.views.site_tree import CatalogueEntry, CatalogueGroup, SiteView
from tests.site import sample

SIZES = {"violin": ("4/4", "3/4", "1/2"), "viola": ("420\u202fmm", "405\u202fmm"), "cello": ("4/4", "3/4")}
TITLES = {"violin": "Violins", "viola": "Violas", "cello": "Cellos"}
LOTS = tuple(f"SP{number}" for number in range(1, 25))
LINES = 260
ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
VAGUE = {
    "between 1900 and 1999": (1900, 1999),
    "1924 to 1926": (1924, 1926),
    "1931 or before": (None, 1931),
    "": (None, None),
}


def numbers(chance: random.Random) -> set[str]:
    """As many valid numbers as there are lines."""
    found: set[str] = set()
    while len(found) < LINES:
        body = "".join(chance.choices(ALPHABET, k=6))
        last = mod_37_2.calc_check_digit(body)
        if last in ALPHABET:
            found.add(body + last)
    return found


def entry(number: str, place: int, chance: random.Random) -> CatalogueEntry:
    kind = chance.choices(tuple(SIZES), (6, 2, 2))[0]
    size = chance.choice(SIZES[kind])
    words, years = chance.choice(tuple(VAGUE.items()))
    if place % 10:
        year = 2001 + place % 25
        words, years = str(year), (year, year)
    return CatalogueEntry(
        number, f"{number}/", kind, size, f"{kind.capitalize()} {size}", chance.choice(("Harrow", "Lark", "")), words,
        f"TP {place}" if place % 7 else "", "withdrawn" if place % 20 == 3 else "",
        first_year=years[0], last_year=years[1], hands=tuple(chance.sample(("Ilse Tamm", "Jory Penn", "Åsa Ö"), 2)),
        lots=tuple(chance.sample(LOTS, 3)), batches=(f"OV{place % 5}-1",),
    )  # fmt: skip


def site() -> SiteView:
    chance = random.Random(7)  # noqa: S311 - a test, no secret
    entries = [entry(number, place, chance) for place, number in enumerate(sorted(numbers(chance)))]
    groups = tuple(
        CatalogueGroup(TITLES[kind], tuple(sorted((e for e in entries if e.kind == kind), key=lambda e: e.size)))
        for kind in SIZES
    )
    return replace(sample.PUBLIC, catalogue=groups)


def lines(of: SiteView) -> tuple[CatalogueEntry, ...]:
    return tuple(itertools.chain.from_iterable(group.instruments for group in of.catalogue))


def values(line: CatalogueEntry, facet: str, earliest: int, latest: int) -> set[str]:
    """The values under which a line is looked for; an open end of a date reaches as far as the catalogue does."""
    if facet == "year":
        if line.first_year is None and line.last_year is None:
            return set()
        years = range(line.first_year or earliest, (line.last_year or latest) + 1)
        return {str(year) for year in years} | {f"{year // 10}0s" for year in years}
    one = {"kind": line.kind, "size": line.size, "model": line.model, "status": line.status or "in use"}
    more = {"hand": line.hands, "lot": line.lots, "batch": line.batches}
    return {one[facet]} - {""} if facet in one else set(more[facet])


def found(of: SiteView, choices: Mapping[str, Collection[str]]) -> list[CatalogueEntry]:
    """The lines that have, in each facet with a choice, at least one of the chosen values."""
    known = [year for line in lines(of) for year in (line.first_year, line.last_year) if year]
    return [
        line
        for line in lines(of)
        if all(values(line, facet, min(known), max(known)) & set(chosen) for facet, chosen in choices.items() if chosen)
    ]
