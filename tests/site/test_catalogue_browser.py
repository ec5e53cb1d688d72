"""The catalogue in a browser, opened from a folder: it finds what a plain count finds, and the address keeps it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, ViewportSize

from passport.views.site_tree import CatalogueEntry
from tests.site import many
from tests.site.building import built

pytestmark = pytest.mark.browser

MANY = many.site()
WIDE: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 390, "height": 844}
SHOWN_AT_FIRST = 100
MINIMUM_TARGET_PX = 48
CHOICES: tuple[dict[str, list[str]], ...] = (
    {},
    {"kind": ["violin"]},
    {"kind": ["violin", "cello"], "size": ["3/4"]},
    {"year": ["1920s"]},
    {"year": ["2013", "2014"], "hand": ["Åsa Ö"]},
    {"lot": ["SP3", "SP10"], "batch": ["OV2-1"], "status": ["in use"]},
    {"model": ["Lark"], "kind": ["viola"], "size": ["4/4"]},
)


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(MANY, tmp_path_factory.mktemp("many") / "passports")


@pytest.fixture
def catalogue(folder: Path) -> str:
    return (folder / "catalogue" / "index.html").as_uri()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page(viewport=WIDE)
    faults: list[str] = []
    opened.on("pageerror", lambda error: faults.append(str(error)))
    yield opened
    opened.close()
    assert faults == []


def numbers(page: Page) -> list[str]:
    """Every number found, after all of the list has been asked for."""
    while page.locator(".found__more button").is_visible():
        page.click(".found__more button")
    return page.locator(".found__list .id").all_inner_texts()


def counts(page: Page, facet: str) -> dict[str, int]:
    box = page.locator(".facet").filter(has=page.locator(f"input[name={facet}]"))
    everything = box.locator(".facet__all")
    if everything.count() and everything.is_visible() and everything.inner_text() != "Fewer":
        everything.click()
    return {
        line.locator("input").input_value(): int(line.locator(".facet__count").inner_text())
        for line in box.locator("li").all()
    }


@pytest.mark.parametrize("choices", CHOICES, ids=str)
def test_an_address_finds_what_a_plain_count_finds(page: Page, catalogue: str, choices: dict[str, list[str]]) -> None:
    page.goto(f"{catalogue}?{urlencode(choices, doseq=True)}")
    expected = many.found(MANY, choices)
    assert numbers(page) == [line.id for line in expected]
    said = page.inner_text(".found__count")
    assert said.startswith(str(len(expected)) if expected and choices else "All 260" if expected else "No instrument")


@pytest.mark.parametrize("choices", CHOICES, ids=str)
def test_each_count_is_what_choosing_that_value_would_find(
    page: Page, catalogue: str, choices: dict[str, list[str]]
) -> None:
    page.goto(f"{catalogue}?{urlencode(choices, doseq=True)}")
    for facet in ("kind", "size", "year", "model", "hand", "lot", "batch", "status"):
        told = counts(page, facet)
        others = {name: chosen for name, chosen in choices.items() if name != facet}
        assert told == {value: len(many.found(MANY, {**others, facet: [value]})) for value in told}, facet
        if facet != "year":
            possible = {value for line in many.found(MANY, others) for value in many.values(line, facet, 0, 0)}
            assert possible <= set(told)


def test_choosing_writes_the_address_and_going_back_undoes_it(page: Page, catalogue: str) -> None:
    page.goto(catalogue)
    page.check("input[value=violin]")
    page.check("input[value='1/2']")
    assert parse_qs(urlsplit(page.url).query) == {"kind": ["violin"], "size": ["1/2"]}
    assert numbers(page) == [line.id for line in many.found(MANY, {"kind": ["violin"], "size": ["1/2"]})]
    page.go_back()
    assert parse_qs(urlsplit(page.url).query) == {"kind": ["violin"]}
    assert not page.is_checked("input[value='1/2']")
    page.go_back()
    assert page.inner_text(".found__count") == "All 260 instruments"
    page.go_forward()
    assert page.is_checked("input[value=violin]")
    sent = page.url
    page.goto("about:blank")
    page.goto(sent)
    assert numbers(page) == [line.id for line in many.found(MANY, {"kind": ["violin"]})]


def test_from_an_instruments_page_one_comes_back_to_the_same_list(page: Page, folder: Path, catalogue: str) -> None:
    page.goto(f"{catalogue}?kind=violin")
    page.click(".found__more button")
    shown = page.locator(".found__list .id").count()
    assert shown > SHOWN_AT_FIRST
    page.goto((folder / "ZVSPYJH" / "index.html").as_uri())
    page.go_back()
    assert page.locator(".found__list .id").count() == shown


def test_a_decade_opens_its_years_and_a_year_narrows_it_down(page: Page, catalogue: str) -> None:
    page.goto(catalogue)
    assert page.locator("input[name=year][value='2013']").count() == 0
    page.check("input[name=year][value='2010s']")
    assert numbers(page) == [line.id for line in many.found(MANY, {"year": ["2010s"]})]
    page.check("input[name=year][value='2013']")
    assert numbers(page) == [line.id for line in many.found(MANY, {"year": ["2013"]})]
    page.uncheck("input[name=year][value='2010s']")
    assert page.inner_text(".found__count") == "All 260 instruments"
    assert page.locator("input[name=year][value='2013']").count() == 0


def in_order(page: Page, catalogue: str, order: str) -> list[CatalogueEntry]:
    page.goto(catalogue)
    page.select_option("#order", order)
    assert parse_qs(urlsplit(page.url).query) == {"order": [order]}
    lines = {line.id: line for line in many.lines(MANY)}
    found = [lines[number] for number in numbers(page)]
    assert len(found) == len(lines)
    return found


def last_if_missing(words: list[str]) -> bool:
    there = [bool(word) for word in words]
    assert not all(there)
    return there == sorted(there, reverse=True)


@pytest.mark.parametrize("order", ["oldest", "newest"])
def test_the_list_in_order_of_years(page: Page, catalogue: str, order: str) -> None:
    found = in_order(page, catalogue, order)
    exact = [line.first_year for line in found if line.first_year and line.first_year == line.last_year]
    assert exact == sorted(exact, reverse=order == "newest")
    assert last_if_missing([line.year for line in found])


def test_the_list_in_order_of_numbers(page: Page, catalogue: str) -> None:
    found = [line.id for line in in_order(page, catalogue, "number")]
    assert found == sorted(found)


def test_the_list_in_order_of_serials_counts_as_people_do(page: Page, catalogue: str) -> None:
    serials = [line.serial for line in in_order(page, catalogue, "serial")]
    counted = [int(serial.removeprefix("TP ")) for serial in serials if serial]
    assert counted == sorted(counted)
    assert last_if_missing(serials)


def test_the_list_in_order_of_models(page: Page, catalogue: str) -> None:
    models = [line.model for line in in_order(page, catalogue, "model")]
    assert [model for model in models if model] == sorted(model for model in models if model)
    assert last_if_missing(models)


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("tp 88", lambda line: "tp 88" in f"{line.serial} ".lower() or "tp88" in line.serial.lower().replace(" ", "")),
        ("harrow viola", lambda line: line.model == "Harrow" and line.kind == "viola"),
        ("asa o", lambda line: "Åsa Ö" in line.hands),
        ("ov2-1", lambda line: "OV2-1" in line.batches),
        ("nothing at all", lambda _: False),
    ],
)
def test_words_and_numbers_are_found_as_they_are_typed(page: Page, catalogue: str, typed: str, wanted: object) -> None:
    assert callable(wanted)
    page.goto(catalogue)
    page.fill("#words", typed)
    found = set(numbers(page))
    assert {line.id for line in many.lines(MANY) if wanted(line)} <= found
    assert len(found) < many.LINES
    assert bool(found) == any(wanted(line) for line in many.lines(MANY))


def test_a_number_is_found_however_it_is_typed(page: Page, catalogue: str) -> None:
    number = many.lines(MANY)[150].id
    page.goto(catalogue)
    parted = [number[:3], number[3:5], number[5:]]
    for typed in (number, number.lower(), "-".join(parted), " ".join(parted), ".".join(parted)):
        page.fill("#words", typed)
        assert numbers(page) == [number], typed


def test_typing_is_one_step_back(page: Page, catalogue: str) -> None:
    page.goto(catalogue)
    page.check("input[name=kind][value=cello]")
    page.locator("#words").press_sequentially("harrow")
    assert parse_qs(urlsplit(page.url).query) == {"kind": ["cello"], "words": ["harrow"]}
    page.go_back()
    assert parse_qs(urlsplit(page.url).query) == {"kind": ["cello"]}
    assert page.input_value("#words") == ""


def test_clear_takes_every_choice_away_and_keeps_the_keyboards_place(page: Page, catalogue: str) -> None:
    page.goto(f"{catalogue}?kind=violin&words=harrow&order=number")
    page.click(".found__clear")
    assert parse_qs(urlsplit(page.url).query) == {"order": ["number"]}
    assert page.inner_text(".found__count") == "All 260 instruments"
    assert not page.locator(".found__clear").is_visible()
    assert page.evaluate("document.activeElement.className") == "found__count"


def test_it_is_all_done_with_the_keyboard(page: Page, catalogue: str) -> None:
    page.goto(catalogue)
    page.focus("#order")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.value") == "violin"
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement.value") == "violin"
    assert page.get_by_role("group", name="Kind").get_by_role("checkbox", name=re.compile("^violin")).is_checked()
    page.focus(".found__more button")
    page.keyboard.press("Enter")
    hundred_and_first = many.found(MANY, {"kind": ["violin"]})[SHOWN_AT_FIRST]
    assert page.evaluate("document.activeElement.querySelector('.id').textContent") == hundred_and_first.id


def test_the_choice_that_is_being_made_stays_where_it_is(page: Page, catalogue: str) -> None:
    page.goto(f"{catalogue}?kind=cello&size=420%E2%80%AFmm")
    assert page.inner_text(".found__count").startswith("No instrument")
    page.focus("input[name=kind][value=cello]")
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement.value") == "cello"


def test_how_many_are_found_is_said_without_being_asked(page: Page, catalogue: str) -> None:
    page.goto(catalogue)
    assert page.get_by_role("status").first.inner_text() == "All 260 instruments"
    page.check("input[name=kind][value=violin]")
    amount = len(many.found(MANY, {"kind": ["violin"]}))
    assert page.get_by_role("status").first.inner_text() == f"{amount} instruments of 260"
    assert page.inner_text(".found__choices") == "violin"


def test_every_line_leads_to_its_page(page: Page, folder: Path, catalogue: str) -> None:
    page.goto(catalogue)
    first = page.locator(".found__list a").first
    assert first.evaluate("link => link.href") == (folder / many.lines(MANY)[0].id / "index.html").as_uri()


def test_on_a_phone_the_choices_are_folded_away_and_large_enough(browser: Browser, catalogue: str) -> None:
    page = browser.new_page(viewport=PHONE)
    page.goto(f"{catalogue}?kind=violin&kind=cello&year=2013&year=2010s")
    button = page.get_by_role("button", name="Narrow down, 3 chosen")
    assert button.get_attribute("aria-expanded") == "false"
    assert not page.locator(".facet").first.is_visible()
    button.click()
    assert button.get_attribute("aria-expanded") == "true"
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    targets = page.locator(".narrow button, .narrow select, .narrow__words input, .facet label, .found button")
    sizes = [box["height"] for target in targets.all() if (box := target.bounding_box()) is not None]
    assert len(sizes) > 20
    assert min(sizes) >= MINIMUM_TARGET_PX
    page.click(".narrow__close")
    assert not page.locator(".facet").first.is_visible()
    assert page.evaluate("document.activeElement.className") == "found__count"
    page.close()


def test_on_paper_stands_all_that_was_found(page: Page, catalogue: str) -> None:
    page.goto(f"{catalogue}?kind=violin")
    page.emulate_media(media="print")
    page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    assert page.locator(".found__list .id").count() == len(many.found(MANY, {"kind": ["violin"]}))
    assert page.locator(".found__count").is_visible()
    assert not page.locator(".narrow").is_visible()


def test_without_scripts_every_instrument_is_reached_page_by_page(browser: Browser, folder: Path) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto((folder / "catalogue" / "index.html").as_uri())
    assert not page.locator(".narrow").is_visible()
    addresses = [link.get_attribute("href") or "" for link in page.locator(".leaves a").all()]
    found = []
    for address in addresses:
        page.goto((folder / "catalogue" / address / "index.html").resolve().as_uri())
        found += page.locator(".whole .id").all_inner_texts()
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert found == [line.id for line in many.lines(MANY)]
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, WIDE], ids=["phone", "wide"])
def test_axe_finds_nothing_to_object_to(
    browser: Browser, catalogue: str, scheme: Literal["light", "dark"], size: ViewportSize
) -> None:
    page = browser.new_page(viewport=size, color_scheme=scheme)
    page.goto(f"{catalogue}?kind=violin&year=2010s&order=number&words=tp")
    if size == PHONE:
        page.click(".narrow__open")
    assert page.locator(".found__list .id").count() > 10
    found = Axe().run(page)
    assert [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found.response["violations"]] == []
    page.close()
