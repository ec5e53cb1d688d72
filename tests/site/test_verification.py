"""The verification page in Chromium: the same answers, word for word, as the command; from a server and a folder."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from passport.credentials.given import File
from passport.credentials.known import Known, for_page
from passport.credentials.verifying import Report, verify
from passport.credentials.words import say, shown, words
from passport.site.pages import Press
from passport.site.verification import verification_page
from passport.views.tree import WorkshopView
from tests.conftest import CHROMIUM_ARGUMENTS, chromium
from tests.credentials.cases import CASES, KNOWN, NOTHING_KNOWN, OLD_LIST, THREE, json_file
from tests.site.test_access import LEAST_TARGET_PX, RULES, served

PRESS = Press({}, WorkshopView("Tamm & Penn", "Harrowmere", "Lower Lane 3", "https://tamm-penn.example/"), "public")
LISTS = {"known": KNOWN, "nothing": NOTHING_KNOWN, "old": OLD_LIST}
REPORTS = """() => Array.from(document.querySelectorAll(".report"), report => ({
    file: report.querySelector("h2").textContent,
    verdict: (report.querySelector(".verdict") || {}).textContent || "",
    steps: Array.from(report.querySelectorAll(".steps > div"), step =>
        ["dt", "b", "span"].map(part => step.querySelector(part).textContent)),
}))"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page for each list of what is known, in a folder of its own."""
    made = tmp_path_factory.mktemp("pages")
    for name, known in LISTS.items():
        path, content = verification_page(PRESS, for_page(known))
        (made / name / path).parent.mkdir(parents=True)
        (made / name / path).write_bytes(content)
    return made


@pytest.fixture(scope="module")
def local(folder: Path) -> Iterator[str]:
    with served(folder) as address:
        yield address.replace("127.0.0.1", "localhost")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A phone's page that must ask nobody for anything and throw nothing."""
    opened = browser.new_page(viewport={"width": 390, "height": 844})
    asked: list[str] = []
    faults: list[str] = []
    opened.on("request", lambda request: asked.append(request.url))
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    yield opened
    opened.close()
    # The pages themselves, and the pictures that were given.
    assert [url for url in asked if not url.startswith(("blob:", "data:")) and "/verify/" not in url] == []
    assert faults == []


def given(page: Page, files: tuple[File, ...]) -> list[dict[str, Any]]:
    """Choose files on the open page, and read what it says of them."""
    page.evaluate("() => { document.getElementById('status').textContent = ''; }")
    page.set_input_files(
        "#files",
        [{"name": file.name, "mimeType": "application/octet-stream", "buffer": file.content} for file in files],
    )
    page.wait_for_function(
        "beginning => document.getElementById('status').textContent.includes(beginning)",
        arg=words()["page.done"].partition("{")[0],
    )
    found: list[dict[str, Any]] = page.evaluate(REPORTS)
    return found


def as_shown(report: Report) -> dict[str, Any]:
    return {
        "file": shown(report.file),
        "verdict": report.verdict.text if report.verdict else "",
        "steps": [
            [say(f"step.{step.name}").text, say(f"result.{step.result}").text, step.said.text] for step in report.steps
        ],
    }


def opened(page: Page, address: str, known: Known) -> None:
    name = next(name for name, each in LISTS.items() if each is known)
    page.goto(f"{address}{name}/verify/index.html")
    page.wait_for_selector("html[data-ready]")


@pytest.mark.browser
@pytest.mark.parametrize("place", ["local", "folder"])
def test_the_page_says_what_the_command_says(
    page: Page, request: pytest.FixtureRequest, folder: Path, place: str
) -> None:
    address = request.getfixturevalue("local") if place == "local" else f"{folder.as_uri()}/"
    said: dict[str, Any] = {}
    wanted: dict[str, Any] = {}
    for name, (known, files, _) in CASES.items():
        opened(page, address, known)
        said[name] = given(page, files)
        wanted[name] = [as_shown(report) for report in verify(files, known)]
    assert said == wanted


@pytest.mark.browser
def test_only_what_was_signed_is_shown(page: Page, local: str) -> None:
    opened(page, local, KNOWN)
    known, files, _ = CASES["an altered value"]
    given(page, files)
    assert "329 mm" not in page.inner_text("body")
    assert page.locator("details").count() == 0
    known, files, _ = CASES["a context added after signing"]
    assert known is KNOWN
    given(page, files)
    assert "elsewhere" not in page.content()
    page.click("summary")
    assert "328 mm" in page.inner_text("details")


@pytest.mark.browser
def test_words_of_others_stay_words(page: Page, local: str) -> None:
    known, files, _ = CASES["words that would steer a terminal or a page"]
    opened(page, local, known)
    given(page, files)
    assert page.evaluate("document.scripts.length") == 2
    assert "<script>alert(1)</script>" in page.inner_text(".heading")


