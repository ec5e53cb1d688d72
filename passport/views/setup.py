"""The set-up as a page shows it: the reference beside the latest, quantity by quantity.

Which sheet is the reference and what has moved is decided in `analysis.setup`; here it is only worded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from passport.analysis.setup import Compared, SetupResult, compared, quantities, reference_of
from passport.analysis.windows import Window, Windows, fitting_of
from passport.findings import Path
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import Fitted, SetupSheet, Sheet, State
from passport.records.model.values import Value
from passport.records.model.workshop import Person
from passport.views.desk import Desk
from passport.views.numbers import date_text, difference_text, humidity_text, joined, unit_sign, value_text, with_unit
from passport.views.titles import capital, spoken, title_of
from passport.views.tree import Fact, SetupGroup, SetupRow, SetupView, SheetValues, SheetView
from passport.views.windows import beside, sources

NOT_RECORDED = "not recorded"
NOT_MEASURED = "not measured"
CANNOT_TELL = "cannot tell"

# The groups of the set-up table, in the order a set-up person works; each takes the fields of the sheet named with it.
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Strings", ("string_length", "string_height", "nut_clearance", "string_spacing", "afterlength",
                 "string_break_angle", "string_density", "string_diameter")),
    ("Neck and board", ("projection", "body_stop", "neck_stop", "overstand", "fingerboard_end_to_top",
                        "fingerboard_scoop")),
    ("Bridge", ("bridge",)),
    ("Post", ("soundpost",)),
    ("Tailpiece and saddle", ("tailpiece_length", "saddle_height_above_top", "endpin_length")),
    ("Body", ("arch_height", "instrument_mass", "air_mode")),
)  # fmt: skip


def setup_view(desk: Desk, record: Instrument, windows: Windows) -> SetupView | None:
    """Set the reference and the latest sheet side by side; None while there is no set-up."""
    result = compared(record)
    if result is None:
        return None
    strings, people = record.string_names, desk.people
    held = _windows(record, result, windows)
    rows = {row.quantity: _row(row, result, strings, held[row.quantity]) for row in result.compared}
    return SetupView(
        reference=sheet_view(result.reference, people),
        latest=sheet_view(result.latest, people) if result.latest else None,
        headline=tuple(rows[quantity] for quantity in _headline(strings) if quantity in rows),
        groups=tuple(group for name, fields in (*GROUPS, _rest(rows)) if (group := _group(name, fields, rows)).rows),
        others=tuple(_values(sheet, strings, people) for sheet in result.others),
        sources=sources(desk, record.model, held.values()),
    )


def _windows(record: Instrument, result: SetupResult, windows: Windows) -> dict[Path, Window | None]:
    """Give the window of each quantity, for the strings and to the point that its last sheet names."""
    by_name = {sheet.sheet: sheet for sheet in record.setups or ()}
    last = {name: by_name.get(name, result.reference) for name in {row.now_sheet for row in result.compared}}
    fittings = {name: fitting_of(record, sheet) for name, sheet in last.items()}
    return {row.quantity: windows.of(tuple(map(str, row.quantity)), fittings[row.now_sheet]) for row in result.compared}


def card_rows(sheets: Sequence[SetupSheet], strings: tuple[str, ...]) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Give the reference's date and what goes on a card, name and value; what was not measured is said to be so."""
    reference = reference_of(sheets)
    there = dict(quantities(reference)) if reference else {}
    rows = tuple((title_of(SetupSheet, row, strings), _on_card(row, there, reference)) for row in _on_cards(strings))
    fitted = (reference.fitted.strings if reference and reference.fitted else None) or NOT_RECORDED
    date = date_text(reference.taken.date) if reference and reference.taken else ""
    return date, (*rows, ("Strings", fitted))


def _on_cards(strings: tuple[str, ...]) -> tuple[Path, ...]:
    return (("string_length",), *_outer_heights(strings), ("projection",), ("soundpost", "behind_foot"))


def _on_card(row: Path, there: Mapping[Path, Value], reference: SetupSheet | None) -> str:
    value = there.get(row)
    measured_to = getattr(getattr(reference, str(row[0]), None), "to", None)
    return joined(with_unit(value), f"to the {measured_to}" if measured_to else "") if value else NOT_MEASURED


def _values(sheet: SetupSheet, strings: tuple[str, ...], people: Mapping[str, Person]) -> SheetValues:
    """Run a sheet's values together, field by field: "String height", "C 7.0 mm, G 6.2 mm, D 5.4 mm, A 4.7 mm"."""
    by_field = groupby(quantities(sheet), key=lambda pair: pair[0][0])
    values = (
        Fact(title_of(SetupSheet, (field,)), ", ".join(_run(path, value, strings) for path, value in group))
        for field, group in by_field
    )
    return SheetValues(sheet_view(sheet, people), tuple(values))


