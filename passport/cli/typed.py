"""An instrument's number, cells of a sheet and lengths, as somebody typed them.

Wording for the command line only; what a number is stands in `records.identity`.
"""

from __future__ import annotations

import re
from datetime import date

from passport.errors import PassportError
from passport.records.catalogue import Archive
from passport.records.identity import near, normalised, why_wrong
from passport.units import UnknownUnit, WrongDimension, parse_amount

HEIGHTS = re.compile(r"([A-Z]#?)[ :=]*([^A-Z]+)")
HEIGHTS_TODO = 'write each string and its height: --heights "G 5.0, D 4.7, A 4.2, E 3.5"'


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


def typed_mm(typed: str, what: str) -> float:
    """Read one length; PassportError where it is none."""
    try:
        amount = parse_amount(typed.strip(), "mm")
    except (ValueError, UnknownUnit, WrongDimension) as error:
        raise PassportError(f"{what} cannot be read: {error}", "write millimetres, such as 27.5") from error
    if amount.is_range:
        raise PassportError(f"{what} “{typed.strip()}” is a range", "write one number")
    return amount.low


def typed_heights_mm(typed: str) -> dict[str, float]:
    """Read "G 5.0, D 4.7" as the heights of strings; PassportError where a part of it is no string and height."""
    found: dict[str, float] = {}
    parts = HEIGHTS.findall(typed)
    if not parts or HEIGHTS.sub("", typed).strip(" ,;"):
        if typed.strip():
            raise PassportError(f"the heights “{typed}” cannot be read", HEIGHTS_TODO)
        return found
    for name, height in parts:
        if name in found:
            raise PassportError(f"the height of the {name} string is given twice", HEIGHTS_TODO)
        found[name] = typed_mm(height.strip(" ,;"), f"the height of the {name} string")
    return found
