"""Runs the command line inside the test, as `main` does, or as a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from passport.cli import main


@dataclass(frozen=True)
class Done:
    """What a command gave: its exit status and what it printed."""

    code: int
    out: str
    err: str


Run = Callable[..., Done]


def as_process(folder: Path, *arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    kept = {name: value for name, value in os.environ.items() if name not in ("FORCE_COLOR", "PASSPORT_DEBUG")}
    command = [sys.executable, "-m", "passport", *arguments]
    return subprocess.run(command, cwd=folder, capture_output=True, check=False, env={**kept, **environment})  # noqa: S603 - our own arguments


def exit_status() -> int:
    """Run `main` on the arguments that are set, and give its exit status."""
    try:
        main()
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    return 0
