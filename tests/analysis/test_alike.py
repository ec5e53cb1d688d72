"""Which sheets are compared, and what keeps a quantity of two sheets from being the same thing."""

from __future__ import annotations

import pytest

from passport.analysis.alike import Pair, epochs_of, pair
from passport.findings import Path
from passport.records.model.instrument import Instrument
from passport.reference import drift
from tests.archives import record

HEAD = "id: YXSP8BQ\nkind: cello\nsize: 4/4\norigin: made_here\n"
THEN = "sheet: S1, role: reference, taken: {date: 2022-03-18, when: delivered}"
NOW = "sheet: S2, taken: {date: 2024-09-10, when: before_work}"
HEIGHT: Path = ("string_height", "C")
OF_WORK = [(event, field) for event, fields in drift.work().items() for field in sorted(fields)]


def cello(*sheets: str, history: str = "") -> Instrument:
    lines = "".join(f"  - {{{sheet}}}\n" for sheet in sheets)
    events = f"history:\n  - {{{history}}}\n" if history else ""
    return record(Instrument, f"{HEAD}setups:\n{lines}{events}")


def first_and_last(*sheets: str, history: str = "") -> Pair:
    made = cello(*sheets, history=history)
    assert made.setups
    return pair(made, made.setups[0], made.setups[-1])


@pytest.mark.parametrize(("event", "field"), OF_WORK)
def test_work_between_two_sheets_begins_what_it_touches_anew(event: str, field: str) -> None:
    worked = first_and_last(THEN, NOW, history=f"date: 2023-01-05, event: {event}")
    assert "5 January 2023" in worked.why_touched(field)
    assert not first_and_last(THEN, NOW, history=f"date: 2021-01-05, event: {event}").why_touched(field)
    assert not first_and_last(THEN, NOW, history=f"date: 2025-01-05, event: {event}").why_touched(field)


def test_a_pulled_back_neck_leaves_the_belly_comparable_and_an_open_body_nothing() -> None:
    neck = first_and_last(THEN, NOW, history="date: 2023-01-05, event: neck_pulled_back")
    assert neck.why_unlike(("projection",))
    assert not neck.why_unlike(("arch_height", "top"))
    assert first_and_last(THEN, NOW, history="date: 2023-01-05, event: top_removed").why_unlike(("arch_height", "top"))


@pytest.mark.parametrize(
    ("when", "history", "between"),
    [
        ("before_work", "date: 2024-09-10, event: bridge_replaced", False),
        ("after_work", "date: 2024-09-10, event: bridge_replaced", True),
        ("before_work", "date: 2022-03-18, event: bridge_replaced", False),
        ("before_work", "date: 2022-03, event: bridge_replaced", True),
        ("before_work", "date: 2024, event: bridge_replaced", True),
        ("before_work", "date: 2021, event: bridge_replaced", False),
    ],
)
def test_within_a_day_sheets_before_work_come_first_and_a_vague_date_may_lie_between(
    when: str, history: str, *, between: bool
) -> None:
    now = f"sheet: S2, taken: {{date: 2024-09-10, when: {when}}}"
    assert bool(first_and_last(THEN, now, history=history).why_unlike(HEIGHT)) is between


@pytest.mark.parametrize(
    ("piece", "field"), [(piece, field) for piece, fields in drift.pieces().items() for field in sorted(fields)]
)
def test_another_piece_begins_what_depends_on_it_anew(piece: str, field: str) -> None:
    one, other = (f"{sheet}, fitted: {{{piece}: {name}}}" for sheet, name in ((THEN, "old one"), (NOW, "new one")))
    assert "new one" in first_and_last(one, other).why_touched(field)
    assert not first_and_last(one, NOW).why_touched(field)


def test_what_a_sheet_does_not_name_is_as_last_named_before() -> None:
    third = "sheet: S3, taken: {date: 2025-01-10}"
    carried = first_and_last(f"{THEN}, fitted: {{bridge: B1}}", f"{NOW}, fitted: {{bridge: B2}}", third)
    assert carried.why_unlike(HEIGHT)
    assert not first_and_last(f"{THEN}, fitted: {{bridge: B1}}", f"{NOW}, fitted: {{post: P1}}", third).why_unlike(
        HEIGHT
    )


@pytest.mark.parametrize("then", ["at_pitch", "slack", "none"])
@pytest.mark.parametrize("now", ["at_pitch", "slack", "none"])
def test_only_one_state_of_the_strings_is_compared(then: str, now: str) -> None:
    found = first_and_last(f"{THEN}, state: {{strings: {then}}}", f"{NOW}, state: {{strings: {now}}}")
    assert bool(found.why_unlike(("projection",))) is (then != now)


def test_only_one_point_of_the_string_is_compared() -> None:
    found = first_and_last(
        f"{THEN}, string_height: {{C: 7, to: underside}}", f"{NOW}, string_height: {{C: 8, to: centre}}"
    )
    assert "centre" in found.why_unlike(HEIGHT)
    assert not found.why_unlike(("projection",))


def test_a_reference_begins_an_epoch_and_trials_belong_to_none() -> None:
    made = cello(
        "sheet: S0, role: trial, taken: {date: 2022-01-01}", THEN, NOW,
        "sheet: S9, role: trial, taken: {date: 2024-10-01}",
        "sheet: S3, role: reference, taken: {date: 2024-10-08}", "sheet: S4, taken: {date: 2025-02-11}",
    )  # fmt: skip
    found = [
        [epoch.reference.sheet, *(sheet.sheet for sheet in epoch.sheets)] for epoch in epochs_of(made.setups or ())
    ]
    assert found == [["S1", "S2"], ["S3", "S4"]]
    assert epochs_of(()) == ()
