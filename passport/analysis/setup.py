"""Which sheet is the reference, what was measured last, and by how much the two differ.

The reference is decided here and nowhere else; whether two values are alike, in `analysis.alike`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from passport.analysis.alike import Pair, epochs_of, in_order, pair
from passport.findings import Path
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.records.model.values import Value
from passport.records.walk import measured

# The fields of a sheet that tell how it was taken, not what was measured.
CIRCUMSTANCES = ("state", "taken", "gauges", "fitted")


@dataclass(frozen=True)
class Compared:
    """One quantity at the reference and as last measured; `now` is None while nobody has measured it again.

    `moved` is now less then, in the unit of the quantity; None where either is missing or the two are not alike, and
    `why_unlike` says why they are not.
    """

    quantity: Path
    then: Value | None
    now: Value | None
    now_sheet: str
    moved: float | None
    why_unlike: str = ""


@dataclass(frozen=True)
class SetupResult:
    """The reference sheet, the latest one after it, every quantity of both, and all other sheets, newest first."""

    reference: SetupSheet
    latest: SetupSheet | None
    others: tuple[SetupSheet, ...]
    compared: tuple[Compared, ...]


def reference_of(sheets: Sequence[SetupSheet]) -> SetupSheet | None:
    """Give the latest sheet with the role of a reference; without one, the first sheet that is not a trial."""
    epochs = epochs_of(sheets)
    return epochs[-1].reference if epochs else None


def compared(record: Instrument) -> SetupResult | None:
    """Set the reference beside what was measured since; None while there is no set-up."""
    sheets = record.setups or ()
    reference = reference_of(sheets)
    if reference is None:
        return None
    since = _since(reference, sheets)
    then = dict(quantities(reference))
    last: dict[Path, tuple[Value, Pair]] = {}
    for sheet in since:
        both = pair(record, reference, sheet)
        last |= {quantity: (value, both) for quantity, value in quantities(sheet)}
    names = [*then, *(quantity for quantity in last if quantity not in then)]
    rows = tuple(_row(name, then.get(name), last.get(name)) for name in names)
    latest = since[-1] if since else None
    others = [sheet for sheet in in_order(sheets) if sheet is not reference and sheet is not latest]
    return SetupResult(reference, latest, tuple(reversed(others)), rows)


def _since(reference: SetupSheet, sheets: Sequence[SetupSheet]) -> list[SetupSheet]:
    """Give the sheets behind the reference."""
    ordered = in_order(sheets)
    place = next(index for index, sheet in enumerate(ordered) if sheet is reference)
    return ordered[place + 1 :]


def _row(name: Path, then: Value | None, last: tuple[Value, Pair] | None) -> Compared:
    now, since = last if last is not None else (None, None)
    why = since.why_unlike(name) if then and since else ""
    moved = now.value.middle - then.value.middle if then and now and not why else None
    return Compared(name, then, now, (since.other.sheet or "") if since else "", moved, why)


def quantities(sheet: SetupSheet) -> Iterator[tuple[Path, Value]]:
    """Give every measured value of a sheet, without the climate it was taken in, in the order of the form."""
    return ((path, value) for path, value in measured(sheet) if path[0] not in CIRCUMSTANCES)
