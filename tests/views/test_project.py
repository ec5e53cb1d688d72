"""What each audience is shown of the small archive: addresses, lists, order, and what stays in the shop."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from passport.findings import Code, Finding
from passport.records.catalogue import Archive, load
from passport.records.model.marks import Audience
from passport.views.addresses import full_address, instrument_paths, supply_path
from passport.views.project import case_label, project
from passport.views.site_tree import SiteView
from passport.views.tree import InstrumentView
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, TAIL, UNLISTED, whole


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Archive:
    return load(archives.write(tmp_path_factory.mktemp("small") / "records"))


@pytest.fixture(scope="module")
def public(archive: Archive) -> SiteView:
    return project(archive, (), "public")


@pytest.fixture(scope="module")
def shop(archive: Archive) -> SiteView:
    return project(archive, (), "shop")


def changed(tmp_path: Path, changes: dict[str, str | bytes | None]) -> Archive:
    made = load(archives.write(tmp_path / "records", changes))
    assert made.findings == ()
    return made


def one(site: SiteView, number: str) -> InstrumentView:
    return site.instruments[number]


def test_an_instruments_address_is_its_number_and_an_unlisted_one_has_a_tail(archive: Archive) -> None:
    assert instrument_paths(archive, "public") == {
        LISTED: f"{LISTED}/", OTHER: f"{OTHER}/", UNLISTED: f"{UNLISTED}-{TAIL}/",
    }  # fmt: skip


def test_the_shop_has_every_instrument_at_the_same_address(archive: Archive) -> None:
    shop = instrument_paths(archive, "shop")
    assert shop == {**instrument_paths(archive, "public"), SHOP_ONLY: f"{SHOP_ONLY}/"}


def test_an_address_keeps_its_tail_when_the_instrument_is_listed_later(tmp_path: Path) -> None:
    listed = archives.HIDDEN.replace("publish: unlisted", "publish: listed")
    later = changed(tmp_path, {f"instruments/{UNLISTED}.yml": listed})
    assert instrument_paths(later, "public")[UNLISTED] == f"{UNLISTED}-{TAIL}/"
    assert one(project(later, (), "public"), UNLISTED).listed


def test_a_whole_address_has_one_slash_whether_or_not_the_site_ends_in_one() -> None:
    assert full_address("https://a.net/", "ZVSPYJH/") == "https://a.net/ZVSPYJH/"
    assert full_address("https://a.net/b", "ZVSPYJH/") == "https://a.net/b/ZVSPYJH/"
    assert full_address("", "ZVSPYJH/") == ""
    assert supply_path("wood", "SP09B") == "wood/SP09B/"


def test_the_public_has_no_view_of_a_shop_only_instrument(public: SiteView, shop: SiteView) -> None:
    assert set(public.instruments) == {LISTED, OTHER, UNLISTED}
    assert set(shop.instruments) == {LISTED, OTHER, UNLISTED, SHOP_ONLY}


def test_no_public_list_names_an_unlisted_instrument(public: SiteView, shop: SiteView) -> None:
    elsewhere = replace(
        public,
        instruments={stem: view for stem, view in public.instruments.items() if stem != UNLISTED},
        cards=tuple(card for card in public.cards if card.line.id != UNLISTED),
    )
    assert LISTED in repr(whole(elsewhere))
    assert [word for word in (UNLISTED, "TP 95", TAIL) if word in repr(whole(elsewhere))] == []
    assert any(line.id == UNLISTED for group in shop.catalogue for line in group.instruments)


def test_supplies_name_what_was_made_of_them(public: SiteView, shop: SiteView) -> None:
    lot = next(view for view in public.supplies if view.section == "wood")
    assert [(line.id, line.use) for line in lot.instruments] == [(OTHER, "Top, wedge 5"), (LISTED, "Top, wedge 4")]
    whole = next(view for view in shop.supplies if view.section == "wood")
    assert {line.id for line in whole.instruments} == {LISTED, OTHER, UNLISTED, SHOP_ONLY}
    assert [(line.id, line.count) for line in public.wood] == [("SP09B", 2)]
    assert [(line.id, line.count) for line in shop.wood] == [("SP09B", 4)]


def test_the_catalogue_goes_by_kind_then_from_large_to_small_then_by_serial(tmp_path: Path) -> None:
    def other(number: str, kind: str, size: str, serial: str) -> tuple[str, str]:
        text = f"id: {number}\nkind: {kind}\nsize: {size}\nserial: {serial}\norigin: made_here\n"
        return f"instruments/{number}.yml", text

    many = dict(
        [
            other("WZYGCMS", "viola", "395", "A"),
            other("WPWS32R", "viola", "420", "B"),
            other("B2R2747", "bass", "3/4", "C"),
            other("NGVT3WP", "violin", "4/4", "AA 1"),
            other("GEQ7W8M", "violin", "1/16", "D"),
        ]
    )
    site = project(changed(tmp_path, dict(many)), (), "public")
    assert [(group.title, [line.id for line in group.instruments]) for group in site.catalogue] == [
        ("Violins", ["NGVT3WP", LISTED, OTHER, "GEQ7W8M"]),
        ("Violas", ["WPWS32R", "WZYGCMS"]),
        ("Double basses", ["B2R2747"]),
    ]


def test_the_shops_pages_show_the_findings_of_their_own_record_and_no_others(archive: Archive) -> None:
    found = Finding(
        Code.UNKNOWN_LOT, archive.instruments[LISTED].file, "findingwords", "todowords", ("parts", "top"), line=7
    )
    shop, public = project(archive, (found,), "shop"), project(archive, (found,), "public")
    assert [view.id for view in shop.instruments.values() if view.findings] == [LISTED]
    (shown,) = one(shop, LISTED).findings
    assert (shown.code, shown.severity, shown.where) == ("unknown-lot", "error", "line 7, parts.top")
    assert (shown.what, shown.todo) == ("findingwords", "todowords")
    assert all(view.findings == () for view in public.instruments.values())
    assert "findingwords" not in repr(whole(public))


@pytest.mark.parametrize(("audience", "shown"), [("public", False), ("shop", True)])
def test_a_recipe_stays_in_the_shop(archive: Archive, audience: Audience, *, shown: bool) -> None:
    batch = next(view for view in project(archive, (), audience).supplies if view.section == "varnish")
    assert bool(batch.tables) is shown


def test_an_opened_recipe_is_public(tmp_path: Path) -> None:
    opened = changed(
        tmp_path, {"varnish/OV20-3.yml": archives.BATCH.replace("recipe:\n", "recipe:\n  audience: public\n")}
    )
    batch = next(view for view in project(opened, (), "public").supplies if view.section == "varnish")
    assert [table.caption for table in batch.tables] == ["Ingredients", "Cook log"]


def test_hazards_bring_their_cautions_and_who_they_defer_to(public: SiteView) -> None:
    batch = next(view for view in public.supplies if view.section == "varnish")
    assert len(batch.cautions) == 2
    assert "Rags" in batch.cautions[0]
    assert "local codes" in batch.cautions[1]


def test_pictures_of_damage_are_the_shops_and_their_file_names_are_nobodys(archive: Archive) -> None:
    for audience, views in (("public", ["front"]), ("shop", ["front", "damage"])):
        site = project(archive, (), audience)  # type: ignore[arg-type]
        shown = one(site, LISTED).photos
        assert [photo.view for photo in shown] == views
        assert [photo.large for photo in shown] == [f"{LISTED}/{n:02d}.jpg" for n in range(1, len(views) + 1)]
        sources = {picture.name: picture.file for card in site.cards for picture in card.pictures}
        assert sources[f"{LISTED}/01.jpg"] == f"{LISTED}/front.jpg"
        assert len(sources) == 2 * sum(len(view.photos) for view in site.instruments.values())


def test_a_picture_that_cannot_be_read_is_not_shown(tmp_path: Path) -> None:
    broken = load(archives.write(tmp_path / "records", {f"photos/{LISTED}/front.jpg": b"no picture"}))
    assert one(project(broken, (), "public"), LISTED).photos == ()


def test_the_day_of_change_is_the_last_one_this_audience_may_see_and_no_day_ahead(
    public: SiteView, shop: SiteView
) -> None:
    # The next check is on 2031-01-01; the sheet of 2024-08-06 and the sale are the shop's; the seam is public.
    assert one(public, LISTED).changed == "2024-08-09"
    assert one(shop, LISTED).changed == "2024-08-09"
    assert one(public, OTHER).changed == "2022-02-01"


def test_the_day_of_change_does_not_tell_of_an_entry_that_is_hidden(tmp_path: Path) -> None:
    text = archives.VIOLIN.replace("{date: 2021-11-25, event: sold", "{date: 2025-11-25, event: sold")
    later = changed(tmp_path, {f"instruments/{LISTED}.yml": text})
    assert one(project(later, (), "public"), LISTED).changed == "2024-08-09"
    assert one(project(later, (), "shop"), LISTED).changed == "2025-11-25"


def test_a_sheet_taken_as_received_is_no_part_of_the_public_set_up(public: SiteView, shop: SiteView) -> None:
    seen, whole = one(public, LISTED).setup, one(shop, LISTED).setup
    assert seen is not None
    assert whole is not None
    assert seen.latest is None
    assert whole.latest is not None
    assert whole.latest.name == "S2"


def test_history_is_told_newest_first_and_the_shops_entries_are_marked(public: SiteView, shop: SiteView) -> None:
    assert [event.iso for event in one(public, LISTED).history] == ["2024-08-09", "2021-11-18"]
    assert [(event.iso, event.shop_only) for event in one(shop, LISTED).history] == [
        ("2024-08-09", False), ("2021-11-25", True), ("2021-11-18", False),
    ]  # fmt: skip


def test_owners_stand_on_the_shops_page_alone(public: SiteView, shop: SiteView) -> None:
    assert [fact.name for fact in one(shop, LISTED).shop_facts] == ["Note", "Owner"]
    assert all(view.shop_facts == () for view in (*public.instruments.values(), *public.supplies))


def test_no_secret_is_in_any_public_view_and_most_are_in_the_shops(public: SiteView, shop: SiteView) -> None:
    assert archives.SECRET not in repr(whole(public))
    # Not: the name of the picture's file, and what heads only the workshop's own record.
    missing = {f"{archives.SECRET}-{n}" for n in range(1, 18)} - {
        w for w in _words(repr(whole(shop))) if archives.SECRET in w
    }
    assert missing <= {f"{archives.SECRET}-{n}" for n in (1, 2, 11)}


def _words(text: str) -> set[str]:
    return set(text.replace("'", " ").replace(",", " ").split())


def test_a_case_label_leads_to_the_page_and_says_nothing_of_the_owner(archive: Archive) -> None:
    label = case_label(archive, UNLISTED)
    assert label.address == f"{archives.SITE}{UNLISTED}-{TAIL}/"
    assert (label.id, label.kind, label.size, label.serial) == (UNLISTED, "violin", "4/4", "TP 95")
    assert archives.SECRET not in repr([case_label(archive, stem) for stem in (LISTED, OTHER, UNLISTED)])


def test_a_label_address_of_its_own_goes_before_the_sites(tmp_path: Path) -> None:
    text = f"{archives.WORKSHOP}label_address: https://q.tammpenn-harrowmere.net/\n"
    assert (
        case_label(changed(tmp_path, {"workshop.yml": text}), LISTED).address
        == f"https://q.tammpenn-harrowmere.net/{LISTED}/"
    )


def test_a_card_shows_the_reference_and_says_what_was_not_measured(archive: Archive) -> None:
    label = case_label(archive, LISTED)
    assert label.setup_date == "18 November 2021"
    assert [(name, value.replace("\u202f", " ")) for name, value in label.setup] == [
        ("String length", "328 mm"),
        ("String height, G", "5.0 mm, to the underside"),
        ("String height, E", "3.5 mm, to the underside"),
        ("Projection", "not measured"),
        ("Post, behind the foot", "not measured"),
        ("Strings", "not recorded"),
    ]


def test_a_card_of_an_instrument_without_a_set_up_says_so_in_every_row(archive: Archive) -> None:
    label = case_label(archive, OTHER)
    assert label.setup_date == ""
    assert {value for _, value in label.setup} == {"not measured", "not recorded"}
