"""Writing while the site is shown: a saved record is on its page at once, a broken one says there what is wrong."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import Browser, Page

from tests import archives
from tests.archives import LISTED, OTHER

pytestmark = pytest.mark.browser
# Long enough for the slowest machine; how long it takes is measured by the benchmark.
PATIENCE_MS = 30_000


@dataclass(frozen=True)
class Desk:
    """An archive that is being shown: its records, and the address it is shown at."""

    root: Path
    address: str

    def save(self, name: str, text: str) -> None:
        (self.root / name).write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    folder = tmp_path_factory.mktemp("desk")
    root = archives.write(folder / "records")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        at = f"127.0.0.1:{free.getsockname()[1]}"
    command = [sys.executable, "-m", "passport", "serve", "--at", at]
    environment = {**os.environ, "PYTHONPATH": str(archives.ROOT)}
    with (folder / "said.txt").open("w", encoding="utf-8") as said:
        running = subprocess.Popen(command, cwd=folder, env=environment, stdout=said, stderr=said)  # noqa: S603
        try:
            await_answer(f"http://{at}/", running)
            yield Desk(root, f"http://{at}/")
        finally:
            running.terminate()
            running.wait()


def await_answer(address: str, running: subprocess.Popen[bytes]) -> None:
    for _ in range(PATIENCE_MS // 100):
        with suppress(URLError), urlopen(address):  # noqa: S310 - our own server
            return
        assert running.poll() is None, "the server ended"
        time.sleep(0.1)
    pytest.fail("the server did not answer")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    made = browser.new_page()
    made.set_default_timeout(PATIENCE_MS)
    yield made
    made.close()


def awaited(page: Page, words: str) -> None:
    """Wait until words stand on the page, which nobody reloads by hand."""
    page.wait_for_function("words => document.body?.innerText.includes(words)", arg=words, timeout=PATIENCE_MS)


def test_a_saved_record_is_on_its_page_without_a_hand_on_it(desk: Desk, page: Page) -> None:
    page.goto(f"{desk.address}{LISTED}/")
    desk.save(f"instruments/{LISTED}.yml", archives.VIOLIN.replace("TP 88", "TP 888"))
    awaited(page, "TP 888")
    desk.save(f"instruments/{LISTED}.yml", archives.VIOLIN)
    awaited(page, "serial TP 88")


def test_a_record_with_an_error_says_on_its_page_what_is_wrong(desk: Desk, page: Page) -> None:
    page.goto(f"{desk.address}{LISTED}/")
    desk.save(f"instruments/{LISTED}.yml", archives.VIOLIN.replace("string_length: 328\n", "string_length: 32o8\n"))
    awaited(page, "bad-unit")
    page.goto(f"{desk.address}findings/")
    assert page.locator(".findings li").count() == 1
    page.click("main h2 a")
    page.wait_for_selector("h2#findings", state="attached")
    desk.save(f"instruments/{LISTED}.yml", archives.VIOLIN)
    page.wait_for_function("() => document.body && !document.body.innerText.includes('bad-unit')", timeout=PATIENCE_MS)


def test_a_record_that_cannot_be_read_has_a_page_that_says_so_and_comes_back(desk: Desk, page: Page) -> None:
    page.goto(f"{desk.address}{OTHER}/")
    desk.save(f"instruments/{OTHER}.yml", archives.SECOND.replace("kind: violin", "kind: [violin"))
    awaited(page, "cannot be read")
    assert "broken-yaml" in page.inner_text("main")
    page.goto(f"{desk.address}{LISTED}/")
    assert "TP 88" in page.inner_text("h1 ~ .title-facts")
    page.goto(f"{desk.address}{OTHER}/")
    desk.save(f"instruments/{OTHER}.yml", archives.SECOND)
    page.wait_for_function(
        "() => document.body && !document.body.innerText.includes('cannot be read')", timeout=PATIENCE_MS
    )


def test_even_without_the_workshops_own_record_the_server_goes_on(desk: Desk, page: Page) -> None:
    page.goto(f"{desk.address}findings/")
    desk.save("workshop.yml", "name: [Tamm\n")
    awaited(page, "workshop.yml")
    desk.save("workshop.yml", archives.WORKSHOP)
    page.wait_for_function("() => document.body?.innerText.includes('Nothing to mend')", timeout=PATIENCE_MS)
