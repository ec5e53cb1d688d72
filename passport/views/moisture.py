"""The rooms an instrument stood in, and what they do to its wood, in words, a table and a drawing.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from passport.analysis.moisture import (
    CLOSING_APART_PCT,
    Closing,
    PlateMovement,
    RoomClimate,
    climates,
    closings,
    extremes,
    plate_movements,
)
from passport.figures.moisture import Point, moisture_chart
from passport.records.dates import Date
from passport.records.model.instrument import Instrument
from passport.views.desk import Desk
from passport.views.numbers import EN_DASH, date_text, difference_text, figure, joined, quantity, value_text, with_unit
from passport.views.setup import CANNOT_TELL
from passport.views.titles import capital, lowered
from passport.views.tree import Worked, WorkedTable, Workings

MEASURED, WORKED_OUT, ASSUMED = "measured", "worked out", "assumed"
EMC_RULE = (
    "M = 1800 / W · (Kh / (1 − Kh) + (K₁Kh + 2K₁K₂K²h²) / (1 + K₁Kh + K₁K₂K²h²)), t in °C, h the humidity / 100; "
    "W = 349 + 1.29t + 0.0135t², K = 0.805 + 0.000736t − 0.00000273t², K₁ = 6.27 − 0.00938t − 0.000303t², "
    "K₂ = 1.91 + 0.0407t − 0.000293t²"
)
EMC_SOURCE = "Wood Handbook, FPL-GTR-190 (2010), equation 4-5"
COMES_TO = "Wood comes to, %"
MOVEMENT_RULE = "width × coefficient × (dampest − driest)"
SHRINKAGE_RULE = "(S / 3000) / (1 − S / 150)"
LAGS = (
    "This is what the room would bring wood to in the end. Thin plates need days for most of it, blocks and necks "
    "weeks: read it with the days the instrument had stood there."
)
GLUED_DOWN = (
    "This is a free plate. One that is glued to its ribs cannot move so far: its arch rises in damp air and sinks in "
    "dry, and the rest pulls at seams and joint."
)
NEEDS_TWO = "How far the plates move: there are no two dated climates that differ."


def moisture_workings(desk: Desk, record: Instrument) -> Iterator[Workings]:
    """Say what every dated room would bring the wood to, how the box was closed, and how far the plates move."""
    found, shut = climates(record), tuple(closings(record))
    if found or shut:
        yield _rooms(found, shut)
    if found and record.parts and (record.parts.top or record.parts.back):
        yield _moving(desk, record, found)


def _rooms(found: tuple[RoomClimate, ...], shut: tuple[Closing, ...]) -> Workings:
    room = points_of((climate.date, climate.rest.pct) for climate in found)
    wood = points_of((closing.date, closing.moisture.value.middle if closing.moisture else None) for closing in shut)
    drawings = (moisture_chart("Moisture of the wood and of its rooms", room, wood),) if len(room) > 1 else ()
    return Workings(
        title="Wood and room",
        figures=tuple(_closing(closing) for closing in shut if closing.apart_pct is not None),
        tables=(_table(found),) if found else (),
        drawings=drawings,
        notes=(LAGS,),
        lacking=tuple(_unknown(found, shut)),
    )


def _closing(closing: Closing) -> Worked:
    read = with_unit(closing.moisture)
    room = joined(*map(with_unit, closing.climate))
    limit = quantity(CLOSING_APART_PCT, 1, "%")
    return Worked(
        name=capital(f"{closing.said} glued {date_text(closing.date)}: wood less room"),
        value=difference_text(closing.apart_pct, 1),
        unit="%",
        how=WORKED_OUT,
        rule="moisture measured − what the room brings wood to",
        inputs=f"{read} − {quantity(closing.rest.pct or 0, 1, '%')} ({room}); beyond {limit} it should have waited",
        source="limit: common practice, no source",
    )


def _table(found: Sequence[RoomClimate]) -> WorkedTable:
    rows = tuple(_row(climate) for climate in found)
    columns = ("When", "°C", "Humidity, %", "Days in it", COMES_TO)
    return WorkedTable("The room on each dated day", columns, rows, f"Worked out: {EMC_RULE}.", EMC_SOURCE)


def _row(climate: RoomClimate) -> tuple[str, ...]:
    has_days = climate.path[0] in ("setups", "measurements")
    return (
        joined(date_text(climate.date), lowered(climate.what)),
        value_text(climate.temperature),
        value_text(climate.humidity),
        value_text(climate.days) if has_days else EN_DASH,
        figure(climate.rest.pct, 1) if climate.rest.pct is not None else CANNOT_TELL,
    )


def _unknown(found: Iterable[RoomClimate], shut: Iterable[Closing]) -> Iterator[str]:
    reasons: dict[str, list[str]] = {}
    for climate in found:
        if climate.rest.pct is None:
            reasons.setdefault(climate.rest.why_not, []).append(lowered(climate.what))
    for why_not, whats in reasons.items():
        yield f"What the room would bring wood to ({', '.join(whats)}): {why_not}."
    for closing in shut:
        if closing.moisture is None:
            yield f"Wood against room when {closing.said} was glued: the wood’s own moisture is not recorded."
        elif closing.rest.pct is None:
            yield f"Wood against room when {closing.said} was glued: {closing.rest.why_not}."


def _moving(desk: Desk, record: Instrument, found: tuple[RoomClimate, ...]) -> Workings:
    between = extremes(found)
    if between is None:
        return Workings("Across the grain", lacking=(NEEDS_TWO,))
    moves = tuple(plate_movements(desk.archive, record, between))
    driest, dampest = between
    room = f"From {_said(driest)} to {_said(dampest)}."
    worked = [move for move in moves if move.change_mm is not None]
    return Workings(
        title="Across the grain",
        figures=tuple(_move(move, between) for move in worked),
        notes=(room, GLUED_DOWN) if worked else (),
        lacking=tuple(f"How far the {move.plate} moves: {move.why_not}." for move in moves if move.change_mm is None),
    )


def _said(climate: RoomClimate) -> str:
    days = value_text(climate.days)
    stood = f", {days} {'day' if days == '1' else 'days'} in it" if climate.days else ""
    what = lowered(climate.what)
    return f"{quantity(climate.rest.pct or 0, 1, '%')} ({what}, {date_text(climate.date)}{stood})"


def _move(move: PlateMovement, between: tuple[RoomClimate, RoomClimate]) -> Worked:
    driest, dampest = (figure(climate.rest.pct or 0, 2) for climate in between)
    coefficient = figure(move.movement.coefficient, 5) if move.movement else ""
    width = f"{quantity(move.width_mm or 0, 1, 'mm')} ({move.width_from})"
    from_shrinkage = move.movement.shrinkage_pct if move.movement else None
    shrinkage = f", {SHRINKAGE_RULE} with its whole shrinkage S of {quantity(from_shrinkage or 0, 1, '%')}"
    species = f"{move.species}{shrinkage if from_shrinkage else ''}"
    return Worked(
        name=f"{capital(move.plate)}, {move.cut} cut",
        value=figure(move.change_mm or 0, 1),
        unit="mm",
        how=WORKED_OUT,
        rule=MOVEMENT_RULE,
        inputs=f"{width} × {coefficient} ({species}) × ({dampest} − {driest})",
        source=f"equation 13-2 of the Wood Handbook, for 6 to 14 %; {move.movement.source if move.movement else ''}",
    )


def points_of(pairs: Iterable[tuple[Date | None, float | None]]) -> list[Point]:
    """Give the middle day of each date, with its moisture."""
    return [
        ((day.earliest.toordinal() + day.latest.toordinal()) // 2, pct)
        for day, pct in pairs
        if day and day.earliest and day.latest and pct is not None
    ]
