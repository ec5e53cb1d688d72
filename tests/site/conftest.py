"""The sample site built once, and served below the path of its address."""

from __future__ import annotations

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.site import sample
from tests.site.building import built


@pytest.fixture(scope="session")
def public_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    # The folder bears the path of the sample's address, so that the site is served from below the root.
    return built(sample.PUBLIC, tmp_path_factory.mktemp("host") / "passports")


@pytest.fixture(scope="session")
def shop_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built(sample.SHOP, tmp_path_factory.mktemp("shop") / "passports")


class _Handler(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        """Stay quiet."""

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        if code != http.HTTPStatus.NOT_FOUND:
            super().send_error(code, message, explain)
            return
        page = (Path(self.directory) / "passports" / "404.html").read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(page)))
        self.end_headers()
        self.wfile.write(page)


@pytest.fixture(scope="session")
def address(public_site: Path) -> Iterator[str]:
    handler = functools.partial(_Handler, directory=str(public_site.parent))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/passports/"
    server.shutdown()
    server.server_close()
