"""How complete a record is for each who will ask: a buyer, an insurer, customs, whoever opens it next, a description.

Each thing asked for counts one, whatever it is worth: a share is to be understood without a table of weights. What is
asked for depends on where the instrument comes from and what it is; nothing is asked of one still being made, nor of
one that is out of use or missing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from passport.analysis.wanted import BUYER, PURPOSES, THINGS, Subject
from passport.records.catalogue import Archive
from passport.records.model.workshop import Private
from passport.records.walk import fields_of

LEFT = ("sold", "rented_out", "loaned", "shipped")


@dataclass(frozen=True)
class Missing:
    """One thing that is not there, and what to do next."""

    name: str
    todo: str


@dataclass(frozen=True)
class Completeness:
    """How much of what one purpose asks for is there."""

    purpose: str
    wanted: int
    missing: tuple[Missing, ...]

    @property
    def there(self) -> int:
        """Count the things that are there."""
        return self.wanted - len(self.missing)

    @property
    def percent(self) -> int:
        """Give the share in whole percent, rounded down: 100 only when nothing is missing."""
        return 100 * self.there // self.wanted


def subject_of(archive: Archive, stem: str) -> Subject:
    """Lay an instrument, its private record and the lots of its wood side by side."""
    record = archive.instruments[stem].record
    private = archive.private[stem].record if stem in archive.private else Private()
    named = [part.lot for _, part in fields_of(record.parts)] if record.parts else []
    return Subject(stem, record, private, {lot: archive.wood[lot].record for lot in named if lot in archive.wood})


def completeness(subject: Subject) -> tuple[Completeness, ...]:
    """Give how complete a record is for each purpose that is asked of it."""
    if not is_asked(subject):
        return ()
    asked = [thing for thing in THINGS if thing.asked(subject)]
    lacking = {thing.name for thing in asked if not thing.there(subject)}
    return tuple(
        Completeness(
            purpose,
            sum(purpose in thing.purposes for thing in asked),
            tuple(
                Missing(thing.name, thing.todo(subject))
                for thing in asked
                if thing.name in lacking and purpose in thing.purposes
            ),
        )
        for purpose in PURPOSES
        if purpose != BUYER or subject.record.origin != "customer"
    )


def is_asked(subject: Subject) -> bool:
    """Tell whether anything is asked: the instrument is in use, and not still on the bench where it is made."""
    record = subject.record
    if record.status and record.status.now not in (None, "in_use"):
        return False
    finished = record.made is not None and record.made.finished is not None
    strung = any(sheet.role != "trial" for sheet in record.setups or ())
    return not subject.is_ours or finished or strung or subject.happened(*LEFT)


def most_wanted(found: Iterable[Completeness]) -> Missing | None:
    """Give the missing thing that most purposes ask for; of equals, the one that stands first in the list."""
    counts = Counter(missing for each in found for missing in each.missing)
    return max(counts, key=lambda missing: counts[missing], default=None)
