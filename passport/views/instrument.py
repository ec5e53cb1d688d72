"""One instrument as its page shows it.

Sees only what `visible` lets through, so it decides nothing about access.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from passport.figures.outline import Curve
from passport.figures.plate import plate_drawing
from passport.findings import Finding, Severity
from passport.pictures import PictureFacts, fitted
from passport.records.catalogue import Archive
from passport.records.dates import Date
from passport.records.model.events import Condition, Event
from passport.records.model.instrument import (
    Coat,
    Instrument,
    Part,
    Photo,
    Plate,
    Stage,
)
from passport.records.model.marks import Audience, Record
from passport.records.model.sheets import MeasurementSheet
from passport.records.model.supplies import Outline
from passport.records.model.values import Value
from passport.records.walk import measured, walked
from passport.reference import species, terms
from passport.reference.kinds import KIND_WORDS
from passport.views.addresses import supply_path
from passport.views.numbers import amount_text, date_text, joined, size_text, unit_sign, value_text, with_unit
from passport.views.setup import NOT_RECORDED, person, setup_view, sheet_view
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import (
    CoatView,
    EventView,
    Fact,
    FindingView,
    InstrumentView,
    Link,
    MeasureRow,
    MeasureSheet,
    PartView,
    PhotoView,
    PlateView,
)

LARGE_PX = 1600
SMALL_PX = 640
FIVE_COLUMNS = ("Bass edge", "Bass half", "Joint", "Treble half", "Treble edge")
# Fewer points than this make no curve.
FEWEST_POINTS = 3
STAGE_FIELDS = ("mass", "mode1", "mode2", "mode5", "moisture")
BANNERS = {
    "withdrawn": "Withdrawn from use",
    "missing": "Reported missing",
    "destroyed": "No longer in existence",
}


@dataclass(frozen=True)
class Desk:
    """What lies on the desk while an audience's pages are made: the visible archive and the addresses."""

    archive: Archive
    audience: Audience
    paths: Mapping[str, str]


def instrument_view(desk: Desk, stem: str, findings: Sequence[Finding]) -> InstrumentView:
    """Make the page of one instrument; the findings are those of its record."""
    record = desk.archive.instruments[stem].record
    people = desk.archive.workshop.record.people or {}
    banner, detail = _banner(record)
    path = desk.paths[stem]
    return InstrumentView(
        audience=desk.audience,
        id=record.id or stem,
        path=path,
        listed=record.published == "listed",
        title=title(record),
        kind=KIND_WORDS.get(record.kind or "", ""),
        size=size_text(record.kind or "", record.size or ""),
        serial=record.serial or "",
        maker_line=_maker_line(desk, record),
        made=made_words(record),
        model=model_link(desk, record.model),
        label_text=record.label.text or "" if record.label else "",
        banner=banner,
        banner_detail=detail,
        notice=_notice(findings),
        identity=tuple(_identity(desk, record)),
        setup=setup_view(record.setups or (), record.string_names, people),
        findings=tuple(_finding(finding) for finding in findings if desk.audience == "shop"),
        history=_history(desk, record),
        plates=tuple(_plates(desk, record)),
        parts=tuple(_parts(desk, record)),
        varnish=tuple(_coat(coat) for coat in record.varnish or ()),
        measurements=tuple(_measurements(desk, record)),
        outfit=tuple(_outfit(record)),
        photos=photos(record, path, desk.archive.photos.get(stem, {})),
        shop_facts=tuple(_shop_facts(desk, stem, record)),
        data_path=f"{path}record.json",
        changed=last_change(record),
    )


def title(record: Instrument) -> str:
    """Give kind and size in words: "Violin 4/4", "Viola 405 mm"."""
    kind = capital(KIND_WORDS.get(record.kind or "", "instrument"))
    return joined(kind, size_text(record.kind or "", record.size or ""), by=" ")


def made_words(record: Instrument) -> str:
    """Give when it was finished, or begun."""
    made = record.made
    return date_text(made.finished or made.begun) if made else ""


def model_link(desk: Desk, name: str | None) -> Link | None:
    """Lead to the model's page."""
    if name is None:
        return None
    model = desk.archive.models.get(name)
    text = model.record.title or name if model else name
    return Link(text, supply_path("models", name) if model else "")


def _maker_line(desk: Desk, record: Instrument) -> str:
    if record.attribution and record.attribution.wording:
        return record.attribution.wording
    if record.origin == "made_here":
        workshop = desk.archive.workshop.record
        return joined(workshop.name or "", (record.made.place if record.made else None) or workshop.place or "")
    return ""


