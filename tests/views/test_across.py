"""What stands side by side: which pages, which columns, nobody who is hidden, nothing that is dropped in silence."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import replace

import pytest

from passport.records.catalogue import Archive, load
from passport.records.model.marks import Audience
from passport.views import charts
from passport.views.across import side_by_side
from passport.views.addresses import instrument_paths
from passport.views.desk import Desk
from passport.views.project import project
from passport.views.site_tree import AcrossView, Card, ChartRow, Figures, Reading, SiteView
from passport.views.visible import visible
from tests import archives
from tests.archives import LISTED, OTHER, SECRET, SHOP_ONLY, UNLISTED

STRUNG = """\
setups:
  - {sheet: S1, taken: {date: 2022-02-02}, role: reference, string_length: LENGTH, string_height: {G: 5.1, E: 3.6}}
"""
TWIN = archives.SECOND.replace("size: 3/4", "size: 4/4\nmodel: harrow-1").replace("wedge: 5", "wedge: 5, density: 401")
CHANGES: dict[str, str | bytes | None] = {
    f"instruments/{OTHER}.yml": TWIN + STRUNG.replace("LENGTH", "331"),
    f"instruments/{UNLISTED}.yml": archives.HIDDEN + STRUNG.replace("LENGTH", "326.5"),
    f"private/{OTHER}.yml": f"id: {OTHER}\nowners:\n  - {{name: {SECRET}-A, until: 2023}}\n"
    f"  - {{name: {SECRET}-B, contact: {SECRET}-C}}\nrenters: [{{name: {SECRET}-17}}]\n",
    "models/harrow-1.yml": archives.MODEL.replace("targets: {", "targets: {string_length: 327-329, "),
    "wood/SP09B.yml": archives.LOT + "density: 380-405\nsound_speed: {along: 5620, method: tapped_bar}\n",
    "wood/SP10C.yml": archives.LOT.replace("SP09B", "SP10C") + "density: 400\nsound_speed: {along: 5500}\n",
}
LENGTHS = "side-by-side/violin-4-4-strings/"


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Archive:
    return load(archives.write(tmp_path_factory.mktemp("two") / "records", CHANGES))


@pytest.fixture(scope="module")
def public(archive: Archive) -> SiteView:
    return project(archive, (), "public")


@pytest.fixture(scope="module")
def shop(archive: Archive) -> SiteView:
    return project(archive, (), "shop")


def rows(view: AcrossView, title: str) -> list[tuple[str, ChartRow]]:
    chart = next(chart for chart in view.charts if chart.title == title)
    return [(group.column.text, row) for group in chart.table.groups for row in group.rows]


def told(view: AcrossView, title: str) -> list[tuple[str, ...]]:
    return [(column, row.of.text, *(cell.text for cell in row.cells)) for column, row in rows(view, title)]


def test_two_of_a_kind_and_size_have_pages_and_what_too_few_have_is_named(public: SiteView) -> None:
    assert [group.title for group in public.side_by_side] == ["Violins 4/4", "Wood"]
    assert [link.text for link in public.side_by_side[0].pages] == ["Strings"]
    assert "plate mass" in public.side_by_side[0].words


def test_one_that_has_no_like_is_named(shop: SiteView) -> None:
    alone = next(group for group in shop.side_by_side if group.title == "On their own")
    assert [(link.text, link.path) for link in alone.pages] == [(f"Cello 4/4, {SHOP_ONLY}", f"{SHOP_ONLY}/")]


def test_each_column_holds_its_instruments_with_number_and_window(public: SiteView) -> None:
    window = "327–329 model"
    assert told(public.across[LENGTHS], "String length") == [
        ("2021", LISTED, "328", window), ("2022", OTHER, "331", f"{window}, above"),
    ]  # fmt: skip
    assert told(public.across["side-by-side/violin-4-4-strings-by-model/"], "String length") == [
        ("Harrow", LISTED, "328", window), ("Harrow", OTHER, "331", f"{window}, above"),
    ]  # fmt: skip
    assert [row[:2] for row in told(public.across["side-by-side/violin-4-4-strings-by-lot/"], "String length")] == [
        ("SP09B", LISTED), ("SP09B", OTHER),
    ]  # fmt: skip
    assert [row[:2] for row in told(public.across["side-by-side/violin-4-4-strings-by-batch/"], "String length")] == [
        ("OV20-3", LISTED), ("no batch", OTHER),
    ]  # fmt: skip


def test_every_mark_leads_to_its_instrument_and_every_column_to_all_in_it(public: SiteView) -> None:
    view = public.across["side-by-side/violin-4-4-strings-by-lot/"]
    assert {row.of.path for _, row in rows(view, "String length")} == {f"{LISTED}/", f"{OTHER}/"}
    assert {group.column.path for chart in view.charts for group in chart.table.groups} == {"wood/SP09B/"}
    assert f'href="../../{LISTED}/"' in view.charts[0].drawing
    assert public.across[LENGTHS].charts[0].table.groups[0].column.path == "catalogue/?kind=violin&size=4%2F4&year=2021"


def test_nobody_who_is_hidden_stands_side_by_side_in_public(public: SiteView, shop: SiteView) -> None:
    def everything(site: SiteView) -> str:
        return repr([site.side_by_side, dict(site.across)])

    assert "326.5" in everything(shop)
    assert UNLISTED in everything(shop)
    assert SHOP_ONLY in everything(shop)
    for hidden in (UNLISTED, SHOP_ONLY, "326.5", archives.TAIL):
        assert hidden not in everything(public)


def test_wood_stands_by_its_lots_with_what_was_cut_from_them(public: SiteView) -> None:
    view = public.across["side-by-side/wood-picea-abies/"]
    assert told(view, "Density") == [
        ("SP09B", "", "380–405"), ("SP09B", f"{LISTED}, top", "390"), ("SP09B", f"{OTHER}, top", "401"),
        ("SP10C", "", "400"),
    ]  # fmt: skip
    assert [(row.which, row.cells[0].text) for _, row in rows(view, "Speed of sound along the grain")] == [
        ("tapped bar", "5620"), ("method not recorded", "5500"),
    ]  # fmt: skip
    # 392.5 x 5620^2 = 12.397e9 and 400 x 5500^2 = 12.1e9; 5620 / 392.5 = 14.32 and 5500 / 400 = 13.75 (to even).
    assert [row.cells[0].text for _, row in rows(view, "Stiffness along the grain")] == ["12.4", "12.1"]
    assert [row.cells[0].text for _, row in rows(view, "Radiation ratio")] == ["14.3", "13.8"]


def test_what_too_few_have_is_said_and_not_left_out_in_silence(public: SiteView) -> None:
    assert any("afterlength" in note for note in public.across[LENGTHS].notes)


def test_too_many_marks_become_lowest_middle_and_highest(
    archive: Archive, monkeypatch: pytest.MonkeyPatch, public: SiteView
) -> None:
    assert charts.CROWDED not in public.across[LENGTHS].notes
    monkeypatch.setattr("passport.views.charts.MOST_MARKS", 1)
    view = project(archive, (), "public").across["side-by-side/violin-4-4-strings-by-model/"]
    assert told(view, "String length") == [("Harrow", "2", "328", "328", "331", "327–329 model")]
    assert charts.CROWDED in view.notes


def test_who_has_the_instruments_of_a_lot_is_told_to_the_shop_alone(public: SiteView, shop: SiteView) -> None:
    lot = next(supply for supply in shop.supplies if supply.id == "SP09B")
    # Who gave it back is not called; by name, and at the end those of which nobody is recorded.
    assert [(call.name, call.contact, [link.text for link in call.instruments]) for call in lot.calls] == [
        (f"{SECRET}-17", "", [f"{OTHER}, renter", f"{LISTED}, owner"]),
        (f"{SECRET}-B", f"{SECRET}-C", [f"{OTHER}, owner"]),
        ("not recorded", "", [UNLISTED, SHOP_ONLY]),
    ]
    batch = next(supply for supply in shop.supplies if supply.id == "OV20-3")
    assert [link.text for call in batch.calls for link in call.instruments] == [f"{LISTED}, owner", UNLISTED]
    assert batch.cautions
    assert not any(supply.calls for supply in public.supplies)
    assert not any(supply.calls for supply in shop.supplies if supply.section == "models")
    assert SECRET not in repr([public.supplies, public.cards])


# A large workshop: cards of many instruments that never were, made from one that is.


def many(card: Card, count: int, first_year: int, years: int) -> Iterator[Card]:
    figures = card.figures
    assert figures is not None
    for number in range(count):
        line = replace(card.line, id=f"N{number:05d}", path=f"N{number:05d}/", first_year=None, last_year=None)
        if number % 50:
            line = replace(line, first_year=first_year + number % years, last_year=first_year + number % years)
        length = Reading("string_length", 327 + number % 40 / 10, f"{327 + number % 40 / 10:.1f}")
        lots = (("top", f"SP{number % 45}"), ("board", f"EB{number % 3}"))
        yield replace(card, line=line, figures=replace(figures, lots=lots, readings=(length,)))


@pytest.fixture
def desk(archive: Archive) -> Desk:
    audience: Audience = "public"
    return Desk(visible(archive, audience), audience, instrument_paths(archive, audience))


def one(site: SiteView) -> Card:
    return next(card for card in site.cards if card.line.id == LISTED)


@pytest.mark.parametrize("by", ["", "-by-lot", "-by-batch", "-by-model"])
def test_every_instrument_is_counted_on_some_leaf_and_no_page_is_too_large(
    desk: Desk, public: SiteView, by: str
) -> None:
    cards = list(many(one(public), 1000, 1931, 61))
    pages = side_by_side(desk, cards).pages
    first = pages[f"side-by-side/violin-4-4-strings{by}/"]
    leaves = [pages[link.path] for link in first.leaves] or [first]
    counted = sum(int(row.of.text) for view in leaves for _, row in rows(view, "String length"))
    # By lot each stands in two columns: that of its top and that of its board.
    assert counted == (2000 if by == "-by-lot" else 1000)
    for view in leaves:
        columns = [group.column.text for group in view.charts[0].table.groups]
        assert len(columns) <= charts.COLUMNS_ON_A_LEAF + 1
        assert view.charts[0].drawing.count("<a ") <= 2 * len(columns)
        assert view.charts[0].drawing.count("<title>") == view.charts[0].drawing.count("</title>")


def test_the_newest_years_stand_on_the_first_leaf_and_those_without_a_year_on_the_last(
    desk: Desk, public: SiteView
) -> None:
    view = side_by_side(desk, list(many(one(public), 200, 1991, 30))).pages[LENGTHS]
    assert [link.text for link in view.leaves] == ["2003 – 2020", "1991 – 2002, no year"]


def test_ten_times_the_instruments_take_about_ten_times_as_long(desk: Desk, public: SiteView) -> None:
    def took(cards: list[Card]) -> float:
        spans = []
        for _ in range(5):
            begun = time.process_time()
            side_by_side(desk, cards)
            spans.append(time.process_time() - begun)
        return min(spans)

    few, more = (list(many(one(public), count, 1990, 30)) for count in (200, 2000))
    assert took(more) < 25 * took(few)


def test_pages_are_named_by_what_they_show_and_by_nothing_else(desk: Desk, public: SiteView) -> None:
    cards = list(many(one(public), 20, 2001, 10))
    before = side_by_side(desk, cards).come_from
    words = [replace(cards[0], words="others", changed="2030-01-01"), *cards[1:]]
    assert side_by_side(desk, words).come_from == before
    figures = cards[0].figures
    assert isinstance(figures, Figures)
    longer = replace(figures, readings=(replace(figures.readings[0], value=330.0, text="330"),))
    changed = side_by_side(desk, [replace(cards[0], figures=longer), *cards[1:]]).come_from
    assert changed[LENGTHS] != before[LENGTHS]
