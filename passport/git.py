"""Which files version control keeps; asks git and nothing else.

Where there is no git, or no folder of its own, no file is kept.
"""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

# Git answers at once; what takes longer is a disk that is not there.
PATIENCE_S = 10


def tracked(folder: Path, *names: str) -> tuple[str, ...]:
    """Give the files below these names in a folder that git keeps, in order, as written from that folder."""
    git = shutil.which("git")
    if git is None or not folder.is_dir():
        return ()
    try:
        found = subprocess.run(  # noqa: S603 - fixed words, and names of our own
            [git, "-C", str(folder), "ls-files", "-z", "--", *names],
            capture_output=True,
            check=False,
            timeout=PATIENCE_S,
        )
    except (OSError, subprocess.TimeoutExpired):
        return ()
    return tuple(name.decode("utf-8", "replace") for name in found.stdout.split(b"\0") if name)