def _banner(record: Instrument) -> tuple[str, str]:
    status = record.status
    if status is None or status.now not in BANNERS:
        return "", ""
    since = f"since {date_text(status.since)}" if status.since else ""
    return BANNERS[status.now], joined(since, status.why or "", by=". ")


def _notice(findings: Sequence[Finding]) -> str:
    """Say on the page, to everyone, that its record has errors; what they are is for the shop."""
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    if not errors:
        return ""
    return (
        f"This record has {errors} {'error' if errors == 1 else 'errors'}; something it should say may be missing here."
    )


def _identity(desk: Desk, record: Instrument) -> Iterator[Fact]:
    people = desk.archive.workshop.record.people or {}
    yield from _facts(("Serial", record.serial), ("Origin", spoken(record.origin or "")))
    if record.handed == "left":
        yield Fact("Handedness", "strung for the left hand")
    if record.strings:
        yield Fact("Strings", ", ".join(string.tuning or "" for string in record.strings))
        for string in record.strings:
            if string.length or string.note:
                yield Fact(f"{string.tuning} string", joined(with_unit(string.length), string.note or ""))
    if record.made:
        yield from _facts(("Begun", date_text(record.made.begun)), ("Place", record.made.place))
        hands = record.made.hands
        for name, field in type(hands).model_fields.items() if hands else ():
            yield from _facts((field.title or name, person(getattr(hands, name), people)))
    if record.attribution:
        yield from _facts(
            ("Attributed by", record.attribution.by), ("Attributed on", date_text(record.attribution.date))
        )
    if record.label:
        yield from _facts(("Label inside", record.label.text), ("Label's place", record.label.place))
    numbers = record.other_numbers
    for name, field in type(numbers).model_fields.items() if numbers else ():
        yield from _facts((field.title or name, getattr(numbers, name)))
    yield from _facts(("Marks", record.marks))


def _facts(*pairs: tuple[str, str | None]) -> Iterator[Fact]:
    """Give the facts that are there."""
    return (Fact(name, text) for name, text in pairs if text)


def _finding(finding: Finding) -> FindingView:
    where = ".".join(map(str, finding.path)) or "the whole record"
    return FindingView(
        finding.code.slug, finding.severity.value, f"line {finding.line}, {where}", finding.what, finding.todo
    )


def _history(desk: Desk, record: Instrument) -> tuple[EventView, ...]:
    """Give what happened, newest first; events of one day stay in the order they happened, last one first."""
    in_order = sorted(record.history or (), key=_day)
    return tuple(_event(desk, event) for event in reversed(in_order))


def _day(event: Event) -> date:
    return (event.date.earliest if event.date else None) or date.min


def _event(desk: Desk, event: Event) -> EventView:
    people = desk.archive.workshop.record.people or {}
    term = terms.EVENTS.get(event.event or "")
    return EventView(
        date=date_text(event.date),
        iso=event.date.text if event.date else "",
        title=term.words if term else spoken(event.event or ""),
        by=person(event.by, people),
        facts=tuple(_event_facts(event)),
        shop_only=event.shown_to == "shop",
    )


def _event_facts(event: Event) -> Iterator[Fact]:
    side = f"{event.side} side" if event.side in ("bass", "treble") else event.side or ""
    where = capital(joined(spoken(event.part or ""), side, event.zone or "", with_unit(event.length)))
    sheets = joined(
        *(
            f"{word} {name}"
            for word, name in (("", event.sheet), ("before", event.before), ("after", event.after))
            if name
        )
    )
    climate = joined(with_unit(event.temperature), f"{with_unit(event.humidity)} humidity" if event.humidity else "")
    yield from _facts(
        ("Where", where),
        ("Said", event.said),
        ("Found", "; ".join(_condition(found) for found in event.found or ())),
        ("Looked at and sound", ", ".join(event.fine or ())),
        ("Did", event.did),
        ("Glue", event.glue),
        ("Materials", event.materials),
        ("Can be undone", event.reversible),
        ("Batch", event.batch),
        ("Overstand", with_unit(event.overstand)),
        ("Projection", with_unit(event.projection)),
        ("Mass", with_unit(event.mass)),
        ("Wood moisture", with_unit(event.moisture)),
        ("Climate", climate),
        ("Hours of work", with_unit(event.hours)),
        ("Sheets", sheets.strip()),
        ("Came with", ", ".join(event.came_with or ())),
        ("Next check", date_text(event.next_check)),
        ("Paper", event.paper),
        ("Note", event.note),
    )


