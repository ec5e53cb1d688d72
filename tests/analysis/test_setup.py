"""The reference sheet, and what was measured since."""

from __future__ import annotations

import pytest

from passport.analysis.setup import compared, quantities, reference_of
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from tests.archives import record


def violin(*lines: str) -> Instrument:
    """A violin with sheets from the inside of their braces."""
    return record(Instrument, INSTRUMENT + "".join(f"  - {{{line}}}\n" for line in lines))


def sheets(*lines: str) -> tuple[SetupSheet, ...]:
    return violin(*lines).setups or ()


INSTRUMENT = "id: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\nsetups:\n"
TRIAL = "sheet: S0, role: trial, taken: {date: 2021-05-01}, string_length: 330"
FIRST = "sheet: S1, role: reference, taken: {date: 2021-11-18}, string_length: 328, projection: 27.0"
SECOND = "sheet: S2, role: reference, taken: {date: 2023-02-01}, string_length: 327"
CHECK = "sheet: S3, role: check, taken: {date: 2022-01-13}, string_length: 328.5"
PLAIN = "sheet: S4, taken: {date: 2020-01-13}, string_length: 329"


@pytest.mark.parametrize(
    ("lines", "name"),
    [
        ((TRIAL, FIRST, SECOND, CHECK), "S2"),
        ((SECOND, FIRST), "S2"),
        ((TRIAL, CHECK, PLAIN), "S4"),
        ((CHECK, TRIAL), "S3"),
        ((TRIAL,), None),
        ((), None),
    ],
)
def test_the_latest_reference_counts_and_without_one_the_first_sheet_that_is_no_trial(
    lines: tuple[str, ...], name: str | None
) -> None:
    found = reference_of(sheets(*lines) if lines else ())
    assert (found.sheet if found else None) == name


def test_of_two_references_on_one_day_the_later_in_the_record_counts() -> None:
    found = reference_of(sheets(FIRST, FIRST.replace("S1", "S9")))
    assert found is not None
    assert found.sheet == "S9"


def test_nothing_is_compared_while_there_is_no_set_up() -> None:
    assert compared(violin()) is None
    assert compared(violin(TRIAL)) is None


def test_moved_is_now_less_then() -> None:
    result = compared(violin(FIRST, CHECK))
    assert result is not None
    rows = {row.quantity: row for row in result.compared}
    assert rows["string_length",].moved == pytest.approx(0.5)
    assert rows["string_length",].now_sheet == "S3"
    assert (rows["projection",].now, rows["projection",].moved) == (None, None)


def test_a_range_is_compared_by_its_middle() -> None:
    result = compared(violin(FIRST, "sheet: S3, taken: {date: 2022-01-13}, projection: 26.0-26.4"))
    assert result is not None
    assert next(row.moved for row in result.compared if row.quantity == ("projection",)) == pytest.approx(-0.8)


def test_each_quantity_is_taken_from_the_last_sheet_that_has_it() -> None:
    later = "sheet: S5, taken: {date: 2022-03-01}, projection: 26.5"
    result = compared(violin(later, CHECK, FIRST))
    assert result is not None
    assert result.latest is not None
    assert result.latest.sheet == "S5"
    assert {row.quantity: row.now_sheet for row in result.compared} == {("string_length",): "S3", ("projection",): "S5"}


def test_sheets_before_the_reference_are_not_the_latest() -> None:
    result = compared(violin(PLAIN, FIRST, SECOND, CHECK))
    assert result is not None
    assert result.reference.sheet == "S2"
    assert result.latest is None


def test_a_sheet_taken_before_work_on_the_day_of_the_reference_is_not_after_it() -> None:
    before = "sheet: S7, taken: {date: 2021-11-18, when: before_work}, string_length: 325"
    after = "sheet: S8, taken: {date: 2021-11-18, when: settled}, string_length: 327"
    result = compared(violin(before, FIRST, after))
    assert result is not None
    assert result.latest is not None
    assert result.latest.sheet == "S8"
    assert [row.now_sheet for row in result.compared if row.now] == ["S8"]
    alone = compared(violin(before, FIRST))
    assert alone is not None
    assert alone.latest is None


@pytest.mark.parametrize(
    ("then", "now", "alike"),
    [
        ("state: {strings: at_pitch}, string_length: 328", "state: {strings: slack}, string_length: 328.4", False),
        ("state: {strings: at_pitch}, string_length: 328", "state: {strings: at_pitch}, string_length: 328.4", True),
        ("state: {strings: at_pitch}, string_length: 328", "string_length: 328.4", True),
        ("string_height: {G: 5.0, to: underside}", "string_height: {G: 5.4, to: centre}", False),
        ("string_height: {G: 5.0, to: underside}", "string_height: {G: 5.4, to: underside}", True),
        ("string_height: {G: 5.0}", "string_height: {G: 5.4, to: centre}", True),
    ],
)
def test_only_values_of_one_state_and_one_measuring_point_are_subtracted(then: str, now: str, *, alike: bool) -> None:
    result = compared(
        violin(f"role: reference, taken: {{date: 2021-11-18}}, {then}", f"taken: {{date: 2022-01-01}}, {now}")
    )
    assert result is not None
    (row,) = result.compared
    assert (row.why_unlike == "") is alike
    assert row.moved == (pytest.approx(0.4) if alike else None)


def test_a_value_that_only_the_later_sheet_has_is_not_called_incomparable() -> None:
    result = compared(
        violin(
            "role: reference, taken: {date: 2021-11-18}, state: {strings: none}, neck_stop: 130",
            "sheet: S2, taken: {date: 2022-01-01}, state: {strings: at_pitch}, projection: 27",
        )
    )
    assert result is not None
    row = next(row for row in result.compared if row.quantity == ("projection",))
    assert (row.then, row.moved, row.why_unlike) == (None, None, "")


def test_climate_pitch_and_fittings_are_no_quantities() -> None:
    (sheet,) = sheets(
        "role: reference, taken: {date: 2021-11-18}, state: {strings: at_pitch, a4: 440, humidity: 47}, "
        "fitted: {bridge: B1}, string_length: 328, body_stop: {bass: 195.5, treble: 195}"
    )
    assert [path for path, _ in quantities(sheet)] == [
        ("string_length",), ("body_stop", "bass"), ("body_stop", "treble"),
    ]  # fmt: skip


def test_the_other_sheets_follow_newest_first() -> None:
    result = compared(violin(TRIAL, FIRST, CHECK, "sheet: S5, taken: {date: 2022-03-01}, projection: 26.5", PLAIN))
    assert result is not None
    assert result.latest is not None
    assert result.latest.sheet == "S5"
    assert [sheet.sheet for sheet in result.others] == ["S3", "S0", "S4"]
