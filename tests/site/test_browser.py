"""What only a browser can show: search, the typed number, the first screen of a phone."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest
from playwright.sync_api import Browser, Page, ViewportSize
from stdnum.iso7064 import mod_37_2

from passport.site import search
from passport.views.tree import InstrumentView
from tests.site import sample

pytestmark = pytest.mark.browser

PHONE: ViewportSize = {"width": 390, "height": 844}
MINIMUM_TARGET_PX = 48
# Follows a link a moment later, so that the script ends before its page does.
FOLLOW = """target => {
    const link = document.body.appendChild(document.createElement("a"));
    link.href = target;
    setTimeout(() => link.click());
}"""
LOST = ("zvspyjh/", "ZVS-PYJ-H/", "zvs.pyjh", "ZVS%20PYJ%20H/", "wood/ZVSPYJ/", "a/b/c/ZVSPYHJ/index.html")
LOST_UNLISTED = (
    "98RHKVD/", "98rhkv/", "98-RHK-VD/", "98RHKVD-Q7WK2M9XTB4RZ5HNK/", "98RHKVD-Q7WK2M9XTB4RZ5HN/",
)  # fmt: skip


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    page = browser.new_page(viewport=PHONE)
    yield page
    page.close()


def found(page: Page, query: str) -> list[str]:
    page.fill("#query", "")
    page.locator("#query").press_sequentially(query)
    page.wait_for_function(
        "q => document.querySelector('.md-search-result__meta').textContent.match(/found/i)", arg=query
    )
    page.wait_for_timeout(300)
    return page.locator(".md-search-result__item h1").all_inner_texts()


@pytest.mark.parametrize("query", ["ZVSPYJH", "zvs-pyjh", "TP 88"])
def test_an_exact_number_or_serial_comes_first(phone: Page, address: str, query: str) -> None:
    phone.goto(f"{address}wood/SP09B/")
    assert found(phone, query)[0].startswith("ZVSPYJH · TP 88 · Violin 4/4")


def test_search_finds_nothing_unlisted(phone: Page, address: str) -> None:
    phone.goto(address)
    assert found(phone, sample.UNLISTED.id) == []
    assert "Nothing found" in phone.inner_text(".md-search-result__meta")


@pytest.mark.parametrize("view", [sample.VIOLIN, sample.CELLO, sample.WITHDRAWN], ids=lambda view: view.id)
def test_the_reference_set_up_stands_in_the_first_screen_of_a_phone(
    phone: Page, address: str, view: InstrumentView
) -> None:
    phone.goto(address + view.path)
    figures = phone.locator(".headline-then").all()
    assert len(figures) == 5
    for figure in figures:
        box = figure.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= PHONE["height"]


def test_nothing_is_wider_than_a_phone_and_targets_are_large(phone: Page, address: str) -> None:
    for path in ("", "catalogue/", "ZVSPYJH/", "wood/SP09B/", "varnish/", "care/"):
        phone.goto(address + path)
        assert phone.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], path
    phone.goto(address)
    phone.click(".head__contents")
    for target in phone.locator(".head a, .contents a, .number button, .search__field").all():
        box = target.bounding_box()
        assert box is not None
        assert box["height"] >= MINIMUM_TARGET_PX


def test_the_wide_table_says_that_it_scrolls_and_takes_the_keyboard(phone: Page, address: str) -> None:
    phone.goto(f"{address}ZVSPYJH/")
    box = phone.locator(".scroll.is-wide").filter(has=phone.locator(".coats"))
    assert box.get_attribute("tabindex") == "0"
    assert "scrolls" in box.evaluate("e => getComputedStyle(e, '::before').content")


def test_the_box_mends_what_was_typed_and_opens_the_page(phone: Page, address: str) -> None:
    phone.goto(address)
    phone.fill("#number", "zvs pyj-h")
    phone.press("#number", "Enter")
    phone.wait_for_url(f"{address}ZVSPYJH/")


def test_the_box_checks_the_last_character_as_iso_7064_does(phone: Page, address: str) -> None:
    phone.goto(address)
    for body in ("ZVSPYJ", "NHPM4N", "98RHKV"):
        right = body + mod_37_2.calc_check_digit(body)
        for last in set("2345678ZYX") - {right[-1]}:
            phone.fill("#number", body + last)
            phone.press("#number", "Enter")
            assert "does not agree" in phone.inner_text("#number-answer")
        phone.fill("#number", right)
        phone.press("#number", "Enter")
        phone.wait_for_url(f"{address}{right}/")
        phone.goto(address)


def test_the_box_explains_letters_that_never_occur_and_offers_near_numbers(phone: Page, address: str) -> None:
    phone.goto(address)
    phone.fill("#number", "ZVSPY1H")
    phone.press("#number", "Enter")
    assert "1 does not occur in a number" in phone.inner_text("#number-answer")
    assert phone.locator("#number-answer a .id").all_inner_texts() == ["ZVSPYJH"]


def test_a_lost_visitor_is_offered_near_numbers(phone: Page, address: str) -> None:
    phone.goto(f"{address}ZVSPJYH/")
    link = phone.locator(".near a")
    assert link.get_attribute("href") == "/passports/ZVSPYJH/"
    phone.goto(f"{address}{sample.UNLISTED.id}/")
    assert phone.locator(".near a").count() == 0


@pytest.mark.parametrize("asked", LOST)
def test_a_lost_number_is_understood_at_any_depth_however_it_is_typed(phone: Page, address: str, asked: str) -> None:
    phone.goto(address + asked)
    assert phone.locator(".near a").first.get_attribute("href") == "/passports/ZVSPYJH/"
    # The page is dressed, wherever it is shown.
    assert "Passport Words" in phone.evaluate("getComputedStyle(document.body).fontFamily")
    phone.locator(".near a").first.click()
    phone.wait_for_url(f"{address}ZVSPYJH/")


@pytest.mark.parametrize("asked", LOST_UNLISTED)
def test_a_lost_visitor_learns_nothing_of_an_unlisted_number(phone: Page, address: str, asked: str) -> None:
    phone.goto(address + asked)
    assert phone.locator(".near a").count() == 0
    assert "98RHKV" not in phone.inner_text("#content").upper()


def test_the_not_found_page_opened_from_a_folder_leads_to_the_first_page(phone: Page, public_site: Path) -> None:
    phone.goto((public_site / "404.html").as_uri())
    phone.wait_for_url((public_site / "index.html").as_uri())
    assert phone.locator("#number").is_visible()


def test_an_unlisted_page_tells_no_other_page_where_one_came_from(browser: Browser, address: str) -> None:
    own = address + sample.UNLISTED.path
    page = browser.new_page(viewport=PHONE)
    told: list[str] = []
    page.on("request", lambda request: told.append(request.headers.get("referer", "")))
    page.goto(own)
    links = [urljoin(own, link.get_attribute("href") or "") for link in page.locator("a[href]").all()]
    elsewhere = {link for link in links if urlsplit(link)._replace(fragment="").geturl() != own}
    assert len(elsewhere) > 8
    for target in sorted(elsewhere):
        page.goto(own)
        page.evaluate(FOLLOW, target)
        page.wait_for_url(target)
        assert page.evaluate("document.referrer") == "", target
    page.close()
    assert len(told) > 20
    assert not any(sample.UNLISTED.path in referrer for referrer in told)


def test_no_page_asks_another_host_or_logs_an_error(browser: Browser, address: str) -> None:
    page = browser.new_page()
    hosts: set[str] = set()
    faults: list[str] = []
    page.on("request", lambda request: hosts.add(urlsplit(request.url).netloc))
    page.on("pageerror", lambda error: faults.append(str(error)))
    for path in ("", "ZVSPYJH/", "catalogue/", "models/harrow-1/", "nowhere/"):
        page.goto(address + path)
        page.focus("#query")
        page.wait_for_timeout(100)
    page.close()
    assert hosts == {urlsplit(address).netloc}
    assert faults == []


def test_the_page_reads_without_scripts(browser: Browser, address: str) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    page.goto(address)
    assert page.locator("noscript a").get_attribute("href") == "catalogue/"
    assert page.locator(".head__links a").first.is_visible()
    context.close()


def test_a_copy_opened_from_a_folder_is_searched_and_asks_no_host(
    browser: Browser, public_site: Path, tmp_path: Path
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(public_site, copy)
    index = copy / "search" / "search_index.json"
    index.with_suffix(".js").write_bytes(search.as_script(index.read_bytes()))
    page = browser.new_page(viewport=PHONE)
    schemes: set[str] = set()
    page.on("request", lambda request: schemes.add(urlsplit(request.url).scheme))
    page.goto((copy / "NHPM4NB" / "index.html").as_uri())
    assert found(page, "ZVSPYJH")[0].startswith("ZVSPYJH")
    page.locator(".md-search-result__link").first.click()
    page.wait_for_url((copy / "ZVSPYJH" / "index.html").as_uri() + "*")
    page.goto((copy / "index.html").as_uri())
    page.fill("#number", "NHPM4NB")
    page.press("#number", "Enter")
    page.wait_for_url((copy / "NHPM4NB" / "index.html").as_uri())
    page.close()
    assert schemes == {"file"}
