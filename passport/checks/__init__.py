"""The checks, one module a family, run in this order; they give findings and print nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from passport.analysis.usage import Mentions, mentions
from passport.checks import form, references
from passport.findings import Finding
from passport.kept import Notebook
from passport.records.catalogue import Archive, located
from passport.spread import spread

# What is asked of each instrument. A family looks at its record and at those it speaks of, never at other
# instruments: what it found stays good until one of these changes.
OWN: tuple[Callable[[Archive, str], Iterator[Finding]], ...] = (form.of_instrument, references.of_instrument)
# What is asked of all other records.
OTHERS: tuple[Callable[[Archive], Iterator[Finding]], ...] = (form.of_others, references.of_others)


@dataclass(frozen=True)
class Examined:
    """What was found in one instrument's record, and what it is held by against the others."""

    findings: tuple[Finding, ...]
    mentions: Mentions


def check(archive: Archive, notebook: Notebook | None = None) -> tuple[Finding, ...]:
    """Give everything that is wrong or unusual in the archive, with its place, in the order of files and lines."""
    examined = _examined(archive, notebook or Notebook())
    found = [*archive.findings, *(finding for family in OTHERS for finding in family(archive))]
    found += references.across(archive, {stem: each.mentions for stem, each in examined.items()})
    own = [finding for each in examined.values() for finding in each.findings]
    return tuple(sorted((*own, *located(found)), key=lambda finding: finding.order))


def _examined(archive: Archive, notebook: Notebook) -> dict[str, Examined]:
    chapter = notebook.chapter("examined", Examined)
    known = {stem: chapter.get(stem, archive.inputs_of(stem)) for stem in archive.instruments}
    new = [stem for stem, kept in known.items() if kept is None]
    for stem, found in zip(new, spread(examine, archive, new), strict=True):
        known[stem] = found
        chapter.put(stem, archive.inputs_of(stem), found)
    return {stem: found for stem, found in known.items() if found is not None}


def examine(archive: Archive, stem: str) -> Examined:
    """Ask everything that is asked of one instrument."""
    found = [finding for family in OWN for finding in family(archive, stem)]
    return Examined(located(found), mentions(stem, archive.instruments[stem].record))
