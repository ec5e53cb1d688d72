"""How far one measured value may be trusted: by its gauge, and where none is known, by an assumption that says so.

Decides which gauge took a value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from passport.findings import Path
from passport.physics.uncertainty import RECTANGULAR, combined, of_resolution
from passport.records.model.sheets import Sheet
from passport.records.model.values import Value
from passport.records.model.workshop import Gauge
from passport.reference.drift import assumed_gauge


@dataclass(frozen=True)
class Trust:
    """The standard uncertainty of one reading, in the unit of its value; `how` says what it comes from.

    `gauge` is its short name; of an assumed one `assumed` says what was taken in its place, and why.
    """

    gauge: str
    uncertainty: float
    how: Literal["uncertainty", "resolution", "assumed"]
    assumed: str = ""


def trust(gauges: Mapping[str, Gauge], sheet: Sheet, path: Path, value: Value) -> Trust:
    """Give how far a value of a sheet may be trusted: by the gauge of the value, of its field, or of the sheet."""
    named = gauge_of(sheet, path, value)
    gauge = gauges.get(named)
    own = _of_gauge(gauge, value.unit) if gauge else None
    spread = (value.value.high - value.value.low) / 2 / RECTANGULAR
    if own is None:
        taken = assumed_gauge(value.unit)
        why = _why_assumed(named, gauge, value.unit)
        return Trust(
            named,
            combined(taken.uncertainty, spread),
            "assumed",
            f"{taken.what}, {taken.uncertainty:g} {value.unit}, {why}",
        )
    uncertainty, how = own
    return Trust(named, combined(uncertainty, spread), how)


def gauge_of(sheet: Sheet, path: Path, value: Value) -> str:
    """Give the short name of the gauge that took a value; nothing where none is named."""
    if value.gauge:
        return value.gauge
    if sheet.gauges is None:
        return ""
    return sheet.gauges.by_field.get(str(path[0])) or sheet.gauges.all or ""


def _of_gauge(gauge: Gauge, unit: str) -> tuple[float, Literal["uncertainty", "resolution"]] | None:
    """Give a gauge's standard uncertainty; None where it tells nothing, or measures something else."""
    if (gauge.unit or unit) != unit:
        return None
    if gauge.uncertainty and gauge.uncertainty.value.middle > 0:
        return gauge.uncertainty.value.middle, "uncertainty"
    if gauge.resolution and gauge.resolution.value.middle > 0:
        return of_resolution(gauge.resolution.value.middle), "resolution"
    return None


def _why_assumed(named: str, gauge: Gauge | None, unit: str) -> str:
    if not named:
        return "since no gauge is named"
    if gauge is None:
        return f"since gauges.yml does not know {named}"
    if (gauge.unit or unit) != unit:
        return f"since {named} does not measure {unit}"
    return f"since gauges.yml does not say how far {named} may be trusted"
