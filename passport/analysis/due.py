"""Which instruments are to be looked at again, and how old their reference set-up is, as of a day.

Instruments that are withdrawn, missing or destroyed are due for nothing.
"""

from __future__ import annotations

from datetime import date

from passport.records.dates import DAYS_A_YEAR, Date
from passport.records.model.events import Event
from passport.records.model.instrument import Instrument

# Whoever enters one of these has had the instrument in hand, so a check asked for before it is done.
LOOKED_AT = ("intake", "checkup", "returned", "rented_in", "playing_in_review")


def is_in_use(record: Instrument) -> bool:
    """Tell whether an instrument is in use."""
    return record.status is None or record.status.now in (None, "in_use")


def next_check(record: Instrument) -> Date | None:
    """Give the check that is still to be made: the newest one asked for, unless the instrument was looked at since."""
    if not is_in_use(record):
        return None
    asked: Date | None = None
    for event in sorted(record.history or (), key=_day):
        if event.next_check is not None:
            asked = event.next_check
        elif event.event in LOOKED_AT:
            asked = None
    return asked


def _day(event: Event) -> date:
    return (event.date.earliest if event.date else None) or date.min


def days_overdue(due: Date, today: date) -> int:
    """Give the days since the last day in time for a check; less than 1 while it is not overdue."""
    return (today - (due.latest or today)).days


def age_years(day: Date, today: date) -> float | None:
    """Give the years since a day, the first that its words allow; None where they allow any."""
    return (today - day.earliest).days / DAYS_A_YEAR if day.earliest else None
