"""What all tests share: how long hypothesis may take, and a small archive without faults."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

from tests.checks.examples import copied

# No deadline: a machine that is busy is not a fault of the code.
settings.register_profile("passport", deadline=None)
settings.load_profile("passport")


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """Give a copy of the good example archive to break."""
    return copied(tmp_path / "records")
