"""What is known of an instrument today: each quantity as it was last measured, else as it is usually wanted.

Says of every value where it is from; invents none.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from passport.analysis.alike import day_of
from passport.analysis.known import Known
from passport.analysis.setup import CIRCUMSTANCES
from passport.analysis.windows import Windows, fitting_of, windows_of
from passport.findings import Path
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet, Sheet
from passport.records.walk import measured

# A neck whose strings are off or slack stands otherwise than one that is pulled.
ONLY_STRUNG = ("projection",)


class NotRecorded(Exception):
    """Quantities that are needed and stand on no sheet."""

    def __init__(self, quantities: tuple[Path, ...]) -> None:
        super().__init__(str(quantities))
        self.quantities = quantities


@dataclass(frozen=True)
class Knowledge:
    """Everything measured of an instrument, the latest of each, and the windows that stand in where nothing was."""

    record: Instrument
    latest: Mapping[Path, Known]
    windows: Windows

    def measured(self, quantity: Path) -> Known | None:
        """Give a quantity as it was last measured."""
        return self.latest.get(quantity)

    def usual(self, quantity: Path) -> Known | None:
        """Give a quantity as it was last measured, else what model, workshop or trade aim at."""
        known = self.latest.get(quantity)
        if known is not None:
            return known
        sheets = self.record.setups or ()
        fitting = fitting_of(self.record, sheets[-1] if sheets else Sheet())
        window = self.windows.of(tuple(map(str, quantity)), fitting)
        if window is None:
            return None
        aim = window.aim if window.aim is not None else (window.low + window.high) / 2
        return Known(aim, "from a table", window.source)


def knowledge_of(archive: Archive, stem: str) -> Knowledge:
    """Gather what is known of an instrument."""
    record = archive.instruments[stem].record
    return Knowledge(record, dict(_in_order(record)), windows_of(archive, record))


def _in_order(record: Instrument) -> Iterator[tuple[Path, Known]]:
    """Give every measured value, the oldest first; those of one day as they stand in the record."""
    sheets: list[Sheet] = [*(record.measurements or ()), *(record.setups or ())]
    for sheet in sorted(sheets, key=day_of):
        for path, value in measured(sheet):
            if path[0] not in CIRCUMSTANCES and not (path[0] in ONLY_STRUNG and _is_slack(sheet)):
                yield path, Known(value.value.middle, "measured", said_of(sheet))


def said_of(sheet: Sheet) -> str:
    """Say which sheet a figure is from: its short name, its day, and when in an instrument's life it was taken."""
    taken = sheet.taken
    when = (taken.when or "").replace("_", " ") if taken else ""
    return ", ".join(filter(None, (sheet.sheet, taken.date.words() if taken and taken.date else "", when)))


def _is_slack(sheet: Sheet) -> bool:
    return isinstance(sheet, SetupSheet) and sheet.state is not None and sheet.state.strings in ("slack", "none")
