"""An instrument's number, and cells of a sheet, as somebody typed them.

Wording for the command line only; what a number is stands in `records.identity`.
"""

from __future__ import annotations

import re
from datetime import date

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


def typed_cells(typed: str, cells: int) -> frozenset[int]:
    """Read "1-7,12" as cells of a sheet, here counted from 0; PassportError for what the sheet does not have."""
    found: set[int] = set()
    for part in filter(None, re.split(r"[,;\s]+", typed.strip())):
        ends = re.fullmatch(r"([0-9]{1,4})(?:-([0-9]{1,4}))?", part)
        first, last = (int(ends[1]), int(ends[2] or ends[1])) if ends else (0, 0)
        if not 1 <= first <= last <= cells:
            todo = f"count row by row from the top, 1 to {cells}, and write cells and runs of cells: 1-7,12"
            raise PassportError(f"“{part}” names no cells of this sheet", todo)
        found.update(range(first - 1, last))
    return frozenset(found)


def typed_day(typed: str) -> date:
    """Read a day, 2026-03-05; PassportError for anything else."""
    try:
        return date.fromisoformat(typed.strip())
    except ValueError as error:
        raise PassportError(f"“{typed}” is not a day", "write year, month and day: 2026-03-05") from error
