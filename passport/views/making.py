"""How an instrument was made: plates, woods, varnish and dimensions, in words and drawings.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.windows import Window, Windows, fitting_of
from passport.findings import Path
from passport.records.model.instrument import Coat, Instrument, Part
from passport.records.model.sheets import MeasurementSheet
from passport.records.model.values import Value
from passport.records.walk import measured
from passport.reference import woods
from passport.views.addresses import supply_path
from passport.views.desk import Desk, facts
from passport.views.numbers import date_text, humidity_text, joined, unit_sign, value_text, with_unit
from passport.views.setup import sheet_view
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import CoatView, Link, MeasureRow, MeasureSheet, PartView
from passport.views.windows import beside, sources


def parts(desk: Desk, record: Instrument) -> Iterator[PartView]:
    """Give the wood part by part; what the record leaves out, its lot may tell."""
    of = record.parts
    for name, field in type(of).model_fields.items() if of else ():
        part: Part | None = getattr(of, name)
        if part is not None:
            yield _part(desk, field.title or name, part)


def _part(desk: Desk, name: str, part: Part) -> PartView:
    filed = desk.archive.wood.get(part.lot or "")
    lot = filed.record if filed is not None else None
    scientific = part.species or (lot.species if lot else None) or ""
    common = part.wood or (lot.wood if lot else None) or woods.common_name(scientific)
    link = Link(part.lot, supply_path("wood", part.lot) if lot else "") if part.lot else None
    pieces = getattr(part, "pieces", None)
    told = facts(
        ("Wedge", part.wedge),
        ("Pieces", ", ".join(map(spoken, pieces)) if isinstance(pieces, tuple) else str(pieces or "")),
        ("Build", getattr(part, "build", None)),
        ("Machine heads", getattr(part, "machine_heads", None)),
        ("Cut", part.cut),
        ("Density", with_unit(part.density)),
        ("Figure", part.figure),
        ("Note", part.note),
    )
    return PartView(name, capital(common), scientific, part.origin or (lot.origin if lot else None) or "", link, told)


def coat_view(coat: Coat) -> CoatView:
    """Give one coat of varnish."""
    lamp = {"none": "", "tubes": "tubes", "led": "LED", "sun": "sun"}.get(coat.uv or "", "")
    light = joined(lamp, with_unit(coat.irradiance), f"for {with_unit(coat.hours)}" if coat.hours else "")
    drying = f"dried {value_text(coat.drying)} days" if coat.drying else ""
    return CoatView(
        date=date_text(coat.date),
        coat=coat.coat or "",
        batch=Link(coat.batch, supply_path("varnish", coat.batch)) if coat.batch else None,
        area=coat.area or "",
        light=light,
        climate=joined(with_unit(coat.temperature), humidity_text(coat.humidity)),
        mass_gain=joined(with_unit(coat.mass_gain), f"{with_unit(coat.wet_mass)} wet" if coat.wet_mass else ""),
        note=joined(coat.method or "", drying, coat.note or ""),
    )


def measurements(desk: Desk, record: Instrument, windows: Windows) -> Iterator[MeasureSheet]:
    """Give the dimensions day by day, beside their windows."""
    for sheet in record.measurements or ():
        fitting = fitting_of(record, sheet)
        values = [(path, value) for path, value in measured(sheet) if path[0] != "state"]
        held = [windows.of(tuple(map(str, path)), fitting) for path, _ in values]
        rows = tuple(_measure_row(path, value, window) for (path, value), window in zip(values, held, strict=True))
        yield MeasureSheet(sheet_view(sheet, desk.people), rows, sources(desk, record.model, held))


def _measure_row(path: Path, value: Value, window: Window | None) -> MeasureRow:
    told = beside(window, value.value)
    return MeasureRow(
        name=title_of(MeasurementSheet, path),
        unit=unit_sign(value),
        value=value_text(value),
        window=told.window,
        whose=told.whose,
        mark=told.mark,
        note=joined(value.note or "", value.accepted or "", by="; "),
    )
