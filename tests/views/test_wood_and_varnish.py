"""What the pages say of wood, rooms and light: each number can be done again by hand from what stands beside it."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from passport.physics.moisture import equilibrium_moisture_pct
from passport.records.catalogue import load
from passport.records.model.marks import Audience
from passport.reference.cautions import CAUTIONS, DEFERENCE
from passport.views.moisture import EMC_RULE
from passport.views.project import project
from passport.views.site_tree import SiteView
from passport.views.tree import Worked, WorkedTable, Workings
from passport.views.varnish import _stay
from tests import archives
from tests.archives import LISTED

TODAY = date(2026, 11, 25)
CELLO, LED = "YXSP8BQ", "GEQ7W8M"


@pytest.fixture(scope="module")
def shop() -> SiteView:
    return project(load(archives.DEMO, TODAY), (), "shop")


@pytest.fixture(scope="module")
def public() -> SiteView:
    return project(load(archives.DEMO, TODAY), (), "public")


def titled(list_: tuple[Workings, ...], title: str) -> Workings:
    return next(each for each in list_ if each.title == title)


def supply(site: SiteView, name: str) -> tuple[Workings, ...]:
    return next(view.worked for view in site.supplies if view.id == name)


def named(workings: Workings, begins: str) -> Worked:
    return next(figure for figure in workings.figures if figure.name.startswith(begins))


def table(workings: Workings, begins: str) -> WorkedTable:
    return next(each for each in workings.tables if each.caption.startswith(begins))


def sum_of(text: str) -> float:
    """Do a printed sum: units and what stands in round brackets after a number are words."""
    plain = re.sub(r"(?<=[^×+−/ ]) \([^()]*(?:\([^()]*\)[^()]*)*\)", "", text.replace("\u202f", " "))
    plain = re.sub(r"[a-zA-Zµ°%][^\s()+×/−]*(?:/[a-z]\S*)?", "", plain)
    assert re.fullmatch(r"[\d\s().+×/−]+", plain), plain
    return float(eval(plain.replace("×", "*").replace("−", "-")))  # noqa: S307 - digits and signs alone


def number(text: str) -> float:
    return float(text.replace("−", "-").replace("\u202f", ""))


def test_the_printed_rule_of_the_room_is_the_one_that_is_worked_with() -> None:
    """Every constant on the page, read back and put to work, gives what the sums give."""
    rule, constants = EMC_RULE.split(", t in °C, h the humidity / 100; ")

    def python(text: str) -> str:
        text = text.replace("−", "-").replace("·", "*").replace("²", "**2").replace("K₁", "A").replace("K₂", "B")
        text = re.sub(r"(?<=[\d.])t", "*t", text)
        return re.sub(r"(?<=[ABKh\d])(?=[ABKh])", "*", text)

    for t, humidity in ((5, 30), (20, 50), (27, 64), (40, 90)):
        known: dict[str, float] = {"t": t, "h": humidity / 100}
        for constant in constants.split(", "):
            name, value = python(constant).split(" = ")
            known[name] = eval(value, {}, known)  # noqa: S307 - our own formula
        moisture = eval(python(rule).removeprefix("M = "), {}, known)  # noqa: S307 - our own formula
        assert moisture == pytest.approx(equilibrium_moisture_pct(t, humidity), abs=1e-9)


def test_every_dated_room_of_the_cello_stands_in_the_table_and_the_drawing(shop: SiteView) -> None:
    rooms = titled(shop.instruments[CELLO].wood_worked, "Wood and room")
    rows = table(rooms, "The room").rows
    assert len(rows) >= 18
    for row in rows:
        assert float(row[4]) == pytest.approx(equilibrium_moisture_pct(float(row[1]), float(row[2])), abs=0.051)
    assert [drawing.count("a3.8") // 2 for drawing in rooms.drawings] == [len(rows) + 1]


def test_the_public_is_not_told_of_rooms_it_may_not_see(shop: SiteView, public: SiteView) -> None:
    """A sheet taken as an instrument came in is the shop's, and so is what follows from it."""
    ours, theirs = (
        [row[0] for row in table(titled(site.instruments[CELLO].wood_worked, "Wood and room"), "The room").rows]
        for site in (shop, public)
    )
    assert any("as received" in row for row in ours)
    assert not any("as received" in row or "before work" in row for row in theirs)
    moving = [titled(site.instruments[CELLO].wood_worked, "Across the grain").notes[0] for site in (shop, public)]
    assert moving[0] != moving[1]


