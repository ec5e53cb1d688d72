"""The two streams of the terminal.

Colour only where a person reads; UTF-8 everywhere.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from io import TextIOWrapper

from rich.console import Console

GAP = "  "

out = Console(highlight=False, soft_wrap=True)
err = Console(stderr=True, highlight=False, soft_wrap=True)


def aligned(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Set rows of a table as lines, each column as wide as its widest cell."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        yield GAP.join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()


def use_utf8() -> None:
    """Write UTF-8 whatever the terminal's own table of letters: on Windows it may lack the arrows and dashes."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
