"""A workshop's folder with the small archive in it, and a way to run commands there."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from tests import archives
from tests.cli.running import Done, Run, exit_status
from tests.cli.secrets import signing


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    def command(*arguments: str) -> Done:
        monkeypatch.setattr(sys, "argv", ["passport", *arguments])
        capsys.readouterr()
        code = exit_status()
        printed = capsys.readouterr()
        assert "Traceback" not in printed.out + printed.err
        return Done(code, printed.out, printed.err)

    return command


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSPORT_DEBUG", raising=False)
    return tmp_path


@pytest.fixture
def shop(empty: Path) -> Path:
    archives.write(empty / "records")
    return empty


@pytest.fixture
def keyed(shop: Path, run: Run, keys_once: Path) -> Path:
    """Give the workshop with a key to sign with; it is made once, since locking it takes its time."""
    if not any(keys_once.iterdir()):
        assert signing(run, "key", "new").code == 0
        shutil.copytree(shop, keys_once, dirs_exist_ok=True)
    else:
        shutil.copytree(keys_once, shop, dirs_exist_ok=True)
    return shop


@pytest.fixture(scope="session")
def keys_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("keyed")
