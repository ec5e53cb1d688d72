"""How far a measure may move before one looks or acts, what work starts it anew, and what changes most likely mean.

Look-up only, from `data/drift.toml`. Common practice, no source.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType

EVERY_FIELD = "all"


@dataclass(frozen=True)
class Limits:
    """When a change is looked at and when it is acted on, and the standard uncertainty of the way of measuring.

    In the unit of the quantity; `act` is None where nobody acts on this change alone. `per_moisture_pct` is what one
    per cent of moisture in the wood does to it, None where no rule says.
    """

    look: float
    method: float
    act: float | None = None
    per_moisture_pct: float | None = None


@dataclass(frozen=True)
class AssumedGauge:
    """What a gauge is taken to be where none is known: in words, and its standard uncertainty."""

    what: str
    uncertainty: float


@dataclass(frozen=True)
class Reading:
    """What a pattern of changes most likely means, and what to measure next; `when` is (quantity, how it stands)."""

    name: str
    says: str
    next: str
    when: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class _Tables:
    source: str
    limits: Mapping[str, Mapping[str, Limits]]
    assumed: Mapping[str, AssumedGauge]
    work: Mapping[str, frozenset[str]]
    pieces: Mapping[str, frozenset[str]]
    readings: tuple[Reading, ...]


@cache
def _tables() -> _Tables:
    told = tomllib.loads((resources.files(__package__) / "data" / "drift.toml").read_text(encoding="utf-8"))
    return _Tables(
        source=told["source"],
        limits={kind: {name: Limits(**row) for name, row in rows.items()} for kind, rows in told["limits"].items()},
        assumed={unit: AssumedGauge(**row) for unit, row in told["assumed"].items()},
        work={event: frozenset(fields) for event, fields in told["work"].items()},
        pieces={piece: frozenset(fields) for piece, fields in told["pieces"].items()},
        readings=tuple(Reading(**{**row, "when": tuple(row["when"].items())}) for row in told["reading"]),
    )


def source() -> str:
    """Say where limits and methods come from."""
    return _tables().source


def limits_of(kind: str) -> Mapping[str, Limits]:
    """Give the limits of every quantity that is judged on this kind of instrument; none for a kind not known."""
    return _tables().limits.get(kind, MappingProxyType({}))


def assumed_gauge(unit: str) -> AssumedGauge:
    """Give what a gauge for this unit is taken to be."""
    return _tables().assumed[unit]


def work() -> Mapping[str, frozenset[str]]:
    """Give the fields of a set-up sheet that each sort of work touches, by the word of its event."""
    return _tables().work


def pieces() -> Mapping[str, frozenset[str]]:
    """Give the fields of a set-up sheet that depend on each piece that is fitted."""
    return _tables().pieces


def readings() -> tuple[Reading, ...]:
    """Give what changes may mean, likeliest first."""
    return _tables().readings