@pytest.mark.browser
def test_several_files_are_dropped_together(page: Page, local: str) -> None:
    known, files, _ = CASES["a good passport with all its pictures"]
    opened(page, local, known)
    page.evaluate(
        """files => {
            const data = new DataTransfer();
            for (const [name, bytes] of files) data.items.add(new File([new Uint8Array(bytes)], name));
            document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
        }""",
        [[file.name, list(file.content)] for file in files],
    )
    page.wait_for_selector(".report")
    assert page.evaluate(REPORTS) == [as_shown(report) for report in verify(files, known)]
    assert page.evaluate("document.activeElement.textContent") == "ZVSPYJH-003.json"
    assert page.locator(".pictures img").count() == 2


@pytest.mark.browser
def test_an_address_that_is_not_secure_is_said_to_be_so(browser: Browser, folder: Path) -> None:
    # A name that is not the machine's own, over plain http: no secure context (W3C Secure Contexts, section 3.1).
    rules = "--host-resolver-rules=MAP workshop.test 127.0.0.1"
    other = browser.browser_type.launch(executable_path=chromium(), args=[*CHROMIUM_ARGUMENTS, rules])
    with served(folder) as address:
        page = other.new_page()
        port = urlsplit(address).port
        page.goto(f"http://workshop.test:{port}/known/verify/index.html")
        assert page.evaluate("window.isSecureContext") is False
        assert page.inner_text("#status") == words()["page.insecure"]
        assert page.is_disabled("#files")
    other.close()


@pytest.mark.browser
def test_a_browser_without_ed25519_is_said_to_be_one(page: Page, local: str) -> None:
    page.add_init_script("crypto.subtle.importKey = () => Promise.reject(new DOMException('no', 'NotSupportedError'));")
    page.goto(f"{local}known/verify/index.html")
    page.wait_for_function("text => document.getElementById('status').textContent === text", arg=words()["page.old"])
    assert page.is_disabled("#files")


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_axe_finds_nothing_and_nothing_sticks_out(browser: Browser, local: str, scheme: Any, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True)
    page = context.new_page()
    for name in ("a good passport with all its pictures", "an altered value", "cut short"):
        known, files, _ = CASES[name]
        opened(page, local, known)
        for stage in ("empty", "filled"):
            if stage == "filled":
                given(page, files)
                page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true; })")
            found = Axe().run(page, options={"runOnly": RULES})
            assert [fault["id"] for fault in found.response["violations"]] == [], (name, stage)
            assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()


@pytest.mark.browser
def test_it_is_used_by_keyboard_alone(page: Page, local: str) -> None:
    opened(page, local, KNOWN)
    reached = []
    for _ in range(3):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.tagName"))
    assert {"back", "files"} <= set(reached)
    box = page.locator("#files").bounding_box()
    assert box is not None
    assert box["height"] >= LEAST_TARGET_PX
    given(page, (json_file(THREE),))
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"
    page.keyboard.press("Enter")
    assert page.locator("details[open]").count() == 1


@pytest.mark.browser
def test_the_policy_of_the_page_stops_every_other_script(browser: Browser, folder: Path) -> None:
    path = folder / "known" / "verify" / "index.html"
    altered = folder / "altered" / "verify" / "index.html"
    altered.parent.mkdir(parents=True)
    text = path.read_text(encoding="utf-8")
    altered.write_text(
        text.replace("</main>", "<script>document.title = 'taken over'</script></main>"), encoding="utf-8"
    )
    messages: list[str] = []
    other = browser.new_page()
    other.on("console", lambda message: messages.append(message.text))
    other.goto(altered.as_uri())
    assert "taken over" not in other.title()
    assert any("Content Security Policy" in message for message in messages)
    refused = other.evaluate("fetch('data:,x').then(() => 'asked', () => 'refused')")
    assert refused == "refused"
    other.close()


def test_the_page_is_one_file_that_names_no_other(folder: Path) -> None:
    text = (folder / "known" / "verify" / "index.html").read_text(encoding="utf-8")
    assert re.findall(r"""\b(?:src|href)=["']([^"']*)""", text) == ["data:,", "../"]
    assert not re.search(r"\b(?:fetch|XMLHttpRequest|WebSocket|import)\s*\(|type=.module", text)
    assert len(text.encode()) < 80_000


def test_what_is_known_cannot_end_the_script_it_stands_in() -> None:
    hostile = Known(LISTS["known"].statements, {"</script><script>": LISTS["known"].issues[next(iter(KNOWN.issues))]})
    assert "<" not in for_page(hostile)
