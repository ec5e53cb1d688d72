"""How an instrument was made: plates, woods, varnish and dimensions, in words and drawings.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.windows import Window, Windows, fitting_of
from passport.figures.outline import Curve
from passport.figures.plate import plate_drawing
from passport.findings import Path
from passport.records.model.instrument import Coat, Instrument, Part, Plate, Stage
from passport.records.model.marks import Record
from passport.records.model.sheets import MeasurementSheet
from passport.records.model.supplies import Outline
from passport.records.model.values import Value
from passport.records.walk import measured
from passport.reference import woods
from passport.views.addresses import supply_path
from passport.views.desk import Desk, facts
from passport.views.numbers import amount_text, date_text, humidity_text, joined, unit_sign, value_text, with_unit
from passport.views.setup import NOT_RECORDED, sheet_view
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import CoatView, Fact, Link, MeasureRow, MeasureSheet, PartView, PlateView
from passport.views.windows import beside, sources

FIVE_COLUMNS = ("Bass edge", "Bass half", "Joint", "Treble half", "Treble edge")
# Fewer points than this make no curve.
FEWEST_POINTS = 3
STAGE_FIELDS = ("mass", "mode1", "mode2", "mode5", "moisture")


def plates(desk: Desk, record: Instrument) -> Iterator[PlateView]:
    """Give top and back: thickness drawn and in a table, masses and taps stage by stage."""
    for name in ("top", "back"):
        plate: Plate | None = getattr(record.plates, name) if record.plates else None
        if plate is not None:
            yield _plate(name, plate, curves_of(desk, record.model))


def _plate(name: str, plate: Plate, curves: tuple[Curve, ...]) -> PlateView:
    rows = plate.thickness or {}
    numbers = {float(height): [amount_text(value) for value in values] for height, values in rows.items()}
    count = max(map(len, rows.values()), default=0)
    columns = FIVE_COLUMNS if count == len(FIVE_COLUMNS) else tuple(str(index + 1) for index in range(count))
    stages = tuple(_stage(stage) for stage in plate.stages or ())
    used = [index for index in range(len(STAGE_FIELDS) + 2) if any(row[index] for row in stages)]
    heads = ("Date", "Stage", *(_stage_head(field) for field in STAGE_FIELDS))
    return PlateView(
        name=capital(name),
        drawing=plate_drawing(f"{capital(name)}, thickness as measured", curves, numbers)
        if curves and any(numbers.values())
        else "",
        columns=("From the bottom edge", *columns),
        rows=tuple((height, *map(amount_text, values)) for height, values in rows.items()),
        stage_columns=tuple(heads[index] for index in used),
        stages=tuple(tuple(row[index] or NOT_RECORDED for index in used) for row in stages),
        bar=tuple(_measured_facts(plate.bass_bar)) if plate.bass_bar else (),
        accepted=plate.accepted or "",
    )


def _stage_head(field: str) -> str:
    units = {"mass": "g", "moisture": "%"}
    return f"{Stage.model_fields[field].title}, {units.get(field, 'Hz')}"


def _stage(stage: Stage) -> tuple[str, ...]:
    return (
        date_text(stage.date),
        spoken(stage.when or ""),
        *(value_text(getattr(stage, field)) for field in STAGE_FIELDS),
    )


def _measured_facts(entry: Record) -> Iterator[Fact]:
    for path, value in measured(entry):
        yield Fact(title_of(type(entry), path), joined(with_unit(value), value.note or ""))


def curves_of(desk: Desk, model: str | None) -> tuple[Curve, ...]:
    """Give the outline of a model as plain numbers; nothing where the model has none that can be drawn."""
    filed = desk.archive.models.get(model or "")
    outline: Outline | None = filed.record.outline if filed else None
    if outline is None:
        return ()
    curves = (outline.upper or (), outline.middle or (), outline.lower or ())
    if min(map(len, curves)) < FEWEST_POINTS:
        return ()
    return tuple(tuple((height.middle, half_width.middle) for height, half_width in curve) for curve in curves)


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
