"""Which sheets of an instrument are compared, and whether a quantity is the same thing on two of them.

That judgement is made here and nowhere else: state of the strings, measuring point, pieces fitted, work in between.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations

from passport.analysis.timeline import when_said
from passport.findings import Path
from passport.records.model.events import Event
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import CONDITION_SHEETS, Fitted, SetupSheet, Sheet
from passport.reference import drift, terms

# Within a day a sheet of the instrument as it came in is taken before the work, every other one after it.
BEFORE_WORK, WORK, AFTER_WORK = 0, 1, 2
# All that is said of work that an audience may not see.
UNSEEN = "it was worked on between the two"
Moment = tuple[date, int]
END: Moment = (date.max, AFTER_WORK)
STRUNG = {"at_pitch": "at pitch", "slack": "slack", "none": "off"}


def day_of(sheet: Sheet) -> date:
    """Give the day of a sheet; one without a date counts as the oldest."""
    taken = sheet.taken.date if sheet.taken else None
    return (taken.earliest if taken else None) or date.min


def in_order(sheets: Sequence[SetupSheet]) -> list[SetupSheet]:
    """Give the sheets, oldest first; those of one day stand in the record in the order they were taken."""
    return sorted(sheets, key=day_of)


@dataclass(frozen=True)
class Epoch:
    """A reference and the sheets taken after it, oldest first, until the next reference; trials are left out."""

    reference: SetupSheet
    sheets: tuple[SetupSheet, ...]


def epochs_of(sheets: Sequence[SetupSheet]) -> tuple[Epoch, ...]:
    """Give the epochs of a set-up, oldest first; without any reference the first sheet that is no trial is one."""
    counting = [sheet for sheet in in_order(sheets) if sheet.role != "trial"]
    starts = [index for index, sheet in enumerate(counting) if sheet.role == "reference"]
    starts = starts or list(range(len(counting)))[:1]
    ends = [*starts, len(counting)][1:]
    return tuple(
        Epoch(counting[start], tuple(counting[start + 1 : end])) for start, end in zip(starts, ends, strict=True)
    )


@dataclass(frozen=True)
class Pair:
    """Two sheets of one instrument, the older first; `touched` says of fields why they begin anew between the two."""

    one: SetupSheet
    other: SetupSheet
    touched: Mapping[str, str]

    def why_unlike(self, quantity: Path) -> str:
        """Say why a quantity of the two sheets cannot be compared; nothing where it can."""
        return self.why_taken_unlike(quantity) or self.why_touched(str(quantity[0]))

    def why_taken_unlike(self, quantity: Path) -> str:
        """Say why the two were not taken alike: strings at pitch or slack, to the underside or the centre."""
        strings = [STRUNG.get(state, "") for state in (_strung(self.one), _strung(self.other))]
        if all(strings) and strings[0] != strings[1]:
            return f"the strings were {strings[0]} on {name_of(self.one)} and {strings[1]} on {name_of(self.other)}"
        points = [_point(quantity, sheet) for sheet in (self.one, self.other)]
        if all(points) and points[0] != points[1]:
            one, other = name_of(self.one), name_of(self.other)
            return f"measured to the {points[0]} of the string on {one}, to the {points[1]} on {other}"
        return ""

    def why_touched(self, *fields: str) -> str:
        """Say what work, or which other piece, between the two touched one of these fields; nothing where none did."""
        return next((self.touched[each] for each in (*fields, drift.EVERY_FIELD) if each in self.touched), "")


def pair(record: Instrument, one: SetupSheet, other: SetupSheet) -> Pair:
    """Set two sheets of a record beside each other, the older first."""
    touched: dict[str, str] = {}
    work = _work_between(record.history or (), _moment(one), _moment(other))
    for fields, why in (*work, *_other_pieces(record, one, other)):
        for field in sorted(fields):
            touched.setdefault(field, why)
    for field in sorted(record.worked_on_unseen(one, other)):
        touched.setdefault(field, UNSEEN)
    return Pair(one, other, touched)


def unseen_work(whole: Instrument, shown: Instrument) -> dict[tuple[int, int], frozenset[str]]:
    """Give the fields that are worked on between two sheets shown, in entries of the whole record that are not.

    Without them a change that somebody made would be taken for one that happened. The place behind the last sheet
    stands for the end of the record.
    """
    sheets = shown.setups or ()
    hidden = [sheet for sheet in whole.setups or () if sheet.shown_to != "public"]
    if len(whole.history or ()) == len(shown.history or ()) and not hidden:
        return {}
    found = {(at, len(sheets)): begun_after(whole, sheet) for at, sheet in enumerate(sheets)}
    for (one_at, one), (other_at, other) in combinations(enumerate(sheets), 2):
        older, newer = (one, other) if day_of(one) <= day_of(other) else (other, one)
        fields = pair(whole, older, newer).touched.keys() - pair(shown, older, newer).touched.keys()
        begins = any(each.role == "reference" and _moment(older) < _moment(each) <= _moment(newer) for each in hidden)
        found[one_at, other_at] = frozenset(fields) | ({drift.EVERY_FIELD} if begins else frozenset())
    return {places: fields for places, fields in found.items() if fields}


def name_of(sheet: SetupSheet) -> str:
    """Give the short name of a sheet, or its date."""
    taken = sheet.taken.date.words() if sheet.taken and sheet.taken.date else ""
    return sheet.sheet or (f"the sheet of {taken}" if taken else "a sheet without a date")


def begun_after(record: Instrument, sheet: SetupSheet) -> frozenset[str]:
    """Give the fields that have begun anew since a sheet: by work, by another piece, all of them by a new reference."""
    ordered = in_order(record.setups or ())
    later = ordered[place_of(ordered, sheet) + 1 :]
    if any(each.role == "reference" for each in later):
        return frozenset({drift.EVERY_FIELD})
    work = _work_between(record.history or (), _moment(sheet), END)
    pieces = _other_pieces(record, sheet, ordered[-1])
    return record.worked_on_unseen(sheet).union(*(fields for fields, _ in (*work, *pieces)))


def _work_between(history: Sequence[Event], start: Moment, end: Moment) -> Iterator[tuple[frozenset[str], str]]:
    """Give what each work between two moments touches; work of a day not known well is between where it may be."""
    for event in history:
        fields = drift.work().get(event.event or "")
        if not fields or event.date is None:
            continue
        earliest, latest = event.date.earliest or date.min, event.date.latest or date.max
        if (latest, WORK) > start and (earliest, WORK) < end:
            yield fields, f"{terms.EVENTS[event.event or ''].words.lower()} {when_said(event.date)}"


def _moment(sheet: SetupSheet) -> Moment:
    is_before = sheet.taken is not None and sheet.taken.when in CONDITION_SHEETS
    return day_of(sheet), BEFORE_WORK if is_before else AFTER_WORK


def _other_pieces(record: Instrument, one: SetupSheet, other: SetupSheet) -> Iterator[tuple[frozenset[str], str]]:
    then, now = fitted_at(record, one), fitted_at(record, other)
    for piece, fields in drift.pieces().items():
        was, is_ = then.get(piece, ""), now.get(piece, "")
        if was and is_ and was != is_:
            title = (Fitted.model_fields[piece].title or piece).lower()
            yield fields, f"{title} {was} on {name_of(one)}, {is_} on {name_of(other)}"


def fitted_at(record: Instrument, sheet: SetupSheet) -> dict[str, str]:
    """Give the pieces on the instrument when a sheet was taken: what it does not name is as last named before."""
    found: dict[str, str] = {}
    for each in in_order(record.setups or ()):
        for piece in drift.pieces() if each.fitted else ():
            said = getattr(each.fitted, piece)
            if said is not None:
                found[piece] = ", ".join(said) if isinstance(said, tuple) else said
        if each is sheet:
            break
    return found


def place_of(sheets: Sequence[SetupSheet], sheet: SetupSheet) -> int:
    """Give where a sheet stands among sheets."""
    return next(index for index, each in enumerate(sheets) if each is sheet)


def _strung(sheet: SetupSheet) -> str:
    return (sheet.state.strings if sheet.state else None) or ""


def _point(name: Path, sheet: SetupSheet) -> str:
    """Give the point of the string that a per-string quantity was measured to."""
    return getattr(getattr(sheet, str(name[0]), None), "to", None) or ""