def test_the_sums_of_the_cello_can_be_done_again(shop: SiteView) -> None:
    worked = shop.instruments[CELLO].wood_worked
    for plate in ("Top", "Back"):
        move = named(titled(worked, "Across the grain"), plate)
        assert sum_of(move.inputs) == pytest.approx(number(move.value), abs=0.06)
        ratio = named(titled(worked, "The wood of top and back"), f"{plate}, radiation")
        assert sum_of(ratio.inputs) == pytest.approx(number(ratio.value), abs=0.06)
    closing = named(titled(worked, "Wood and room"), "The top glued")
    assert sum_of(closing.inputs.split(";")[0]) == pytest.approx(number(closing.value), abs=0.06)


def test_the_sums_of_a_lot_can_be_done_again(shop: SiteView) -> None:
    stiff = titled(supply(shop, "SP09B"), "Stiff and light")
    for grain in ("along", "across"):
        modulus = named(stiff, f"Stiffness {grain}")
        density, speed = re.findall(r"([\d.]+)\u202f(?:kg|m/s)", modulus.inputs)
        assert float(density) * float(speed) ** 2 / 1e9 == pytest.approx(float(modulus.value), abs=0.006)
    for row in table(stiff, "Bars").rows:
        rho, length, t, f, width, e_gpa, speed, q = map(float, row[1:])
        assert 0.9464 * rho * f**2 * (length / 1000) ** 4 / (t / 1000) ** 2 / 1e9 == pytest.approx(e_gpa, abs=0.006)
        assert (e_gpa * 1e9 / rho) ** 0.5 == pytest.approx(speed, rel=0.005)
        assert f / width == pytest.approx(q, abs=0.5)


def test_a_lot_says_whether_it_is_at_rest_and_why(shop: SiteView) -> None:
    seasoning = titled(supply(shop, "SP09B"), "Seasoning")
    assert named(seasoning, "Is it at rest?").value == "at rest"
    assert seasoning.lacking == ()
    assert len(seasoning.drawings) == 1


def test_what_lies_between_a_lot_and_its_store_can_be_done_again(shop: SiteView) -> None:
    rests = [
        figure
        for view in shop.supplies
        for workings in view.worked
        for figure in workings.figures
        if figure.name == "Is it at rest?"
    ]
    assert len(rests) > 5
    for rest in rests:
        terms, _, said = rest.inputs.partition(":")[0].partition(" = ")
        assert round(sum_of(terms), 1) == number(said.lstrip("+"))


def test_where_no_two_readings_tell_what_is_lost_the_page_says_so(tmp_path: Path) -> None:
    near = "moisture: [{date: 2021-01-15, value: 8.7}, {date: 2021-01-18, mass: 46.2, oven_dry_mass: 42.4}]\n"
    text = "schema: 1\nlot: SP09B\nspecies: Picea abies\n" + near
    root = archives.write(tmp_path / "records", {"wood/SP09B.yml": text})
    seasoning = titled(supply(project(load(root, TODAY), (), "shop"), "SP09B"), "Seasoning")
    assert seasoning.tables == ()
    assert any(words.startswith("What it loses in a year") for words in seasoning.lacking)


def test_what_a_meter_read_in_a_block_is_not_set_beside_bars(shop: SiteView) -> None:
    """SP18R was read with an ultrasonic meter: 2000 m/s across is that of a block of spruce, 1460 that of a bar."""
    stiff = titled(supply(shop, "SP18R"), "Stiff and light")
    rows = {row[0]: row for row in table(stiff, "Beside").rows}
    assert rows["Sound across, m/s"][2] == "2000"
    assert not any(name.startswith("E ") for name in rows)
    assert any("ultrasonic" in note for note in stiff.notes)
    bars = {row[0]: row for row in table(titled(supply(shop, "SP09B"), "Stiff and light"), "Beside").rows}
    assert bars["Sound across, m/s"][2] == "1460"


