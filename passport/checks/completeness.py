"""Family 6, completeness: one note for each instrument that lacks something, said only when it is asked for.

A new archive lacks something in every record, and thousands of notes would drown the errors. So these are no part of
an ordinary check, which gives their number in a line: see `shares`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from passport.analysis.completeness import completeness, most_wanted, subject_of
from passport.analysis.wanted import PURPOSES
from passport.findings import Code, Finding
from passport.records.catalogue import Archive


def check(archive: Archive) -> Iterator[Finding]:
    """Give a note on each instrument that is not complete for every purpose."""
    for stem in archive.instruments:
        yield from of_instrument(archive, stem)


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Say how complete a record is for each purpose, and what to add first."""
    found = completeness(subject_of(archive, stem))
    first = most_wanted(found)
    if first is not None:
        shares = ", ".join(f"{PURPOSES[each.purpose]} {each.percent} %" for each in found if each.missing)
        what = f"not all is recorded that may be asked for: {shares}; most wanted is {first.name}"
        yield Finding(Code.INCOMPLETE, archive.instruments[stem].file, what, first.todo, ("id",))


def shares(archive: Archive) -> str:
    """Say in one line of how many instruments nothing is missing for each purpose; nothing where none is asked."""
    found = [each for stem in archive.instruments for each in completeness(subject_of(archive, stem))]
    asked = Counter(each.purpose for each in found)
    whole = Counter(each.purpose for each in found if not each.missing)
    counts = [f"{words} {whole[purpose]} of {asked[purpose]}" for purpose, words in PURPOSES.items() if asked[purpose]]
    return f"Nothing is missing for {', '.join(counts)}; what is: passport check --missing" if counts else ""
