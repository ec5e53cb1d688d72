"""Wood lots, varnish batches and models as their pages show them, with the instruments each one touches.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from passport.analysis.usage import batch_uses, lot_uses
from passport.figures.plate import model_drawing
from passport.records.catalogue import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.supplies import Model, Recipe, VarnishBatch, WoodLot
from passport.records.walk import measured
from passport.reference import cautions, species
from passport.reference.kinds import KIND_WORDS
from passport.views.addresses import supply_path
from passport.views.instrument import Desk, curves_of, last_change, model_link, title
from passport.views.numbers import date_text, joined, size_text, value_text, with_unit
from passport.views.setup import person
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import Fact, InstrumentLine, SupplyLine, SupplyView, TableView

Touched = Mapping[str, Mapping[str, list[str]]]


def line(desk: Desk, stem: str, use: str = "") -> InstrumentLine:
    """Give an instrument as a list shows it."""
    record = desk.archive.instruments[stem].record
    model = model_link(desk, record.model)
    return InstrumentLine(
        id=record.id or stem,
        path=desk.paths[stem],
        kind=KIND_WORDS.get(record.kind or "", ""),
        size=size_text(record.kind or "", record.size or ""),
        title=title(record),
        model=model.text if model else "",
        year=_year(record),
        serial=record.serial or "",
        status=spoken(record.status.now) if record.status and record.status.now else "",
        use=use,
    )


def _year(record: Instrument) -> str:
    made = record.made.finished or record.made.begun if record.made else None
    if made is None:
        return ""
    return str(made.year) if made.year is not None and not made.approximate and not made.uncertain else made.words()


def supply_views(desk: Desk) -> Iterator[SupplyView]:
    """Make the page of every lot, batch and model."""
    lots, batches, models = _touched(desk)
    for name, lot in desk.archive.wood.items():
        yield _lot(desk, name, lot.record, _lines(desk, lots.get(name, {})))
    for name, batch in desk.archive.varnish.items():
        yield _batch(desk, name, batch.record, _lines(desk, batches.get(name, {})))
    for name, model in desk.archive.models.items():
        yield _model(desk, name, model.record, _lines(desk, models.get(name, {})))


def _touched(desk: Desk) -> tuple[Touched, Touched, Touched]:
    """Give, for each lot, batch and model, the instruments it touches and how."""
    lots: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    batches: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    models: dict[str, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    for stem, filed in in_lists(desk):
        for use in lot_uses(stem, filed.record):
            lots[use.lot][stem].append(joined(spoken(use.part), f"wedge {use.wedge}" if use.wedge else ""))
        for coat in batch_uses(stem, filed.record):
            batches[coat.batch][stem].append(coat.what)
        if filed.record.model:
            models[filed.record.model][stem] = []
    return lots, batches, models


def in_lists(desk: Desk) -> Iterator[tuple[str, Filed[Instrument]]]:
    """Give the instruments that lists, links and search may name: an unlisted one is in none, but for the shop."""
    for stem, filed in desk.archive.instruments.items():
        if desk.audience == "shop" or filed.record.published == "listed":
            yield stem, filed


def _lines(desk: Desk, touched: Mapping[str, list[str]]) -> tuple[InstrumentLine, ...]:
    return tuple(line(desk, stem, capital("; ".join(dict.fromkeys(uses)))) for stem, uses in touched.items())


def _lot(desk: Desk, name: str, lot: WoodLot, lines: tuple[InstrumentLine, ...]) -> SupplyView:
    common = capital(lot.wood or species.COMMON_NAMES.get(lot.species or "", ""))
    speed = lot.sound_speed
    storage = lot.storage
    facts = _facts(
        ("Species", joined(common, lot.species or "")),
        ("For", ", ".join(lot.uses or ())),
        ("Origin", lot.origin),
        ("Felled", date_text(lot.felled)),
        ("Bought", date_text(lot.bought)),
        ("Sawn", date_text(lot.sawn)),
        ("Cut", lot.cut),
        ("Pieces bought", str(lot.pieces or "")),
        ("Density", with_unit(lot.density)),
        ("Sound along the grain", with_unit(speed.along) if speed else ""),
        ("Sound across the grain", with_unit(speed.across) if speed else ""),
        ("Speed found by", spoken(speed.method or "") if speed else ""),
        ("Annual rings per cm", lot.rings),
        ("Figure", lot.figure),
        (
            "Stored",
            joined(storage.place or "", with_unit(storage.temperature), _humidity(storage.humidity)) if storage else "",
        ),
        ("Papers", lot.papers.statement if lot.papers else ""),
    )
    readings = tuple(
        (date_text(reading.date), with_unit(reading.value), spoken(reading.gauge or ""))
        for reading in lot.moisture or ()
    )
    tables = (TableView("Moisture readings", ("Date", "Moisture", "Gauge"), readings),) if readings else ()
    papers = lot.papers
    shop_facts = _facts(
        ("Supplier", lot.supplier),
        ("Price", joined(value_text(lot.price), lot.currency or "", by="\u00a0")),
        ("Felling paper", papers.felling if papers else ""),
        ("Permit", papers.permit if papers else ""),
        ("Invoice", papers.invoice if papers else ""),
        ("Note", lot.note),
    )
    return SupplyView(
        desk.audience, "wood", name, supply_path("wood", name), f"Wood lot {name}", joined(common, lot.origin or ""),
        "", facts, tables, lines, shop_facts, (), last_change(lot),
    )  # fmt: skip


def _humidity(value: object) -> str:
    return f"{with_unit(value)} humidity" if value else ""  # type: ignore[arg-type]


def _batch(desk: Desk, name: str, batch: VarnishBatch, lines: tuple[InstrumentLine, ...]) -> SupplyView:
    people = desk.archive.workshop.record.people or {}
    facts = _facts(
        ("Made", date_text(batch.made)),
        ("By", person(batch.by, people)),
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
    warnings = tuple(cautions.CAUTIONS[hazard] for hazard in batch.hazards or ())
    return SupplyView(
        desk.audience, "varnish", name, supply_path("varnish", name), f"Varnish batch {name}",
        joined(capital(batch.base or ""), batch.purpose or ""),
        "", facts, tuple(_recipe(batch.recipe)), lines, _facts(("Note", batch.note)),
        (*warnings, cautions.DEFERENCE) if warnings else (), last_change(batch),
    )  # fmt: skip


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
    people = desk.archive.workshop.record.people or {}
    of = joined(KIND_WORDS.get(model.kind or "", ""), size_text(model.kind or "", model.size or ""), by=" ")
    facts = _facts(
        ("Drawn", date_text(model.drawn)),
        ("By", person(model.by, people)),
        ("After", model.after),
        ("Note", model.note),
    )
    curves = curves_of(desk, name)
    heading = model.title or name
    drawing = model_drawing(f"Outline of the model {heading}", curves) if curves else ""
    return SupplyView(
        desk.audience, "models", name, supply_path("models", name), f"Model {heading}", capital(of),
        drawing, facts, tuple(_targets(model)), lines, (), (), last_change(model),
    )  # fmt: skip


def _targets(model: Model) -> Iterator[TableView]:
    rows: list[tuple[str, ...]] = []
    if model.targets:
        rows += [(title_of(type(model.targets), path), with_unit(value)) for path, value in measured(model.targets)]
    for plate in ("top", "back"):
        target = getattr(model.plates, plate) if model.plates else None
        rows += (
            [
                (f"{capital(plate)}, {title_of(type(target), path).lower()}", with_unit(value))
                for path, value in measured(target)
            ]
            if target
            else []
        )
    if rows:
        yield TableView("What the model asks for", ("Quantity", "Aim or window"), tuple(rows))


def _facts(*pairs: tuple[str, str | None]) -> tuple[Fact, ...]:
    return tuple(Fact(name, text) for name, text in pairs if text)


def supply_lines(views: Iterable[SupplyView], section: str) -> tuple[SupplyLine, ...]:
    """Give the list of a section's pages."""
    return tuple(
        SupplyLine(view.id, view.path, view.title, view.subtitle, len(view.instruments))
        for view in views
        if view.section == section
    )
