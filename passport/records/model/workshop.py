"""The workshop itself, its people, its gauges, and what never leaves it."""

from __future__ import annotations

from typing import Annotated

from passport.records.model.marks import Record, public, shop
from passport.records.model.supplies import Targets
from passport.records.model.values import (
    AddressTail,
    Count,
    Days,
    Hertz,
    Identifier,
    Money,
    PlainMm,
    PlainPercent,
    Text,
    Texts,
    Value,
    When,
)
from passport.records.model.words import OneOf
from passport.reference import kinds
from passport.stocks import PAPERS, PRINTER_DPI


class Person(Record):
    """Someone whose name stands in the records."""

    name: Text | None = public("Name", "as it may be printed")
    does: Text | None = public("Does")
    since: When | None = public("Since")
    until: When | None = public("Until")
    contact: Text | None = shop("Contact")


class ShopWindows(Targets):
    """What the workshop asks of every instrument of a kind, or of a kind and size, where a model asks nothing."""

    kind: Annotated[str, OneOf(*kinds.KINDS)] | None = public("Kind", required=True)
    size: Text | None = public("Size", "every size of the kind unless given")


class Drying(Record):
    """How long a coat dries before the next one, in days, by the sort of varnish."""

    ground: Days | None = public("Ground")
    oil: Days | None = public("Oil varnish")
    spirit: Days | None = public("Spirit varnish")
    mixed: Days | None = public("Mixed varnish")
    water: Days | None = public("Water varnish")


class LabelSheet(Record):
    """How labels lie on a sheet of paper."""

    paper: Annotated[str, OneOf(*PAPERS)] | None = shop("Paper", "a4 or letter", required=True)
    columns: Count | None = shop("Columns", "labels side by side", required=True)
    rows: Count | None = shop("Rows", "labels one below the other", required=True)
    margin_left: PlainMm | None = shop("Left margin", "paper's edge to the first label", required=True)
    margin_top: PlainMm | None = shop("Top margin", "paper's edge to the first label", required=True)
    pitch_x: PlainMm | None = shop("Pitch across", "a label's edge to the same edge of the next", required=True)
    pitch_y: PlainMm | None = shop("Pitch down", "a label's edge to the same edge of the one below", required=True)
    cut: Annotated[str, OneOf("yes", "no")] | None = shop("To be cut", "yes for plain paper or card: prints cut marks")


class LabelStock(Record):
    """A size of label that the workshop uses, under its plain size: `60x30`. Without a sheet it is a roll."""

    width: PlainMm | None = shop("Width", required=True)
    height: PlainMm | None = shop("Height", required=True)
    sheet: LabelSheet | None = shop("Sheet", "for labels on sheets of paper")


class LabelPrinter(Record):
    """A printer of the workshop, and what makes it print true: found with `passport calibrate`."""

    dpi: Annotated[str, OneOf(*map(str, PRINTER_DPI))] | None = shop("Dots per inch", "203, 300 or 600")
    offset_x: PlainMm | None = shop("Offset across", "added to every place; plus is away from the left edge")
    offset_y: PlainMm | None = shop("Offset down", "added to every place; plus is away from the top edge")
    scale: PlainPercent | None = shop("Scale", "%; 100 is as drawn")
    stock: Text | None = shop("Stock", "what it prints case labels on")


class Workshop(Record):
    """The workshop, `records/workshop.yml`."""

    schema_: Count | None = public("Schema")
    name: Text | None = public("Name", required=True)
    place: Text | None = public("Place")
    contact: Text | None = public("Contact", "one line for pages and labels")
    site_address: Text | None = public("Site address", "where the pages will stand, https://…/")
    label_address: Text | None = public("Label address", "what the codes on labels lead to; as the site unless given")
    former_addresses: Texts | None = shop("Former addresses", "of labels printed before; they send visitors on")
    a4: Hertz | None = public("Tuning pitch A4")
    people: dict[Text, Person] | None = public("People")
    windows: tuple[ShopWindows, ...] | None = public("Windows", "where they differ from the trade's")
    drying: Drying | None = public("Drying", "days before the next coat: {ground: 7, oil: 12, spirit: 5}")
    stocks: dict[Text, LabelStock] | None = shop("Label stocks", "sizes of label besides those the tool knows")
    printers: dict[Text, LabelPrinter] | None = shop("Printers")
    private_in_git: Text | None = shop("Private records in git", "why, where version control keeps them on purpose")
    note: Text | None = shop("Note")


class Gauge(Record):
    """A measuring tool: how fine it reads and how far it may be trusted."""

    what: Text | None = public("What")
    resolution: Value | None = public("Resolution")
    uncertainty: Value | None = public("Standard uncertainty")
    unit: Annotated[str, OneOf("mm", "g", "Hz", "%", "°C")] | None = public("Unit")
    checked: When | None = public("Checked")
    note: Text | None = public("Note")


class Gauges(Record):
    """All gauges, `records/gauges.yml`."""

    schema_: Count | None = public("Schema")
    gauges: dict[Text, Gauge] | None = public("Gauges")


class Sum(Record):
    """A price or a value on a date."""

    date: When | None = shop("Date")
    amount: Money | None = shop("Amount")
    currency: Text | None = shop("Currency")
    by: Text | None = shop("By")
    what: Text | None = shop("What for")


class Holder(Record):
    """Someone who owned, rented or borrowed the instrument."""

    name: Text | None = shop("Name")
    contact: Text | None = shop("Contact")
    since: When | None = shop("From")
    until: When | None = shop("To")
    note: Text | None = shop("Note")


class Private(Record):
    """What never leaves the shop, `records/private/<ID>.yml`."""

    schema_: Count | None = shop("Schema")
    id: Identifier | None = shop("Number", required=True)
    page: AddressTail | None = shop("Page of an unlisted instrument", "17 characters; made by the tool, never changed")
    location: Text | None = shop("Where it is now")
    owners: tuple[Holder, ...] | None = shop("Owners")
    renters: tuple[Holder, ...] | None = shop("Renters")
    prices: tuple[Sum, ...] | None = shop("Prices")
    valuations: tuple[Sum, ...] | None = shop("Valuations")
    held_back: Text | None = shop("Marks held back as proof")
    papers: Texts | None = shop("Papers")
    note: Text | None = shop("Note")