def _run(path: Path, value: Value, strings: tuple[str, ...]) -> str:
    """Name a value within its field and write it."""
    whole, field = title_of(SetupSheet, path, strings), title_of(SetupSheet, path[:1])
    return joined(whole.removeprefix(field).removeprefix(", "), with_unit(value), value.note or "", by=" ")


def _headline(strings: tuple[str, ...]) -> tuple[Path, ...]:
    """Give what a set-up person asks for first."""
    return (
        ("string_length",), ("projection",), *_outer_heights(strings),
        ("soundpost", "behind_foot"), ("bridge", "height"),
    )  # fmt: skip


def _outer_heights(strings: tuple[str, ...]) -> tuple[Path, ...]:
    outer = (strings[0], strings[-1]) if strings else ()
    return tuple(("string_height", name) for name in outer)


def _rest(rows: Iterable[Path]) -> tuple[str, tuple[str, ...]]:
    """Give the fields that no group names, so that a new one is never left out."""
    grouped = {field for _, fields in GROUPS for field in fields}
    return "Other", tuple(dict.fromkeys(str(path[0]) for path in rows if path[0] not in grouped))


def _group(name: str, fields: tuple[str, ...], rows: Mapping[Path, SetupRow]) -> SetupGroup:
    ordered = sorted((path for path in rows if path[0] in fields), key=lambda path: fields.index(str(path[0])))
    return SetupGroup(name, tuple(_said_once([rows[path] for path in ordered])))


def _said_once(rows: Sequence[SetupRow]) -> Iterator[SetupRow]:
    """Give the rows, each note only where it first stands: four strings are measured to one point."""
    previous = ""
    for row in rows:
        yield replace(row, note="") if row.note == previous else row
        previous = row.note


def _row(row: Compared, result: SetupResult, strings: tuple[str, ...], window: Window | None) -> SetupRow:
    sides = [side for side in (row.then, row.now) if side is not None]
    decimals = max(side.value.decimals for side in sides)
    latest = result.latest.sheet if result.latest else ""
    told = beside(window, sides[-1].value)
    return SetupRow(
        name=title_of(SetupSheet, row.quantity, strings),
        unit=unit_sign(sides[0]),
        then=value_text(row.then) or NOT_RECORDED,
        now=value_text(row.now),
        moved=difference_text(row.moved, decimals) if not row.why_unlike else CANNOT_TELL,
        now_from=row.now_sheet if row.now_sheet != latest else "",
        note=_note(row, result),
        window=told.window,
        whose=told.whose,
        mark=told.mark,
    )


def _note(row: Compared, result: SetupResult) -> str:
    """Give what travels with the number: the point measured to, why it cannot be compared, the maker's own words."""
    measured_to = getattr(getattr(result.reference, str(row.quantity[0]), None), "to", None)
    words = [f"to the {measured_to} of the string"] if measured_to else []
    words += [row.why_unlike] if row.why_unlike else []
    for value in (row.then, row.now):
        words += [text for text in (value.note, value.accepted) if text] if value else []
    return "; ".join(dict.fromkeys(words))


def sheet_view(sheet: Sheet, people: Mapping[str, Person]) -> SheetView:
    """Say who measured, when, and in what state."""
    taken = sheet.taken
    return SheetView(
        name=sheet.sheet or "",
        date=date_text(taken.date) if taken else "",
        when=spoken(taken.when) if taken and taken.when else "",
        by=person(taken.by, people) if taken else "",
        state=_state_words(sheet.state),
        fitted=_fitted(sheet.fitted) if isinstance(sheet, SetupSheet) else (),
        heard=(sheet.heard or "") if isinstance(sheet, SetupSheet) else "",
        role=(sheet.role or "") if isinstance(sheet, SetupSheet) else "",
        note=sheet.note or "",
    )


def person(name: str | None, people: Mapping[str, Person]) -> str:
    """Give the printed name of someone whose short name stands in a record."""
    known = people.get(name or "")
    return (known.name if known else None) or name or ""


def _state_words(state: State | None) -> str:
    if state is None:
        return ""
    strung = {"at_pitch": "strung, at pitch", "slack": "strings slack", "none": "without strings"}.get(
        state.strings or "", ""
    )
    pitch = f"A4 {with_unit(state.a4)}" if state.a4 else ""
    count = value_text(state.days)
    days = f"{count} {'day' if count == '1' else 'days'} in this climate" if count not in ("", "0") else ""
    return joined(strung, pitch, with_unit(state.temperature), humidity_text(state.humidity), days)


def _fitted(fitted: Fitted | None) -> tuple[Fact, ...]:
    if fitted is None:
        return ()
    facts = []
    for name, field in type(fitted).model_fields.items():
        value = getattr(fitted, name)
        text = ", ".join(value) if isinstance(value, tuple) else value
        facts += [Fact(capital(field.title or name), text)] if text else []
    return tuple(facts)
