"""What an instrument can be found by in the catalogue, and the ways from its page to those like it."""

from __future__ import annotations

import pytest

from passport.records.catalogue import Archive, load
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience
from passport.views.alike import years
from passport.views.project import project
from passport.views.site_tree import CatalogueEntry
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, UNLISTED

ATTRIBUTED = f"""\
schema: 1
id: {OTHER}
kind: violin
size: 4/4
origin: second_hand
publish: listed
made: {{finished: 1924/1926, hands: {{setup: Jory}}}}
attribution: {{wording: workshop of a maker unknown, by: Ilse, paper: {archives.SECRET}-20}}
"""


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Archive:
    changes: dict[str, str | bytes | None] = {f"instruments/{OTHER}.yml": ATTRIBUTED}
    return load(archives.write(tmp_path_factory.mktemp("small") / "records", changes))


def entries(archive: Archive, audience: Audience) -> dict[str, CatalogueEntry]:
    found = (entry for group in project(archive, (), audience).catalogue for entry in group.instruments)
    return {entry.id: entry for entry in found}


def test_an_entry_names_hands_lots_batches_and_year(archive: Archive) -> None:
    entry = entries(archive, "public")[LISTED]
    assert (entry.first_year, entry.last_year) == (2021, 2021)
    assert (entry.hands, entry.lots, entry.batches) == (("Ilse Tamm",), ("SP09B",), ("OV20-3",))


def test_another_hands_work_is_found_by_its_attribution_and_by_whoever_set_it_up(archive: Archive) -> None:
    entry = entries(archive, "public")[OTHER]
    assert entry.hands == ("Jory Penn", "workshop of a maker unknown")
    assert (entry.year, entry.first_year, entry.last_year) == ("1924 to 1926", 1924, 1926)


def test_what_is_published_is_told_to_the_shop_only(archive: Archive) -> None:
    assert {entry.publication for entry in entries(archive, "public").values()} == {""}
    told = {number: entry.publication for number, entry in entries(archive, "shop").items()}
    assert told == {LISTED: "listed", OTHER: "listed", UNLISTED: "unlisted", SHOP_ONLY: "shop only"}


def test_a_listed_instrument_leads_to_those_of_its_size_year_and_hands(archive: Archive) -> None:
    views = {view.id: view for view in project(archive, (), "public").instruments.values()}
    assert [(link.text, link.path) for link in views[LISTED].alike] == [
        ("violins 4/4", "catalogue/?kind=violin&size=4%2F4"),
        ("made in 2021", "catalogue/?year=2021"),
        ("Ilse Tamm", "catalogue/?hand=Ilse+Tamm"),
    ]
    assert [link.text for link in views[OTHER].alike] == ["violins 4/4", "Jory Penn", "workshop of a maker unknown"]
    assert views[UNLISTED].alike == ()


# What each date means: Extended Date/Time Format, Library of Congress, 4 February 2019, levels 0 and 1. How far "about"
# reaches the standard does not say; a date that is only approximate is looked for under the year it states.
@pytest.mark.parametrize(
    ("made", "first", "last"),
    [
        ("2021-11", 2021, 2021), ("1890~", 1890, 1890), ("1924/1926", 1924, 1926), ("189X", 1890, 1899),
        ("19XX", 1900, 1999), ("../1931", None, 1931), ("1931/..", 1931, None), ("2009-24", 2009, 2009),
    ],
)  # fmt: skip
def test_a_vague_date_stands_under_every_year_it_may_mean(made: str, first: int | None, last: int | None) -> None:
    record = archives.record(Instrument, archives.SECOND.replace("2022-02-01", made))
    assert years(record) == (first, last)