def _condition(found: Condition) -> str:
    words = [
        joined(terms.CONDITIONS[term].words if term in terms.CONDITIONS else term, where, by=": ")
        for term, where in found.terms.items()
    ]
    severity = f"severity {found.severity}" if found.severity is not None else ""
    return joined(*words, with_unit(found.length), severity, found.stable or "", found.note or "")


def _plates(desk: Desk, record: Instrument) -> Iterator[PlateView]:
    for name in ("top", "back"):
        plate: Plate | None = getattr(record.plates, name) if record.plates else None
        if plate is not None:
            yield _plate(name, plate, curves_of(desk, record.model))


def _plate(name: str, plate: Plate, curves: tuple[Curve, ...]) -> PlateView:
    rows = plate.thickness or {}
    numbers = {float(height): [amount_text(value) for value in values] for height, values in rows.items()}
    count = max(map(len, rows.values()), default=0)
    columns = FIVE_COLUMNS if count == len(FIVE_COLUMNS) else tuple(str(index + 1) for index in range(count))
    stages = tuple(_stage(stage) for stage in plate.stages or ())
    used = [index for index in range(len(STAGE_FIELDS) + 2) if any(row[index] for row in stages)]
    heads = ("Date", "Stage", *(_stage_head(field) for field in STAGE_FIELDS))
    return PlateView(
        name=capital(name),
        drawing=plate_drawing(f"{capital(name)}, thickness as measured", curves, numbers) if curves and numbers else "",
        columns=("From the bottom edge", *columns),
        rows=tuple((height, *map(amount_text, values)) for height, values in rows.items()),
        stage_columns=tuple(heads[index] for index in used),
        stages=tuple(tuple(row[index] or NOT_RECORDED for index in used) for row in stages),
        bar=tuple(_measured_facts(plate.bass_bar)) if plate.bass_bar else (),
    )


def _stage_head(field: str) -> str:
    units = {"mass": "g", "moisture": "%"}
    return f"{Stage.model_fields[field].title}, {units.get(field, 'Hz')}"


def _stage(stage: Stage) -> tuple[str, ...]:
    return (
        date_text(stage.date),
        spoken(stage.when or ""),
        *(value_text(getattr(stage, field)) for field in STAGE_FIELDS),
    )


def _measured_facts(entry: Record) -> Iterator[Fact]:
    for path, value in measured(entry):
        yield Fact(title_of(type(entry), path), joined(with_unit(value), value.note or ""))


def curves_of(desk: Desk, model: str | None) -> tuple[Curve, ...]:
    """Give the outline of a model as plain numbers; nothing where the model has none that can be drawn."""
    filed = desk.archive.models.get(model or "")
    outline: Outline | None = filed.record.outline if filed else None
    if outline is None:
        return ()
    curves = (outline.upper or (), outline.middle or (), outline.lower or ())
    if min(map(len, curves)) < FEWEST_POINTS:
        return ()
    return tuple(tuple((height.middle, half_width.middle) for height, half_width in curve) for curve in curves)


def _parts(desk: Desk, record: Instrument) -> Iterator[PartView]:
    parts = record.parts
    for name, field in type(parts).model_fields.items() if parts else ():
        part: Part | None = getattr(parts, name)
        if part is not None:
            yield _part(desk, field.title or name, part)


def _part(desk: Desk, name: str, part: Part) -> PartView:
    filed = desk.archive.wood.get(part.lot or "")
    lot = filed.record if filed is not None else None
    scientific = part.species or (lot.species if lot else None) or ""
    common = part.wood or (lot.wood if lot else None) or species.COMMON_NAMES.get(scientific, "")
    link = Link(part.lot, supply_path("wood", part.lot) if lot else "") if part.lot else None
    pieces = getattr(part, "pieces", None)
    facts = _facts(
        ("Wedge", part.wedge),
        ("Pieces", ", ".join(map(spoken, pieces)) if isinstance(pieces, tuple) else str(pieces or "")),
        ("Build", getattr(part, "build", None)),
        ("Machine heads", getattr(part, "machine_heads", None)),
        ("Cut", part.cut),
        ("Density", with_unit(part.density)),
        ("Figure", part.figure),
        ("Note", part.note),
    )
    return PartView(
        name,
        capital(common),
        scientific,
        part.origin or (lot.origin if lot else None) or "",
        link,
        tuple(facts),
    )


