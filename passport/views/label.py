"""What a label says, as plain words ready to print.

Holds text only; decides nothing and formats nothing.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class CaseLabel:
    """One instrument as its labels show it; an empty `serial`, `place` or `contact` is left out.

    `setup` is the reference set-up, a name and a value each, for the card alone; so is `fingerprint`, that of the key
    which signs the workshop's passports.
    """

    id: str
    kind: str
    size: str
    serial: str
    address: str
    workshop: str
    place: str
    contact: str
    setup_date: str = ""
    setup: tuple[tuple[str, str], ...] = ()
    fingerprint: str = ""
