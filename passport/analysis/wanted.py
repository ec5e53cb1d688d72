"""The things that a buyer, an insurer, customs and the next repairer will ask a record for, and how each is looked for.

Says what to do where one is not there; counts nothing. Common practice, no source, unless a line names one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from passport.analysis.setup import reference_of
from passport.records.model.instrument import SHOP_ORIGINS, Instrument, Part, Plate
from passport.records.model.marks import Record
from passport.records.model.sheets import SetupSheet
from passport.records.model.supplies import WoodLot
from passport.records.model.workshop import Private
from passport.records.walk import fields_of

BUYER, INSURER, CUSTOMS, REPAIRER, DESCRIPTION = "buyer", "insurer", "customs", "repairer", "description"
PURPOSES: Mapping[str, str] = {
    BUYER: "a buyer",
    INSURER: "an insurer",
    CUSTOMS: "customs",
    REPAIRER: "whoever opens it next",
    DESCRIPTION: "a description by Object ID",
}
# Parts whose wood customs ask for one by one.
WOODEN = ("top", "back", "ribs", "neck", "board", "fittings")
# Genera with species in the appendices of CITES that are used for instruments; papers of these are asked for.
# CITES Appendices I and II as of 2026; ask your management authority.
CONTROLLED = ("Dalbergia", "Paubrasilia", "Diospyros", "Swietenia", "Cedrela")


@dataclass(frozen=True)
class Subject:
    """One instrument with what its record names: its private record and the lots of its wood."""

    stem: str
    record: Instrument
    private: Private
    lots: Mapping[str, WoodLot]

    @cached_property
    def reference(self) -> SetupSheet:
        """Give the reference set-up, an empty one where there is none."""
        return reference_of(self.record.setups or ()) or SetupSheet()

    @property
    def is_ours(self) -> bool:
        """Tell whether it was made here."""
        return self.record.origin == "made_here"

    @cached_property
    def woods(self) -> Mapping[str, tuple[Part, WoodLot]]:
        """Give the wood of each part that customs ask for, with its lot, empty where none is named."""
        parts = dict(fields_of(self.record.parts)) if self.record.parts else {}
        found = {name: parts.get(name) or Part() for name in WOODEN}
        return {name: (part, self.lots.get(part.lot or "") or WoodLot()) for name, part in found.items()}

    def measured(self, *path: str) -> bool:
        """Tell whether a quantity stands on any sheet."""
        sheets = (*(self.record.measurements or ()), *(self.record.setups or ()))
        return any(_at(sheet, path) is not None for sheet in sheets)

    def happened(self, *events: str) -> bool:
        """Tell whether any of these events is in the history."""
        return any(event.event in events for event in self.record.history or ())


Test = Callable[[Subject], bool]


@dataclass(frozen=True)
class Thing:
    """One thing asked for: by whom, how to tell that it is there, what to do, and which instruments it is asked of."""

    name: str
    purposes: tuple[str, ...]
    there: Test
    todo: Callable[[Subject], str]
    asked: Test = lambda _: True
    category: str = ""


# --- how the things are looked for ------------------------------------------------------------------------------------


def _at(entry: Record, path: Iterable[str]) -> object:
    here: object = entry
    for name in path:
        here = getattr(here, name, None)
    return here


def _field(*path: str) -> Test:
    return lambda subject: bool(_at(subject.record, path))


def _reference(*path: str) -> Test:
    return lambda subject: _at(subject.reference, path) is not None


def _picture(*views: str) -> Test:
    return lambda subject: any(photo.view in views for photo in subject.record.photos or ())


def _measured(*path: str) -> Test:
    return lambda subject: subject.measured(*path)


def _either(one: Test, other: Test) -> Test:
    return lambda subject: one(subject) or other(subject)


def _say(text: str) -> Callable[[Subject], str]:
    return lambda subject: text.replace("<ID>", subject.stem)


def _ours(subject: Subject) -> bool:
    return subject.is_ours


def _others(subject: Subject) -> bool:
    return not subject.is_ours


def _second_hand(subject: Subject) -> bool:
    return subject.record.origin == "second_hand"


def _by_other_hands(subject: Subject) -> bool:
    return subject.record.origin in SHOP_ORIGINS


def _of_kind(*kinds: str) -> Test:
    return lambda subject: subject.record.kind in kinds


def _set_up_by_us(subject: Subject) -> bool:
    return subject.record.origin != "customer"


def _has_label(subject: Subject) -> bool:
    label = subject.record.label
    return label is None or label.text != "none"


def _mapped(plate: str) -> Test:
    def test(subject: Subject) -> bool:
        made: Plate | None = getattr(subject.record.plates, plate, None)
        return made is not None and bool(made.thickness)

    return test


def _coats_with_batch(subject: Subject) -> bool:
    coats = subject.record.varnish or ()
    return bool(coats) and all(coat.batch for coat in coats)


def _condition_recorded(subject: Subject) -> bool:
    return any(event.found or event.fine for event in subject.record.history or ())


def _valued(subject: Subject) -> bool:
    return any(value.amount and value.date for value in subject.private.valuations or ())


def _is_anothers(subject: Subject) -> bool:
    return subject.record.origin == "customer" or subject.happened("sold")


def _species_of(part: Part, lot: WoodLot) -> str:
    return part.species or lot.species or ""


def _without(subject: Subject, has: Callable[[Part, WoodLot], object], only: Iterable[str] = WOODEN) -> list[str]:
    """Give the parts whose wood lacks something."""
    return [name for name in only if not has(*subject.woods[name])]


def _every(has: Callable[[Part, WoodLot], object], only: Iterable[str] = WOODEN) -> Test:
    return lambda subject: not _without(subject, has, only)


def _name_parts(start: str, has: Callable[[Part, WoodLot], object], end: str) -> Callable[[Subject], str]:
    return lambda subject: f"{start} {', '.join(_without(subject, has))} {end}"


def _origin(part: Part, lot: WoodLot) -> object:
    return part.origin or lot.origin


def _dated(part: Part, lot: WoodLot) -> object:
    """A part not from a lot of ours has no date that we could know."""
    return not part.lot or lot.felled or lot.bought


def _is_controlled(part: Part, lot: WoodLot) -> bool:
    return _species_of(part, lot).split(" ")[0] in CONTROLLED


def _without_papers(subject: Subject) -> list[str]:
    """Give the parts of a protected wood without a paper: our own in the lot, others' in the private record."""

    def has(part: Part, lot: WoodLot) -> object:
        papers = fields_of(lot.papers) if lot.papers else subject.private.papers if not part.lot else ()
        return papers or not _is_controlled(part, lot)

    return _without(subject, has)


