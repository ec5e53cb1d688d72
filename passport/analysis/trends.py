"""How the watched quantities of an instrument go on over the years within each epoch, and when they meet a limit.

Compares sheets by `drift`, and teaches it the season.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import sqrt

from passport.analysis.alike import Epoch, begun_after, day_of, epochs_of, name_of, pair
from passport.analysis.drift import Comparison, Limit, compare, limit_of
from passport.analysis.season import Learned, Point, climate_of, is_of_one_climate, learned, season_part, years
from passport.analysis.watched import Watched, board_of, limits_for, taken, watched
from passport.physics.ranges import OutsideRange
from passport.physics.trend import Fitted, least_squares
from passport.physics.uncertainty import COVERAGE, combined
from passport.records.dates import DAYS_A_YEAR
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.records.model.workshop import Gauge

FEWEST_SHEETS = 3
# Nobody plans further ahead than this, and no line holds so long.
FURTHEST_YEARS = 25.0
LATEST_YEARS = 100.0


@dataclass(frozen=True)
class Step:
    """A watched quantity on a sheet as a change from the reference, with its standard uncertainty.

    A sheet of another season does not count for the trend, unless what the season does is learned and taken off.
    """

    sheet: str
    day: date
    change: float
    uncertainty: float
    counts: bool


@dataclass(frozen=True)
class Meets:
    """When a trend meets the act limit: the likeliest day, and the span in which it does at k = 2."""

    day: date
    earliest: date
    latest: date


@dataclass(frozen=True)
class Trend:
    """A watched quantity over an epoch: each sheet, the reference first, and the change a year.

    `per_year` is None while fewer than three sheets count, or no time lies between them; `meets` is None too once
    anything after the last of the sheets has started the quantity anew.
    """

    what: Watched
    unit: str
    limit: Limit
    steps: tuple[Step, ...]
    per_year: float | None = None
    per_year_u: float = 0.0
    meets: Meets | None = None

    @property
    def is_told(self) -> bool:
        """Tell whether the change a year can be told from none."""
        return self.per_year is not None and abs(self.per_year) > COVERAGE * self.per_year_u


@dataclass(frozen=True)
class EpochDrift:
    """An epoch: its last sheet held against the reference, what was learned of the season, every trend."""

    latest: Comparison
    seasons: tuple[tuple[Watched, Learned], ...]
    trends: tuple[Trend, ...]


def drift_of(record: Instrument, gauges: Mapping[str, Gauge]) -> tuple[EpochDrift, ...]:
    """Give the drift of an instrument in each of its epochs, oldest first; epochs of one sheet are left out."""
    epochs = (epoch for epoch in epochs_of(record.setups or ()) if epoch.sheets)
    return tuple(_epoch(record, gauges, epoch) for epoch in epochs)


def drift_between(record: Instrument, gauges: Mapping[str, Gauge], then: SetupSheet, now: SetupSheet) -> Comparison:
    """Hold any two sheets against each other, the older first; the season is what their epoch taught."""
    holding = (each for each in epochs_of(record.setups or ()) if {id(then), id(now)} <= _sheets_in(each))
    epoch = next(holding, None)
    series = _series(record, gauges, epoch) if epoch else ()
    return compare(record, gauges, then, now, _seasons(series).get)


def _sheets_in(epoch: Epoch) -> set[int]:
    return {id(epoch.reference), *map(id, epoch.sheets)}


def _epoch(record: Instrument, gauges: Mapping[str, Gauge], epoch: Epoch) -> EpochDrift:
    series = tuple(_series(record, gauges, epoch))
    seasons = _seasons(series)
    latest = compare(record, gauges, epoch.reference, epoch.sheets[-1], seasons.get)
    limits = limits_for(record)
    trends = tuple(_trend(record, what, limit_of(what, limits), points, seasons.get(what)) for what, points in series)
    return EpochDrift(latest, tuple(seasons.items()), trends)


Points = tuple[tuple[SetupSheet, Point], ...]


def _seasons(series: Iterable[tuple[Watched, Points]]) -> dict[Watched, Learned]:
    """Give what the sheets of an epoch have taught of the season, of each quantity of which they teach anything."""
    return {what: found for what, points in series if (found := learned([point for _, point in points]))}


def _series(record: Instrument, gauges: Mapping[str, Gauge], epoch: Epoch) -> Iterator[tuple[Watched, Points]]:
    """Give each watched quantity on every sheet of an epoch that is like the reference, the reference first."""
    limits = limits_for(record)
    pairs = [pair(record, epoch.reference, sheet) for sheet in epoch.sheets]
    for what in watched(record, board_of(record, epoch.reference)) if limits else ():
        like = [epoch.reference, *(both.other for both in pairs if not what.why_unlike(both))]
        both_days = ((sheet, taken(what, sheet, gauges, limits)) for sheet in like)
        points = tuple(
            (sheet, Point(day_of(sheet), value.value, value.uncertainty, value.unit, climate_of(sheet)))
            for sheet, value in both_days
            if value and day_of(sheet) != date.min
        )
        if points and points[0][0] is epoch.reference:
            yield what, points


def _trend(record: Instrument, what: Watched, limit: Limit, points: Points, season: Learned | None) -> Trend:
    (_, first), *_ = points
    steps = tuple(_step(name_of(sheet), first, point, season) for sheet, point in points)
    trend = Trend(what, first.unit, limit, steps)
    counting = [(step, point) for step, (_, point) in zip(steps, points, strict=True) if step.counts]
    if len(counting) < FEWEST_SHEETS:
        return trend
    days = [step.day for step, _ in counting]
    try:
        fit = least_squares(
            [step.change for step, _ in counting], [point.uncertainty for _, point in counting], years(days)
        )
    except OutsideRange:
        return trend
    told = replace(trend, per_year=fit.slopes[0], per_year_u=fit.slope_u(0))
    goes_on = not what.begins_anew_with(begun_after(record, points[-1][0]))
    return replace(told, meets=_meets(told, fit, days)) if told.is_told and goes_on else told


def _step(name: str, first: Point, point: Point, season: Learned | None) -> Step:
    by_season, season_u = season_part(first.climate, point.climate, season) or (None, 0.0)
    change = point.value - first.value - (by_season or 0.0)
    uncertainty = combined(first.uncertainty, point.uncertainty, season_u) if point is not first else 0.0
    counts = by_season is not None or is_of_one_climate(first.climate, point.climate)
    return Step(name, point.day, change, uncertainty, counts)


def _meets(trend: Trend, fit: Fitted, days: list[date]) -> Meets | None:
    """Say when a line that is told meets the act limit; None where it has met it, or would in too many years.

    The uncertainty of the crossing is that of (limit - a)/b, by the law of propagation (JCGM 100:2008, 5.2.2).
    """
    if trend.per_year is None or trend.limit.act is None:
        return None
    slope = trend.per_year
    goal = trend.limit.act if slope > 0 else -trend.limit.act
    at = (goal - fit.at_zero) / slope
    (a, ab), (_, b) = fit.covariance
    half = COVERAGE * sqrt(max(0.0, a + at * at * b + 2 * at * ab)) / abs(slope)
    last = years(days)[-1]
    if not last < at <= last + FURTHEST_YEARS:
        return None
    day, earliest, latest = (
        days[0] + timedelta(days=each * DAYS_A_YEAR)
        for each in (at, max(at - half, last), min(at + half, last + LATEST_YEARS))
    )
    return Meets(day, earliest, latest)
