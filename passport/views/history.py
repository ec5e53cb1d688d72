"""What happened to an instrument, newest first, in words.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date

from passport.records.model.events import Condition, Event
from passport.records.model.instrument import Instrument
from passport.reference import terms
from passport.views.desk import Desk, facts
from passport.views.numbers import date_text, humidity_text, iso_text, joined, with_unit
from passport.views.setup import person
from passport.views.titles import capital, spoken
from passport.views.tree import EventView, Fact


def history(desk: Desk, record: Instrument) -> tuple[EventView, ...]:
    """Give what happened, newest first; events of one day stay in the order they happened, last one first."""
    in_order = sorted(record.history or (), key=_day)
    sheets = {sheet.sheet for sheet in (*(record.setups or ()), *(record.measurements or ())) if sheet.sheet}
    return tuple(_event(desk, event, sheets) for event in reversed(in_order))


def _day(event: Event) -> date:
    return (event.date.earliest if event.date else None) or date.min


def _event(desk: Desk, event: Event, sheets: Collection[str]) -> EventView:
    term = terms.EVENTS.get(event.event or "")
    return EventView(
        date=date_text(event.date),
        iso=iso_text(event.date),
        title=term.words if term else spoken(event.event or ""),
        by=person(event.by, desk.people),
        facts=tuple(_event_facts(event, sheets)),
        shop_only=event.shown_to == "shop",
    )


def _event_facts(event: Event, sheets: Collection[str]) -> Iterator[Fact]:
    side = f"{event.side} side" if event.side in ("bass", "treble") else event.side or ""
    where = capital(joined(spoken(event.part or ""), side, event.zone or "", with_unit(event.length)))
    climate = joined(with_unit(event.temperature), humidity_text(event.humidity))
    yield from facts(
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
        ("Sheets", _sheets(event, sheets)),
        ("Came with", ", ".join(event.came_with or ())),
        ("Next check", date_text(event.next_check)),
        ("Paper", event.paper),
        ("Note", event.note),
    )


def _sheets(event: Event, known: Collection[str]) -> str:
    """Name the sheets an event points to; one that this audience cannot see is not named."""
    pairs = (("", event.sheet), ("before", event.before), ("after", event.after))
    return joined(*(f"{word} {name}".strip() for word, name in pairs if name in known))


def _condition(found: Condition) -> str:
    words = [
        joined(terms.CONDITIONS[term].words if term in terms.CONDITIONS else term, where, by=": ")
        for term, where in found.terms.items()
    ]
    severity = f"severity {found.severity}" if found.severity is not None else ""
    return joined(*words, with_unit(found.length), severity, found.stable or "", found.note or "")
