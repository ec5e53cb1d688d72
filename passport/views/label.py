"""What a case label says, as plain words ready to print.

Holds text only; decides nothing and formats nothing.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class CaseLabel:
    """One instrument as its case label shows it; an empty `serial`, `place` or `contact` is left out."""

    id: str
    kind: str
    size: str
    serial: str
    address: str
    workshop: str
    place: str
    contact: str
