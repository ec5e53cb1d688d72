"""Which sheet is the reference, what was measured last, and by how much the two differ.

The reference is decided here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from passport.findings import Path
from passport.records.model.sheets import SetupSheet, Sheet
from passport.records.model.values import Value
from passport.records.walk import measured

# The fields of a sheet that tell how it was taken, not what was measured.
CIRCUMSTANCES = ("state", "taken", "gauges", "fitted")


@dataclass(frozen=True)
class Compared:
    """One quantity at the reference and as last measured; `now` is None while nobody has measured it again.

    `moved` is now less then, in the unit of the quantity; None where either is missing or the two are not alike.
    """

    quantity: Path
    then: Value | None
    now: Value | None
    now_sheet: str
    moved: float | None
    alike: bool


@dataclass(frozen=True)
class SetupResult:
    """The reference sheet, the latest one after it, every quantity of both, and all other sheets, newest first."""

    reference: SetupSheet
    latest: SetupSheet | None
    others: tuple[SetupSheet, ...]
    compared: tuple[Compared, ...]


def day_of(sheet: Sheet) -> date:
    """Give the day of a sheet; one without a date counts as the oldest."""
    taken = sheet.taken.date if sheet.taken else None
    return (taken.earliest if taken else None) or date.min


def reference_of(sheets: Sequence[SetupSheet]) -> SetupSheet | None:
    """Give the latest sheet with the role of a reference; without one, the first sheet that is not a trial."""
    in_order = sorted(sheets, key=day_of)
    references = [sheet for sheet in in_order if sheet.role == "reference"]
    if references:
        return references[-1]
    return next((sheet for sheet in in_order if sheet.role != "trial"), None)


def compared(sheets: Sequence[SetupSheet]) -> SetupResult | None:
    """Set the reference beside what was measured since; None while there is no set-up."""
    reference = reference_of(sheets)
    if reference is None:
        return None
    since = _since(reference, sheets)
    then = dict(quantities(reference))
    last: dict[Path, tuple[Value, SetupSheet]] = {}
    for sheet in since:
        last |= {quantity: (value, sheet) for quantity, value in quantities(sheet)}
    names = [*then, *(quantity for quantity in last if quantity not in then)]
    rows = tuple(_row(name, then.get(name), last.get(name), reference) for name in names)
    latest = since[-1] if since else None
    others = [sheet for sheet in sorted(sheets, key=day_of) if sheet is not reference and sheet is not latest]
    return SetupResult(reference, latest, tuple(reversed(others)), rows)


def _since(reference: SetupSheet, sheets: Sequence[SetupSheet]) -> list[SetupSheet]:
    """Give the sheets behind the reference; those of one day stand in the record in the order they were taken."""
    in_order = sorted(sheets, key=day_of)
    place = next(index for index, sheet in enumerate(in_order) if sheet is reference)
    return in_order[place + 1 :]


def _row(name: Path, then: Value | None, last: tuple[Value, SetupSheet] | None, reference: SetupSheet) -> Compared:
    now, sheet = last if last is not None else (None, None)
    alike = then is None or sheet is None or _alike(name, reference, sheet)
    moved = now.value.middle - then.value.middle if then and now and alike else None
    return Compared(name, then, now, (sheet.sheet or "") if sheet else "", moved, alike)


def _alike(name: Path, one: SetupSheet, other: SetupSheet) -> bool:
    """Tell whether two sheets measured this quantity in the same state and to the same point of the string."""
    return _agree(_strung(one), _strung(other)) and _agree(_point(name, one), _point(name, other))


def _agree(one: str | None, other: str | None) -> bool:
    return one is None or other is None or one == other


def _strung(sheet: SetupSheet) -> str | None:
    return sheet.state.strings if sheet.state else None


def _point(name: Path, sheet: SetupSheet) -> str | None:
    """Give the point of the string that a per-string quantity was measured to."""
    return getattr(getattr(sheet, str(name[0]), None), "to", None)


def quantities(sheet: SetupSheet) -> Iterator[tuple[Path, Value]]:
    """Give every measured value of a sheet, without the climate it was taken in, in the order of the form."""
    return ((path, value) for path, value in measured(sheet) if path[0] not in CIRCUMSTANCES)