def test_light_is_never_told_without_its_caution(shop: SiteView, public: SiteView) -> None:
    told = [
        each
        for site in (shop, public)
        for view in site.instruments.values()
        for each in view.varnish_worked
        if each.title == "Light" and any(figure.unit in ("min", "s") for figure in each.figures)
    ]
    assert told
    assert all(each.cautions == (CAUTIONS["uv"], DEFERENCE) for each in told)


def test_the_shorter_limit_is_the_longest_stay(shop: SiteView) -> None:
    light = titled(shop.instruments[LED].varnish_worked, "Light")
    limits = [number(named(light, name).value) for name in ("Limit of skin", "Limit of the eyes")]
    assert number(named(light, "Longest stay").value) == min(limits)
    assert not any("effective irradiance" in words for words in light.lacking)


@pytest.mark.parametrize(
    ("seconds", "told"), [(1250.4, "20 min"), (3000.0, "50 min"), (600.0, "10 min"), (599.9, "599 s"), (15.7, "15 s")]
)
def test_a_limit_is_rounded_down_and_never_to_nothing(seconds: float, told: str) -> None:
    """A limit that is rounded up is none; 3000 s is that of 0.01 W/m2 by ICNIRP 2004, 30 J/m2."""
    stay = _stay("Limit", seconds, "30 J/m² / effective irradiance", "")
    assert f"{stay.value} {stay.unit}" == told


def test_a_plain_meter_tells_no_stay(shop: SiteView) -> None:
    light = titled(shop.instruments["5U3RZ83"].varnish_worked, "Light")
    assert not any(figure.name.startswith(("Longest", "Limit of skin")) for figure in light.figures)
    assert any("effective irradiance is not recorded" in words for words in light.lacking)


def test_doses_and_films_can_be_done_again(shop: SiteView) -> None:
    worked = shop.instruments[LED].varnish_worked
    doses = table(titled(worked, "Light"), "Dose").rows
    for row in doses:
        assert float(row[2]) * float(row[3]) * 3.6 == pytest.approx(float(row[4]), abs=0.5)
    total = named(titled(worked, "Light"), "Dose of all")
    assert sum_of(total.inputs) == pytest.approx(number(total.value), abs=2)
    films = titled(worked, "Film")
    area = float(named(films, "Area").value)
    for row in table(films, "Film").rows:
        assert 1000 * float(row[1]) / (1100 * area) == pytest.approx(float(row[2]), abs=0.55)


def test_sunlight_gives_no_dose_and_says_so(shop: SiteView) -> None:
    light = titled(shop.instruments["7N49AFH"].varnish_worked, "Light")
    assert light.tables == ()
    assert light.cautions == ()
    assert any("irradiance is not recorded" in words for words in light.lacking)


def test_a_recipe_that_is_the_shops_gives_the_public_no_yield(shop: SiteView, public: SiteView) -> None:
    assert titled(supply(shop, "OV20-3"), "Yield and solids").figures
    assert supply(public, "OV20-3") == ()
    assert supply(public, "OV23-1") != ()


@pytest.mark.parametrize("audience", ["public", "shop"])
def test_a_bare_record_says_what_is_missing_or_nothing(tmp_path: Path, audience: Audience) -> None:
    site = project(load(archives.write(tmp_path / "records"), TODAY), (), audience)
    view = site.instruments[LISTED]
    assert view.varnish_worked == ()
    assert view.wood_worked == ()
    seasoning = titled(supply(site, "SP09B"), "Seasoning")
    assert (seasoning.figures, seasoning.drawings) == ((), ())
    assert len(seasoning.lacking) == 3


def test_rooms_without_temperature_are_listed_and_said(tmp_path: Path) -> None:
    rooms = "state: {strings: at_pitch, humidity: 48}"
    violin = archives.VIOLIN.replace("state: {strings: at_pitch}", rooms, 1)
    site = project(load(archives.write(tmp_path / "records", {f"instruments/{LISTED}.yml": violin}), TODAY), (), "shop")
    told = titled(site.instruments[LISTED].wood_worked, "Wood and room")
    assert table(told, "The room").rows[0][-1] == "cannot tell"
    assert told.drawings == ()
    assert told.lacking == (
        "What the room would bring wood to (sheet S1, delivered): the temperature is not recorded.",
    )
