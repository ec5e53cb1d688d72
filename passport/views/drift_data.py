"""What has moved, as plain data for other programs: every number with its uncertainty, limit and verdict.

Names every key; decides nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from passport.analysis.drift import Change, Comparison
from passport.analysis.season import Climate
from passport.analysis.trends import EpochDrift, Trend
from passport.analysis.watched import Taken
from passport.physics.uncertainty import COVERAGE
from passport.records.model.sheets import SetupSheet
from passport.views.drift import name_watched

# Decimals of what was worked out: finer than any gauge, and the same on every machine.
DECIMALS = 4


def comparison_data(found: Comparison, epochs: Sequence[EpochDrift], strings: tuple[str, ...]) -> dict[str, Any]:
    """Give a comparison, and the trends of the epochs given, as what JSON can hold."""
    trends = (trend for epoch in epochs for trend in epoch.trends if trend.per_year is not None)
    return {
        "from": _sheet(found.then, found.climates[0]),
        "to": _sheet(found.now, found.climates[1]),
        "changes": [_change(each, strings) for each in found.changes],
        "not_measured_again": [".".join(map(str, path)) for _, paths in found.not_again for path in paths],
        "board": {"share_of_stops": _rounded(found.board.share), "from": found.board.how},
        "readings": [
            {
                "name": each.reading.name,
                "sure": each.is_sure,
                "says": each.reading.says,
                "because": list(each.because),
                "measure_next": each.reading.next,
            }
            for each in found.likely
        ],
        "assumed": [{"sheet": sheet.sheet, "gauge": words} for sheet, words in found.assumed],
        "trends": [_trend(trend, strings) for trend in trends],
    }


def _sheet(sheet: SetupSheet, climate: Climate) -> dict[str, Any]:
    return {
        "sheet": sheet.sheet,
        "date": sheet.taken.date.text if sheet.taken and sheet.taken.date else None,
        "temperature_c": climate.temperature_c,
        "humidity_pct": climate.humidity_pct,
        "days_in_climate": climate.days,
        "wood_moisture_pct": _rounded(climate.moisture_pct),
    }


def _change(each: Change, strings: tuple[str, ...]) -> dict[str, Any]:
    told = each.change is not None
    return {
        "quantity": each.what.name,
        "name": name_watched(each.what, strings),
        "field": ".".join(map(str, each.what.path)) or None,
        "made_of": [{"field": ".".join(map(str, p.path)), "factor": _rounded(p.factor)} for p in each.what.parts],
        "unit": each.then.unit,
        "then": _taken(each.then),
        "now": _taken(each.now),
        "change": _rounded(each.change),
        "standard_uncertainty": _rounded(each.uncertainty) if told else None,
        "expanded_uncertainty": _rounded(COVERAGE * each.uncertainty) if told else None,
        "look_limit": each.limit.look,
        "look_limit_of_custom": each.limit.asked,
        "act_limit": each.limit.act,
        "verdict": each.verdict,
        "beyond_act_limit": each.acts,
        "season_taken_off": _rounded(each.season),
        "expected_by_rule": _rounded(each.expected),
        "why_not_compared": each.why_not or None,
    }


def _taken(side: Taken) -> dict[str, Any]:
    gauges = [
        {"gauge": each.gauge or None, "uncertainty": _rounded(each.uncertainty), "from": each.how}
        for each in side.gauges
    ]
    return {"value": _rounded(side.value), "method_uncertainty": _rounded(side.method_u), "gauges": gauges}


def _trend(trend: Trend, strings: tuple[str, ...]) -> Mapping[str, Any]:
    meets = trend.meets
    return {
        "name": name_watched(trend.what, strings),
        "unit": trend.unit,
        "per_year": _rounded(trend.per_year),
        "standard_uncertainty": _rounded(trend.per_year_u),
        "told": trend.is_told,
        "sheets": [step.sheet for step in trend.steps if step.counts],
        "meets_act_limit": [day.isoformat() for day in (meets.earliest, meets.day, meets.latest)] if meets else None,
    }


def _rounded(number: float | None) -> float | None:
    return round(number, DECIMALS) + 0.0 if number is not None else None
