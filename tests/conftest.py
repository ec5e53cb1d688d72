"""What all tests share: how long hypothesis may take, a small archive without faults, and one browser."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser

from tests.checks.examples import copied

CHROMIUM_ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
REQUIRED = os.environ.get("PASSPORT_REQUIRE_BROWSER") == "1"

# No deadline: a machine that is busy is not a fault of the code.
settings.register_profile("passport", deadline=None)
settings.load_profile("passport")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """Give a copy of the good example archive to break."""
    return copied(tmp_path / "records")


def chromium() -> str | None:
    """Where Chromium is on this machine."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Give the one browser of a test run: playwright refuses a second one beside it in the same process."""
    found = chromium()
    if found is None:
        (pytest.fail if REQUIRED else pytest.skip)("no Chromium on this machine")
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with sync_api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=found, args=CHROMIUM_ARGUMENTS)
        yield running
        running.close()
