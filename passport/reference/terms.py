"""The trade's words for what happens to an instrument and what is found on it.

Common practice unless the `source` column of `data/terms.csv` names a work.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from passport.reference.tables import rows_of


@dataclass(frozen=True)
class Term:
    """One word: what kind of thing it names, what it means, and who sees it unless an entry says otherwise."""

    term: str
    category: Literal["build", "custody", "setup", "repair", "condition"]
    meaning: str
    audience: Literal["public", "shop"]
    source: str

    @property
    def words(self) -> str:
        """Give the term as it is read: `seam_reglued` is "Seam reglued"."""
        spoken = SPOKEN.get(self.term, self.term.replace("_", " "))
        return spoken[0].upper() + spoken[1:]


# Terms that do not read well with their underscores merely taken out.
SPOKEN = {
    "qc_passed": "checked by a second person",
    "playing_in_review": "playing-in review",
    "setup_complete": "set-up complete",
    "white_setup_trial": "trial set-up in the white",
    "white_complete": "complete in the white",
    "f_holes_cut": "f-holes cut",
    "bass_bar_fitted": "bass bar fitted",
    "bass_bar_replaced": "bass bar replaced",
    "measured_scan": "measured by scan",
    "crack_f_hole_eye": "crack at an f-hole eye",
    "trade_in": "taken in exchange",
    "rented_in": "back from rental",
    "rented_out": "out on rental",
    "checkup": "check-up",
}


def _read() -> tuple[Term, ...]:
    return tuple(
        Term(row["term"], row["category"], row["meaning"], row["audience"], row["source"])  # type: ignore[arg-type]
        for row in rows_of("terms.csv")
    )


_TERMS = _read()
EVENTS: Mapping[str, Term] = MappingProxyType({term.term: term for term in _TERMS if term.category != "condition"})
CONDITIONS: Mapping[str, Term] = MappingProxyType({term.term: term for term in _TERMS if term.category == "condition"})
