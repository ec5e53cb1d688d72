"""What has moved: sums done by hand, how sure they are, verdicts, the season, readings and trends."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.analysis.drift import Change, Comparison, limit_of
from passport.analysis.season import climate_of
from passport.analysis.trends import Trend, drift_between, drift_of
from passport.analysis.watched import board_of, limits_for, watched
from passport.physics.moisture import equilibrium_moisture_pct
from passport.physics.uncertainty import verdict
from passport.records.model.instrument import Instrument
from passport.records.model.workshop import Gauge, Gauges
from tests.archives import demo, record

GAUGES = record(
    Gauges,
    """\
gauges:
  rule: {resolution: 0.5, uncertainty: 0.3, unit: mm}
  tape: {resolution: 1, uncertainty: 0.7, unit: mm}
  wedge: {resolution: 0.1, uncertainty: 0.1, unit: mm}
  dial: {resolution: 0.1, uncertainty: 0.15, unit: mm}
  stepped: {resolution: 0.5, unit: mm}
  mute: {what: found in a drawer}
  scale: {resolution: 1, uncertainty: 1, unit: g}
  phone: {uncertainty: 1.5, unit: Hz}
""",
).gauges or {}  # fmt: skip
CELLO = """\
id: YXSP8BQ
kind: cello
size: 4/4
origin: made_here
measurements: [{taken: {date: 2021-07-13}, fingerboard: {length: 580}}]
setups:
"""
VIOLIN = CELLO.replace("cello", "violin").replace("580", "270")
BY = "gauges: {all: rule, string_height: wedge, arch_height: dial}"
STOPS = "body_stop: {bass: 401, treble: 399}, neck_stop: 280"
THEN = (
    f"role: reference, taken: {{date: 2022-03-18}}, {BY}, {STOPS}, projection: 81.5, "
    "string_height: {C: 7.0, G: 6.2, D: 5.4, A: 4.7}, arch_height: {top: 27.2, back: 25.1}"
)
NOW = (
    f"taken: {{date: 2024-09-10}}, {BY}, projection: 78.3, "
    "string_height: {C: 9.7, G: 8.9, D: 8.1, A: 7.4}, arch_height: {top: 27.3, back: 25.1}"
)


def made(*sheets: str, head: str = CELLO, more: str = "") -> Instrument:
    lines = (f"  - {{sheet: S{index}, {sheet}}}\n" for index, sheet in enumerate(sheets, 1))
    return record(Instrument, f"{head}{''.join(lines)}{more}")


def compared(*sheets: str, head: str = CELLO, more: str = "", gauges: Mapping[str, Gauge] = GAUGES) -> Comparison:
    instrument = made(*sheets, head=head, more=more)
    assert instrument.setups
    return drift_between(instrument, gauges, instrument.setups[0], instrument.setups[-1])


def changes(found: Comparison) -> dict[str, Change]:
    return {each.what.name: each for each in reversed(found.changes)}


def readings(found: Comparison) -> list[tuple[str, bool]]:
    return [(each.reading.name, each.is_sure) for each in found.likely]


def test_the_neck_is_the_projection_and_the_belly_it_is_measured_from() -> None:
    found = changes(compared(THEN, NOW))
    # Projection -3.2 and belly +0.1: the neck has sunk by 3.1.
    assert found["neck"].change == pytest.approx(-3.1)
    # By hand: rule 0.3 with method 0.2, dial 0.15 with method 0.15, both on two days.
    assert found["neck"].uncertainty == pytest.approx(sqrt(2 * (0.3**2 + 0.2**2 + 0.15**2 + 0.15**2)))
    assert found["neck"].verdict == "moved"
    assert found["neck"].acts == "cannot tell"
    assert found["belly"].verdict == "not moved"


def test_a_sunk_belly_hides_a_sunk_neck_in_the_projection_alone() -> None:
    sunk = NOW.replace("projection: 78.3", "projection: 81.4").replace("top: 27.3", "top: 24.0")
    found = compared(THEN, sunk)
    assert changes(found)["projection"].verdict == "not moved"
    assert changes(found)["neck"].change == pytest.approx(-3.3)
    assert changes(found)["neck"].verdict == "moved"
    assert {"neck sunk", "neck hidden by the belly", "belly sunk"} <= {name for name, _ in readings(found)}


def test_what_neck_and_belly_leave_of_the_strings_rise_is_the_bridges() -> None:
    found = changes(compared(THEN, NOW))
    # FB/(N + S) = 580/680; heights +2.7 in the mean; -3.2 + 2.7 x 680/580.
    assert found["bridge"].change == pytest.approx(-3.2 + 2.7 * 680 / 580)
    assert found["bridge"].verdict == "not moved"
    cut = NOW.replace("{C: 9.7, G: 8.9, D: 8.1, A: 7.4}", "{C: 6.7, G: 5.9, D: 5.1, A: 4.4}")
    assert ("bridge lower", True) in readings(compared(THEN, cut))


def test_the_board_by_the_trades_table_says_so_and_without_stops_the_bridge_is_not_told() -> None:
    by_table = compared(THEN, NOW, head=CELLO.replace("fingerboard: {length: 580}", "scroll_length: 200"))
    assert "not measured" in by_table.board.how
    without = compared(THEN.replace(f"{STOPS}, ", ""), NOW)
    assert "bridge" not in changes(without)
    assert without.board.share is None
    assert "body stop" in without.board.how


def test_a_worse_ruler_turns_a_verdict_into_cannot_tell() -> None:
    assert changes(compared(THEN, NOW))["neck"].verdict == "moved"
    assert changes(compared(THEN, NOW.replace("all: rule", "all: tape")))["neck"].verdict == "cannot tell"


def test_the_same_on_the_demos_returning_cello() -> None:
    archive = demo()
    cello, gauges = archive.instruments["YXSP8BQ"].record, archive.gauges.record.gauges or {}
    sheets = {sheet.sheet: sheet for sheet in cello.setups or ()}
    worse = {**gauges, "rule_05": gauges["tape"]}
    verdicts = [changes(drift_between(cello, by, sheets["S1"], sheets["S7"]))["neck"].verdict for by in (gauges, worse)]
    assert verdicts == ["moved", "cannot tell"]
    later = changes(drift_between(cello, gauges, sheets["S8"], sheets["S11"]))
    assert {later[name].verdict for name in ("neck", "belly", "bridge", "string_height")} == {"not moved"}
    over_the_work = changes(drift_between(cello, gauges, sheets["S7"], sheets["S8"]))
    assert "neck pulled back" in over_the_work["neck"].why_not
    assert over_the_work["belly"].change == pytest.approx(-0.2)


@pytest.mark.parametrize(
    ("value", "by", "gauge_u", "how"),
    [
        ("{value: 80, gauge: wedge}", "{all: rule}", 0.1, "uncertainty"),
        ("80", "{all: rule, projection: tape}", 0.7, "uncertainty"),
        ("80", "{all: rule}", 0.3, "uncertainty"),
        # JCGM 100:2008, 4.3.7: half a step over root 3.
        ("80", "{all: stepped}", 0.25 / sqrt(3), "resolution"),
        ("79.5-80.5", "{all: rule}", hypot(0.3, 0.5 / sqrt(3)), "uncertainty"),
        ("80", "{string_height: wedge}", 0.3, "assumed"),
        ("80", "{all: unheard of}", 0.3, "assumed"),
        ("80", "{all: mute}", 0.3, "assumed"),
        ("80", "{all: scale}", 0.3, "assumed"),
    ],
)  # fmt: skip
def test_a_value_is_as_sure_as_its_gauge_and_an_assumed_one_is_named(
    value: str, by: str, gauge_u: float, how: str
) -> None:
    found = compared(THEN, f"taken: {{date: 2024-09-10}}, gauges: {by}, projection: {value}")
    now = changes(found)["projection"].now
    assert now.gauge_u == pytest.approx(gauge_u)
    assert now.gauges[0].how == how
    assert [sheet.sheet for sheet, _ in found.assumed] == (["S2"] if how == "assumed" else [])


def test_a_limit_below_what_the_method_sees_is_raised_and_one_above_it_is_not() -> None:
    violin = made(THEN.replace("string_height: {C: 7.0, G: 6.2, D: 5.4, A: 4.7}, ", ""), head=VIOLIN)
    limits = limits_for(violin)
    found = {what.name: limit_of(what, limits) for what in watched(violin, board_of(violin, violin.setups[0]))}
    # A worn edge: 2 x root 2 x 0.5 = 1.41 > 0.5; the back 2 x root 2 x 0.15 = 0.42 > 0.3; the string length 0.57 < 1.
    assert (found["overstand"].look, found["overstand"].asked) == (1.5, 0.5)
    assert (found["back"].look, found["back"].asked, found["back"].act) == (0.5, 0.3, 0.5)
    assert (found["string_length"].look, found["string_length"].asked) == (1.0, 1.0)


@given(st.floats(-20, 20), st.floats(0, 10), st.floats(0, 10), st.floats(0.1, 5))
def test_a_larger_uncertainty_never_makes_more_sure(change: float, one: float, more: float, limit: float) -> None:
    sure, less_sure = verdict(change, one, limit), verdict(change, one + more, limit)
    assert less_sure in (sure, "cannot tell")


@given(st.floats(0.02, 2), st.floats(0, 2), st.floats(60, 90))
def test_a_worse_gauge_never_turns_cannot_tell_into_a_verdict(good: float, worse_by: float, now: float) -> None:
    record_ = made(THEN, NOW.replace("projection: 78.3", f"projection: {now:.2f}"))
    found = []
    for uncertainty in (good, good + worse_by):
        gauges = {
            **GAUGES,
            "rule": record(Gauges, f"gauges: {{rule: {{uncertainty: {uncertainty:.4f}, unit: mm}}}}").gauges["rule"],
        }  # type: ignore[index]
        found.append({each.what.name: each.verdict for each in drift_between(record_, gauges, *record_.setups).changes})  # type: ignore[misc]
    assert all(found[1][name] in (each, "cannot tell") for name, each in found[0].items())


def test_a_gauge_as_sure_as_is_said_would_end_in_a_verdict() -> None:
    unsure = changes(compared(THEN, NOW.replace("projection: 78.3", "projection: 79.2")))["projection"]
    assert unsure.verdict == "cannot tell"
    assert unsure.gauge_that_tells is None
    heights = "string_height: {C: 8.5, A: 6.2}"
    near = changes(compared(THEN, f"taken: {{date: 2024-09-10}}, gauges: {{all: rule}}, {heights}"))["string_height"]
    assert near.verdict == "cannot tell"
    needed = near.gauge_that_tells
    assert needed is not None
    own = hypot(near.then.uncertainty, near.now.method_u)
    assert verdict(1.5, hypot(own, 0.999 * needed), near.limit.look) == "moved"
    assert verdict(1.5, hypot(own, 1.001 * needed), near.limit.look) == "cannot tell"


@pytest.mark.parametrize(
    ("now", "more", "name", "why"),
    [
        (f"state: {{strings: slack}}, {NOW}", "", "belly", "slack"),
        (NOW, "history: [{date: 2023-01-01, event: neck_reset}]\n", "neck", "neck reset"),
        (NOW, "history: [{date: 2023-01-01, event: soundpost_replaced}]\n", "belly", "soundpost replaced"),
        (NOW, "history: [{date: 2023-01-01, event: nut_lowered}]\n", "bridge", "nut lowered"),
        (f"fitted: {{bridge: B2}}, {NOW}", "", "bridge", "B2"),
    ],
)
def test_what_is_not_alike_is_not_compared_and_says_why(now: str, more: str, name: str, why: str) -> None:
    then = f"state: {{strings: at_pitch}}, fitted: {{bridge: B1}}, {THEN}"
    found = changes(compared(then, now, more=more))[name]
    assert (found.change, found.verdict) == (None, "cannot tell")
    assert why in found.why_not


def test_a_new_post_lifts_the_belly_but_the_neck_is_told_all_the_same() -> None:
    found = changes(compared(THEN, NOW, more="history: [{date: 2023-01-01, event: soundpost_replaced}]\n"))
    assert found["projection"].change is None
    assert found["neck"].change == pytest.approx(-3.1)


def test_what_was_not_measured_again_is_named() -> None:
    found = compared(f"{THEN}, string_length: 689", f"taken: {{date: 2024-09-10}}, {BY}, projection: 80")
    missing = {what.name: paths for what, paths in found.not_again}
    assert missing["neck"] == (("arch_height", "top"),)
    assert missing["string_length"] == (("string_length",),)


def test_absurd_numbers_are_not_judged_and_raise_nothing() -> None:
    found = changes(compared(THEN, NOW.replace("projection: 78.3", "projection: 99999999999999")))
    assert found["projection"].verdict == "cannot tell"
    assert found["projection"].why_not
    wild = compared(THEN, NOW.replace("projection: 78.3", "projection: 1-99999999999999"))
    assert "projection" not in changes(wild)
    of_no_kind = made(THEN, NOW).model_copy(update={"kind": None})
    assert drift_between(of_no_kind, GAUGES, *of_no_kind.setups).changes == ()  # type: ignore[misc]


WET, DRY = "temperature: 24, humidity: 66, days: 1", "temperature: 20, humidity: 46, days: 14"


def test_moisture_of_the_mass_and_warmth_of_the_air_are_stated_by_the_rule() -> None:
    gauges = "gauges: {instrument_mass: scale, air_mode: phone}"
    then = (
        f"role: reference, taken: {{date: 2022-03-18}}, {gauges}, state: {{{DRY}}}, instrument_mass: 450, air_mode: 272"
    )
    now = f"taken: {{date: 2024-09-10}}, {gauges}, state: {{{WET}}}, instrument_mass: 462, air_mode: 276"
    found = changes(compared(then, now, head=VIOLIN))
    wetter = equilibrium_moisture_pct(24, 66) - equilibrium_moisture_pct(20, 46)
    # 1 % of moisture is about 4.4 g on a violin; about 0.5 Hz a kelvin at the pitch of a violin.
    assert found["mass"].expected == pytest.approx(4.4 * wetter)
    assert found["air_mode"].expected == pytest.approx(4 * 0.5, rel=0.1)
    assert found["mass"].change == 12
    assert found["mass"].verdict == "cannot tell"


def test_what_moisture_does_to_the_mass_is_not_how_sure_the_scale_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    then, now = (f"state: {{{climate}}}, instrument_mass: 450" for climate in (DRY, WET))
    sheets = (f"role: reference, taken: {{date: 2022-03-18}}, {then}", f"taken: {{date: 2024-09-10}}, {now}")
    usual = changes(compared(*sheets, head=VIOLIN))["mass"]
    limits = limits_for(made(*sheets, head=VIOLIN))
    surer = {**limits, "mass": replace(limits["mass"], method=1.0)}
    monkeypatch.setattr("passport.analysis.drift.limits_for", lambda _record: surer)
    mass = changes(compared(*sheets, head=VIOLIN))["mass"]
    assert mass.uncertainty < usual.uncertainty
    assert mass.expected == usual.expected


def test_higher_strings_in_wetter_air_are_perhaps_the_season_and_surely_what_is_sure() -> None:
    perhaps = compared(
        f"state: {{{DRY}}}, {THEN}",
        f"state: {{{WET}}}, taken: {{date: 2024-09-10}}, {BY}, projection: 80.1, string_height: {{C: 8.2, A: 5.9}}",
    )
    assert readings(perhaps)[0] == ("humid season", False)
    surely = compared(f"state: {{{DRY}}}, {THEN}", f"state: {{{WET}}}, {NOW}")
    assert readings(surely) == [("neck sunk", True), ("humid season", False)]
    assert readings(compared(THEN, NOW)) == [("neck sunk", True)]


def test_higher_strings_alone_ask_for_projection_and_arch() -> None:
    alone = f"taken: {{date: 2024-09-10}}, {BY}, string_height: {{C: 9.7, A: 7.4}}"
    (found,) = compared(THEN, alone).likely
    assert found.reading.name == "strings higher, cause not measured"
    assert "projection" in found.reading.next


def sheet(day: str, climate: str, arch: float, role: str = "check") -> str:
    taken = f"role: {role}, taken: {{date: {day}}}, state: {{{climate}}}"
    return f"{taken}, gauges: {{all: dial}}, arch_height: {{top: {arch:.3f}}}"


def arch_in(day: str, humidity: float, *, days: int = 14, per_year: float = 0.0, role: str = "check") -> str:
    """A sheet of an instrument whose belly rises 0.3 mm for each % of moisture, and moves with the years."""
    moisture = equilibrium_moisture_pct(20, humidity)
    years = (date.fromisoformat(day) - date(2020, 1, 10)).days / 365.25
    arch = 27 + 0.3 * (moisture - equilibrium_moisture_pct(20, 40)) + per_year * years
    return sheet(day, f"temperature: 20, humidity: {humidity}, days: {days}", arch, role)


SEASONS = (("2020-01-10", 40), ("2020-08-10", 65), ("2021-01-15", 38), ("2021-08-20", 66), ("2022-02-01", 41))


def belly_over(*sheets: str) -> tuple[Change, Trend]:
    (epoch,) = drift_of(made(*sheets), GAUGES)
    (trend,) = (each for each in epoch.trends if each.what.name == "belly")
    return changes(epoch.latest)["belly"], trend


def sheets_over(seasons: tuple[tuple[str, float], ...], *, days: int = 14, per_year: float = 0.0) -> list[str]:
    roles = ("reference", *["check"] * (len(seasons) - 1))
    return [
        arch_in(day, rh, days=days, per_year=per_year, role=role)
        for (day, rh), role in zip(seasons, roles, strict=True)
    ]


def test_the_season_is_subtracted_where_four_sheets_of_this_instrument_have_taught_it() -> None:
    taught, trend = belly_over(*sheets_over((*SEASONS, ("2022-08-10", 64.0)), per_year=-0.5))
    wetter = equilibrium_moisture_pct(20, 64) - equilibrium_moisture_pct(20, 40)
    assert taught.season == pytest.approx(0.3 * wetter, rel=0.02)
    assert taught.change == pytest.approx(-0.5 * 2.58, rel=0.05)
    assert taught.uncertainty > hypot(taught.then.uncertainty, taught.now.uncertainty)
    assert trend.per_year == pytest.approx(-0.5, rel=0.05)


@pytest.mark.parametrize(
    "sheets",
    [sheets_over(SEASONS[:3]), sheets_over(SEASONS, days=1), sheets_over(tuple((day, 45.0) for day, _ in SEASONS))],
    ids=["three sheets", "wood that had not followed", "one season"],
)
def test_otherwise_it_is_stated_and_nothing_is_taken_off(sheets: list[str]) -> None:
    assert belly_over(*sheets)[0].season is None


def test_sheets_after_more_days_count_for_more() -> None:
    weights = [
        climate_of((made(arch_in("2020-01-10", 40, days=days)).setups or ())[0]).weight for days in (0, 2, 3, 7, 14, 90)
    ]
    assert weights == pytest.approx([0, 0, 3 / 14, 0.5, 1, 1])


def still(day: str, arch: float, role: str = "check") -> str:
    return sheet(day, DRY, arch, role)


def test_a_trend_says_how_much_a_year_and_when_it_meets_the_act_limit() -> None:
    yearly = [still("2020-01-01", 27.0, "reference")]
    yearly += [still(f"{2020 + index}-01-01", 27.0 - 0.3 * index) for index in range(1, 5)]
    _, trend = belly_over(*yearly)
    assert trend.per_year == pytest.approx(-0.3, abs=0.001)
    # Five equal uncertainties a year apart: u / root(sum of (x - mean)^2) = u / root 10; u = hypot(0.15, 0.15).
    assert trend.per_year_u == pytest.approx(hypot(0.15, 0.15) / sqrt(10), rel=0.001)
    assert trend.is_told
    assert trend.meets
    # 2 mm at 0.3 a year: six years and eight months on.
    assert abs((trend.meets.day - date(2026, 9, 1)).days) < 10
    assert trend.meets.earliest < trend.meets.day < trend.meets.latest


FIVE_YEARS = [
    still(f"{2020 + index}-01-01", 27.0 - 0.3 * index, "check" if index else "reference") for index in range(5)
]


@pytest.mark.parametrize(
    ("later", "more"),
    [
        ((still("2024-06-01", 27.0, "reference"),), ""),
        ((), "history: [{date: 2024-06-01, event: soundpost_replaced}]\n"),
        ((), "history: [{date: 2024-06-01, event: top_removed}]\n"),
        ((still("2024-06-01", 26.0, "trial") + ", fitted: {post: P2}",), ""),
    ],
    ids=["another reference", "work", "an opened body", "another post"],
)
def test_no_day_is_told_for_what_has_begun_anew_since(later: tuple[str, ...], more: str) -> None:
    first = f"{FIVE_YEARS[0]}, fitted: {{post: P1}}"
    for sheets, history, told in (((), "", True), (later, more, False)):
        epoch = drift_of(made(first, *FIVE_YEARS[1:], *sheets, more=history), GAUGES)[0]
        (belly,) = (trend for trend in epoch.trends if trend.what.name == "belly")
        assert belly.is_told
        assert (belly.meets is not None) is told


def test_work_on_something_else_leaves_the_day_told() -> None:
    (epoch,) = drift_of(made(*FIVE_YEARS, more="history: [{date: 2024-06-01, event: pegs_replaced}]\n"), GAUGES)
    assert any(trend.meets for trend in epoch.trends)


def test_no_trend_is_told_within_twice_its_uncertainty_nor_from_two_sheets() -> None:
    slow = [still("2020-01-01", 27.0, "reference"), still("2021-01-01", 26.9), still("2022-01-01", 26.8)]
    _, trend = belly_over(*slow)
    assert trend.per_year == pytest.approx(-0.1, abs=0.001)
    assert not trend.is_told
    assert trend.meets is None
    assert belly_over(*slow[:2])[1].per_year is None
    assert belly_over(slow[0], *(still("2020-01-01", 26.0) for _ in range(3)))[1].per_year is None


def test_a_sheet_of_another_season_or_beyond_work_stands_in_no_trend() -> None:
    dry = [still("2020-01-01", 27.0, "reference"), still("2021-01-01", 26.9)]
    summer = sheet("2021-08-01", WET, 27.8)
    _, trend = belly_over(*dry, summer)
    assert [step.counts for step in trend.steps] == [True, True, False]
    assert trend.per_year is None
    worked = made(*dry, still("2022-01-01", 26.0), more="history: [{date: 2021-06-01, event: soundpost_replaced}]\n")
    (epoch,) = drift_of(worked, GAUGES)
    (belly,) = (each for each in epoch.trends if each.what.name == "belly")
    assert [step.sheet for step in belly.steps] == ["S1", "S2"]


def test_every_demo_instrument_can_be_asked() -> None:
    archive = demo()
    gauges = archive.gauges.record.gauges or {}
    found = [drift_of(filed.record, gauges) for filed in archive.instruments.values()]
    assert sum(map(bool, found)) > 3
