"""Which checks are still to be made, and how old a reference is."""

from __future__ import annotations

from datetime import date

import pytest

from passport.analysis.due import age_years, days_overdue, next_check
from passport.records.dates import parse_date
from passport.records.model.instrument import Instrument
from tests.archives import record

HEAD = "id: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\n"
ASKED = "date: 2024-08-19, event: returned, next_check: 2025-02"


def violin(*events: str, fields: str = "") -> Instrument:
    return record(Instrument, HEAD + fields + "history:\n" + "".join(f"  - {{{event}}}\n" for event in events))


@pytest.mark.parametrize(
    ("events", "due"),
    [
        ((ASKED,), "2025-02"),
        ((ASKED, "date: 2025-01-10, event: checkup"), None),
        ((ASKED, "date: 2025-01-10, event: intake"), None),
        ((ASKED, "date: 2025-01-10, event: rented_in"), None),
        ((ASKED, "date: 2025-01-10, event: returned, next_check: 2026"), "2026"),
        ((ASKED, "date: 2025-01-10, event: player_note"), "2025-02"),
        ((ASKED, "date: 2025-01-10, event: rented_out"), "2025-02"),
        ((ASKED, "date: 2025-01-10, event: rented_out, next_check: 2027-01"), "2027-01"),
        # The order is that of the days, not that of the lines.
        (("date: 2025-01-10, event: checkup", ASKED), None),
        # Of one day, the lines tell which came last.
        (("date: 2024-08-19, event: intake", ASKED), "2025-02"),
        (("date: 2024-08-19, event: intake",), None),
    ],
)
def test_a_check_is_due_until_the_instrument_was_looked_at(events: tuple[str, ...], due: str | None) -> None:
    found = next_check(violin(*events))
    assert (found.text if found else None) == due


@pytest.mark.parametrize("now", ["withdrawn", "missing", "destroyed"])
def test_what_is_out_of_use_is_not_due(now: str) -> None:
    assert next_check(violin(ASKED, fields=f"status: {{now: {now}}}\n")) is None
    assert next_check(violin(ASKED, fields="status: {now: in_use}\n")) is not None


@pytest.mark.parametrize(
    ("due", "today", "days"),
    [("2025-02", date(2025, 2, 28), 0), ("2025-02", date(2025, 3, 1), 1), ("2025-02-03", date(2025, 2, 28), 25),
     ("2024", date(2025, 1, 1), 1), ("2025-02", date(2025, 1, 31), -28), ("2025/..", date(2030, 1, 1), 0)],
)  # fmt: skip
def test_a_check_is_overdue_when_the_last_day_of_its_date_is_over(due: str, today: date, days: int) -> None:
    assert days_overdue(parse_date(due), today) == days


@pytest.mark.parametrize(
    ("day", "years"),
    [("2021-11-18", 5.02), ("2016", 10.90), ("2026-11-25", 0.0), ("2021-11-18~", 5.02), ("../1931", None)],
)
def test_an_age_is_told_from_the_first_day_that_the_words_allow(day: str, years: float | None) -> None:
    found = age_years(parse_date(day), date(2026, 11, 25))
    assert found == (None if years is None else pytest.approx(years, abs=0.01))
