"""The door to the tables of data/ that are kept as CSV."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib import resources


def rows_of(name: str) -> Iterator[dict[str, str]]:
    """Give the rows of a table by its file's name, each by the heads of its columns."""
    text = (resources.files(__package__) / "data" / name).read_text(encoding="utf-8")
    return csv.DictReader(text.splitlines())
