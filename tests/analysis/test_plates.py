"""What a plate's record tells, worked out again by hand from what stands in it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from passport.analysis.plate_mass import MapMass
from passport.analysis.plates import PlateStudy, f_holes_of, study
from passport.analysis.windows import windows_of
from passport.checks.plates import of_instrument
from passport.findings import Code, Finding
from passport.records.catalogue import Archive, load
from tests import archives
from tests.checks.examples import BAD, changed, copied

VIOLIN, CELLO = "ZVSPYJH", "YXSP8BQ"


@pytest.fixture(scope="module")
def demo() -> Archive:
    return archives.demo()


def studied(archive: Archive, stem: str, name: str) -> PlateStudy:
    record = archive.instruments[stem].record
    found = study(archive, record, name, windows_of(archive, record))
    assert found is not None
    return found


def mass_of(found: PlateStudy) -> MapMass:
    assert found.map is not None
    assert found.map.mass is not None
    return found.map.mass


def test_a_violins_top_weighs_by_its_map_what_the_scale_said(demo: Archive) -> None:
    mass = mass_of(studied(demo, VIOLIN, "top"))
    # Of its record: density 390, overhang 2.3, rib 1.05-1.15, edge 4.0, f-holes 75 mm, 60 g with f-holes cut; the
    # lining is the trade's 1.8. Area, mean and edge length are those of the outline: tests/physics.
    assert mass.band_mm == pytest.approx(2.3 + 1.1 + 1.8)
    assert [known.how for _, known in mass.band] == ["measured", "measured", "from a table"]
    by_hand = 0.390 * 1.02 * (mass.volumes.plate_cm3 + mass.volumes.band_cm3 - mass.volumes.f_holes_cm3)
    assert mass.mass_g == pytest.approx(by_hand)
    assert mass.weighed is not None
    assert mass.weighed.mass_g == 60
    assert mass.weighed.common_g == pytest.approx(60 * 108 / 108.5)
    assert mass.mass_g == pytest.approx(60, abs=1.5)
    # Common practice, no source: a violin's edge adds some 5 %, its f-holes take some 2 %.
    assert mass.volumes.band_cm3 / mass.volumes.plate_cm3 == pytest.approx(0.05, abs=0.01)
    assert mass.volumes.f_holes_cm3 / mass.volumes.plate_cm3 == pytest.approx(0.02, abs=0.005)


def test_a_back_has_no_f_holes_and_a_flat_one_no_arch(demo: Archive) -> None:
    back = mass_of(studied(demo, VIOLIN, "back"))
    assert back.f_hole is None
    assert back.volumes.f_holes_cm3 == 0
    assert (back.arch.value, back.arch.how) == (1.02, "assumed")


def test_what_is_not_measured_is_the_models_the_trades_or_assumed(demo: Archive) -> None:
    record = demo.instruments[CELLO].record
    bare = record.model_copy(update={"measurements": None})
    found = study(demo, bare, "top", windows_of(demo, bare))
    assert found is not None
    mass = mass_of(found)
    assert (mass.edge.value, mass.edge.how) == (pytest.approx(5.4), "from a table")
    # The trade has no lining of a cello: that of a violin, 1.8 mm, in proportion to 755 mm.
    lining = dict(mass.band)["lining"]
    assert (lining.value, lining.how) == (3.8, "assumed")


def test_without_a_density_the_lots_counts_and_without_any_it_is_said(demo: Archive) -> None:
    record = demo.instruments[VIOLIN].record
    assert record.parts is not None
    assert record.parts.top is not None
    of_lot = record.parts.top.model_copy(update={"density": None})
    without = record.model_copy(update={"parts": record.parts.model_copy(update={"top": of_lot})})
    found = study(demo, without, "top", windows_of(demo, without))
    assert found is not None
    mass = mass_of(found)
    assert (mass.density.value, mass.density.whence) == (392.5, "lot SP09B")
    nowhere = replace(demo, wood={})
    found = study(nowhere, without, "top", windows_of(nowhere, without))
    assert found is not None
    assert found.map is not None
    assert found.map.mass is None
    assert "density" in found.lacking[0]


def test_a_plate_is_held_against_its_model_point_by_point(demo: Archive) -> None:
    found = studied(demo, CELLO, "top")
    assert found.map is not None
    against = found.map.against
    assert against is not None
    # The record's 35 points less the model's, added up by hand: 2.4 mm.
    assert against.count == 35
    assert against.mean_difference_mm == pytest.approx(2.4 / 35)


def test_taps_are_the_last_ones_with_their_moisture(demo: Archive) -> None:
    taps = studied(demo, VIOLIN, "top").taps
    assert taps is not None
    assert (taps.stage.when, taps.mode5_hz, taps.mode2_hz) == ("bass_bar_fitted", 338, 166)
    assert taps.ratio == pytest.approx(338 / 166)
    assert not taps.is_unusual


def test_without_a_model_there_is_no_map_and_it_is_said_why(demo: Archive) -> None:
    found = studied(demo, "WZYGCMS", "top")
    assert found.map is None
    assert "outline" in found.lacking[0]


def test_f_holes_lie_where_stop_length_and_eyes_put_them(demo: Archive) -> None:
    found = f_holes_of(demo.instruments[VIOLIN].record, studied(demo, VIOLIN, "top").curves)
    assert found is not None
    upper, lower = found
    # Eyes 42 mm apart; the stop of 195 mm leaves 160 of 355, and both eyes lie 0.4 of 75 mm from there.
    assert upper == (pytest.approx(21), pytest.approx(190, abs=0.5))
    assert lower[1] == pytest.approx(130, abs=0.5)
    # 89.5 mm half width there, less 11.8 to the edge.
    assert lower[0] == pytest.approx(89.5 - 11.8, abs=0.5)
    assert f_holes_of(demo.instruments["WPWS32R"].record, ()) is None


def heavy(root: Path, old: str, new: str) -> Finding:
    archive = copied(root / "records", BAD / "plate-mass-differs")
    changed(archive, "instruments/FF494KY.yml", old, new)
    found = list(of_instrument(load(archive), "FF494KY"))
    assert len(found) == 1
    assert found[0].code is Code.MASS_APART
    return found[0]


STAGE = "{date: 2014-09-02, when: f_holes_cut, mass: 71, moisture: 8.5}"


def test_a_mass_that_differs_names_the_density_where_nothing_else_is_likelier(tmp_path: Path) -> None:
    assert heavy(tmp_path, STAGE, STAGE.replace("71", "72")).path == ("parts", "top", "density")


def test_a_mass_that_differs_names_the_stage_where_another_stages_would_fit(tmp_path: Path) -> None:
    other = "{date: 2014-08-20, when: arching_done, mass: 56}"
    finding = heavy(tmp_path, STAGE, f"{other}\n      - {STAGE}")
    assert finding.path == ("plates", "top", "stages", 1, "mass")


def test_a_mass_that_differs_names_the_thickness_that_stands_out(tmp_path: Path) -> None:
    root = copied(tmp_path / "records", BAD / "plate-mass-differs")
    changed(root, "instruments/FF494KY.yml", "205: [2.6, 2.7, 2.8, 2.7, 2.6]", "205: [2.6, 7.2, 2.8, 2.7, 2.6]")
    changed(root, "instruments/FF494KY.yml", "mass: 71", "mass: 52")
    found = {finding.code: finding for finding in of_instrument(load(root), "FF494KY")}
    assert found[Code.MASS_APART].path == ("plates", "top", "thickness", "205", 1)


def test_what_is_accepted_is_not_asked_again(tmp_path: Path) -> None:
    for slug in ("uneven-plate", "thin-spot"):
        root = copied(tmp_path / slug, BAD / slug)
        changed(root, "instruments/FF494KY.yml", "  top:\n", "  top:\n    accepted: as the old one it was made after\n")
        assert list(of_instrument(load(root), "FF494KY")) == []
