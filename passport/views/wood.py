"""Wood worked out: how stiff and light it is, how it dried, and whether a lot is at rest, in words and drawings.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.moisture import Equilibrium
from passport.analysis.seasoning import (
    AT_REST_PCT,
    FEWEST_DAYS,
    Reading,
    Seasoning,
    lost_a_year,
    lots_in_use,
    seasoning_of,
    span,
)
from passport.analysis.timeline import happenings
from passport.analysis.wood import Sound, Tapped, sound_of, tapped
from passport.figures.moisture import moisture_chart
from passport.records.model.instrument import Instrument, PlatePart
from passport.records.model.supplies import Storage, WoodLot
from passport.records.model.values import Value
from passport.reference.measures import CUSTOM
from passport.reference.woods import WOODS, Wood
from passport.views.desk import Desk
from passport.views.moisture import COMES_TO, EMC_RULE, EMC_SOURCE, MEASURED, WORKED_OUT, points_of
from passport.views.numbers import (
    MINUS,
    amount_text,
    date_text,
    difference_text,
    figure,
    figure_text,
    joined,
    quantity,
    unit_sign,
    value_text,
    with_unit,
)
from passport.views.setup import CANNOT_TELL
from passport.views.titles import capital, lowered, spoken
from passport.views.tree import Worked, WorkedTable, Workings

RADIATION_UNIT = "m⁴/(kg s)"
RADIATION_SOURCE = "Schelleng 1963, J. Acoust. Soc. Am. 35, 326, from memory"
BAR_RULE = (
    "Worked out: E = 0.9464 × density × f² L⁴ / t², lengths in m; speed = √(E / density); Q = f / width 3 dB down."
)
BAR_SOURCE = "a bar with free ends, Euler and Bernoulli; as ASTM E1876, from memory"
BLOCK = (
    "The speed is that of an ultrasonic meter in a block. It lies above that of a bar, so these are upper ends: do not "
    "set them beside tapped bars."
)
HOW_UNKNOWN = "How the speed was found is not recorded; an ultrasonic meter reads more than a tapped bar tells."
RATIO_SAID = "reported in the trade, not tested: 15 or less excellent, above 30 troublesome"
AIR_DRY_RULE = "a year for each inch (25.4 mm) of thickness, to about 15 %"


# --- on the page of an instrument ----------------------------------------------------------------------------------


def plates_workings(desk: Desk, record: Instrument) -> Iterator[Workings]:
    """Say how stiff and light the wood of top and back is, and how long it lay before it was worked."""
    figures = (*_plates_sound(desk, record), *_plates_seasoning(desk, record))
    if figures:
        block = any(sound.is_block for _, sound in _sounds(desk, record))
        yield Workings("The wood of top and back", figures, notes=(BLOCK,) if block else ())


def _sounds(desk: Desk, record: Instrument) -> Iterator[tuple[str, Sound]]:
    for plate in ("top", "back"):
        part: PlatePart | None = getattr(record.parts, plate, None)
        filed = desk.archive.wood.get(part.lot or "") if part else None
        sound = sound_of(filed.record, part.density if part else None) if filed else None
        if sound is not None:
            yield plate, sound


def _plates_sound(desk: Desk, record: Instrument) -> Iterator[Worked]:
    for plate, sound in _sounds(desk, record):
        if sound.radiation is not None:
            yield _radiation(f"{capital(plate)}, radiation ratio", sound)


def _plates_seasoning(desk: Desk, record: Instrument) -> Iterator[Worked]:
    for use in lots_in_use(desk.archive, record, happenings(record)):
        since, what = (use.lot.sawn, "sawn") if use.lot.sawn else (use.lot.felled, "felled")
        lay = span(since, use.used.date)
        if use.part in ("top", "back") and lay is not None:
            inputs = f"{what} {date_text(since)}, {use.used.said}"
            yield Worked(
                f"{capital(use.part)}, years it lay", figure(lay.years, lay.decimals), "years", WORKED_OUT, "", inputs
            )


# --- on the page of a lot ------------------------------------------------------------------------------------------


def lot_workings(lot: WoodLot) -> Iterator[Workings]:
    """Say how a lot dried and whether it is at rest, and how stiff and light it is."""
    yield _drying(seasoning_of(lot), lot.storage or Storage())
    sound, bars = sound_of(lot), tuple(tapped(test, lot) for test in lot.tap_tests or ())
    if sound or bars:
        yield _stiffness(lot, sound, bars)


def _drying(season: Seasoning, storage: Storage) -> Workings:
    wood = points_of((reading.date, reading.pct) for reading in season.readings)
    drawings = (moisture_chart("Moisture of the lot as it was read", [], wood, season.rest.pct),) if wood else ()
    return Workings(
        title="Seasoning",
        figures=tuple(_drying_figures(season, storage)),
        tables=tuple(_losses(season)),
        drawings=drawings,
        lacking=tuple(_not_dried(season)),
    )


def _drying_figures(season: Seasoning, storage: Storage) -> Iterator[Worked]:
    known = [reading for reading in season.readings if reading.pct is not None]
    if season.air_dry and season.air_dry_years:
        inputs = f"{season.since_what} {date_text(season.since)} + {with_unit(season.thickness)} / 25.4"
        yield Worked("Air-dry by", date_text(season.air_dry), "", WORKED_OUT, AIR_DRY_RULE, inputs, CUSTOM)
    if season.rest.pct is not None:
        yield _store(season.rest, storage)
    if known:
        yield _last(known[-1])
    if known and season.rest.pct is not None:
        yield _apart(known[-1], season)


def _store(rest: Equilibrium, storage: Storage) -> Worked:
    room = joined(with_unit(storage.temperature), with_unit(storage.humidity))
    return Worked(f"Its store: {lowered(COMES_TO[:-3])}", figure(rest.pct or 0, 1), "%", WORKED_OUT,
                  EMC_RULE, room, EMC_SOURCE)  # fmt: skip


def _last(reading: Reading) -> Worked:
    name = joined("Last reading", date_text(reading.date))
    if reading.from_masses:
        inputs = f"{with_unit(reading.entry.mass)}, oven-dry {with_unit(reading.entry.oven_dry_mass)}"
        rule = "100 × (mass − oven-dry) / oven-dry"
        source = "Wood Handbook, equation 4-1"
        return Worked(name, figure(reading.pct or 0, 1), "%", WORKED_OUT, rule, inputs, source)
    gauge = f"with {spoken(reading.entry.gauge)}" if reading.entry.gauge else ""
    return Worked(name, value_text(reading.entry.value), "%", MEASURED, "", gauge)


def _apart(last: Reading, season: Seasoning) -> Worked:
    read, rest, apart = last.pct or 0.0, season.rest.pct or 0.0, season.apart_pct
    return Worked(
        name="Is it at rest?",
        value=season.verdict,
        unit="",
        how=WORKED_OUT,
        rule=f"at rest within {quantity(AT_REST_PCT, 1, '%')} of its store",
        inputs=f"{figure(read, 1)} {MINUS} {figure(rest, 1)} = {difference_text(apart, 1)}: {season.reason}",
        source=f"limit: {CUSTOM}",
    )


def _losses(season: Seasoning) -> Iterator[WorkedTable]:
    rows = tuple(
        (
            date_text(one.date),
            date_text(other.date),
            figure(one.pct or 0, 1),
            figure(other.pct or 0, 1),
            figure(lost, 2),
        )
        for one, other, lost in lost_a_year(season.readings)
    )
    if rows:
        columns = ("From", "To", "Read, %", "Then, %", "Lost a year, %")
        yield WorkedTable("From reading to reading", columns, rows, "Worked out: loss / years between.")


def _not_dried(season: Seasoning) -> Iterator[str]:
    if season.since is None:
        yield "How long it has lain: neither when it was sawn nor when it was felled is recorded."
    if season.thickness is None:
        yield "When it was air-dry by the rule of a year for each inch: the thickness of the pieces is not recorded."
    if season.verdict == "cannot tell":
        yield f"Whether it is at rest: cannot tell, {season.reason}."
    if len(season.readings) > 1 and not any(lost_a_year(season.readings)):
        yield (
            "What it loses in a year: no two readings were found in the same way, by meter or by weighing, and lie "
            f"{FEWEST_DAYS} days or more apart."
        )
    for reading in season.readings:
        if reading.pct is None:
            yield f"The moisture read {date_text(reading.date) or 'without a date'}: {reading.why_not}."


def _stiffness(lot: WoodLot, sound: Sound | None, bars: tuple[Tapped, ...]) -> Workings:
    wood = WOODS.get(lot.species or "")
    lacking = (*(sound.lacking if sound else ()), *(words for bar in bars for words in bar.lacking))
    return Workings(
        title="Stiff and light",
        figures=tuple(_sound_figures(lot, sound)) if sound else (),
        tables=(*_bars(bars), *(_beside_species(lot, sound, wood) if wood and sound else ())),
        notes=tuple(_how_fast(lot)),
        lacking=tuple(dict.fromkeys(lacking)),
    )


def _how_fast(lot: WoodLot) -> Iterator[str]:
    if lot.sound_speed and lot.sound_speed.method == "ultrasonic":
        yield BLOCK
    elif lot.sound_speed and lot.sound_speed.method is None:
        yield HOW_UNKNOWN


def _sound_figures(lot: WoodLot, sound: Sound) -> Iterator[Worked]:
    speed = lot.sound_speed
    rho = _density(lot.density)
    of = "of a block" if sound.is_block else ""
    for grain, e_gpa in (("along", sound.e_along_gpa), ("across", sound.e_across_gpa)):
        if e_gpa is not None:
            inputs = f"{rho} × ({with_unit(getattr(speed, grain))})²"
            name = " ".join(filter(None, ("Stiffness", of, f"{grain} the grain, E")))
            yield Worked(name, figure(e_gpa, 2), "GPa", WORKED_OUT, "density × speed²", inputs)
    if sound.along_to_across is not None:
        inputs = f"{figure(sound.e_along_gpa or 0, 2)} / {figure(sound.e_across_gpa or 0, 2)}"
        source = "" if sound.is_block else RATIO_SAID
        yield Worked("Along to across", figure(sound.along_to_across, 1), "", WORKED_OUT, "E / E", inputs, source)
    if sound.radiation is not None:
        yield _radiation("Radiation ratio", sound)


def _density(density: Value | None) -> str:
    """Give a density; of a range its middle, which is what the sums take."""
    if density is None or not density.value.is_range:
        return with_unit(density)
    return f"{quantity(density.value.middle, 1, unit_sign(density))} (middle of {amount_text(density.value)})"


def _radiation(name: str, sound: Sound) -> Worked:
    rho = sound.density_kg_m3 or 0.0
    inputs = f"{quantity(sound.along_m_s or 0, 0, 'm/s')} / {quantity(rho, _decimals(rho), 'kg/m³')}"
    if sound.is_block:
        inputs += ", speed of a block"
    value = figure(sound.radiation or 0, 1)
    return Worked(name, value, RADIATION_UNIT, WORKED_OUT, "speed along the grain / density", inputs, RADIATION_SOURCE)


def _decimals(number: float) -> int:
    return 0 if number == round(number) else 1


def _bars(bars: tuple[Tapped, ...]) -> Iterator[WorkedTable]:
    if bars:
        columns = ("Bar", "kg/m³", "L, mm", "t, mm", "f, Hz", "Width, Hz", "E, GPa", "Speed, m/s", "Q")
        yield WorkedTable("Bars that were tapped", columns, tuple(map(_bar, bars)), BAR_RULE, BAR_SOURCE)


def _bar(bar: Tapped) -> tuple[str, ...]:
    test = bar.test
    measured = (test.length, test.thickness, test.frequency, test.bandwidth)
    return (
        joined(date_text(test.date), test.piece or "", f"{test.grain} the grain" if test.grain else ""),
        figure_text(bar.density_kg_m3, _decimals(bar.density_kg_m3 or 0)),
        *map(value_text, measured),
        figure_text(bar.e_gpa, 2) or CANNOT_TELL,
        figure_text(bar.speed_m_s, 0) or CANNOT_TELL,
        figure_text(bar.q, 0) or CANNOT_TELL,
    )


def _beside_species(lot: WoodLot, sound: Sound, wood: Wood) -> Iterator[WorkedTable]:
    """Set the lot beside its species; a block's speed beside a block's."""
    ends = (wood.density_low, wood.density_high)
    usual = f"{figure(ends[0], 0)}–{figure(ends[1], 0)}" if ends[0] and ends[1] else figure_text(wood.density, 0)
    along, across = (wood.block_along, wood.block_across) if sound.is_block else (wood.speed_along, wood.speed_across)
    rows = [
        ("Density, kg/m³", value_text(lot.density), usual),
        ("Sound along, m/s", figure_text(sound.along_m_s, 0), figure_text(along, 0)),
        ("Sound across, m/s", figure_text(sound.across_m_s, 0), figure_text(across, 0)),
    ]
    if not sound.is_block:
        rows.append(("E along, GPa", figure_text(sound.e_along_gpa, 1), figure_text(wood.e_along, 1)))
        rows.append(("E across, GPa", figure_text(sound.e_across_gpa, 2), figure_text(wood.e_across, 2)))
    there = tuple(row for row in rows if row[1] and row[2])
    if there:
        yield WorkedTable(
            f"Beside {lot.species}",
            ("Quantity", "This lot", "The species"),
            there,
            "The species: from a table.",
            wood.source,
        )