def _coat(coat: Coat) -> CoatView:
    lamp = {"none": "", "tubes": "tubes", "led": "LED", "sun": "sun"}.get(coat.uv or "", "")
    light = joined(lamp, with_unit(coat.irradiance), f"for {with_unit(coat.hours)}" if coat.hours else "")
    drying = f"dried {value_text(coat.drying)} days" if coat.drying else ""
    return CoatView(
        date=date_text(coat.date),
        coat=coat.coat or "",
        batch=Link(coat.batch, supply_path("varnish", coat.batch)) if coat.batch else None,
        area=coat.area or "",
        light=light,
        climate=joined(with_unit(coat.temperature), f"{with_unit(coat.humidity)} humidity" if coat.humidity else ""),
        mass_gain=with_unit(coat.mass_gain),
        note=joined(coat.method or "", drying, coat.note or ""),
    )


def _measurements(desk: Desk, record: Instrument) -> Iterator[MeasureSheet]:
    people = desk.archive.workshop.record.people or {}
    model = desk.archive.models.get(record.model or "")
    targets = dict(measured(model.record.targets)) if model and model.record.targets else {}
    for sheet in record.measurements or ():
        rows = tuple(_measure_row(path, value, targets) for path, value in measured(sheet) if path[0] != "state")
        yield MeasureSheet(sheet_view(sheet, people), rows)


def _measure_row(
    path: tuple[str | int, ...], value: Value, targets: Mapping[tuple[str | int, ...], Value]
) -> MeasureRow:
    note = joined(value.note or "", value.accepted or "", by="; ")
    return MeasureRow(
        title_of(MeasurementSheet, path),
        unit_sign(value),
        value_text(value),
        value_text(targets.get(path)),
        note,
    )


def _outfit(record: Instrument) -> Iterator[Fact]:
    outfit = record.outfit
    if outfit is not None:
        yield from _facts(
            ("Case", outfit.case),
            ("Bow", outfit.bow),
            ("Rest", outfit.rest),
            ("Other", ", ".join(outfit.other or ())),
        )


def photos(record: Instrument, path: str, files: Mapping[str, PictureFacts]) -> tuple[PhotoView, ...]:
    """Give the pictures that can be shown, numbered in the order of the record; their names tell nothing else."""
    numbered = enumerate(shown_photos(record, files), 1)
    return tuple(
        _photo(photo, f"{path}{number:02d}", files[photo.file or ""], title(record)) for number, photo in numbered
    )


def shown_photos(record: Instrument, files: Mapping[str, PictureFacts]) -> tuple[Photo, ...]:
    """Give the photos of a record whose file is there and sound."""
    sound = {file for file, facts in files.items() if not facts.fault}
    return tuple(photo for photo in record.photos or () if photo.file in sound)


def _photo(photo: Photo, name: str, facts: PictureFacts, of: str) -> PhotoView:
    width, height = fitted(facts.width, facts.height, LARGE_PX)
    small_width, small_height = fitted(facts.width, facts.height, SMALL_PX)
    view = spoken(photo.view or "")
    return PhotoView(
        f"{name}.jpg", f"{name}-small.jpg", width, height, small_width, small_height,
        view, joined(of, view), photo.caption or "", date_text(photo.date),
    )  # fmt: skip


def _shop_facts(desk: Desk, stem: str, record: Instrument) -> Iterator[Fact]:
    """Give what only the shop's own page shows; empty for the public because nothing of it is visible then."""
    yield from _facts(("Note", record.note))
    private = desk.archive.private[stem].record if stem in desk.archive.private else None
    if private is None:
        return
    yield from _facts(("Where it is", private.location), ("Marks held back as proof", private.held_back))
    for name, holders in (("Owner", private.owners), ("Renter", private.renters)):
        for holder in holders or ():
            span = joined(date_text(holder.since), date_text(holder.until), by=" to ")
            yield from _facts((name, joined(holder.name or "", holder.contact or "", span, holder.note or "")))
    for name, sums in (("Price", private.prices), ("Valuation", private.valuations)):
        for entry in sums or ():
            amount = joined(value_text(entry.amount), entry.currency or "", by="\u00a0")
            yield from _facts((name, joined(amount, date_text(entry.date), entry.what or "", entry.by or "")))
    yield from _facts(("Papers", "; ".join(private.papers or ())), ("Private note", private.note))


def last_change(record: Record) -> str:
    """Give the latest exact day in a record, 2024-08-19, for the site map; empty where there is none."""
    days = [day.text for _, entry in walked(record) for day in _dates_in(entry) if day.is_exact]
    return max(days, default="")


def _dates_in(entry: Record) -> Iterator[Date]:
    # A next check lies ahead; it says nothing of when the record changed.
    names = [name for name in type(entry).model_fields if name not in ("next_check", "expires")]
    return (value for name in names if isinstance(value := getattr(entry, name), Date))
