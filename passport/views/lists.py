"""The shop's own lists over all instruments: checks due, old references, what is incomplete.

Made for the shop alone; the public has no such page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from passport.analysis.completeness import Completeness, completeness, is_asked, most_wanted, subject_of
from passport.analysis.due import days_overdue, is_in_use, next_check, reference_age_years
from passport.analysis.setup import reference_of
from passport.analysis.wanted import PURPOSES
from passport.records.model.instrument import Instrument
from passport.views.desk import Desk
from passport.views.numbers import NARROW_SPACE, date_text
from passport.views.supplies import line
from passport.views.titles import capital
from passport.views.tree import InstrumentLine, WorkGroup, WorkList

# A list longer than this is cut, and says so; nobody looks after more at a time. Of what is incomplete for each
# purpose the worst are enough, since nearly every record lacks something.
LONGEST_LIST = 100
LONGEST_INCOMPLETE = 12
# A reference older than this is worth measuring again. Common practice, no source.
OLD_REFERENCE_YEARS = 5
# From here on a span is told in months, and in years.
LONG_DAYS, LONG_MONTHS = 60, 24
DAYS_A_MONTH, MONTHS_A_YEAR = 30.44, 12

Ranked = tuple[object, str, str]  # rank, instrument, what the line says


def work_lists(desk: Desk) -> tuple[WorkList, ...]:
    """Give the lists of the shop; none for the public."""
    if desk.audience != "shop":
        return ()
    today = desk.archive.today
    return (
        WorkList("Next check due", f"As of {_today_said(today)}; the longest overdue first.", (_due(desk, today),)),
        WorkList(
            "Reference set-up",
            "What an instrument is measured against when it comes back.",
            (_old_references(desk, today), _no_reference(desk)),
        ),
        WorkList("Incomplete", "Each thing asked for counts one; the least complete first.", tuple(_incomplete(desk))),
    )


def _today_said(today: date) -> str:
    return f"{today.day} {today:%B %Y}"


def _group(desk: Desk, title: str, ranked: Sequence[Ranked], none: str, longest: int = LONGEST_LIST) -> WorkGroup:
    """Make a list of instruments out of their ranks, lowest first."""
    in_order = sorted(ranked, key=lambda each: (each[0], each[1]))
    lines: tuple[InstrumentLine, ...] = tuple(line(desk, stem, said) for _, stem, said in in_order[:longest])
    return WorkGroup(title, lines, max(0, len(in_order) - longest), none)


def _in_use(desk: Desk) -> Iterator[tuple[str, Instrument]]:
    return ((stem, filed.record) for stem, filed in desk.archive.instruments.items() if is_in_use(filed.record))


def _due(desk: Desk, today: date) -> WorkGroup:
    ranked: list[Ranked] = []
    for stem, record in _in_use(desk):
        due = next_check(record)
        if due is not None:
            overdue = days_overdue(due, today)
            said = f"{_span_said(overdue)} overdue" if overdue > 0 else "not overdue"
            ranked.append(((due.latest or date.max), stem, f"{capital(date_text(due))}, {said}"))
    return _group(desk, "", ranked, "No check is due.")


def _span_said(days: int) -> str:
    """Say a span of days as one would: "12 days", "5 months", "3 years"."""
    months = int(days / DAYS_A_MONTH)
    if days < LONG_DAYS:
        return _counted(days, "day")
    return _counted(months, "month") if months < LONG_MONTHS else _counted(months // MONTHS_A_YEAR, "year")


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _old_references(desk: Desk, today: date) -> WorkGroup:
    ranked: list[Ranked] = []
    for stem, record in _in_use(desk):
        years = reference_age_years(record, today)
        reference = reference_of(record.setups or ())
        if years is not None and years >= OLD_REFERENCE_YEARS and reference is not None and reference.taken:
            said = f"{_counted(int(years), 'year')} old, {date_text(reference.taken.date)}"
            ranked.append((-years, stem, said))
    title = f"Older than {OLD_REFERENCE_YEARS} years"
    return _group(desk, title, ranked, f"No reference is older than {OLD_REFERENCE_YEARS} years.")


def _no_reference(desk: Desk) -> WorkGroup:
    asked = (stem for stem, record in _in_use(desk) if reference_of(record.setups or ()) is None)
    without = [("", stem, "") for stem in asked if is_asked(subject_of(desk.archive, stem))]
    return _group(desk, "None at all", without, "Every instrument has one.")


def _incomplete(desk: Desk) -> Iterator[WorkGroup]:
    found = {stem: completeness(subject_of(desk.archive, stem)) for stem in desk.archive.instruments}
    for purpose, words in PURPOSES.items():
        asked = [(stem, each) for stem, all_of in found.items() for each in all_of if each.purpose == purpose]
        ranked: list[Ranked] = [(each.percent, stem, _lack_said(each)) for stem, each in asked if each.missing]
        title = f"For {words}: {len(asked) - len(ranked)} of {len(asked)} complete"
        none = "Nothing is missing." if asked else "No instrument is asked for it yet."
        yield _group(desk, title, ranked, none, LONGEST_INCOMPLETE)


def _lack_said(each: Completeness) -> str:
    first = most_wanted((each,))
    more = len(each.missing) - 1
    others = f" and {more} more" if more else ""
    return f"{each.percent}{NARROW_SPACE}%; lacks {first.name}{others}" if first else ""
