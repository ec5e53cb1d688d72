"""The varnish in numbers: the light each coat got, how long a person may stand in it, how thick a film is, the yield.

Works out and judges nothing; what a number cannot be worked out for is said in words.
"""

from __future__ import annotations

from dataclasses import dataclass

from passport.analysis.plates import curves_of
from passport.physics.ranges import OutsideRange
from passport.physics.varnish import (
    body_area_mm2,
    dose_j_m2,
    eye_exposure_s,
    film_thickness_um,
    permitted_exposure_s,
    solids_pct,
)
from passport.records.catalogue import Archive
from passport.records.model.instrument import Coat, Instrument
from passport.records.model.sheets import RibStations
from passport.records.model.supplies import VarnishBatch
from passport.records.model.values import Value
from passport.records.walk import measured

# Dried oil varnish, and shellac, weigh about this much. From memory.
FILM_KG_M3 = 1100.0
SECONDS_AN_HOUR = 3600
J_PER_KJ = 1000
LAMPS = ("tubes", "led")


@dataclass(frozen=True)
class Light:
    """The light of one coat: its dose in kJ/m2 worked out, and what was summed up then; or why it is unknown."""

    coat: Coat
    dose_kj_m2: float | None
    why_not: str = ""

    @property
    def got_kj_m2(self) -> float | None:
        """Give the dose worked out, else what was summed up then; None where neither is known."""
        summed = self.coat.dose.value.middle if self.coat.dose else None
        return self.dose_kj_m2 if self.dose_kj_m2 is not None else summed

    @property
    def stay_s(self) -> float | None:
        """Give how long a day skin and eyes may be in this light, by its hazard-weighted part; None where not known."""
        return _stay_s(self.coat)

    @property
    def eye_s(self) -> float | None:
        """Give how long a day eyes may be in this light if all of it is UV-A; None where not known."""
        value = self.coat.irradiance
        try:
            return eye_exposure_s(value.value.high) if value and self.coat.uv in LAMPS else None
        except OutsideRange:
            return None


@dataclass(frozen=True)
class Area:
    """The outer surface of a body without neck and head, and what it was worked out from; or why it is unknown."""

    mm2: float | None
    rib_mm: float | None = None
    rib_from: str = ""
    why_not: str = ""


@dataclass(frozen=True)
class Film:
    """One coat as a film: its thickness as if all of it lay on the wood, and the solids of what was laid on."""

    coat: Coat
    thickness_um: float | None
    solids_pct: float | None
    why_not: str = ""


@dataclass(frozen=True)
class Yield:
    """What went into a batch and what came out, in grams, and the share that was lost."""

    in_g: float
    out_g: float

    @property
    def lost_pct(self) -> float:
        """Give what was lost, in percent of what went in."""
        return 100 * (self.in_g - self.out_g) / self.in_g


def lights(record: Instrument) -> tuple[Light, ...]:
    """Give the light of every coat that got any."""
    return tuple(_light(coat) for coat in record.varnish or () if coat.uv not in (None, "none"))


def _light(coat: Coat) -> Light:
    if coat.irradiance is None or coat.hours is None:
        missing = "irradiance" if coat.irradiance is None else "hours of light"
        return Light(coat, None, f"the {missing} {'are' if missing.startswith('hours') else 'is'} not recorded")
    try:
        return Light(coat, recorded_dose_kj_m2(coat))
    except OutsideRange as error:
        return Light(coat, None, str(error))


def recorded_dose_kj_m2(coat: Coat) -> float | None:
    """Give irradiance times hours, in kJ/m2; None where one of them is missing, OutsideRange where it cannot be."""
    if coat.irradiance is None or coat.hours is None:
        return None
    return dose_j_m2(coat.irradiance.value.middle, coat.hours.value.middle * SECONDS_AN_HOUR) / J_PER_KJ


def _stay_s(coat: Coat) -> float | None:
    value = coat.effective_irradiance
    try:
        return permitted_exposure_s(value.value.high) if value else None
    except OutsideRange:
        return None


def body_area(archive: Archive, record: Instrument) -> Area:
    """Give the outer surface of the body: both plates within the model's outline, and the ribs."""
    curves = curves_of(archive, record.model)
    if not curves:
        has_model = record.model in archive.models
        return Area(None, why_not="its model has no outline" if has_model else "it has no model with an outline")
    rib_mm, rib_from = _rib(archive, record)
    if rib_mm is None:
        return Area(None, why_not="the rib height is not recorded")
    try:
        return Area(body_area_mm2([point for curve in curves for point in curve], rib_mm), rib_mm, rib_from)
    except OutsideRange as error:
        return Area(None, rib_mm, rib_from, str(error))


def _rib(archive: Archive, record: Instrument) -> tuple[float | None, str]:
    """Give the mean rib height in mm, and where it is from: as last measured, else as the model asks."""
    for sheet in reversed(record.measurements or ()):
        if sheet.rib_height:
            return _mean(sheet.rib_height), "the mean of the heights measured"
    filed = archive.models.get(record.model or "")
    targets = filed.record.targets if filed else None
    if targets and targets.rib_height:
        return _mean(targets.rib_height), "the mean of what the model asks"
    return None, ""


def _mean(stations: RibStations) -> float | None:
    values = [value.value.middle for _, value in measured(stations)]
    return sum(values) / len(values) if values else None


def film(coat: Coat, area: Area) -> Film | None:
    """Give one coat as a film; None where nothing was weighed."""
    if coat.mass_gain is None:
        return None
    solids = _solids(coat.mass_gain, coat.wet_mass)
    if area.mm2 is None:
        return Film(coat, None, solids, area.why_not)
    if coat.area is not None and not coat.area.startswith("all"):
        return Film(coat, None, solids, "it was laid on a part of the body only")
    try:
        return Film(coat, film_thickness_um(coat.mass_gain.value.middle, area.mm2, FILM_KG_M3), solids)
    except OutsideRange as error:
        return Film(coat, None, solids, str(error))


def _solids(dry: Value | None, wet: Value | None) -> float | None:
    try:
        return solids_pct(dry.value.middle, wet.value.middle) if dry and wet else None
    except OutsideRange:
        return None


def solids_by_test_pct(batch: VarnishBatch) -> float | None:
    """Give the solids that follow from weighing a little wet and dry; None where it was not done or cannot be."""
    test = batch.solids_test
    return _solids(test.dry, test.wet) if test else None


def yield_of(batch: VarnishBatch) -> Yield | None:
    """Give what went in and what came out; None where an ingredient or the yield was not weighed."""
    ingredients = batch.recipe.ingredients if batch.recipe else None
    masses = [item.mass.value.middle for item in ingredients or () if item.mass]
    if not ingredients or len(masses) != len(ingredients) or batch.yield_ is None or sum(masses) <= 0:
        return None
    return Yield(sum(masses), batch.yield_.value.middle)
