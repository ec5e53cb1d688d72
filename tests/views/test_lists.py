"""The shop's own lists, and what is missing, in the views: for the shop, and for nobody else."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from passport.records.catalogue import Archive, load
from passport.views import lists
from passport.views.addresses import WORK_LISTS
from passport.views.addresses import lists as addressed
from passport.views.project import project
from passport.views.site_tree import SiteView, WorkGroup
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, UNLISTED

TODAY = date(2026, 11, 25)
ASKED = "history: [{date: 2024-01-01, event: returned, next_check: %s}]\n"


def small(tmp_path: Path, today: date = TODAY) -> Archive:
    changes: dict[str, str | bytes | None] = {
        f"instruments/{LISTED}.yml": archives.VIOLIN.replace("2031-01-01", "2026-09"),
        f"instruments/{OTHER}.yml": archives.SECOND + ASKED % "2025-02",
        f"instruments/{UNLISTED}.yml": archives.HIDDEN + ASKED % "2027-03",
        f"instruments/{SHOP_ONLY}.yml": archives.KEPT + ASKED % "2020" + "status: {now: missing}\n",
    }
    return load(archives.write(tmp_path / "records", changes), today)


@pytest.fixture
def shop(tmp_path: Path) -> SiteView:
    return project(small(tmp_path), (), "shop")


def shown(group: WorkGroup) -> list[tuple[str, str]]:
    return [(line.id, line.use) for line in group.lines]


def test_the_longest_overdue_stands_first_and_says_how_long(shop: SiteView) -> None:
    assert shown(shop.work_lists[0].groups[0]) == [
        (OTHER, "February 2025, 20 months overdue"),
        (LISTED, "September 2026, 56 days overdue"),
        (UNLISTED, "March 2027, not overdue"),
    ]


def test_what_is_overdue_depends_on_the_day_of_the_archive(tmp_path: Path) -> None:
    site = project(small(tmp_path, date(2025, 3, 1)), (), "shop")
    assert shown(site.work_lists[0].groups[0])[0] == (OTHER, "February 2025, 1 day overdue")
    assert "1 March 2025" in site.work_lists[0].lead


def test_old_references_and_those_without_any(shop: SiteView) -> None:
    old, none = shop.work_lists[1].groups
    assert shown(old) == [(LISTED, "5 years old, 18 November 2021")]
    assert [line.id for line in none.lines] == [UNLISTED, OTHER]


def test_the_least_complete_stands_first(shop: SiteView) -> None:
    for group in shop.work_lists[2].groups:
        shares = [int(line.use.partition("\u202f")[0]) for line in group.lines]
        assert shares
        assert shares == sorted(shares)
        assert SHOP_ONLY not in {line.id for line in group.lines}


def test_a_long_list_is_cut_and_says_by_how_many(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lists, "LONGEST_INCOMPLETE", 1)
    group = project(small(tmp_path), (), "shop").work_lists[2].groups[0]
    assert (len(group.lines), group.left_off) == (1, 2)


def test_the_shops_page_names_each_missing_thing_once_with_all_who_ask(shop: SiteView) -> None:
    found = shop.instruments[LISTED].missing
    assert found is not None
    back = [thing for thing in found.things if thing.name == "A picture of the back"]
    assert [thing.asked_by for thing in back] == ["for a buyer, an insurer, a description by Object ID"]
    assert [share.name for share in found.shares][:2] == ["A buyer", "An insurer"]


def test_the_public_has_no_such_list_nor_hears_what_is_missing(tmp_path: Path) -> None:
    site = project(small(tmp_path), (), "public")
    assert site.work_lists == ()
    assert [view.missing for view in site.instruments.values()] == [None] * len(site.instruments)
    assert WORK_LISTS not in dict(addressed("public")).values()
    assert WORK_LISTS in dict(addressed("shop")).values()
