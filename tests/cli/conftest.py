"""A workshop's folder with the small archive in it, and a way to run commands there."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests import archives
from tests.cli.running import Done, Run, exit_status


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
