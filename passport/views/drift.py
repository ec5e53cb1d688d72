"""What has moved, as a page and the command line tell it: changes, the season, likely readings, the way it goes.

What moved is decided in `analysis`; here it is only worded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from passport.analysis.alike import name_of
from passport.analysis.drift import Change, Comparison
from passport.analysis.readings import Likely
from passport.analysis.season import CHECK_AGAIN_PCT, FEWEST_SHEETS, TOO_FEW_DAYS, Climate, moisture_difference
from passport.analysis.trends import EpochDrift, Trend, drift_of
from passport.analysis.watched import Watched
from passport.figures.trend import Mark, Run, trend_drawing
from passport.physics.uncertainty import COVERAGE
from passport.records.dates import parse_date
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.reference.drift import source
from passport.views.desk import Desk
from passport.views.numbers import EN_DASH, NARROW_SPACE, date_text, difference_text, figure, joined
from passport.views.titles import capital, lowered, title_of
from passport.views.tree import WorkedTable, Workings

WORKED_OUT = {"neck": "Neck", "bridge": "Bridge, by the strings"}
# No gauge of the trade is surer than this, in mm, g or Hz. Common practice, no source.
LEAST_GAUGE = 0.02
# A course is drawn from so many sheets on; before, the table of changes says it all.
FEWEST_DRAWN = 3
# What is drawn over the years: the first of these that was measured on two sheets.
DRAWN = ("neck", "projection", "belly", "string_height")
BY_RULE = {"mass": "moisture alone", "air_mode": "warmth alone"}
# Change and verdict first: on a phone they are what is seen without scrolling.
COLUMNS = ("Quantity", "change", "verdict", "then", "now", "limit", "gauge; method")
USUAL_UNIT = "mm"
CAPTION = f"What moved, by how much, and how sure that is; {USUAL_UNIT} unless said"
AS_ABOVE = "Worked out as in the table above."
READING = ("Reading", "since", "measure next")
RULE = (
    "neck = projection + arch at the bridge, since the projection is measured from the belly. {bridge}"
    "Gauge; method: standard uncertainty of the gauge then and now, and of the way of measuring on each day. "
    "\N{PLUS-MINUS SIGN} = 2 √(gauge then² + gauge now² + 2 method²). Moved where the change less ± exceeds the limit, "
    "not moved where the change and ± stay within it, else cannot tell. Limit: look / act."
)
SOURCES = f"JCGM 100:2008 (GUM), 5.1.2; ISO 14253-1:1998, decision rules; {source()}"


def drift_workings(desk: Desk, record: Instrument) -> tuple[Workings, ...]:
    """Tell what moved since the latest reference, then in every epoch before it, then how it went over the years."""
    epochs = drift_of(record, desk.archive.gauges.record.gauges or {})
    strings = record.string_names
    told = [comparison_workings(epoch.latest, strings, is_first=epoch is epochs[-1]) for epoch in reversed(epochs)]
    return (*told, *over_the_years(epochs, strings))


def comparison_workings(found: Comparison, strings: tuple[str, ...], *, is_first: bool = True) -> Workings:
    """Tell of two sheets what moved between them; how it is worked out is said with the first of several."""
    changes = tuple(_row(each, strings) for each in found.changes)
    table = WorkedTable(CAPTION, COLUMNS, changes, _rule(found) if is_first else AS_ABOVE, SOURCES if is_first else "")
    return Workings(
        title=f"From {_named(found.then)} to {_named(found.now)}",
        tables=(*_readings(found, strings), *((table,) if changes else ())),
        notes=tuple(filter(None, (_verdict_words(found), _strings_words(found), *_season_words(found, strings)))),
        lacking=tuple(_lacking(found, strings)),
    )


def name_watched(what: Watched, strings: tuple[str, ...]) -> str:
    """Name a watched quantity: "Neck", "String height, C"."""
    return title_of(SetupSheet, what.path, strings) if what.path else WORKED_OUT[what.name]


def _named(sheet: SetupSheet) -> str:
    return joined(sheet.sheet or "", date_text(sheet.taken.date) if sheet.taken else "")


def _row(each: Change, strings: tuple[str, ...]) -> tuple[str, ...]:
    name = joined(name_watched(each.what, strings), each.then.unit if each.then.unit != USUAL_UNIT else "")
    decimals = max(each.then.decimals, each.now.decimals)
    then, now = (figure(side.value, decimals) for side in (each.then, each.now))
    if each.change is None:
        return (name, EN_DASH, "cannot tell", then, now, _limit(each), EN_DASH)
    change = (
        f"{difference_text(each.change, max(decimals, 1))} ± {figure(COVERAGE * each.uncertainty, max(decimals, 1))}"
    )
    return (name, change, _verdict(each), then, now, _limit(each), _sure(each))


def _limit(each: Change) -> str:
    return joined(f"{each.limit.look:g}", f"{each.limit.act:g}" if each.limit.act else "", by=" / ")


def _verdict(each: Change) -> str:
    if each.verdict != "moved" or each.acts is None:
        return each.verdict
    return {"moved": "moved; act", "cannot tell": "moved; perhaps act", "not moved": "moved"}[each.acts]


def _sure(each: Change) -> str:
    gauges = ", ".join(figure(side.gauge_u, 2) for side in (each.then, each.now))
    return f"{gauges}; {figure(each.then.method_u, 2)}"


def _rule(found: Comparison) -> str:
    by_strings = "bridge = projection + mean of the outer string heights × (N + S)/FB; {how}. "
    return RULE.format(bridge=by_strings.format(how=found.board.how) if found.board.share else "")


def _verdict_words(found: Comparison) -> str:
    """Say in one sentence what moved."""
    judged = [each for each in found.changes if each.change is not None]
    moved = any(each.verdict == "moved" for each in judged)
    if moved or not judged:
        return ""
    if all(each.verdict == "not moved" for each in judged):
        return "Nothing has moved beyond its limit."
    return "Nothing has surely moved beyond its limit; of some it cannot be told."


def _strings_words(found: Comparison) -> str:
    """Set the rise of the strings beside the one that neck and belly alone explain: (dH - dP) FB/(N + S)."""
    by_name: dict[str, list[float]] = {}
    for each in found.changes:
        if each.change is not None:
            by_name.setdefault(each.what.name, []).append(each.change)
    heights, projection = by_name.get("string_height", []), by_name.get("projection", [])
    if not heights or not projection or not found.board.share:
        return ""
    by_neck = -projection[0] * found.board.share
    measured = sum(heights) / len(heights)
    return (
        f"The strings over the end of the board: {difference_text(measured, 1)}{NARROW_SPACE}mm measured, and the "
        f"projection alone makes {difference_text(by_neck, 1)}{NARROW_SPACE}mm of it (−change × FB/(N + S)); "
        "what is left is the bridge’s."
    )


def _season_words(found: Comparison, strings: tuple[str, ...]) -> Iterator[str]:
    then, now = found.climates
    rooms = f"{_climate(then)} then, {_climate(now)} now"
    yield f"The season, by the moisture that wood comes to in the room: {rooms}. {_taken_off(found, strings)}"
    humid = [each.humidity_pct for each in found.climates]
    if humid[0] is not None and humid[1] is not None and abs(humid[1] - humid[0]) > CHECK_AGAIN_PCT:
        yield (
            f"The rooms differ by {abs(humid[1] - humid[0]):g}{NARROW_SPACE}% humidity: let it stand a week in the "
            "shop’s air and measure again before calling a change damage."
        )
    for each in found.changes:
        if each.expected is not None:
            name, sign = name_watched(each.what, strings), difference_text(each.expected, 1)
            words = BY_RULE[each.what.name]
            yield f"{name}: {words} makes {sign}{NARROW_SPACE}{each.then.unit} of it; stated, not subtracted."


def _climate(climate: Climate) -> str:
    if climate.moisture_pct is None:
        return f"not known ({climate.why_not})"
    room = f"{climate.temperature_c:g}{NARROW_SPACE}°C, {climate.humidity_pct:g}{NARROW_SPACE}% humidity"
    return f"{figure(climate.moisture_pct, 1)}{NARROW_SPACE}% ({room}, {_days(climate)})"


def _days(climate: Climate) -> str:
    if climate.days is None:
        return "days in it not recorded"
    days = f"{climate.days:g} {'day' if climate.days == 1 else 'days'} in it"
    return days if climate.weight else f"{days}, too few for the wood to follow"


def _taken_off(found: Comparison, strings: tuple[str, ...]) -> str:
    parts = [
        f"{name_watched(each.what, strings)} {difference_text(each.season, 1)}{NARROW_SPACE}{each.then.unit}"
        for each in found.changes
        if each.season is not None
    ]
    if parts:
        return f"Taken off, as this instrument’s own sheets have taught: {', '.join(parts)}."
    if moisture_difference(*found.climates) is None:
        return "Nothing is taken off for it."
    return (
        f"Stated, not subtracted: that needs {FEWEST_SHEETS} sheets or more of this instrument in one epoch, from "
        f"different seasons, each after {TOO_FEW_DAYS} days or more in its climate."
    )


def _readings(found: Comparison, strings: tuple[str, ...]) -> Iterator[WorkedTable]:
    if found.likely:
        rows = tuple(_reading(each, found.changes, strings) for each in found.likely)
        yield WorkedTable("Likely readings, likeliest first", READING, rows)


def _reading(each: Likely, changes: Sequence[Change], strings: tuple[str, ...]) -> tuple[str, ...]:
    said = capital(each.reading.says) if each.is_sure else f"Perhaps {each.reading.says}"
    since = [
        f"{name_watched(change.what, strings)} {difference_text(change.change, 1)}"
        for change in changes
        if change.what.name in each.because and change.change is not None
    ]
    return (said, "; ".join(since), capital(each.reading.next))


def _lacking(found: Comparison, strings: tuple[str, ...]) -> Iterator[str]:
    for each in found.changes:
        if each.why_not:
            yield f"{name_watched(each.what, strings)} cannot be compared: {each.why_not}."
    unsure = [each for each in found.changes if each.verdict == "cannot tell" and each.change is not None]
    if unsure:
        listed = "; ".join(_too_unsure(each, strings) for each in unsure)
        yield f"Cannot be told, since ± is too large beside the limit: {listed}."
    if found.board.share is None:
        yield f"The bridge apart from the neck: for want of {found.board.how}."
    if found.not_again:
        yield f"Not measured again on {name_of(found.now)}: {'; '.join(_not_again(found, strings))}."
    for sheet, words in found.assumed:
        yield f"Assumed on {name_of(sheet)}: {words}."
    yield from _raised(found.changes, strings)


def _too_unsure(each: Change, strings: tuple[str, ...]) -> str:
    """Name a change that its ± hides, and say how sure a gauge would tell, where one can."""
    name, gauge = name_watched(each.what, strings), each.gauge_that_tells
    if gauge is None or gauge < LEAST_GAUGE or not each.what.path:
        return name
    return f"{name} (a gauge sure to {figure(gauge, 2)}{NARROW_SPACE}{each.then.unit} today would tell)"


def _not_again(found: Comparison, strings: tuple[str, ...]) -> Iterable[str]:
    paths = (path for _, paths in found.not_again for path in paths)
    names = (title_of(SetupSheet, path[:1] if str(path[-1]) in strings else path, strings) for path in paths)
    return dict.fromkeys(map(lowered, names))


def _raised(changes: Sequence[Change], strings: tuple[str, ...]) -> Iterator[str]:
    raised = [each for each in changes if each.limit.look > each.limit.asked]
    if raised:
        listed = ", ".join(
            f"{name_watched(each.what, strings)} {each.limit.asked:g} to {each.limit.look:g}" for each in raised
        )
        yield f"Look limits raised to what the way of measuring can see: {listed}."


def over_the_years(epochs: Sequence[EpochDrift], strings: tuple[str, ...]) -> Iterator[Workings]:
    """Draw one quantity over all epochs, with its table, and say of each trend that is told where it leads."""
    for name in DRAWN:
        trends = [trend for epoch in epochs for trend in _trends(epoch, name)[:1]]
        if sum(len(trend.steps) for trend in trends) >= FEWEST_DRAWN:
            title = name_watched(trends[0].what, strings)
            notes = tuple(_course(epochs, strings))
            yield Workings(f"{title} over the years", (), (_steps(title, trends),), (_chart(title, trends),), notes)
            return


def _trends(epoch: EpochDrift, name: str) -> list[Trend]:
    return [trend for trend in epoch.trends if trend.what.name == name and len(trend.steps) > 1]


def _chart(name: str, trends: Sequence[Trend]) -> str:
    runs = [
        Run(
            trend.steps[0].sheet,
            tuple(Mark(step.day, step.change, COVERAGE * step.uncertainty, step.counts) for step in trend.steps),
        )
        for trend in trends
    ]
    last = trends[-1]
    return trend_drawing(f"{name}: change from each reference", last.unit, runs, last.limit.look, last.limit.act)


def _steps(name: str, trends: Sequence[Trend]) -> WorkedTable:
    rows = tuple(
        (
            step.sheet,
            date_text(parse_date(step.day.isoformat())),
            difference_text(step.change, 1),
            figure(COVERAGE * step.uncertainty, 1),
            "reference" if step is trend.steps[0] else "counts" if step.counts else "another season",
        )
        for trend in trends
        for step in trend.steps
    )
    columns = ("Sheet", "date", "change, mm", "±", "for the trend")
    return WorkedTable(f"{name}, sheet by sheet", columns, rows)


def _course(epochs: Sequence[EpochDrift], strings: tuple[str, ...]) -> Iterator[str]:
    for epoch in reversed(epochs):
        told = [trend for trend in epoch.trends if trend.is_told]
        start = f"From {name_of(epoch.latest.then)} to {name_of(epoch.latest.now)}"
        if not told:
            yield f"{start}: {_untold(epoch)}"
        else:
            words = "; ".join(_goes(trend, strings) for trend in told)
            yield f"{start}, a year: {words}. Weighted least squares, ± at k = 2."


def _untold(epoch: EpochDrift) -> str:
    if any(trend.per_year is not None for trend in epoch.trends):
        return "whether anything goes on moving cannot be told; no change a year exceeds twice its uncertainty."
    return "no trend, since that needs three sheets of one season."


def _goes(trend: Trend, strings: tuple[str, ...]) -> str:
    slope = f"{difference_text(trend.per_year, 2)} ± {figure(COVERAGE * trend.per_year_u, 2)}{NARROW_SPACE}{trend.unit}"
    meets = ""
    if trend.meets is not None:
        day, early, late = (each.year for each in (trend.meets.day, trend.meets.earliest, trend.meets.latest))
        meets = f", meets the act limit about {day} ({early} to {late})"
    return f"{name_watched(trend.what, strings)} {slope}{meets}"
