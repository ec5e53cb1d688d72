"""An instrument's number as somebody typed it.

Wording for the command line only; what a number is stands in `records.identity`.
"""

from __future__ import annotations

from passport.errors import PassportError
from passport.records.catalogue import Archive
from passport.records.identity import near, normalised, why_wrong


def typed_instrument(archive: Archive, typed: str) -> str:
    """Give the file name of the instrument meant; PassportError with near numbers where there is none."""
    number = normalised(typed)
    if number in archive.instruments:
        return number
    close = near(number, archive.instruments)
    offer = (
        f"did you mean {' or '.join(close)}?" if close else "numbers stand in the names of the files in instruments/"
    )
    raise PassportError(why_wrong(number) or f"there is no instrument {number}", offer)
