"""The word that was most likely meant.

Knows nothing but text; reading and checks share it.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Set

# The likeness below which a suggestion confuses more than it helps; found by trying slips on the field names.
LIKENESS = 0.6
LONGEST_LIST = 16


def nearest(typed: str, words: Iterable[str], otherwise: str) -> str:
    """Offer the known word nearest to the one typed, else a short list whole, else another way."""
    # A set is in another order in every run; what is said must not be.
    known = tuple(sorted(words) if isinstance(words, Set) else words)
    same = [word for word in known if word.casefold() == typed.casefold()]
    near = same or difflib.get_close_matches(typed, known, n=1, cutoff=LIKENESS)
    if near:
        return f"did you mean “{near[0]}”?"
    if 0 < len(known) <= LONGEST_LIST:
        return f"known here: {', '.join(known)}"
    return otherwise
