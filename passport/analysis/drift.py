"""What has really moved between two sheets of an instrument: every change with how sure it is, and a verdict.

Compares only what `alike` lets; the season is subtracted only where this instrument has taught it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import ceil, sqrt

from passport.analysis.alike import Pair, pair
from passport.analysis.readings import Likely, likely
from passport.analysis.season import Climate, Learned, climate_of, moisture_difference, season_of, season_part
from passport.analysis.watched import (
    Board,
    Taken,
    Watched,
    board_of,
    lacking_parts,
    limits_for,
    method_u,
    taken,
    watched,
)
from passport.findings import Path
from passport.physics.ranges import OutsideRange
from passport.physics.uncertainty import COVERAGE, Verdict, combined, verdict
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.records.model.workshop import Gauge
from passport.reference.drift import Limits

# The speed of sound, and with it the air resonance, goes with the root of the absolute temperature (from memory).
ZERO_C_IN_K = 273.15


@dataclass(frozen=True)
class Limit:
    """What a change is held against; `asked` is the trade's look limit where the way of measuring cannot see it."""

    look: float
    act: float | None
    asked: float


@dataclass(frozen=True)
class Change:
    """One watched quantity on two sheets, in its unit.

    `change` is now less then, less the season where that is learned (`season`); `uncertainty` is its standard
    uncertainty. `expected` is what moisture or warmth alone does by the rule, stated and not subtracted. Where the two
    cannot be compared `change` is None and `why_not` says why. `acts` tells whether it lies beyond the act limit.
    """

    what: Watched
    then: Taken
    now: Taken
    limit: Limit
    change: float | None
    uncertainty: float
    verdict: Verdict
    acts: Verdict | None = None
    season: float | None = None
    expected: float | None = None
    why_not: str = ""

    @property
    def gauge_that_tells(self) -> float | None:
        """Give how sure a gauge must be today to end in a verdict on the same values; None where none can be.

        A standard uncertainty in the unit of the quantity: |change| and limit more than the expanded one apart.
        """
        gap = abs(abs(self.change or 0.0) - self.limit.look) / COVERAGE
        left = gap**2 - self.then.uncertainty**2 - self.now.method_u**2
        return sqrt(left) if left > 0 else None


@dataclass(frozen=True)
class Comparison:
    """Two sheets held against each other: changes, climates, what was not measured again, what it likely means."""

    then: SetupSheet
    now: SetupSheet
    climates: tuple[Climate, Climate]
    board: Board
    changes: tuple[Change, ...]
    not_again: tuple[tuple[Watched, tuple[Path, ...]], ...]
    likely: tuple[Likely, ...]

    @property
    def assumed(self) -> tuple[tuple[SetupSheet, str], ...]:
        """Give every assumption made of a gauge, each with its sheet, once."""
        sides = ((self.then, [each.then for each in self.changes]), (self.now, [each.now for each in self.changes]))
        found = ((sheet, trust.assumed) for sheet, taken in sides for each in taken for trust in each.gauges)
        return tuple({(id(sheet), words): (sheet, words) for sheet, words in found if words}.values())


Season = Callable[[Watched], Learned | None]


def compare(
    record: Instrument,
    gauges: Mapping[str, Gauge],
    then: SetupSheet,
    now: SetupSheet,
    season: Season = lambda _what: None,
) -> Comparison:
    """Hold a later sheet of an instrument against an earlier one; `season` gives what the instrument has taught."""
    limits, board = limits_for(record), board_of(record, then)
    both = pair(record, then, now)
    climates = (climate_of(then), climate_of(now))
    changes: list[Change] = []
    not_again: list[tuple[Watched, tuple[Path, ...]]] = []
    for what in watched(record, board) if limits else ():
        sides = [taken(what, sheet, gauges, limits) for sheet in (then, now)]
        if sides[0] and sides[1]:
            changes.append(_change(what, sides[0], sides[1], limits, both, climates, season(what)))
        elif sides[0]:
            not_again.append((what, tuple(lacking_parts(what, now))))
    found = tuple(changes)
    return Comparison(then, now, climates, board, found, tuple(not_again), likely(_stands(found, climates)))


def limit_of(what: Watched, limits: Mapping[str, Limits]) -> Limit:
    """Give the limit of a watched quantity, raised to what the way of measuring can see on two days, in tenths."""
    own = limits[what.limits]
    visible = ceil(10 * COVERAGE * sqrt(2) * method_u(what, limits) - 1e-9) / 10
    look = max(own.look, visible)
    return Limit(look, max(own.act, look) if own.act is not None else None, own.look)


def _change(
    what: Watched,
    then: Taken,
    now: Taken,
    limits: Mapping[str, Limits],
    both: Pair,
    climates: tuple[Climate, Climate],
    season: Learned | None,
) -> Change:
    limit, why = limit_of(what, limits), what.why_unlike(both)
    if why:
        return Change(what, then, now, limit, None, 0.0, "cannot tell", why_not=why)
    by_season, season_u = season_part(*climates, season) or (None, 0.0)
    try:
        uncertainty = combined(then.uncertainty, now.uncertainty, season_u)
        change = now.value - then.value - (by_season or 0.0)
        judged = verdict(change, uncertainty, limit.look)
        acts = verdict(change, uncertainty, limit.act) if limit.act is not None else None
    except OutsideRange as error:
        return Change(what, then, now, limit, None, 0.0, "cannot tell", why_not=str(error))
    expected = _expected(what, then, limits[what.limits].per_moisture_pct, climates)
    return Change(what, then, now, limit, change, uncertainty, judged, acts, by_season, expected)


def _expected(
    what: Watched, then: Taken, per_moisture_pct: float | None, climates: tuple[Climate, Climate]
) -> float | None:
    """Give what moisture does to the mass and warmth to the air resonance, by the rule."""
    difference = moisture_difference(*climates)
    if per_moisture_pct is not None and difference is not None:
        return per_moisture_pct * difference
    one, other = (climate.temperature_c for climate in climates)
    if what.name == "air_mode" and one is not None and other is not None:
        return then.value * (other - one) / 2 / (ZERO_C_IN_K + one)
    return None


def _stands(
    changes: tuple[Change, ...], climates: tuple[Climate, Climate]
) -> Mapping[str, tuple[tuple[str, bool], ...]]:
    """Say how each quantity stands, and whether surely: up, down or still; of several strings each one."""
    found: dict[str, list[tuple[str, bool]]] = {}
    for each in changes:
        found.setdefault(each.what.name, []).extend(_stand(each))
    season = season_of(*climates)
    if season:
        found["season"] = [(season, False)]
    return {name: tuple(stands) for name, stands in found.items()}


def _stand(change: Change) -> Iterator[tuple[str, bool]]:
    if change.change is None:
        return
    if change.verdict == "not moved":
        yield "still", True
    elif change.verdict == "moved" or abs(change.change) > change.limit.look:
        yield "up" if change.change > 0 else "down", change.verdict == "moved"
