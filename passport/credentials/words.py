"""What a check of a signed passport says, for the command line and for the page in the browser alike.

The sentences stand in `words.toml` and nowhere else; here they are only filled in.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

LONGEST_SHOWN = 200
NOT_SHOWN = "\N{REPLACEMENT CHARACTER}"


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
    """Name a sentence and what is filled into it; that may be anybody's, so that it cannot steer a terminal."""
    return Said(code, tuple((name, shown(text)) for name, text in facts.items()))


def shown(text: str) -> str:
    """Give a text as it may be shown: cut to a bearable length, without signs that move the reader's eye or cursor."""
    short = text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"
    return "".join(sign if sign.isprintable() else NOT_SHOWN for sign in short)


@cache
def words() -> Mapping[str, str]:
    """Give all sentences by their names: "signature.holds"."""
    tables = tomllib.loads((resources.files(__package__) / "words.toml").read_text(encoding="utf-8"))
    return {f"{table}.{name}": text for table, entries in tables.items() for name, text in entries.items()}
