"""Wood against room and store, masses against a reading, dose against light: what is said, and what is passed over."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from passport.checks import wood_and_light
from passport.findings import Finding
from passport.records.catalogue import load
from tests.archives import DEMO
from tests.checks.examples import changed

VIOLIN, SPRUCE = "instruments/CZ6EP3J.yml", "wood/SP10.yml"
TODAY = date(2026, 11, 25)
LAST_READING = "  - {date: 2022-10-11, value: 8.9, gauge: moisture_pin}\n"
STORE = "storage: {place: loft, temperature: 15, humidity: 52}\n"


def said(root: Path) -> list[Finding]:
    archive = load(root, TODAY)
    own = [finding for stem in archive.instruments for finding in wood_and_light.of_instrument(archive, stem)]
    return [*own, *wood_and_light.of_others(archive)]


def slugs(root: Path) -> list[str]:
    return [finding.code.slug for finding in said(root)]


def with_closing(root: Path, event: str) -> Path:
    changed(root, VIOLIN, "history:\n", f"history:\n  - {{date: 2023-01-12, event: top_glued, {event}}}\n")
    return root


@pytest.mark.parametrize(
    ("event", "codes"),
    [
        ("moisture: 8.8, temperature: 20, humidity: 48", []),
        ("moisture: 11.0", []),
        ("moisture: 11.1", ["moisture-at-closing"]),
        ("moisture: 5.0", []),
        ("moisture: 4.9", ["moisture-at-closing"]),
        ("moisture: {value: 12, accepted: a wet summer and no stove}", []),
        # 20 °C and 65 % bring wood to 12.0 %, 20 °C and 50 % to 9.3 %: Wood Handbook, table 4-2.
        ("moisture: 10.4, temperature: 20, humidity: 65", ["closing-against-the-room"]),
        ("moisture: 10.6, temperature: 20, humidity: 65", []),
        ("moisture: 7.7, temperature: 20, humidity: 50", ["closing-against-the-room"]),
        ("moisture: 7.9, temperature: 20, humidity: 50", []),
        ("moisture: {value: 7.7, accepted: straight from the kiln}, temperature: 20, humidity: 50", []),
        # Nobody read the wood: the room itself is asked. 20 °C and 25 % make 5.5 %, 20 % makes 4.6 %, 60 % 11.0 %.
        ("temperature: 20, humidity: 25", []),
        ("temperature: 20, humidity: 20", ["moisture-at-closing"]),
        ("temperature: 20, humidity: 65", ["moisture-at-closing"]),
        # Without a temperature the room tells nothing.
        ("moisture: 8.8, humidity: 75", []),
        # The formula ends at 95 %.
        ("moisture: 8.8, temperature: 20, humidity: 98", []),
    ],
)
def test_a_box_is_closed_with_wood_that_fits_its_room(archive: Path, event: str, codes: list[str]) -> None:
    assert slugs(with_closing(archive, event)) == codes


def test_a_finding_names_both_places(archive: Path) -> None:
    """The one place where the wording of these findings is pinned."""
    with_closing(archive, "moisture: 8.5, temperature: 20, humidity: 65")
    changed(archive, VIOLIN, "irradiance: 6.5, hours: 36}", "irradiance: 6.5, hours: 36, dose: 482}")
    changed(archive, SPRUCE, LAST_READING, STORE)
    changed(archive, SPRUCE, "value: 11.5,", "value: 11.5, mass: 43.8, oven_dry_mass: 40,")
    closing, lot, dose, masses = (finding.what for finding in said(archive))
    assert closing == (
        "the wood had 8.5 % of moisture when the top was glued, and the room at 20 °C and 65 % "
        "would bring it to 12.0 %"
    )  # fmt: skip
    assert lot == (
        "the top was glued on 12 January 2023, and lot SP10 of its top, last read before that on 2 May 2010, had "
        "11.5 % of moisture: its store would bring it to 9.7 %"
    )
    assert dose == "coat 1 got 482 kJ/m2 by dose:, and 842 kJ/m2 by irradiance: 6.5 and hours: 36"
    assert masses == "value: says 11.5 %, and the sample weighed 43.8 and oven-dry 40, which makes 9.5 %"


@pytest.mark.parametrize(
    ("readings", "codes"),
    [
        # Worked by 10 February 2023, the day of its first coat; the store brings wood to 9.7 %.
        ("  - {date: 2023-01-30, value: 11.3}\n", ["lot-not-at-rest"]),
        ("  - {date: 2023-01-30, value: 11.1}\n", []),
        ("  - {date: 2022-01-30, value: 12}\n  - {date: 2023-01-30, value: 9.9}\n", []),
        # Read after the work, or perhaps after it.
        ("  - {date: 2023-01-30, value: 12}\n  - {date: 2023-03-30, value: 9.9}\n", ["lot-not-at-rest"]),
        ("  - {date: 2023-01-30, value: 12}\n  - {date: 2023, value: 9.9}\n", []),
        ("  - {date: 2023-03-30, value: 12}\n", []),
        ("  - {date: 2023-01-30, value: {value: 12, accepted: dried on by the stove}}\n", []),
        # 44.8 g over 40 g: 12 %.
        ("  - {date: 2023-01-30, mass: 44.8, oven_dry_mass: 40}\n", ["lot-not-at-rest"]),
        ("  - {date: 2023-01-30}\n", []),
    ],
)
def test_wood_is_at_rest_before_it_is_worked(archive: Path, readings: str, codes: list[str]) -> None:
    changed(
        archive, SPRUCE, f"  - {{date: 2010-05-02, value: 11.5, gauge: moisture_pin}}\n{LAST_READING}", readings + STORE
    )
    assert slugs(archive) == codes


@pytest.mark.parametrize(
    ("dose", "codes"),
    [
        # 6.5 W/m2 for 36 h: 842.4 kJ/m2; a tenth of that is passed over.
        ("842", []),
        ("760", []),
        ("757", ["dose-differs"]),
        ("926", []),
        ("928", ["dose-differs"]),
        ("84.2 J/cm2", []),
        ("{value: 500, accepted: half the tubes were dead}", []),
    ],
)
def test_a_dose_is_light_times_hours(archive: Path, dose: str, codes: list[str]) -> None:
    changed(archive, VIOLIN, "irradiance: 6.5, hours: 36}", f"irradiance: 6.5, hours: 36, dose: {dose}}}")
    assert slugs(archive) == codes


def test_a_dose_alone_is_held_against_nothing(archive: Path) -> None:
    changed(archive, VIOLIN, "irradiance: 6.5, hours: 36}", "hours: 36, dose: 5}")
    assert slugs(archive) == []


@pytest.mark.parametrize(
    ("masses", "codes"),
    [
        # Wood Handbook, equation 4-1 (from memory): 438 g over 400 g oven-dry are 9.5 %.
        ("value: 9.5, mass: 438, oven_dry_mass: 400", []),
        ("value: 9.9, mass: 438, oven_dry_mass: 400", []),
        ("value: 10.1, mass: 438, oven_dry_mass: 400", ["moisture-against-masses"]),
        ("mass: 400, oven_dry_mass: 438", ["moisture-against-masses"]),
        ("mass: 438, oven_dry_mass: 43", ["moisture-against-masses"]),
        ("value: 9.5, mass: 438", []),
    ],
)
def test_a_sample_loses_water_in_the_oven(archive: Path, masses: str, codes: list[str]) -> None:
    changed(archive, SPRUCE, "value: 8.9, gauge: moisture_pin", masses)
    assert slugs(archive) == codes


def test_the_demo_says_nothing() -> None:
    assert said(DEMO) == []
