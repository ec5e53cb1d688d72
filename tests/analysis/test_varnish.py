"""Light, stays, films and yields of records."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from passport.analysis.varnish import Area, body_area, film, lights, solids_by_test_pct, yield_of
from passport.records.catalogue import load
from passport.records.model.instrument import Coat, Instrument
from passport.records.model.supplies import VarnishBatch
from tests import archives
from tests.archives import record

HEAD = "schema: 1\nid: ZVSPYJH\nkind: violin\nsize: 4/4\norigin: made_here\n"
BATCH = "schema: 1\nbatch: OV20-3\nmade: 2020-03-02\n"


def violin(*entries: str) -> Instrument:
    return record(Instrument, f"{HEAD}varnish:\n" + "".join(f"  - {{date: 2021-06-21, {each}}}\n" for each in entries))


def coats(*entries: str) -> tuple[Coat, ...]:
    return violin(*entries).varnish or ()


def test_ten_watts_for_eight_hours_are_288_kilojoules() -> None:
    (light,) = lights(violin("coat: 1, uv: tubes, irradiance: 10, hours: 8"))
    assert light.dose_kj_m2 == pytest.approx(288)  # definition


def test_a_stay_needs_the_weighted_light_and_a_look_the_plain_one() -> None:
    """0.01 W/m2 weighted: 50 min; 10 W/m2 of UV-A: 1000 s. ICNIRP 2004, Health Physics 87, 171-186."""
    weighted, plain, sun = lights(
        violin("uv: led, effective_irradiance: 0.01", "uv: tubes, irradiance: 10", "uv: sun, irradiance: 10")
    )
    assert weighted.stay_s == pytest.approx(50 * 60)
    assert weighted.eye_s is None
    assert plain.stay_s is None
    assert plain.eye_s == pytest.approx(1000)
    assert sun.eye_s is None


def test_the_brighter_end_of_a_range_bounds_the_stay() -> None:
    (light,) = lights(violin("uv: led, effective_irradiance: 0.005-0.01, irradiance: 5-10"))
    assert light.stay_s == pytest.approx(3000)
    assert light.eye_s == pytest.approx(1000)


def test_no_light_is_none_and_missing_numbers_are_said() -> None:
    assert lights(violin("uv: none, irradiance: 10", "coat: 2")) == ()
    no_hours, no_watts, metered = lights(violin("uv: tubes, irradiance: 8", "uv: sun", "uv: led, dose: 900"))
    assert no_hours.why_not == "the hours of light are not recorded"
    assert no_watts.why_not == "the irradiance is not recorded"
    assert (metered.dose_kj_m2, metered.got_kj_m2) == (None, 900)


def test_ten_grams_on_a_tenth_of_a_square_metre() -> None:
    """1 g/cm3 would make 100 um (arithmetic); the film assumed is 1.1 times as heavy."""
    area = Area(100_000)
    (coat,) = coats("mass_gain: 10, wet_mass: 16, area: all")
    made = film(coat, area)
    assert made is not None
    assert made.thickness_um == pytest.approx(100 / 1.1)
    assert made.solids_pct == pytest.approx(62.5)


def test_a_film_is_not_guessed() -> None:
    area = Area(100_000)
    part, bare, loss = coats("mass_gain: 3, area: treble side only", "wet_mass: 5", "mass_gain: -2")
    on_part = film(part, area)
    assert on_part is not None
    assert (on_part.thickness_um, on_part.why_not) == (None, "it was laid on a part of the body only")
    assert film(bare, area) is None
    lost = film(loss, area)
    assert lost is not None
    assert lost.thickness_um is None
    nowhere = film(part, Area(None, why_not="the rib height is not recorded"))
    assert nowhere is not None
    assert nowhere.why_not == "the rib height is not recorded"


def test_a_violin_has_about_a_seventh_of_a_square_metre() -> None:
    """Two plates of some 0.05 m2 and a metre and a bit of ribs of 30 mm: common practice, no source."""
    archive = archives.demo()
    areas = {
        stem: body_area(archive, filed.record)
        for stem, filed in archive.instruments.items()
        if (filed.record.kind, filed.record.size) == ("violin", "4/4") and filed.record.measurements
    }
    known = [area.mm2 for area in areas.values() if area.mm2 is not None]
    assert known
    assert all(130_000 < mm2 < 155_000 for mm2 in known)


def test_a_body_without_ribs_or_outline_has_no_area(tmp_path: Path) -> None:
    archive = load(archives.write(tmp_path / "records"))
    instrument = archive.instruments[archives.LISTED].record
    assert body_area(archive, instrument).why_not == "the rib height is not recorded"
    without = body_area(replace(archive, models={}), instrument)
    assert without.why_not == "it has no model with an outline"


def test_a_batch_loses_what_did_not_come_out() -> None:
    recipe = "recipe:\n  ingredients: [{what: oil, mass: 300}, {what: resin, mass: 360}, {what: thinner, mass: 340}]\n"
    made = yield_of(record(VarnishBatch, f"{BATCH}{recipe}yield: 900\n"))
    assert made is not None
    assert (made.in_g, made.out_g) == (1000, 900)
    assert made.lost_pct == pytest.approx(10)


def test_without_every_mass_no_yield_is_worked_out() -> None:
    recipe = "recipe:\n  ingredients: [{what: oil, mass: 300}, {what: resin}]\n"
    assert yield_of(record(VarnishBatch, f"{BATCH}{recipe}yield: 900\n")) is None
    assert yield_of(record(VarnishBatch, f"{BATCH}yield: 900\n")) is None


def test_solids_are_what_stays() -> None:
    assert solids_by_test_pct(record(VarnishBatch, f"{BATCH}solids_test: {{wet: 1.0, dry: 0.6}}\n")) == pytest.approx(
        60
    )
    assert solids_by_test_pct(record(VarnishBatch, f"{BATCH}solids_test: {{wet: 0.6, dry: 1.0}}\n")) is None
    assert solids_by_test_pct(record(VarnishBatch, BATCH)) is None
