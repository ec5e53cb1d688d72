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
from passport.records.model.events import Event
from passport.records.model.instrument import Instrument, StringFitted
from passport.records.model.marks import Entry, Record, mark_of
from passport.records.model.sheets import SetupSheet, Taken
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.values import Value
from passport.records.model.words import OneOf
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.units import Amount, parse_amount
from tests.archives import record

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
    (StringFitted, "tuning"): "G3",
    (Private, "id"): "ZVSPYJH",
    (Model, "kind"): "violin",
}


# Public sheets of one epoch, over the seasons, so that drift, trend and season are worked out; and public work.
BESIDE_THE_HIDDEN = """\
id: ZVSPYJH
kind: violin
size: 4/4
origin: made_here
setups:
  - {sheet: S1, role: reference, taken: {date: 2020-03-01}, state: {temperature: 20, humidity: 40, days: 14},
     gauges: {all: rule}, fitted: {tailgut: plain}, arch_height: {top: 20.0}, projection: 27,
     string_height: {G: 5, E: 3.5, to: underside}, afterlength: {G: 54}}
  - {sheet: S2, role: check, taken: {date: 2020-09-01}, state: {temperature: 20, humidity: 65, days: 14},
     gauges: {all: rule}, arch_height: {top: 21.2}, projection: 26, string_height: {G: 5.2, E: 3.7, to: underside}}
  - {sheet: S3, role: check, taken: {date: 2021-03-01}, state: {temperature: 20, humidity: 38, days: 14},
     gauges: {all: rule}, arch_height: {top: 19.0}, projection: 26, string_height: {G: 5.2, E: 3.7, to: underside}}
  - {sheet: S4, role: check, taken: {date: 2021-09-01}, state: {temperature: 20, humidity: 66, days: 14},
     gauges: {all: rule}, arch_height: {top: 20.4}, projection: 25, string_height: {G: 5.4, E: 3.9, to: underside}}
  - {sheet: S5, role: check, taken: {date: 2022-03-01}, state: {temperature: 20, humidity: 41, days: 14},
     gauges: {all: rule}, arch_height: {top: 18.4}, projection: 24, string_height: {G: 5.4, E: 3.9, to: underside},
     afterlength: {G: 56}}
history:
  - {date: 2020-06-02, event: pegs_lubricated}
  - {date: 2021-06-05, event: seam_reglued}
"""


def with_hidden_beside_shown(planter: Planter, filled: Instrument) -> Instrument:
    """Put a hidden sheet and hidden work between public ones; day and word of the work must not get out either."""
    shown = record(Instrument, BESIDE_THE_HIDDEN)
    hidden: dict[str, Any] = {"audience": "shop"}
    taken = Taken.model_validate({"date": "2021-07-19", "when": "after_work"})
    sheet = planter.fill(SetupSheet, hidden=True).model_copy(update={**hidden, "taken": taken, "role": "check"})
    day = {"date": parse_date("2020-12-13"), "event": "nut_lowered"}
    event = planter.fill(Event, hidden=True).model_copy(update={**hidden, **day})
    planter.planted += ["2021-07-19", "19 July 2021", "2020-12-13", "13 December 2020", "nut_lowered", "nut lowered"]
    setups, history = shown.setups or (), shown.history or ()
    return filled.model_copy(
        update={
            "setups": (*(filled.setups or ()), *setups[:3], sheet, *setups[3:]),
            "history": (*(filled.history or ()), history[0], event, *history[1:]),
        }
    )


def planted_archive() -> tuple[Archive, list[str]]:
    """An archive in which every field is filled, and the words that must not get out."""
    planter = Planter()
    kinds = {"workshop": Workshop, "gauges": Gauges, "wood": WoodLot, "varnish": VarnishBatch, "models": Model}
    made = {name: Filed(name, planter.fill(kind, hidden=False)) for name, kind in kinds.items()}
    instrument = Filed("i", with_hidden_beside_shown(planter, planter.fill(Instrument, hidden=False)))
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
