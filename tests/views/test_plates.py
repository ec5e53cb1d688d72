"""The page's sums of a plate: each can be done again from the figures that stand beside it."""

from __future__ import annotations

import re

import pytest

from passport.records.catalogue import Archive
from passport.views.project import project
from passport.views.site_tree import SiteView
from passport.views.tree import PlateView, Worked
from tests import archives


@pytest.fixture(scope="module")
def demo() -> Archive:
    return archives.demo()


@pytest.fixture(scope="module")
def site(demo: Archive) -> SiteView:
    return archives.whole(project(demo, (), "public"))


def figures_of(plate: PlateView) -> dict[str, Worked]:
    return {each.name: each for each in plate.worked[0].figures}


def value(worked: Worked) -> float:
    return float(worked.value.replace("\N{MINUS SIGN}", "-"))


def last_digit(worked: Worked) -> float:
    return 10.0 ** -len(worked.value.partition(".")[2])


def numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def test_every_sum_of_every_mapped_plate_can_be_done_again_by_hand(site: SiteView) -> None:
    done = 0
    for view in site.instruments.values():
        for plate in view.plates:
            of = figures_of(plate) if plate.worked else {}
            if "Mass by the map" not in of:
                continue
            volume = value(of["Area"]) * value(of["Mean thickness"]) / 10 + value(of["Edge adds"])
            volume -= value(of["F-holes take"]) if "F-holes take" in of else 0
            mass = of["Mass by the map"]
            density, arch = numbers(mass.inputs)[0], float(mass.inputs.split("× ")[1].split()[0])
            assert density / 1000 * arch * volume == pytest.approx(value(mass), abs=0.5001 * last_digit(mass))
            if "F-holes take" in of:
                length, thickness = numbers(of["F-holes take"].inputs)[0], value(of["Mean thickness"])
                holes = 2 * 0.082 * length**2 * thickness / 1000
                assert holes == pytest.approx(value(of["F-holes take"]), abs=0.5001 * last_digit(of["F-holes take"]))
            first, second = numbers(of["Mode 5 to mode 2"].inputs)[:2]
            assert first / second == pytest.approx(value(of["Mode 5 to mode 2"]), abs=0.006)
            grams, _, wanted, _, had = numbers(of["Mass at 8 % moisture"].inputs)
            assert grams * (100 + wanted) / (100 + had) == pytest.approx(
                value(of["Mass at 8 % moisture"]), abs=0.5001 * last_digit(of["Mass at 8 % moisture"])
            )
            edge = of["Edge adds"].inputs.replace("\u202f", " ")
            around, width = numbers(edge)[0], float(edge.split(" = ")[1].split()[0])
            thick, inner = float(edge.split("edge ")[1].split()[0]), float(edge.split("less plate ")[1].split()[0])
            assert around * width * (thick - inner) / 1000 == pytest.approx(
                value(of["Edge adds"]), abs=0.5001 * last_digit(of["Edge adds"])
            )
            done += 1
    assert done > 20


def test_every_figure_says_how_it_was_come_by(site: SiteView) -> None:
    for view in site.instruments.values():
        for plate in view.plates:
            for worked in (figure for workings in plate.worked for figure in workings.figures):
                assert worked.how in ("measured", "worked out", "from a table", "assumed")
                assert worked.rule or worked.how == "measured"


def test_a_plate_without_an_outline_says_what_is_wanting(site: SiteView) -> None:
    plates = site.instruments["WZYGCMS"].plates
    assert [plate.drawing for plate in plates] == ["", ""]
    assert all("outline" in plate.worked[0].lacking[0] for plate in plates)


def test_the_map_of_a_plate_is_drawn_small(site: SiteView) -> None:
    maps = [plate.drawing for view in site.instruments.values() for plate in view.plates if plate.drawing]
    assert len(maps) > 20
    assert all('class="bands"' in drawing for drawing in maps)
    assert max(len(drawing.encode()) for drawing in maps) <= 12_000


def test_the_page_of_a_model_sets_its_plates_beside_each_other(site: SiteView) -> None:
    harrow = next(view for view in site.supplies if view.id == "harrow-1")
    tops = harrow.worked[0].tables[0]
    stems = [row[0] for row in tops.rows[:-1]]
    assert {"ZVSPYJH", "NGVT3WP"} <= set(stems)
    # 60 g at 8.5 % is 60 * 108 / 108.5 at 8 %.
    assert next(row for row in tops.rows if row[0] == "ZVSPYJH")[3] == "59.7"


def test_an_unlisted_plate_stands_on_no_public_page_but_its_own(site: SiteView) -> None:
    cells = [
        cell
        for view in site.supplies
        for each in view.worked
        for table in each.tables
        for row in table.rows
        for cell in row
    ]
    assert cells
    assert "HHK53U9" not in cells
