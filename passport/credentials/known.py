"""What the workshop itself knows of its keys and passports: its statements, and the digests of all it has issued.

No number of an instrument stands in the list, so that it may lie open although unlisted instruments have passports too.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from passport.credentials.issued import Place, issue_at, issued_to, places_of, statements
from passport.credentials.statements import Statement
from passport.credentials.vocabulary import CONTEXT
from passport.credentials.words import words
from passport.kept import Notebook, state


@dataclass(frozen=True)
class Listed:
    """One issue in the workshop's list, and the newest of the same instrument."""

    number: int
    day: str
    newest_number: int
    newest_day: str


@dataclass(frozen=True)
class Known:
    """The workshop's keys in their order, its issues by digest, and the day of the last entry of either."""

    statements: tuple[Statement, ...] = ()
    issues: Mapping[str, Listed] = field(default_factory=dict)
    day: str = ""

    @property
    def workshop(self) -> str:
        """Give the name the workshop has now."""
        return self.statements[-1].workshop if self.statements else ""


def known(root: Path, notebook: Notebook) -> Known:
    """Read what the records hold; PassportError where something in `issued/` was altered or is missing."""
    row = statements(root)
    places = [places_of(root, stem) for stem in issued_to(root)]
    inputs = {place.file.as_posix(): _state_of(place) for each in places for place in each}
    by_file = {place.file.as_posix(): place for each in places for place in each}
    digests = notebook.chapter("issued", str).fill(inputs, lambda new: [issue_at(by_file[name]).digest for name in new])
    listed = {
        digests[place.file.as_posix()]: Listed(place.number, place.day, each[-1].number, each[-1].day)
        for each in places
        for place in each
    }
    days = [statement.day for statement in row] + [issue.day for issue in listed.values()]
    return Known(row, listed, max(days, default=""))


def _state_of(place: Place) -> str:
    try:
        return state(place.file.stat())
    except OSError:
        return ""  # it is missing, which reading it will tell


def for_page(what: Known) -> str:
    """Give the same for the page in the browser, with the words it says, as JSON that may stand inside HTML."""
    data = {
        "words": dict(words()),
        "context": CONTEXT,
        "day": what.day,
        "statements": [statement.document for statement in what.statements],
        "issues": {
            digest: [issue.number, issue.day, issue.newest_number, issue.newest_day]
            for digest, issue in what.issues.items()
        },
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