def _todo_papers(subject: Subject) -> str:
    where = f"in the lot in records/wood/; of others' wood in private/{subject.stem}.yml"
    return f"write papers: for {', '.join(_without_papers(subject))}, {where}; without any, ask the seller"


def _has_controlled(subject: Subject) -> bool:
    return any(_is_controlled(part, lot) for part, lot in subject.woods.values())


# --- the things, the most useful first --------------------------------------------------------------------------------

_TAKE = "take one, put it into photos/<ID>/, and list it under photos: with view: "
_MEASURE = "measure it, and write it on a sheet as "

THINGS: tuple[Thing, ...] = (
    Thing("a picture of the front", (BUYER, INSURER, REPAIRER, DESCRIPTION), _picture("front"),
          _say(f"{_TAKE}front"), category="photographs"),
    Thing("a picture of the back", (BUYER, INSURER, DESCRIPTION), _picture("back"),
          _say(f"{_TAKE}back"), category="photographs"),
    Thing("a picture of the scroll", (BUYER, INSURER, DESCRIPTION), _picture("scroll", "scroll_front", "scroll_back"),
          _say(f"{_TAKE}scroll"), category="photographs"),
    Thing("a picture of the label", (INSURER, DESCRIPTION), _picture("label"),
          _say(f"{_TAKE}label"), _has_label, "photographs"),
    Thing("when it was made", (BUYER, INSURER, CUSTOMS, DESCRIPTION), _field("made", "finished"),
          _say("write made: {finished: 2021-11}; 1890~ will do for an old one"), category="date or period"),
    Thing("who made it", (BUYER, INSURER, DESCRIPTION), _field("made", "hands", "body"),
          _say("write hands: under made:"), _ours, "maker"),
    Thing("whose work it is", (BUYER, INSURER, DESCRIPTION),
          _either(_field("attribution", "wording"), _field("made", "place")),
          _say("write attribution: {wording: …, by: …}; “maker unknown” is an answer too"), _others, "maker"),
    Thing("the number of its certificate", (BUYER, INSURER), _field("attribution", "paper"),
          _say("write paper: under attribution:, or have one made"), _second_hand),
    Thing("the serial", (BUYER, INSURER), _field("serial"), _say("write serial:, as inside the instrument"), _ours),
    Thing("the label inside", (BUYER, INSURER, DESCRIPTION), _field("label", "text"),
          _say("write label: {text: …, place: …}; text: none where there is none"),
          category="inscriptions and markings"),
    Thing("distinguishing marks", (INSURER, DESCRIPTION), _field("marks"),
          _say("write marks: what no other has, such as the figure of the back, knots, worn spots, repairs"),
          category="distinguishing features"),
    Thing("the length of the body", (BUYER, INSURER, REPAIRER, DESCRIPTION), _measured("body_length"),
          _say(f"{_MEASURE}body_length: {{caliper: …}}"), category="measurements"),
    Thing("the widths of the bouts", (INSURER, REPAIRER, DESCRIPTION), _measured("bout_width"),
          _say(f"{_MEASURE}bout_width: {{upper: …, middle: …, lower: …}}"), category="measurements"),
    Thing("the species of top and back", (BUYER, DESCRIPTION), _every(_species_of, ("top", "back")),
          _say("write parts: with lot: or species: of top and back"), category="materials and techniques"),
    Thing("the species of every wooden part", (CUSTOMS,), _every(_species_of),
          _name_parts("write lot: or species: of", _species_of, "under parts:")),
    Thing("the origin of the wood", (CUSTOMS,), _every(_origin),
          _name_parts("write origin: of", _origin, "under parts: or in the lot"), _ours),
    Thing("when the wood was felled or bought", (CUSTOMS,), _every(_dated),
          _name_parts("write felled: or bought: in the lot of", _dated, "(records/wood/)"), _ours),
    Thing("papers of woods that may be protected", (CUSTOMS,), lambda subject: not _without_papers(subject),
          _todo_papers, _has_controlled),
    Thing("the batch of every coat", (BUYER, REPAIRER, DESCRIPTION), _coats_with_batch,
          _say("write varnish: with date, coat and batch"), _ours, "materials and techniques"),
    Thing("the thickness of the top", (BUYER, REPAIRER), _mapped("top"),
          _say("write plates: top: thickness:"), _ours),
    Thing("the thickness of the back", (BUYER, REPAIRER), _mapped("back"),
          _say("write plates: back: thickness:"), _ours),
    Thing("the height of the arches", (REPAIRER,), _measured("arch_height"),
          _say(f"{_MEASURE}arch_height: {{top: …, back: …}}")),
    Thing("the height of the ribs", (REPAIRER,), _measured("rib_height"),
          _say(f"{_MEASURE}rib_height: {{neck: …, bottom: …}}")),
    Thing("a reference set-up", (BUYER, REPAIRER),
          lambda subject: reference_of(subject.record.setups or ()) is not None,
          _say("fill a sheet under setups: with role: reference"), _set_up_by_us),
    Thing("the room at the reference", (REPAIRER,), _reference("state", "humidity"),
          _say("write state: {temperature: …, humidity: …} on the reference sheet")),
    Thing("the string length", (BUYER, REPAIRER), _reference("string_length"), _say(f"{_MEASURE}string_length:")),
    Thing("the stops of body and neck", (REPAIRER,),
          lambda subject: subject.measured("body_stop") and subject.measured("neck_stop"),
          _say(f"{_MEASURE}body_stop: and neck_stop:")),
    Thing("the projection", (REPAIRER,), _reference("projection"), _say(f"{_MEASURE}projection:")),
    Thing("the overstand", (REPAIRER,), _reference("overstand"), _say(f"{_MEASURE}overstand:")),
    Thing("the string heights", (REPAIRER,), _reference("string_height"), _say(f"{_MEASURE}string_height:")),
    Thing("the height of the bridge", (REPAIRER,), _reference("bridge", "height"),
          _say(f"{_MEASURE}bridge: {{height: …}}")),
    Thing("where the post stood", (REPAIRER,), _reference("soundpost", "behind_foot"),
          _say(f"{_MEASURE}soundpost: {{behind_foot: …, inset_from_foot_edge: …}}")),
    Thing("the length of the post", (REPAIRER,), _reference("soundpost", "length"),
          _say(f"{_MEASURE}soundpost: {{length: …}} when it is next out")),
    Thing("the strings", (BUYER, REPAIRER), _reference("fitted", "strings"),
          _say("write fitted: {strings: …} on the reference sheet")),
    Thing("the endpin", (REPAIRER,), _either(_reference("fitted", "endpin"), _reference("endpin_length")),
          _say("write fitted: {endpin: …}, or endpin_length:, on the reference sheet"), _of_kind("cello", "bass")),
    Thing("the machine heads", (REPAIRER,), _field("parts", "fittings", "machine_heads"),
          _say("write parts: fittings: {machine_heads: …}"), _of_kind("bass")),
    Thing("its condition as it came", (BUYER, INSURER, REPAIRER), _condition_recorded,
          _say("write an intake with found: and fine:"), _by_other_hands),
    Thing("a valuation", (INSURER,), _valued, _say("write valuations: with date and amount in private/<ID>.yml")),
    Thing("whose it is", (INSURER,), lambda subject: bool(subject.private.owners),
          _say("write owners: in private/<ID>.yml"), _is_anothers),
    Thing("a mark held back as proof", (INSURER,), lambda subject: bool(subject.private.held_back),
          _say("write held_back: in private/<ID>.yml, something that stands on no page and in no picture")),
)  # fmt: skip

# The categories of Object ID that no record is asked for, and why. ICOM Object ID, the international standard for
# describing cultural objects: photographs, type, materials and techniques, measurements, inscriptions and markings,
# distinguishing features, title, subject, date or period, maker, short description.
OBJECT_ID_NOT_ASKED: Mapping[str, str] = {
    "type": "kind and size are in every record, or it has an error",
    "title": "an instrument has no title; its number and its model stand for it",
    "subject": "an instrument shows nothing",
    "short description": "kind, size, maker and date make it up by themselves",
}
