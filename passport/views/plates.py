"""Top and back in words, tables and a map: thickness, masses, taps, and what is worked out from them.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.known import Known
from passport.analysis.plate_mass import MapMass, Weighing
from passport.analysis.plates import AgainstModel, Measured, PlateMap, PlateStudy, f_holes_of, study
from passport.analysis.taps import COMMON_MOISTURE_PCT, Taps
from passport.analysis.windows import Windows
from passport.figures.plate import plate_drawing
from passport.records.dates import Date
from passport.records.model.instrument import Instrument, Plate, Stage
from passport.records.model.marks import Record
from passport.records.walk import measured
from passport.reference.measures import CUSTOM
from passport.views.desk import Desk
from passport.views.numbers import (
    EN_DASH,
    amount_text,
    date_text,
    difference_text,
    figure,
    joined,
    tenths,
    value_text,
    with_tenths,
    with_unit,
)
from passport.views.setup import NOT_RECORDED
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import Fact, PlateView, Worked, Workings

FIVE_COLUMNS = ("Bass edge", "Bass half", "Joint", "Treble half", "Treble edge")
STAGE_FIELDS = ("mass", "mode1", "mode2", "mode5", "moisture")
# What goes into a mass is told finely enough to come to the same mass by hand, finer than anybody measures.
MEAN_DECIMALS = 3
# Masses below this are told to a tenth of a gram.
FINE_BELOW_G = 200
SPLINE = "thin-plate spline: J. Duchon 1977, F. L. Bookstein 1989"
THIN_PLATES = "theory of thin plates; holds for a change all over, thinning in one place moves a tone less"


def plates(desk: Desk, record: Instrument, windows: Windows) -> Iterator[PlateView]:
    """Give top and back: thickness drawn and in a table, masses and taps stage by stage, and the sums."""
    for name in ("top", "back"):
        plate: Plate | None = getattr(record.plates, name) if record.plates else None
        found = study(desk.archive, record, name, windows)
        if plate is not None and found is not None:
            yield _plate(record, plate, found)


def _plate(record: Instrument, plate: Plate, found: PlateStudy) -> PlateView:
    rows = plate.thickness or {}
    count = max(map(len, rows.values()), default=0)
    columns = FIVE_COLUMNS if count == len(FIVE_COLUMNS) else tuple(str(index + 1) for index in range(count))
    stages = tuple(_stage(stage) for stage in plate.stages or ())
    used = [index for index in range(len(STAGE_FIELDS) + 2) if any(row[index] for row in stages)]
    heads = ("Date", "Stage", *(_stage_head(field) for field in STAGE_FIELDS))
    return PlateView(
        name=capital(found.name),
        drawing=_drawing(record, found),
        columns=("From the bottom edge", *columns),
        rows=tuple((height, *map(amount_text, values)) for height, values in rows.items()),
        stage_columns=tuple(heads[index] for index in used),
        stages=tuple(tuple(row[index] or NOT_RECORDED for index in used) for row in stages),
        bar=tuple(_measured_facts(plate.bass_bar)) if plate.bass_bar else (),
        accepted=plate.accepted or "",
        worked=tuple(_workings(record, found)),
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


def _drawing(record: Instrument, found: PlateStudy) -> str:
    """Draw the map; the bare figures at their places where they are too few for one."""
    title = f"{capital(found.name)}, thickness"
    if found.map is not None:
        # numpy takes a tenth of a second to load, and a site whose pages are kept needs none of it.
        from passport.figures.thickness import FHoles, Figure, thickness_map  # noqa: PLC0415

        figures = [
            Figure(amount_text(point.amount), point.x_mm, point.height_mm, is_thin=point.thin_below is not None)
            for point in found.points
        ]
        places = f_holes_of(record, found.curves) if found.name == "top" else None
        return thickness_map(title, found.curves, found.map.surface, figures, FHoles(*places) if places else None)
    if not found.points:
        return ""
    rows: dict[float, list[str]] = {}
    for point in found.points:
        rows.setdefault(point.height_mm, []).append(amount_text(point.amount))
    return plate_drawing(f"{title} as measured", found.curves, rows)


def _workings(record: Instrument, found: PlateStudy) -> Iterator[Workings]:
    of_map = _of_map(found, found.map) if found.map else ()
    figures = (*of_map, *(_of_taps(found.taps) if found.taps else ()))
    lacking = (*found.lacking, *_lacking(found))
    if figures or lacking:
        yield Workings(
            title=f"{capital(found.name)}, worked out",
            figures=figures,
            notes=tuple(_notes(record, found)),
            lacking=tuple(f"Cannot be worked out: {words}." for words in lacking),
        )


def _of_map(found: PlateStudy, of: PlateMap) -> Iterator[Worked]:
    outline = "trapezoid rule inside the outline of the model, seen from above"
    yield Worked("Area", figure(of.shape.area_mm2 / 100, 1), "cm²", "worked out", outline)
    rule = f"mean of the spline through {len(found.points)} points; beyond the outermost it is followed half of the way"
    yield Worked("Mean thickness", figure(of.shape.mean_mm, MEAN_DECIMALS), "mm", "worked out", rule, source=SPLINE)
    if of.mass is not None:
        yield from _of_mass(of.mass, of)
    yield from _sides(of)
    if of.against is not None:
        yield from _of_model(of, of.against, found.taps)
    if of.mass is not None and of.mass.weighed is not None:
        yield from _when_as_moist(of.mass.weighed)


def _of_mass(mass: MapMass, of: PlateMap) -> Iterator[Worked]:
    band = " + ".join(f"{words} {with_tenths(known.value)} ({_by(known)})" for words, known in mass.band)
    inner = figure(mass.shape.inner_edge_mm, MEAN_DECIMALS)
    edge = f"edge {with_tenths(mass.edge.value)} ({_by(mass.edge)}) less plate {inner} mm"
    inputs = f"{figure(mass.shape.edge_length_mm, 1)} mm; {band} = {with_tenths(mass.band_mm)} mm; {edge}"
    rule = "length of the outline × width of the band × how much thicker the edge is"
    yield Worked("Edge adds", _cm3(mass.volumes.band_cm3), "cm³", "worked out", rule, inputs, CUSTOM)
    if mass.f_hole is not None:
        thick = figure(of.shape.mean_mm, MEAN_DECIMALS)
        inputs = f"length {with_tenths(mass.f_hole.value)} mm ({_by(mass.f_hole)}); {thick} mm"
        rule = "2 × 0.082 × length² × mean thickness"
        yield Worked("F-holes take", _cm3(mass.volumes.f_holes_cm3), "cm³", "worked out", rule, inputs, CUSTOM)
    shape = f"{figure(of.shape.area_mm2 / 100, 1)} × {figure(of.shape.mean_mm, MEAN_DECIMALS)} ÷ 10"
    volume = f"{shape} + {_cm3(mass.volumes.band_cm3)}"
    volume += f" − {_cm3(mass.volumes.f_holes_cm3)}" if mass.f_hole else ""
    density = f"{tenths(mass.density.value).removesuffix('.0')} kg/m³ ({_by(mass.density)})"
    inputs = f"{density} ÷ 1000 × {figure(mass.arch.value, 2)} ({_by(mass.arch)}) × ({volume}) cm³"
    rule = "density × arch × (area × mean thickness + edge − f-holes)"
    yield Worked("Mass by the map", grams(mass.mass_g), "g", "worked out", rule, inputs)
    if mass.weighed is not None:
        stage = joined(spoken(mass.weighed.stage.when or ""), date_text(mass.weighed.stage.date))
        away = f"the map gives {figure(abs(mass.difference) * 100, 1)} % {'more' if mass.difference > 0 else 'less'}"
        yield Worked("On the scale", value_text(mass.weighed.stage.mass), "g", "measured", "", f"{stage}; {away}")


def _cm3(volume_cm3: float) -> str:
    return figure(volume_cm3, 2)


def _by(known: Known) -> str:
    return joined(known.how, known.whence)


def when_weighed(weighed: Weighing | None, taps: Taps | None) -> Date | None:
    """Give the day a plate was weighed, or else tapped."""
    stage = weighed.stage if weighed else taps.stage if taps else None
    return stage.date if stage else None


def grams(mass_g: float) -> str:
    """Write a mass as finely as plates of its size are weighed."""
    return figure(mass_g, 1 if mass_g < FINE_BELOW_G else 0)


def _sides(of: PlateMap) -> Iterator[Worked]:
    if of.asymmetry is not None:
        more = of.asymmetry.difference_mm
        side = "the treble side is thicker" if more > 0 else "the bass side is thicker"
        height, aside = figure(of.asymmetry.height_mm, 0), figure(of.asymmetry.x_mm, 0)
        where = f"{height} mm from the bottom, {aside} mm from the joint"
        words = f"{side}, {where}" if more else "both sides are alike"
        usual = f"up to {figure(of.uneven_mm, 1)} is usual"
        rule = "greatest difference of two points that mirror each other"
        yield Worked("Sides differ by", figure(abs(more), 1), "mm", "worked out", rule, f"{words}; {usual}", CUSTOM)


def _of_model(of: PlateMap, against: AgainstModel, taps: Taps | None) -> Iterator[Worked]:
    most = f"most at {_place(against.most)}: {amount_text(against.most.amount)} for {figure(against.asked_there_mm, 1)}"
    most = most if against.most.amount.middle != against.asked_there_mm else "all as asked for"
    rule = f"mean of {against.count} points less what the model asks for there"
    mean = difference_text(against.mean_difference_mm, 2)
    yield Worked("Against the model", mean, "mm", "worked out", rule, most)
    if taps is not None and against.mode5_hz is not None:
        inputs = f"{figure(taps.mode5_hz, 0)} Hz × {figure(against.aim_mean_mm, 2)} ÷ {figure(of.shape.mean_mm, 2)} mm"
        rule = "frequency × mean thickness the model asks for ÷ mean thickness"
        name = "Mode 5, were it as thick as the model’s"
        yield Worked(name, figure(against.mode5_hz, 0), "Hz", "worked out", rule, inputs, THIN_PLATES)


def _place(point: Measured) -> str:
    side = "the joint" if not point.x_mm else f"{'treble' if point.x_mm > 0 else 'bass'} side"
    return f"{point.row} mm, {side}"


def _when_as_moist(weighed: Weighing) -> Iterator[Worked]:
    if weighed.common_g is not None:
        common, moisture = figure(COMMON_MOISTURE_PCT, 0), value_text(weighed.stage.moisture)
        inputs = f"{value_text(weighed.stage.mass)} g × (100 + {common}) ÷ (100 + {moisture})"
        rule = "mass × (100 + new moisture) ÷ (100 + old moisture)"
        source = "Wood Handbook, equation 4-1"
        yield Worked(f"Mass at {common} % moisture", grams(weighed.common_g), "g", "worked out", rule, inputs, source)


def _of_taps(taps: Taps) -> Iterator[Worked]:
    stage = joined(spoken(taps.stage.when or ""), date_text(taps.stage.date))
    inputs = f"{figure(taps.mode5_hz, 0)} Hz ÷ {figure(taps.mode2_hz, 0)} Hz; {stage}"
    inputs += f"; moisture {figure(taps.moisture_pct, 1)} %" if taps.moisture_pct is not None else ""
    if taps.low is not None and taps.high is not None:
        side = "inside" if not taps.is_unusual else "outside"
        inputs += f"; {side} {figure(taps.low, 2)}{EN_DASH}{figure(taps.high, 2)}; the octave rule, 2, is disputed"
    yield Worked("Mode 5 to mode 2", figure(taps.ratio, 2), "", "worked out", "mode 5 ÷ mode 2", inputs, taps.source)
    yield from _mode5_as_moist(taps)


def _mode5_as_moist(taps: Taps) -> Iterator[Worked]:
    if taps.common_hz is not None and taps.moisture_pct is not None:
        common = figure(COMMON_MOISTURE_PCT, 0)
        rule = "0.9 % lower for each percent of moisture"
        inputs = f"{figure(taps.mode5_hz, 0)} Hz × (1 − 0.009 × ({common} − {figure(taps.moisture_pct, 1)}))"
        source = "derived from one report of 36 Hz between 1 and 12 %; an estimate"
        yield Worked(
            f"Mode 5 at {common} % moisture", figure(taps.common_hz, 0), "Hz", "worked out", rule, inputs, source
        )


def _notes(record: Instrument, found: PlateStudy) -> Iterator[str]:
    if found.map is not None:
        from passport.figures.thickness import reach_mm  # noqa: PLC0415 - as above

        far = f"ruled across where no point was measured within {figure(reach_mm(found.map.length_mm), 0)} mm"
        yield f"The map is darker where the plate is thicker, and {far}."
    if found.map is not None and found.name == "top" and f_holes_of(record, found.curves):
        yield "The f-holes are sketched from their length, their eyes and the stop."
    if found.thin:
        spots = "; ".join(
            f"{_place(point)}: {amount_text(point.amount)}, below {figure(point.thin_below or 0, 1)}"
            for point in found.thin
        )
        yield f"Thin spots, ringed on the map: {spots}."


def _lacking(found: PlateStudy) -> Iterator[str]:
    name = found.name
    if found.map is not None and found.map.mass is not None:
        weighed = found.map.mass.weighed
        if weighed is None:
            when = "with its f-holes and without the bar" if name == "top" else "once it was graduated"
            yield f"the map against the scale: the mass of the {name} {when} is not recorded"
        elif weighed.stage.moisture is None:
            yield f"the mass of the {name} at another moisture: the moisture on that day is not recorded"
    if found.taps is None:
        yield f"the taps of the {name}: modes 2 and 5 are not recorded"
    elif found.taps.moisture_pct is None:
        yield f"mode 5 of the {name} at another moisture: the moisture on that day is not recorded"
