"""The checks, one module a family, run in this order; they give findings and print nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from passport.analysis.usage import Mentions, mentions
from passport.checks import (
    chronology,
    completeness,
    form,
    geometry,
    labels,
    materials,
    plates,
    plausibility,
    privacy,
    references,
    wood_and_light,
)
from passport.checks.completeness import Asked
from passport.findings import Finding
from passport.kept import Notebook
from passport.records.catalogue import Archive, located
from passport.spread import spread

# What is asked of each instrument. A family looks at its record and at those it speaks of, never at other
# instruments: what it found stays good until one of these changes.
OWN: tuple[Callable[[Archive, str], Iterator[Finding]], ...] = (
    form.of_instrument,
    references.of_instrument,
    chronology.of_instrument,
    plausibility.of_instrument,
    geometry.of_instrument,
    wood_and_light.of_instrument,
    plates.of_instrument,
    materials.of_instrument,
    privacy.of_instrument,
)
# What is asked of all other records.
OTHERS: tuple[Callable[[Archive], Iterator[Finding]], ...] = (
    form.of_others,
    references.of_others,
    chronology.of_others,
    plausibility.of_others,
    wood_and_light.of_others,
    materials.of_others,
    privacy.of_others,
    labels.check,
)


@dataclass(frozen=True)
class Examined:
    """What was found in one instrument's record, what it lacks, and what it is held by against the others."""

    findings: tuple[Finding, ...]
    asked: Asked
    mentions: Mentions


def check(archive: Archive, notebook: Notebook | None = None) -> tuple[Finding, ...]:
    """Give everything that is wrong or unusual in the archive, with its place, in the order of files and lines."""
    return judged(archive, examined(archive, notebook or Notebook()))


def judged(archive: Archive, each: Mapping[str, Examined]) -> tuple[Finding, ...]:
    """Give what was found in each instrument, and what is found in all records together."""
    found = [*archive.findings, *(finding for family in OTHERS for finding in family(archive))]
    found += references.across(archive, {stem: one.mentions for stem, one in each.items()})
    own = [finding for one in each.values() for finding in one.findings]
    return tuple(sorted((*own, *located(found)), key=lambda finding: finding.order))


def examined(archive: Archive, notebook: Notebook) -> dict[str, Examined]:
    """Examine the instruments one by one; those that are as they were, and what they speak of, were examined before."""
    inputs = {stem: archive.inputs_of(stem) for stem in archive.instruments}
    return notebook.chapter("examined", Examined).fill(inputs, lambda new: spread(examine, archive, new))


def examine(archive: Archive, stem: str) -> Examined:
    """Ask everything that is asked of one instrument."""
    found = [finding for family in OWN for finding in family(archive, stem)]
    asked = completeness.asked(archive, stem)
    return Examined(located(found), asked, mentions(stem, archive.instruments[stem].record))
