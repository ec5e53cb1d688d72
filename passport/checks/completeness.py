"""Family 6, completeness: one note for each instrument that lacks something, said only when it is asked for.

A new archive lacks something in every record, and thousands of notes would drown the errors. So these are no part of
an ordinary check, which gives their number in a line: see `shares`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from passport.analysis.completeness import completeness, most_wanted, subject_of
from passport.analysis.wanted import PURPOSES
from passport.findings import Code, Finding
from passport.records.catalogue import Archive


@dataclass(frozen=True)
class Asked:
    """How complete a record is: the purposes it is asked for, those for which nothing is missing, the note on it."""

    purposes: tuple[str, ...]
    whole: tuple[str, ...]
    notes: tuple[Finding, ...]


def asked(archive: Archive, stem: str) -> Asked:
    """Say how complete a record is for each purpose, and what to add first."""
    found = completeness(subject_of(archive, stem))
    first = most_wanted(found)
    notes: tuple[Finding, ...] = ()
    if first is not None:
        shares = ", ".join(f"{PURPOSES[each.purpose]} {each.percent} %" for each in found if each.missing)
        names = dict.fromkeys(thing.name for each in found for thing in each.missing)
        what = f"not all is recorded that may be asked for: {shares}; most wanted is {first.name}; missing: "
        what += ", ".join(names)
        notes = (Finding(Code.INCOMPLETE, archive.instruments[stem].file, what, first.todo, ("id",)),)
    whole = tuple(each.purpose for each in found if not each.missing)
    return Asked(tuple(each.purpose for each in found), whole, notes)


def shares(asked_of: Iterable[Asked], *, with_way: bool = True) -> str:
    """Say in one line of how many instruments nothing is missing for each purpose; nothing where none is asked.

    `with_way` adds how to learn what is missing.
    """
    records = tuple(asked_of)
    wanted = Counter(purpose for one in records for purpose in one.purposes)
    whole = Counter(purpose for one in records for purpose in one.whole)
    counts = [
        f"{words} {whole[purpose]} of {wanted[purpose]}" for purpose, words in PURPOSES.items() if wanted[purpose]
    ]
    way = "; what is: passport check --missing" if with_way else ""
    return f"Nothing is missing for {', '.join(counts)}{way}" if counts else ""
