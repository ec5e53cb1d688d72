"""One instrument as its page shows it.

Sees only what `visible` lets through, so it decides nothing about access.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from passport.analysis.windows import windows_of
from passport.findings import Finding, Severity
from passport.records.dates import Date
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.walk import walked
from passport.reference.cites import AS_OF
from passport.reference.kinds import KIND_WORDS
from passport.views.addresses import sums_path, supply_path
from passport.views.alike import alike
from passport.views.completeness import missing
from passport.views.desk import Desk, facts
from passport.views.drift import drift_workings
from passport.views.history import history
from passport.views.making import coat_view, measurements, parts
from passport.views.materials import material_lines
from passport.views.moisture import moisture_workings
from passport.views.numbers import counted, date_text, iso_text, joined, size_text, value_text, with_unit
from passport.views.pictures import photos
from passport.views.plates import plates
from passport.views.setup import person, setup_view
from passport.views.strung import setup_worked
from passport.views.titles import capital, spoken
from passport.views.tree import Fact, FindingView, InstrumentView, Link, Workings
from passport.views.varnish import coats_workings
from passport.views.wood import plates_workings

BANNERS = {"withdrawn": "Withdrawn from use", "missing": "Reported missing", "destroyed": "No longer in existence"}


class _Sums(NamedTuple):
    """What was worked out of the set-up, of wood and moisture, and of the varnish."""

    setup: tuple[Workings, ...]
    wood: tuple[Workings, ...]
    varnish: tuple[Workings, ...]


def instrument_view(desk: Desk, stem: str, findings: Sequence[Finding]) -> InstrumentView:
    """Make the page of one instrument; the findings are those of its record."""
    record = desk.archive.instruments[stem].record
    words, detail = banner(record)
    path = desk.paths[stem]
    title = kind_and_size(record.kind, record.size)
    windows = windows_of(desk.archive, record)
    made_plates = tuple(plates(desk, record, windows))
    sums = _Sums(
        setup_worked(record),
        (*plates_workings(desk, record), *moisture_workings(desk, record)),
        tuple(coats_workings(desk, record)),
    )
    return InstrumentView(
        audience=desk.audience,
        id=stem,
        path=path,
        listed=record.published == "listed",
        title=title,
        kind=KIND_WORDS.get(record.kind or "", ""),
        size=size_text(record.kind or "", record.size or ""),
        serial=record.serial or "",
        maker_line=maker_line(desk, record),
        maker=_maker(desk, record),
        made=made_words(record),
        made_date=iso_text(record.made.finished if record.made else None),
        model=model_link(desk, record.model),
        label_text=record.label.text or "" if record.label else "",
        banner=words,
        banner_detail=detail,
        notice=_notice(findings),
        identity=tuple(_identity(desk, record)),
        setup=setup_view(desk, record, windows),
        findings=tuple(map(finding_view, findings)) if desk.tells_findings else (),
        history=history(desk, record),
        plates=made_plates,
        parts=tuple(parts(desk, record)),
        varnish=tuple(coat_view(coat) for coat in record.varnish or ()),
        measurements=tuple(measurements(desk, record, windows)),
        outfit=tuple(_outfit(record)),
        photos=photos(record, title, path, desk.archive.photos.get(stem, {})),
        shop_facts=tuple(_shop_facts(desk, stem, record)),
        data_path=f"{path}record.json",
        changed=last_change(record),
        missing=missing(desk, stem),
        alike=alike(desk, record),
        materials=material_lines(record, desk.archive.wood, AS_OF),
        setup_worked=sums.setup,
        wood_worked=sums.wood,
        varnish_worked=sums.varnish,
        drift=drift_workings(desk, record),
        sums_path=sums_path(path) if any((*sums, *(plate.worked for plate in made_plates))) else "",
    )


def kind_and_size(kind: str | None, size: str | None) -> str:
    """Give kind and size in words: "Violin 4/4", "Viola 405 mm"."""
    word = capital(KIND_WORDS.get(kind or "", "instrument"))
    return joined(word, size_text(kind or "", size or ""), by=" ")


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


def _maker(desk: Desk, record: Instrument) -> str:
    """Give the workshop's name for what was made here; of other hands' work nothing is claimed."""
    return desk.workshop.name or "" if record.origin == "made_here" else ""


def maker_line(desk: Desk, record: Instrument) -> str:
    """Give whose work it is, in one line."""
    if record.attribution and record.attribution.wording:
        return record.attribution.wording
    if record.origin == "made_here":
        workshop = desk.workshop
        return joined(workshop.name or "", (record.made.place if record.made else None) or workshop.place or "")
    return ""


def banner(record: Instrument) -> tuple[str, str]:
    """Say, and say why, that an instrument is no longer in use; nothing of one that is."""
    status = record.status
    if status is None or status.now not in BANNERS:
        return "", ""
    since = f"since {date_text(status.since)}" if status.since else ""
    return BANNERS[status.now], capital(joined(since, status.why or "", by="; "))


def _notice(findings: Sequence[Finding]) -> str:
    """Say on the page, to everyone, that its record has errors; what they are is for the shop."""
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    if not errors:
        return ""
    return f"This record has {counted(errors, 'error')}; something it should say may be missing here."


def _identity(desk: Desk, record: Instrument) -> Iterator[Fact]:
    yield from facts(("Serial", record.serial), ("Origin", spoken(record.origin or "")))
    if record.handed == "left":
        yield Fact("Handedness", "strung for the left hand")
    if record.strings:
        yield Fact("Strings", joined(*(string.tuning or "" for string in record.strings)))
        for string in record.strings:
            if string.length or string.note:
                yield Fact(f"{string.tuning or 'One'} string", joined(with_unit(string.length), string.note or ""))
    if record.made:
        yield from facts(("Begun", date_text(record.made.begun)), ("Place", record.made.place))
        hands = record.made.hands
        for name, field in type(hands).model_fields.items() if hands else ():
            yield from facts((field.title or name, person(getattr(hands, name), desk.people)))
    if record.attribution:
        yield from facts(
            ("Attributed by", record.attribution.by), ("Attributed on", date_text(record.attribution.date))
        )
    if record.label:
        yield from facts(("Label inside", record.label.text), ("Label's place", record.label.place))
    numbers = record.other_numbers
    for name, field in type(numbers).model_fields.items() if numbers else ():
        yield from facts((field.title or name, getattr(numbers, name)))
    yield from facts(("Marks", record.marks))


def finding_view(finding: Finding) -> FindingView:
    """Give a finding as a page tells it."""
    where = ".".join(map(str, finding.path)) or "the whole record"
    return FindingView(
        finding.code.slug, finding.severity.value, f"line {finding.line}, {where}", finding.what, finding.todo
    )


def _outfit(record: Instrument) -> Iterator[Fact]:
    outfit = record.outfit
    if outfit is not None:
        yield from facts(
            ("Case", outfit.case), ("Bow", outfit.bow), ("Rest", outfit.rest), ("Other", ", ".join(outfit.other or ()))
        )


def _shop_facts(desk: Desk, stem: str, record: Instrument) -> Iterator[Fact]:
    """Give what only the shop's own page shows; empty for the public because nothing of it is visible then."""
    yield from facts(("Note", record.note))
    private = desk.archive.private[stem].record if stem in desk.archive.private else None
    if private is None:
        return
    yield from facts(("Where it is", private.location), ("Marks held back as proof", private.held_back))
    for name, holders in (("Owner", private.owners), ("Renter", private.renters)):
        for holder in holders or ():
            span = joined(date_text(holder.since), date_text(holder.until), by=" to ")
            yield from facts((name, joined(holder.name or "", holder.contact or "", span, holder.note or "")))
    for name, sums in (("Price", private.prices), ("Valuation", private.valuations)):
        for entry in sums or ():
            amount = joined(value_text(entry.amount), entry.currency or "", by="\u00a0")
            yield from facts((name, joined(amount, date_text(entry.date), entry.what or "", entry.by or "")))
    yield from facts(("Papers", "; ".join(private.papers or ())), ("Private note", private.note))


def last_change(record: Record) -> str:
    """Give the latest exact day in a record, 2024-08-19, for the site map; empty where there is none."""
    days = [day.text for _, entry in walked(record) for day in _dates_in(entry) if day.is_exact]
    return max(days, default="")


def _dates_in(entry: Record) -> Iterator[Date]:
    # A next check lies ahead; it says nothing of when the record changed.
    names = [name for name in type(entry).model_fields if name not in ("next_check", "expires")]
    return (value for name in names if isinstance(value := getattr(entry, name), Date))
