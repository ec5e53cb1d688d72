"""Data published beside open standards, where a folder of it is at hand."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest

FOLDER = os.environ.get("PASSPORT_VECTORS", "")


def published(name: str) -> Any:
    """Read one of the files; skips the test where the folder is absent."""
    path = Path(FOLDER) / name
    if not FOLDER or not path.is_file():
        pytest.skip(f"PASSPORT_VECTORS names no folder that holds {name}")
    return json.loads(path.read_text(encoding="utf-8"))
