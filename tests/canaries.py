"""A word of its own planted in every shop field of every kind of record, to be looked for in what the public gets."""

from __future__ import annotations

import itertools
from datetime import date
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from passport.pictures import PictureFacts
from passport.records.catalogue import Archive
from passport.records.dates import Date, parse_date
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Entry, Record, mark_of
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.values import Value
from passport.records.model.words import OneOf
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.units import Amount, parse_amount

CANARY = "canary"


class Planter:
    """Fills every field of a record; fields that must stay in the shop get words that can be told again."""

    def __init__(self) -> None:
        self.numbers = itertools.count(100_001)
        self.planted: list[str] = []

    def fill(self, kind: type[Record], *, hidden: bool) -> Any:
        values = {
            field.alias or name: self.value(field.annotation, hidden=hidden or self.hides(kind, name))
            for name, field in kind.model_fields.items()
            if (kind, name) not in FIXED
        }
        fixed = {name: value for (owner, name), value in FIXED.items() if issubclass(kind, owner)}
        return kind.model_construct(**{**values, **fixed})

    def hides(self, kind: type[Record], name: str) -> bool:
        return mark_of(kind.model_fields[name]) == "shop"

    def value(self, annotation: Any, *, hidden: bool) -> Any:
        origin, inner = get_origin(annotation), get_args(annotation)
        if origin in (Union, UnionType):
            return self.value(next(part for part in inner if part is not NoneType), hidden=hidden)
        if origin is Annotated:
            words = next((mark.words for mark in inner[1:] if isinstance(mark, OneOf)), None)
            if words is not None and not hidden:
                return words[0]
            return self.value(inner[0], hidden=hidden)
        if origin is tuple:
            return (self.value(inner[0], hidden=hidden),)
        if origin is dict:
            return {"120": self.value(inner[1], hidden=hidden)}
        if isinstance(annotation, type) and issubclass(annotation, Record):
            return self.fill(annotation, hidden=hidden)
        return self.leaf(annotation, hidden=hidden)

    def leaf(self, kind: Any, *, hidden: bool) -> Any:
        number = next(self.numbers)
        if hidden:
            self.planted.append(str(number))
        if kind is Amount:
            return parse_amount(str(number) if hidden else "12", "mm")
        if isinstance(kind, type) and issubclass(kind, Value):
            return kind(value=str(number) if hidden else "12")  # type: ignore[arg-type]
        if kind is Date:
            return parse_date(f"Y{number}" if hidden else "2020-02-02")
        if kind is int:
            return number if hidden else 3
        return f"{CANARY}{number}" if hidden else "plain"


# What decides about visibility, or must be a real word for views to be made; everything else is filled at random.
FIXED: dict[tuple[type[Record], str], Any] = {
    (Entry, "audience"): "public",
    (Instrument, "id"): "ZVSPYJH",
    (Instrument, "kind"): "violin",
    (Instrument, "publish"): "listed",
    (Instrument, "origin"): "made_here",
    (Private, "id"): "ZVSPYJH",
    (Model, "kind"): "violin",
}


def planted_archive() -> tuple[Archive, list[str]]:
    """An archive in which every field is filled, and the words that must not get out."""
    planter = Planter()
    kinds = {"workshop": Workshop, "gauges": Gauges, "wood": WoodLot, "varnish": VarnishBatch, "models": Model}
    made = {name: Filed(name, planter.fill(kind, hidden=False)) for name, kind in kinds.items()}
    instrument = Filed("i", planter.fill(Instrument, hidden=False))
    private = Filed("p", planter.fill(Private, hidden=False))
    # The page of an unlisted instrument is its address, which whoever was given it may see.
    private = Filed("p", private.record.model_copy(update={"page": None}))
    archive = Archive(
        root=Path("records"),
        today=date(2026, 1, 5),
        workshop=made["workshop"],
        gauges=made["gauges"],
        instruments={"ZVSPYJH": instrument},
        wood={"plain": made["wood"]},
        varnish={"plain": made["varnish"]},
        models={"plain": made["models"]},
        private={"ZVSPYJH": private},
        photos={"ZVSPYJH": {"plain": PictureFacts(800, 600)}},
        printed=(),
        unread=frozenset(),
        findings=(),
    )
    return archive, planter.planted
