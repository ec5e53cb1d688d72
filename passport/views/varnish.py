"""Varnish worked out: the light of each coat and how long one may stand in it, films, and what a batch lost.

Sees only what `visible` lets through. Where there is light that can hurt, its caution stands with the numbers.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.timeline import coat_said
from passport.analysis.varnish import (
    FILM_KG_M3,
    LAMPS,
    Area,
    Film,
    Light,
    body_area,
    film,
    lights,
    solids_by_test_pct,
    yield_of,
)
from passport.physics.varnish import ARCH_FACTOR, WORKING_DAY_S
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import VarnishBatch
from passport.reference.cautions import CAUTIONS, DEFERENCE
from passport.views.desk import Desk
from passport.views.moisture import ASSUMED, MEASURED, WORKED_OUT
from passport.views.numbers import date_text, figure, quantity, value_text, with_unit
from passport.views.setup import CANNOT_TELL
from passport.views.titles import capital
from passport.views.tree import Worked, WorkedTable, Workings

DOSE_RULE = "Worked out: irradiance × hours × 3600 / 1000."
DOSE_SOURCE = "dose is irradiance times time"
MINUTE_S = 60
# Below this a limit is told in seconds, so that no part of it is lost by rounding.
SHORT_S = 10 * MINUTE_S
LIMITS = "ICNIRP 2004, Health Physics 87, 171–186"
NO_WEIGHT = (
    "How long skin may be in this light: the effective irradiance is not recorded, and a plain meter’s W/m² does not "
    "tell it, since it takes no account of how much each wavelength harms."
)
NO_PROMISE = (
    "These are limits, not a promise of safety: the shorter one counts, and none of it where one can see the lamp."
)
AS_IF = "As if all of it lay on the wood: a ground sinks in, and neck and head are left out of the area."
FILM_RULE = "film = 1000 × mass gained in g / (density in kg/m³ × area in m²)"
MM2_PER_M2 = 1e6


def coats_workings(desk: Desk, record: Instrument) -> Iterator[Workings]:
    """Say what light each coat got, and how thick each film is."""
    found = lights(record)
    if found:
        yield _light(found)
    if any(coat.mass_gain for coat in record.varnish or ()):
        area = body_area(desk.archive, record)
        made = (film(coat, area) for coat in record.varnish or ())
        yield _films([each for each in made if each is not None], area)


def _light(found: tuple[Light, ...]) -> Workings:
    lamps = [light for light in found if light.coat.uv in LAMPS]
    known = [light for light in found if light.got_kj_m2 is not None]
    return Workings(
        title="Light",
        figures=(*_total(known), *_stays(lamps)),
        tables=(_doses(known),) if known else (),
        notes=(NO_PROMISE,) if lamps else (),
        lacking=tuple(_dark(found, lamps)),
        cautions=(CAUTIONS["uv"], DEFERENCE) if lamps else (),
    )


def _doses(known: list[Light]) -> WorkedTable:
    meter = any(light.coat.dose for light in known)
    columns = ("Coat", "Date", "W/m²", "Hours", "Dose, kJ/m²", *(("By the meter, kJ/m²",) if meter else ()))
    rows = tuple(
        (
            capital(coat_said(light.coat)),
            date_text(light.coat.date),
            value_text(light.coat.irradiance),
            value_text(light.coat.hours),
            figure(light.dose_kj_m2, 0) if light.dose_kj_m2 is not None else "",
            *((value_text(light.coat.dose),) if meter else ()),
        )
        for light in known
    )
    return WorkedTable("Dose, coat by coat", columns, rows, DOSE_RULE, DOSE_SOURCE)


def _total(known: list[Light]) -> Iterator[Worked]:
    if len(known) > 1:
        doses = [light.got_kj_m2 or 0.0 for light in known]
        inputs = " + ".join(figure(dose, 0) for dose in doses)
        yield Worked("Dose of all coats", figure(sum(doses), 0), "kJ/m²", WORKED_OUT, "sum of the coats", inputs)


def _stays(lamps: list[Light]) -> Iterator[Worked]:
    """Give both limits for the strongest lamp of each, and the shorter of the two where both are known."""
    weighted = min((each for each in lamps if each.stay_s is not None), key=lambda each: each.stay_s or 0, default=None)
    plain = min((each for each in lamps if each.eye_s is not None), key=lambda each: each.eye_s or 0, default=None)
    if weighted is not None and plain is not None:
        seconds = min(weighted.stay_s or 0, plain.eye_s or 0)
        yield _stay("Longest stay a day, skin and eyes bare", seconds, "the shorter of the two limits below", "")
    if weighted is not None:
        inputs = f"{with_unit(weighted.coat.effective_irradiance)} ({coat_said(weighted.coat)})"
        yield _stay("Limit of skin and eyes", weighted.stay_s or 0, "30 J/m² / effective irradiance", inputs)
    if plain is not None:
        inputs = f"{with_unit(plain.coat.irradiance)} ({coat_said(plain.coat)}), assumed to be UV-A alone"
        yield _stay("Limit of the eyes in UV-A", plain.eye_s or 0, "10 000 J/m² / irradiance", inputs)


def _stay(name: str, seconds: float, rule: str, inputs: str) -> Worked:
    at_most = ", at most 8 hours" if seconds >= WORKING_DAY_S else ""
    # A limit is rounded down, never up.
    count, unit = (seconds // MINUTE_S, "min") if seconds >= SHORT_S else (seconds // 1, "s")
    return Worked(name, figure(count, 0), unit, WORKED_OUT, f"{rule}{at_most}; rounded down", inputs, LIMITS)


def _dark(found: tuple[Light, ...], lamps: list[Light]) -> Iterator[str]:
    reasons: dict[str, list[str]] = {}
    for light in found:
        if light.got_kj_m2 is None:
            reasons.setdefault(light.why_not, []).append(coat_said(light.coat))
    for why_not, coats in reasons.items():
        yield f"The dose of {', '.join(coats)}: {why_not}."
    if lamps and all(light.stay_s is None for light in lamps):
        yield NO_WEIGHT


def _films(films: list[Film], area: Area) -> Workings:
    known = any(each.thickness_um is not None for each in films)
    reasons = dict.fromkeys(f"The film of {coat_said(each.coat)}: {each.why_not}." for each in films if each.why_not)
    return Workings(
        title="Film",
        figures=tuple(_area(area)) if known else (),
        tables=(_film_table(films),),
        notes=(AS_IF,) if known else (),
        lacking=tuple(reasons),
    )


def _film_table(films: list[Film]) -> WorkedTable:
    wet = any(each.solids_pct is not None for each in films)
    columns = ("Coat", "Mass gained, g", "Film, µm", *(("Laid on wet, g", "Solids, %") if wet else ()))
    rows = tuple(
        (
            capital(coat_said(each.coat)),
            value_text(each.coat.mass_gain),
            _known(each.thickness_um),
            *((value_text(each.coat.wet_mass), _known(each.solids_pct)) if wet else ()),
        )
        for each in films
    )
    solids = "; solids = 100 × mass gained / laid on wet" if wet else ""
    return WorkedTable("Film, coat by coat", columns, rows, f"Worked out: {FILM_RULE}{solids}.")


def _known(number: float | None) -> str:
    return figure(number, 0) if number is not None else CANNOT_TELL


def _area(area: Area) -> Iterator[Worked]:
    ribs, arch = f"{quantity(area.rib_mm or 0, 1, 'mm')}, {area.rib_from}", figure(ARCH_FACTOR, 2)
    yield Worked(
        name="Area of the body",
        value=figure((area.mm2 or 0) / MM2_PER_M2, 3),
        unit="m²",
        how=WORKED_OUT,
        rule=f"2 × {arch} × area within the outline + outline’s length × rib height; {arch} for the arch, assumed",
        inputs=f"the model’s outline, points joined by straight lines; ribs {ribs}",
    )
    yield Worked("Density of the film", figure(FILM_KG_M3, 0), "kg/m³", ASSUMED, source="dried varnish, from memory")


def batch_workings(batch: VarnishBatch) -> Iterator[Workings]:
    """Say what a batch lost in the cooking, and its solids; nothing of a recipe that may not be seen."""
    figures = (*_yield(batch), *_tested(batch))
    if figures:
        yield Workings("Yield and solids", figures)


def _yield(batch: VarnishBatch) -> Iterator[Worked]:
    made = yield_of(batch)
    if made is None:
        return
    masses = " + ".join(value_text(item.mass) for item in (batch.recipe.ingredients if batch.recipe else None) or ())
    yield Worked("Went in", figure(made.in_g, 0), "g", WORKED_OUT, "sum of the ingredients", masses)
    yield Worked("Came out", value_text(batch.yield_), "g", MEASURED)
    inputs = f"({figure(made.in_g, 0)} − {value_text(batch.yield_)}) / {figure(made.in_g, 0)}"
    yield Worked(
        "Lost in the cooking and the pot", figure(made.lost_pct, 1), "%", WORKED_OUT, "100 × (in − out) / in", inputs
    )


def _tested(batch: VarnishBatch) -> Iterator[Worked]:
    pct, test = solids_by_test_pct(batch), batch.solids_test
    if pct is not None and test is not None:
        inputs = f"{with_unit(test.dry)} / {with_unit(test.wet)}"
        yield Worked("Solids", figure(pct, 1), "%", WORKED_OUT, "100 × dry / wet", inputs)
