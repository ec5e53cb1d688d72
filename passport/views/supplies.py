"""Wood lots, varnish batches and models as their pages show them, with the instruments each one touches.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from passport.analysis.plates import curves_of
from passport.figures.plate import model_drawing
from passport.records.model.supplies import (
    Model,
    MoistureReading,
    Papers,
    PlateTargets,
    Recipe,
    SoundSpeed,
    Storage,
    VarnishBatch,
    WoodLot,
)
from passport.records.walk import measured
from passport.reference import cautions, woods
from passport.views.addresses import supply_path
from passport.views.calls import calls
from passport.views.desk import Desk, facts
from passport.views.instrument import kind_and_size, last_change
from passport.views.numbers import date_text, humidity_text, joined, unit_sign, value_text, with_unit
from passport.views.plates_of_model import plates_of_model
from passport.views.setup import person
from passport.views.site_tree import Call, Card, InstrumentLine, SupplyLine, SupplyView
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import Fact, TableView
from passport.views.varnish import batch_workings
from passport.views.wood import lot_workings


def supply_views(desk: Desk, cards: Iterable[Card]) -> Iterator[SupplyView]:
    """Make the page of every lot, batch and model, with the instruments that lists may name."""
    touched: dict[tuple[str, str], list[InstrumentLine]] = defaultdict(list)
    held: dict[tuple[str, str], list[Card]] = defaultdict(list)
    for card in cards:
        for use in card.uses:
            touched[use.section, use.name].append(replace(card.line, use=use.words))
            held[use.section, use.name].append(card)

    def told(section: str, name: str) -> tuple[Call, ...]:
        return calls(held[section, name]) if desk.audience == "shop" else ()

    for name, lot in desk.archive.wood.items():
        yield replace(_lot(desk, name, lot.record, tuple(touched["wood", name])), calls=told("wood", name))
    for name, batch in desk.archive.varnish.items():
        yield replace(_batch(desk, name, batch.record, tuple(touched["varnish", name])), calls=told("varnish", name))
    for name, model in desk.archive.models.items():
        view = _model(desk, name, model.record, tuple(touched["models", name]))
        yield replace(view, worked=tuple(plates_of_model(held["models", name])))


def _lot(desk: Desk, name: str, lot: WoodLot, lines: tuple[InstrumentLine, ...]) -> SupplyView:
    common = capital(lot.wood or woods.common_name(lot.species))
    return SupplyView(
        audience=desk.audience,
        section="wood",
        id=name,
        path=supply_path("wood", name),
        title=f"Wood lot {name}",
        subtitle=joined(common, lot.origin or ""),
        drawing="",
        facts=_lot_facts(lot, common),
        tables=tuple(_readings(lot)),
        instruments=lines,
        shop_facts=_lot_shop_facts(lot),
        cautions=(),
        changed=last_change(lot),
        worked=tuple(lot_workings(lot)),
    )


def _lot_facts(lot: WoodLot, common: str) -> tuple[Fact, ...]:
    speed = lot.sound_speed or SoundSpeed()
    storage = lot.storage or Storage()
    climate = (with_unit(storage.temperature), humidity_text(storage.humidity))
    return facts(
        ("Species", joined(common, lot.species or "")),
        ("For", ", ".join(lot.uses or ())),
        ("Origin", lot.origin),
        ("Felled", date_text(lot.felled)),
        ("Bought", date_text(lot.bought)),
        ("Sawn", date_text(lot.sawn)),
        ("Cut", lot.cut),
        ("Pieces bought", str(lot.pieces or "")),
        ("Thickness of the pieces", with_unit(lot.thickness)),
        ("Density", with_unit(lot.density)),
        ("Sound along the grain", with_unit(speed.along)),
        ("Sound across the grain", with_unit(speed.across)),
        ("Speed found by", spoken(speed.method or "")),
        ("Annual rings per cm", lot.rings),
        ("Figure", lot.figure),
        ("Stored", joined(storage.place or "", *climate)),
        ("Papers", lot.papers.statement if lot.papers else ""),
    )


def _readings(lot: WoodLot) -> Iterator[TableView]:
    if lot.moisture:
        rows = ((date_text(each.date), _moisture(each), spoken(each.gauge or "")) for each in lot.moisture)
        yield TableView("Moisture readings", ("Date", "Moisture", "Gauge"), tuple(rows))


def _moisture(reading: MoistureReading) -> str:
    weighed = (with_unit(reading.mass), f"oven-dry {with_unit(reading.oven_dry_mass)}" if reading.oven_dry_mass else "")
    return with_unit(reading.value) or joined(*weighed)


def _lot_shop_facts(lot: WoodLot) -> tuple[Fact, ...]:
    papers = lot.papers or Papers()
    return facts(
        ("Supplier", lot.supplier),
        ("Price", joined(value_text(lot.price), lot.currency or "", by="\u00a0")),
        ("Felling paper", papers.felling),
        ("Permit", papers.permit),
        ("Invoice", papers.invoice),
        ("Note", lot.note),
    )


def _batch(desk: Desk, name: str, batch: VarnishBatch, lines: tuple[InstrumentLine, ...]) -> SupplyView:
    warnings = tuple(cautions.CAUTIONS[hazard] for hazard in batch.hazards or ())
    return SupplyView(
        audience=desk.audience,
        section="varnish",
        id=name,
        path=supply_path("varnish", name),
        title=f"Varnish batch {name}",
        subtitle=joined(capital(batch.base or ""), batch.purpose or ""),
        drawing="",
        facts=_batch_facts(desk, batch),
        tables=tuple(_recipe(batch.recipe)),
        instruments=lines,
        shop_facts=facts(("Note", batch.note)),
        cautions=(*warnings, cautions.DEFERENCE) if warnings else (),
        changed=last_change(batch),
        worked=tuple(batch_workings(batch)),
    )


def _batch_facts(desk: Desk, batch: VarnishBatch) -> tuple[Fact, ...]:
    return facts(
        ("Made", date_text(batch.made)),
        ("By", person(batch.by, desk.people)),
        ("Purpose", batch.purpose),
        ("Base", batch.base),
        ("Colour", batch.colour),
        ("Yield", with_unit(batch.yield_)),
        ("Solids", with_unit(batch.solids)),
        ("Dry to the touch", with_unit(batch.touch_dry)),
        ("Hard after", with_unit(batch.hard)),
        ("Film test", batch.film_test),
        ("Storage", batch.storage),
        ("Use by", date_text(batch.expires)),
    )


def _recipe(recipe: Recipe | None) -> Iterator[TableView]:
    if recipe is None:
        return
    if recipe.ingredients:
        rows = tuple((item.what or "", with_unit(item.mass), item.lot or "") for item in recipe.ingredients)
        yield TableView("Ingredients", ("What", "Mass", "Supplier's lot"), rows)
    if recipe.cook:
        steps = tuple((with_unit(step.after), with_unit(step.temperature), step.what or "") for step in recipe.cook)
        yield TableView("Cook log", ("After", "Temperature", "What happened"), steps)


def _model(desk: Desk, name: str, model: Model, lines: tuple[InstrumentLine, ...]) -> SupplyView:
    heading = model.title or name
    curves = curves_of(desk.archive, name)
    return SupplyView(
        audience=desk.audience,
        section="models",
        id=name,
        path=supply_path("models", name),
        title=f"Model {heading}",
        subtitle=kind_and_size(model.kind, model.size),
        drawing=model_drawing(f"Outline of the model {heading}", curves) if curves else "",
        facts=facts(
            ("Drawn", date_text(model.drawn)),
            ("By", person(model.by, desk.people)),
            ("After", model.after),
            ("Note", model.note),
        ),
        tables=tuple(_targets(model)),
        instruments=lines,
        shop_facts=(),
        cautions=(),
        changed=last_change(model),
    )


def _targets(model: Model) -> Iterator[TableView]:
    plates = model.plates or PlateTargets()
    rows = [
        (joined(capital(name), title_of(type(asked), path)), value_text(value), unit_sign(value))
        for name, asked in (("", model.targets), ("top", plates.top), ("back", plates.back))
        if asked is not None
        for path, value in measured(asked)
    ]
    if rows:
        yield TableView("What the model asks for", ("Quantity", "Aim or window", "Unit"), tuple(rows))


def supply_lines(views: Iterable[SupplyView], section: str) -> tuple[SupplyLine, ...]:
    """Give the list of a section's pages."""
    return tuple(
        SupplyLine(view.id, view.path, view.title, view.subtitle, len(view.instruments))
        for view in views
        if view.section == section
    )
