"""Everything in an instrument's record that has a date, each with how it is said and where it stands.

Puts nothing in order and judges nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from passport.findings import Path
from passport.records.dates import Date
from passport.records.model.events import Event
from passport.records.model.instrument import Coat, Instrument, Plate, Stage
from passport.records.model.sheets import MeasurementSheet, SetupSheet, Sheet
from passport.reference import terms

PLATES = ("top", "back")
# Work on a single plate; its entry may say which one under `part`.
OF_A_PLATE = ("arching_done", "graduation_done")
# How an event or a stage is said in a sentence that goes on with its date.
SAID = {
    "wood_released": "the wood was released",
    "ribs_bent": "the ribs were bent",
    "rib_garland_complete": "the rib garland was complete",
    "f_holes_cut": "the f-holes were cut",
    "bass_bar_fitted": "the bass bar was fitted",
    "before_closing": "the top was weighed before closing",
    "back_glued": "the back was glued",
    "top_glued": "the top was glued",
    "scroll_carved": "the scroll was carved",
    "fingerboard_fitted": "the board was fitted",
    "neck_set": "the neck was set",
    "white_setup_trial": "it was strung in the white",
    "setup_complete": "the set-up was complete",
    "shipped": "it was shipped",
    "sold": "it was sold",
    "rented_out": "it was rented out",
    "loaned": "it was lent",
    "consigned": "it was taken for sale",
    "bass_bar_replaced": "the bass bar was replaced",
    "fingerboard_replaced": "the board was replaced",
    "soundpost_replaced": "the post was replaced",
    "bridge_replaced": "the bridge was replaced",
    "top_removed": "the top was taken off",
}
PLATE_SAID = {"arching_done": "was arched", "graduation_done": "was graduated", "as_found": "was measured as found"}


@dataclass(frozen=True)
class Happening:
    """One dated thing: `kind` is the event's or stage's word, or coat, sheet, photo; `path` leads to its entry."""

    kind: str
    what: str
    date: Date
    path: Path
    part: str = ""

    @property
    def said(self) -> str:
        """Say what happened and when: "the top was glued on 3 March 2021"."""
        return f"{self.what} {when_said(self.date)}"


def when_said(date: Date) -> str:
    """Give a date with its little word: "on 3 March 2021", "in March 2021"."""
    words = date.words()
    if words.startswith("between"):
        return words
    return f"on {words}" if date.is_exact else f"in {words}"


def happenings(record: Instrument) -> tuple[Happening, ...]:
    """Give everything dated in a record, in the order of the form."""
    found: list[Happening] = []
    for plate in PLATES:
        made: Plate | None = getattr(record.plates, plate, None)
        if made is not None:
            found += _stages(plate, made.stages or ())
    found += _coats(record.varnish or ())
    found += _sheets("measurements", record.measurements or ())
    found += _sheets("setups", record.setups or ())
    found += _events(record.history or ())
    found += [
        Happening("photo", f"the picture {photo.file} was taken", photo.date, ("photos", index))
        for index, photo in enumerate(record.photos or ())
        if photo.date
    ]
    return tuple(found)


def of_kind(found: Iterable[Happening], *kinds: str, part: str = "") -> tuple[Happening, ...]:
    """Give the happenings of these kinds; with `part`, those of this part or of none in particular."""
    return tuple(each for each in found if each.kind in kinds and (not part or each.part in ("", part)))


def _stages(plate: str, stages: Iterable[Stage]) -> Iterator[Happening]:
    for index, stage in enumerate(stages):
        if stage.date and stage.when:
            path: Path = ("plates", plate, "stages", index)
            yield Happening(stage.when, _work_said(stage.when, plate), stage.date, path, plate)


def _coats(coats: Iterable[Coat]) -> Iterator[Happening]:
    for index, coat in enumerate(coats):
        if coat.date:
            yield Happening("coat", f"{coat_said(coat)} was laid", coat.date, ("varnish", index))


def coat_said(coat: Coat) -> str:
    """Name a coat: "the ground", "coat 2"."""
    if coat.coat is None:
        return "a coat"
    return f"coat {coat.coat}" if coat.coat.isdecimal() else f"the {coat.coat}"


def _sheets(field: str, sheets: Iterable[MeasurementSheet | SetupSheet]) -> Iterator[Happening]:
    for index, sheet in enumerate(sheets):
        date = sheet_date(sheet)
        if date is not None:
            what = f"sheet {sheet.sheet} was taken" if sheet.sheet else "the dimensions were taken"
            yield Happening("sheet", what, date, (field, index, "taken"))


def sheet_date(sheet: Sheet) -> Date | None:
    """Give the date of a sheet."""
    return sheet.taken.date if sheet.taken else None


def _events(events: Iterable[Event]) -> Iterator[Happening]:
    for index, event in enumerate(events):
        if event.date and event.event:
            part = event.part if event.part in PLATES and event.event in OF_A_PLATE else ""
            said = _work_said(event.event, part or "")
            yield Happening(event.event, said, event.date, ("history", index), part or "")


def _work_said(word: str, plate: str) -> str:
    if word in PLATE_SAID and plate:
        return f"the {plate} {PLATE_SAID[word]}"
    term = terms.EVENTS.get(word)
    named = term.words if term else word.replace("_", " ")
    return SAID.get(word) or f"“{named[:1].lower()}{named[1:]}” is entered"
