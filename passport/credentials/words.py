"""What a check of a signed passport says, for the command line and for the page in the browser alike.

The sentences stand in `words.toml` and nowhere else; here they are only filled in.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources


@dataclass(frozen=True)
class Said:
    """One sentence, by its name in `words.toml`, with what is filled into it."""

    code: str
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def text(self) -> str:
        """Give the sentence."""
        return words()[self.code].format(**dict(self.facts))


class RefusedError(Exception):
    """What was given cannot be what it should be; `said` tells why. Never leaves this room."""

    def __init__(self, code: str, **facts: str) -> None:
        super().__init__(code)
        self.said = say(code, **facts)


def say(code: str, **facts: str) -> Said:
    """Name a sentence and what is filled into it."""
    return Said(code, tuple(facts.items()))


@cache
def words() -> Mapping[str, str]:
    """Give all sentences by their names: "signature.holds"."""
    tables = tomllib.loads((resources.files(__package__) / "words.toml").read_text(encoding="utf-8"))
    return {f"{table}.{name}": text for table, entries in tables.items() for name, text in entries.items()}
