"""The checks, one module a family, run in this order; they give findings and print nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from passport.checks import form, plausibility, references
from passport.findings import Finding
from passport.records.catalogue import Archive, located

FAMILIES: tuple[Callable[[Archive], Iterator[Finding]], ...] = (form.check, references.check, plausibility.check)


def check(archive: Archive) -> tuple[Finding, ...]:
    """Give everything that is wrong or unusual in the archive, with its place, in the order of files and lines."""
    found = [finding for family in FAMILIES for finding in family(archive)]
    return located((*archive.findings, *found))
