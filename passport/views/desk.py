"""What lies on the desk while an audience's pages are made, and the naming of facts.

Holds the archive as `visible` lets it through, never the whole one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from passport.records.catalogue import Archive
from passport.records.model.marks import Audience
from passport.records.model.workshop import Person, Workshop
from passport.views.tree import Fact


@dataclass(frozen=True)
class Desk:
    """What lies on the desk while an audience's pages are made: the visible archive and the addresses.

    A draft is only shown on the workshop's own machine, while somebody writes: its pages say what is to be mended.
    """

    archive: Archive
    audience: Audience
    paths: Mapping[str, str]
    is_draft: bool = False

    @property
    def tells_findings(self) -> bool:
        """Tell whether the pages say what the checks found: to the shop, and to whoever writes."""
        return self.audience == "shop" or self.is_draft

    @property
    def workshop(self) -> Workshop:
        """Give the workshop's record."""
        return self.archive.workshop.record

    @property
    def people(self) -> Mapping[str, Person]:
        """Give the people by their short names."""
        return self.workshop.people or {}


def facts(*pairs: tuple[str, str | None]) -> tuple[Fact, ...]:
    """Give the facts that are there."""
    return tuple(Fact(name, text) for name, text in pairs if text)
