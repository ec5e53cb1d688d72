"""How a lot dried: dates, readings, rest; and which reading counts for a part that was made of it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from passport.analysis.seasoning import lost_a_year, lots_in_use, seasoning_of, span
from passport.analysis.timeline import happenings
from passport.records.catalogue import load
from passport.records.dates import parse_date
from passport.records.model.supplies import WoodLot
from tests import archives
from tests.archives import record

LOT = "schema: 1\nlot: SP09B\nspecies: Picea abies\n"
STORE = "storage: {temperature: 15, humidity: 52}\n"  # 9.7 %: Wood Handbook, equation 4-5


def lot(text: str) -> WoodLot:
    return record(WoodLot, LOT + text)


@pytest.mark.parametrize(
    ("text", "air_dry"),
    [
        ("sawn: 2007-02\nthickness: 50.8\n", "2009-02"),  # two inches, two years
        ("felled: 2006-12-01\nthickness: 25.4\n", "2007-12"),
        ("sawn: 2007~\nthickness: 25.4\n", "2008-12~"),
        ("sawn: 2007-02\n", None),
        ("thickness: 50\n", None),
        ("sawn: 2007-02/..\nthickness: 50\n", None),
        ("sawn: 2007-02\nthickness: 5000\n", None),
    ],
)
def test_boards_are_air_dry_after_a_year_for_each_inch(text: str, air_dry: str | None) -> None:
    found = seasoning_of(lot(text)).air_dry
    assert (found.text if found else None) == air_dry


@pytest.mark.parametrize(
    ("readings", "verdict"),
    [
        ("[{date: 2009-03-14, value: 11.6}, {date: 2010-11-02, value: 9.8}]", "at rest"),
        ("[{date: 2010-11-02, value: 9.8}, {date: 2009-03-14, value: 14}]", "at rest"),  # the last counts
        ("[{date: 2009-03-14, value: 11.3}]", "still drying"),
        ("[{date: 2009-03-14, value: 11.1}]", "at rest"),
        ("[{date: 2009-03-14, value: 8.1}]", "drier than its place"),
        ("[{date: 2009-03-14, mass: 44.8, oven_dry_mass: 40}]", "still drying"),  # 12 %
        ("[{date: 2009-03-14, mass: 40, oven_dry_mass: 44.8}]", "cannot tell"),
        ("[{date: 2009-03-14}]", "cannot tell"),
    ],
)
def test_a_lot_is_at_rest_where_its_store_would_bring_it(readings: str, verdict: str) -> None:
    assert seasoning_of(lot(f"moisture: {readings}\n{STORE}")).verdict == verdict


def test_without_a_store_nobody_can_tell() -> None:
    season = seasoning_of(lot("moisture: [{date: 2009-03-14, value: 9}]\nstorage: {humidity: 52}\n"))
    assert (season.verdict, season.reason) == (
        "cannot tell", "of the place where it is stored the temperature is not recorded",
    )  # fmt: skip


def test_what_is_lost_is_lost_in_the_years_between() -> None:
    readings = seasoning_of(lot("moisture: [{date: 2010-01-01, value: 12}, {date: 2012-01-01, value: 9}]\n")).readings
    ((_, _, lost),) = lost_a_year(readings)
    assert lost == pytest.approx(1.5, abs=0.002)


METER, LAST = "{date: 2010-01-01, value: 12}", "{date: 2012-01-01, value: 9}"


@pytest.mark.parametrize(
    ("readings", "lost"),
    [
        (f"[{METER}, {{date: 2010-03-02, value: 11}}]", [6.09]),  # 60 days: 365.25 / 60
        (f"[{METER}, {{date: 2010-03-01, value: 11}}]", []),  # a day too near
        (f"[{METER}, {{date: 2012-01-01, mass: 44, oven_dry_mass: 40}}]", []),  # a meter, and an oven
        # What lies too near, or was found another way, does not hide the next that can be compared.
        (f"[{METER},{{date: 2010-01-04, value: 9}}, {{date: 2011-12-31, mass: 4.4, oven_dry_mass: 4}},{LAST}]", [1.5]),
    ],
)  # fmt: skip
def test_only_readings_of_one_method_and_far_enough_apart_tell_what_is_lost(readings: str, lost: list[float]) -> None:
    found = lost_a_year(seasoning_of(lot(f"moisture: {readings}\n")).readings)
    assert [each for _, _, each in found] == pytest.approx(lost, abs=0.005)


@pytest.mark.parametrize(
    ("first", "second", "years", "decimals"),
    [
        ("2009-03-15", "2021-03-15", 12.0, 1),
        ("2009-03", "2021-03", 12.0, 1),
        ("2009", "2021-03", 11.7, 0),
        ("2009-03~", "2021-03", 12.0, 0),
    ],
)
def test_years_between_dates_are_as_exact_as_the_dates(first: str, second: str, years: float, decimals: int) -> None:
    found = span(parse_date(first), parse_date(second))
    assert found is not None
    assert (round(found.years, 1), found.decimals) == (years, decimals)


def test_an_open_date_gives_no_years() -> None:
    assert span(parse_date("../1995"), parse_date("2021")) is None
    assert span(None, parse_date("2021")) is None


def test_the_reading_before_the_first_work_counts(tmp_path: Path) -> None:
    readings = "moisture: [{date: 2020-01-01, value: 12}, {date: 2021-03-01, value: 9}, {date: 2022-01-01, value: 8}]\n"
    root = archives.write(tmp_path / "records", {"wood/SP09B.yml": LOT + readings})
    archive = load(root, date(2026, 11, 25))
    instrument = archive.instruments[archives.LISTED].record
    (use,) = (each for each in lots_in_use(archive, instrument, happenings(instrument)) if each.part == "top")
    assert use.used.date.text == "2021-06-21"  # its first coat
    assert use.before is not None
    assert use.before.pct == 9
