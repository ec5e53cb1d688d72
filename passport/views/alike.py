"""What an instrument has in common with others: its kind and size, its years, its hands; and the way to those others.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.records.model.instrument import Instrument
from passport.reference.kinds import KIND_WORDS
from passport.views.addresses import catalogue_path
from passport.views.desk import Desk
from passport.views.numbers import joined, size_text
from passport.views.setup import person
from passport.views.tree import Link

PLURALS = {"violin": "Violins", "viola": "Violas", "cello": "Cellos", "bass": "Double basses"}


def years(record: Instrument) -> tuple[int | None, int | None]:
    """Give the first and the last year it may be of, None at an open end; "about 1890" is of 1890."""
    made = record.made.finished or record.made.begun if record.made else None
    if made is None:
        return None, None
    if made.year is not None:
        return made.year, made.year
    return made.earliest.year if made.earliest else None, made.latest.year if made.latest else None


def hands(desk: Desk, record: Instrument) -> tuple[str, ...]:
    """Give whose hands it is from, each once, and the wording under which it is attributed to another."""
    of = record.made.hands if record.made else None
    names = [person(getattr(of, field), desk.people) for field in type(of).model_fields] if of else []
    wording = record.attribution.wording if record.attribution else None
    return tuple(dict.fromkeys(name for name in (*names, wording) if name))


def alike(desk: Desk, record: Instrument) -> tuple[Link, ...]:
    """Lead to the catalogue: from an instrument that is in it to those of its kind and size, its year, its hands."""
    if desk.audience == "public" and record.published != "listed":
        return ()
    return tuple(_alike(desk, record))


def _alike(desk: Desk, record: Instrument) -> Iterator[Link]:
    if record.kind and record.size:
        kind, size = KIND_WORDS[record.kind], size_text(record.kind, record.size)
        yield Link(joined(PLURALS[record.kind].lower(), size, by=" "), catalogue_path(kind=kind, size=size))
    first, last = years(record)
    if first is not None and first == last:
        yield Link(f"made in {first}", catalogue_path(year=str(first)))
    for hand in hands(desk, record):
        yield Link(hand, catalogue_path(hand=hand))
