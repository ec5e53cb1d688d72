"""The shop's own lists over all instruments: checks due, old references, what is incomplete.

Made for the shop alone; the public has no such page.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from passport.analysis.completeness import Completeness, completeness, is_asked, most_wanted, subject_of
from passport.analysis.due import age_years, days_overdue, is_in_use, next_check
from passport.analysis.setup import reference_of
from passport.analysis.wanted import PURPOSES
from passport.records.dates import parse_date
from passport.views.desk import Desk
from passport.views.numbers import NARROW_SPACE, counted, date_text
from passport.views.site_tree import Card, Lack, Work, WorkGroup, WorkList
from passport.views.titles import capital

# A list longer than this is cut, and says so; nobody looks after more at a time. Of what is incomplete for each
# purpose the worst are enough, since nearly every record lacks something.
LONGEST_LIST = 100
LONGEST_INCOMPLETE = 12
# A reference older than this is worth measuring again. Common practice, no source.
OLD_REFERENCE_YEARS = 5
# From here on a span is told in months, and in years.
LONG_DAYS, LONG_MONTHS = 60, 24
DAYS_A_MONTH, MONTHS_A_YEAR = 30.44, 12

Ranked = tuple[float, Card, str]  # rank, instrument, what its line says


def work(desk: Desk, stem: str) -> Work | None:
    """Give what the lists say of one instrument; None for the public, and of one that is not in use."""
    record = desk.archive.instruments[stem].record
    if desk.audience != "shop" or not is_in_use(record):
        return None
    due, reference = next_check(record), reference_of(record.setups or ())
    day = reference.taken.date if reference and reference.taken else None
    asked = subject_of(desk.archive, stem)
    return Work(
        next_check=due.text if due else "",
        reference=day.text if day else "",
        wants_reference=reference is None and is_asked(asked),
        lacks=tuple(Lack(each.purpose, each.percent, _lack_said(each)) for each in completeness(asked)),
    )


def work_lists(cards: Iterable[Card], today: date) -> tuple[WorkList, ...]:
    """Give the lists of the shop; none where no card is the shop's."""
    at_work = [(card, card.work) for card in cards if card.work is not None]
    return (
        WorkList("Next check due", f"As of {_today_said(today)}; the longest overdue first.", (_due(at_work, today),)),
        WorkList(
            "Reference set-up",
            "What an instrument is measured against when it comes back.",
            (_old_references(at_work, today), _no_reference(at_work)),
        ),
        WorkList("Incomplete", "Each thing asked for counts one; the least complete first.", _incomplete(at_work)),
    )


def _today_said(today: date) -> str:
    return f"{today.day} {today:%B %Y}"


def _group(title: str, ranked: Iterable[Ranked], none: str, longest: int = LONGEST_LIST) -> WorkGroup:
    """Make a list of instruments out of their ranks, lowest first."""
    in_order = sorted(ranked, key=lambda each: (each[0], each[1].line.id))
    lines = tuple(replace(card.line, use=said) for _, card, said in in_order[:longest])
    return WorkGroup(title, lines, max(0, len(in_order) - longest), none)


AtWork = Sequence[tuple[Card, Work]]


def _due(at_work: AtWork, today: date) -> WorkGroup:
    ranked: list[Ranked] = []
    for card, work in at_work:
        if work.next_check:
            due = parse_date(work.next_check)
            overdue = days_overdue(due, today)
            said = f"{_span_said(overdue)} overdue" if overdue > 0 else "not overdue"
            ranked.append((-overdue, card, f"{capital(date_text(due))}, {said}"))
    return _group("", ranked, "No check is due.")


def _span_said(days: int) -> str:
    """Say a span of days as one would: "12 days", "5 months", "3 years"."""
    months = int(days / DAYS_A_MONTH)
    if days < LONG_DAYS:
        return counted(days, "day")
    return counted(months, "month") if months < LONG_MONTHS else counted(months // MONTHS_A_YEAR, "year")


def _old_references(at_work: AtWork, today: date) -> WorkGroup:
    ranked: list[Ranked] = []
    for card, work in at_work:
        taken = parse_date(work.reference) if work.reference else None
        years = age_years(taken, today) if taken else None
        if years is not None and years >= OLD_REFERENCE_YEARS:
            ranked.append((-years, card, f"{counted(int(years), 'year')} old, {date_text(taken)}"))
    title = f"Older than {OLD_REFERENCE_YEARS} years"
    return _group(title, ranked, f"No reference is older than {OLD_REFERENCE_YEARS} years.")


def _no_reference(at_work: AtWork) -> WorkGroup:
    without = ((0, card, "") for card, work in at_work if work.wants_reference)
    return _group("None at all", without, "Every instrument has one.")


def _incomplete(at_work: AtWork) -> tuple[WorkGroup, ...]:
    return tuple(_lacking(at_work, purpose, words) for purpose, words in PURPOSES.items())


def _lacking(at_work: AtWork, purpose: str, words: str) -> WorkGroup:
    asked = [(card, lack) for card, work in at_work for lack in work.lacks if lack.purpose == purpose]
    ranked = [(lack.percent, card, lack.words) for card, lack in asked if lack.words]
    title = f"For {words}: {len(asked) - len(ranked)} of {len(asked)} complete"
    none = "Nothing is missing." if asked else "No instrument is asked for it yet."
    return _group(title, ranked, none, LONGEST_INCOMPLETE)


def _lack_said(each: Completeness) -> str:
    first = most_wanted((each,))
    more = len(each.missing) - 1
    others = f" and {more} more" if more else ""
    return f"{each.percent}{NARROW_SPACE}%; lacks {first.name}{others}" if first else ""
