"""The offline copy in a browser: everything works from a folder, with scripts and without, and no host is asked."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, Page

from passport import mkdocs_plugin
from passport.publish import edition, offline_edition
from tests.archives import DEMO
from tests.conftest import CHROMIUM_ARGUMENTS, chromium
from tests.site.test_browser import PHONE, found

pytestmark = pytest.mark.browser

NUMBER = "ZVSPYJH"
# Loads every picture of the page and gives how wide each is.
WIDTHS = """() => Promise.all(Array.from(document.images, image => {
    image.loading = "eager";
    return image.decode().then(() => image.naturalWidth);
}))"""
CATALOGUE = (
    ".contents a:has-text('Catalogue')",
    f".whole a:has-text('{NUMBER}')",
    "text=Harrow, first",
    ".head__name a",
)
WOOD = (".contents a:has-text('Wood')", "a:has-text('SP09B')", f"a:has-text('{NUMBER}')", "text=how to read a passport")


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("offline")
    shutil.copytree(DEMO, made / "records")
    mkdocs_plugin.build(offline_edition(edition(made / "records", "public")), made / "records", made / "copy")
    # As it would be carried away: under another name, without anything beside it.
    return (made / "copy").rename(tmp_path_factory.mktemp("stick") / "Archive of a workshop #1 (100 %)")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page(viewport=PHONE)
    schemes: set[str] = set()
    faults: list[str] = []
    opened.on("request", lambda request: schemes.add(urlsplit(request.url).scheme))
    opened.on("pageerror", lambda error: faults.append(str(error)))
    yield opened
    opened.close()
    assert schemes <= {"file", "data", "blob"}
    assert faults == []


def test_what_is_searched_for_is_found_and_opened(page: Page, copy: Path) -> None:
    page.goto((copy / "care" / "index.html").as_uri())
    assert found(page, NUMBER)[0].startswith(NUMBER)
    link = page.locator(".md-search-result__link").first
    assert urlsplit(link.get_attribute("href") or "").path.endswith(f"{NUMBER}/index.html")
    link.click()
    page.wait_for_url(f"{(copy / NUMBER / 'index.html').as_uri()}*")


def test_a_typed_number_opens_its_page(page: Page, copy: Path) -> None:
    page.goto((copy / "index.html").as_uri())
    page.fill("#number", "zvs-pyj-h")
    page.press("#number", "Enter")
    page.wait_for_url((copy / NUMBER / "index.html").as_uri())
    page.goto((copy / "index.html").as_uri())
    page.fill("#number", "ZVSPYJ2")
    page.press("#number", "Enter")
    page.locator(".near a").first.click()
    page.wait_for_url((copy / NUMBER / "index.html").as_uri())


def test_the_catalogue_is_narrowed_down_and_its_address_can_be_opened_again(page: Page, copy: Path) -> None:
    page.goto((copy / NUMBER / "index.html").as_uri())
    page.click("text=made in 2021")
    page.wait_for_url("**/catalogue/index.html?year=2021")
    assert page.locator(".found__list .id").all_inner_texts()[0] == NUMBER
    page.click(".narrow__open")
    page.check("input[name=kind][value=violin]")
    assert parse_qs(urlsplit(page.url).query) == {"year": ["2021"], "kind": ["violin"]}
    page.locator(".found__list a").first.click()
    page.wait_for_url((copy / NUMBER / "index.html").as_uri())
    page.go_back()
    assert page.inner_text(".found__choices") == "violin; 2021"


def test_pictures_are_shown(page: Page, copy: Path) -> None:
    page.goto((copy / NUMBER / "index.html").as_uri())
    widths = page.evaluate(WIDTHS)
    assert len(widths) > 1
    assert all(width > 0 for width in widths)


def test_without_scripts_every_page_is_reached_by_links_alone(browser: Browser, copy: Path) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    page = context.new_page()
    for steps in (CATALOGUE, WOOD):
        page.goto((copy / "index.html").as_uri())
        for step in steps:
            page.locator(step).first.click()
            page.wait_for_load_state()
            assert page.url.startswith(copy.as_uri())
            assert urlsplit(page.url).path.endswith("/index.html")
            assert page.locator("h1").count() == 1
    context.close()


def hosts_asked_by_pages(log: Path) -> set[str]:
    """The hosts that pages opened from files asked for, by Chromium's own record, not its own."""
    events = [event.get("params", {}) for event in json.loads(log.read_text(encoding="utf-8"))["events"]]
    by_page = [
        params
        for params in events
        if any("file://" in params.get(key, "") for key in ("network_isolation_key", "network_anonymization_key"))
    ]
    urls = [params.get("url") or params.get("host") or "" for params in by_page]
    return {urlsplit(url).netloc for url in urls if urlsplit(url).scheme not in ("file", "data", "blob")} - {""}


def test_chromium_itself_records_no_request_to_any_host(browser: Browser, copy: Path, tmp_path: Path) -> None:
    asking = tmp_path / "asking.html"
    asking.write_text('<!doctype html><title>x</title><img src="http://asked.invalid/x.png" alt="">', encoding="utf-8")
    log = tmp_path / "net.json"
    arguments = [*CHROMIUM_ARGUMENTS, f"--log-net-log={log}"]
    running = browser.browser_type.launch(executable_path=chromium(), args=arguments)
    page = running.new_page()
    page.goto(asking.as_uri())
    for name in ("index.html", f"{NUMBER}/index.html", "catalogue/index.html?kind=violin", "wood/index.html"):
        page.goto(f"{copy.as_uri()}/{name}")
        page.focus("#query")
        page.wait_for_timeout(200)
    running.close()
    # What would be seen is seen: the one page that does ask is in the record, and nothing else.
    assert hosts_asked_by_pages(log) == {"asked.invalid"}
