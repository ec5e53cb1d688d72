"""The main road from end to end: a label decoded from its PDF opens its page on a phone, set-up first."""

from __future__ import annotations

import functools
import http.server
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pypdfium2
import pytest
import zxingcpp
from playwright.sync_api import Browser

from passport.labels import finished_sheet
from passport.records.catalogue import load
from passport.stocks import find_stock
from passport.views.project import case_label
from tests import archives

HOST = "passports.tammpenn-harrowmere.net"
# A violin, the returned cello, a five-string bass, one of ten alike, the unlisted viola.
NUMBERS = ("ZVSPYJH", "YXSP8BQ", "PB8ANDH", "H455KQD", "HHK53U9")


@pytest.fixture(scope="module")
def records(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo archive with an address that a label may bear."""
    root = tmp_path_factory.mktemp("workshop") / "records"
    shutil.copytree(archives.DEMO, root)
    workshop = root / "workshop.yml"
    workshop.write_text(workshop.read_text(encoding="utf-8").replace("tamm-penn.example", HOST), encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def served(records: Path) -> Iterator[str]:
    out = records.parent / "site"
    archives.build(records, out)
    handler = functools.partial(_Quiet, directory=str(out))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        """Stay quiet."""


def decoded(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        pictures = [page.render(scale=300 / 72, grayscale=True).to_pil() for page in document]
    finally:
        document.close()
    return [found.text for picture in pictures for found in zxingcpp.read_barcodes(picture)]


@pytest.mark.browser
def test_the_code_on_a_label_leads_to_the_reference_set_up_in_the_first_screen_of_a_phone(
    records: Path, served: str, browser: Browser
) -> None:
    archive = load(records)
    sheet = finished_sheet([case_label(archive, number) for number in NUMBERS], find_stock("70x36"))
    addresses = decoded(sheet)
    assert len(addresses) == len(NUMBERS)
    page = browser.new_page(viewport={"width": 390, "height": 844})
    for address in addresses:
        parts = urlsplit(address)
        assert parts.netloc.lower() == HOST
        answer = page.goto(served + parts.path)
        assert answer is not None
        assert answer.status == 200
        shown = page.locator(".headline dl").bounding_box()
        assert shown is not None
        assert shown["y"] + shown["height"] <= 844, address
        assert page.locator(".headline-then").count() >= 5
    page.close()
