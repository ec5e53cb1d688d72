"""The climate an instrument stood in, and what a change of it does to a measure of this very instrument.

The season is stated; it is subtracted only where the instrument's own sheets have taught by how much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from passport.physics.moisture import equilibrium_moisture_pct
from passport.physics.ranges import OutsideRange
from passport.physics.trend import least_squares
from passport.physics.uncertainty import COVERAGE
from passport.records.dates import DAYS_A_YEAR
from passport.records.model.sheets import SetupSheet
from passport.records.model.values import middle_of

# Wood follows the room slowly: a sheet taken after fewer days says nothing of the wood; from the second number of days
# on it counts fully, between in proportion. Common practice, no source.
TOO_FEW_DAYS = 3
DAYS_TO_SETTLE = 14
# The fewest sheets, and the least difference between the dampest and the driest, from which a factor is learned.
FEWEST_SHEETS = 4
LEAST_SPREAD_PCT = 2.0
# Less than this between two days is the same season. Common practice, no source.
SAME_SEASON_PCT = 0.5
# A sheet further than this from the reference's climate would pass the season off as a trend.
# Common practice, no source.
SAME_CLIMATE_PCT = 1.0
# Beyond this difference of humidity a change is measured again after a week. Common practice, no source.
CHECK_AGAIN_PCT = 15.0


@dataclass(frozen=True)
class Climate:
    """The room on the day of a sheet; `moisture_pct` is what wood comes to in it, None with the reason in `why_not`."""

    temperature_c: float | None
    humidity_pct: float | None
    days: float | None
    moisture_pct: float | None
    why_not: str = ""

    @property
    def weight(self) -> float:
        """Give how far the wood had followed the room, 0 to 1."""
        if self.moisture_pct is None or self.days is None or self.days < TOO_FEW_DAYS:
            return 0.0
        return min(1.0, self.days / DAYS_TO_SETTLE)


@dataclass(frozen=True)
class Learned:
    """What 1 % of moisture does to a measure of this instrument, in its unit, with its standard uncertainty."""

    per_pct: float
    uncertainty: float
    sheets: int


@dataclass(frozen=True)
class Point:
    """One sheet for a fit: its day, the value with its standard uncertainty, the climate."""

    day: date
    value: float
    uncertainty: float
    unit: str
    climate: Climate


def climate_of(sheet: SetupSheet) -> Climate:
    """Give the climate of a sheet."""
    state = sheet.state
    temperature, humidity, days = (
        middle_of(getattr(state, name, None)) for name in ("temperature", "humidity", "days")
    )
    missing = [name for name, each in (("temperature", temperature), ("humidity", humidity)) if each is None]
    if temperature is None or humidity is None:
        return Climate(temperature, humidity, days, None, f"{' and '.join(missing)} not recorded")
    try:
        return Climate(temperature, humidity, days, equilibrium_moisture_pct(temperature, humidity))
    except OutsideRange as error:
        return Climate(temperature, humidity, days, None, str(error))


def learned(points: Sequence[Point]) -> Learned | None:
    """Learn what moisture does to a measure, apart from what time does to it; None where the sheets do not tell.

    Four sheets or more whose wood had followed rooms of different seasons, and a factor that exceeds twice its own
    uncertainty; a sheet counts by how far its wood had followed.
    """
    counting = [(point, point.climate.moisture_pct) for point in points if point.climate.weight]
    moistures = [moisture for _, moisture in counting if moisture is not None]
    if len(counting) < FEWEST_SHEETS or max(moistures) - min(moistures) < LEAST_SPREAD_PCT:
        return None
    values = [point.value for point, _ in counting]
    uncertainties = [point.uncertainty / point.climate.weight**0.5 for point, _ in counting]
    try:
        fit = least_squares(values, uncertainties, moistures, years([point.day for point, _ in counting]))
    except OutsideRange:
        return None
    found = Learned(fit.slopes[0], fit.slope_u(0), len(counting))
    return found if abs(found.per_pct) > COVERAGE * found.uncertainty else None


def years(days: Sequence[date]) -> list[float]:
    """Give the days as years since the first of them."""
    return [(day - days[0]).days / DAYS_A_YEAR for day in days]


def moisture_difference(then: Climate, now: Climate) -> float | None:
    """Give by how much wood is moister in the second climate, in %; None where either is not known."""
    if then.moisture_pct is None or now.moisture_pct is None:
        return None
    return now.moisture_pct - then.moisture_pct


def is_of_one_climate(then: Climate, now: Climate) -> bool:
    """Tell whether two days may stand in one trend: not where they are known to be of different seasons."""
    difference = moisture_difference(then, now)
    return difference is None or abs(difference) <= SAME_CLIMATE_PCT


def season_part(then: Climate, now: Climate, season: Learned | None) -> tuple[float, float] | None:
    """Give what the season did between two days and its standard uncertainty.

    None where it is not learned, or the wood had not followed the room on one of them.
    """
    difference = moisture_difference(then, now)
    if season is None or difference is None or not (then.weight and now.weight):
        return None
    return season.per_pct * difference, season.uncertainty * abs(difference)


def season_of(then: Climate, now: Climate) -> str:
    """Say whether the second day's air is wetter or drier than the first's; nothing where neither is told."""
    difference = moisture_difference(then, now)
    if difference is None or abs(difference) < SAME_SEASON_PCT:
        return ""
    return "wetter" if difference > 0 else "drier"
