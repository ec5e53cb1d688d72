"""A passphrase handed to a command the way a script does it."""

from __future__ import annotations

import os
from pathlib import Path

from tests.cli.running import Done, Run

WORDS = "spruce maple ebony glue"


def signing(run: Run, *arguments: str, words: str = WORDS, keys: Path | None = None) -> Done:
    """Run a command that asks for a passphrase."""
    read, write = os.pipe()
    os.write(write, f"{words}\n".encode())
    os.close(write)
    try:
        where = ("--keys", str(keys)) if keys else ("--keys", "keys")
        return run(*arguments, "--passphrase-fd", str(read), *where)
    finally:
        os.close(read)
