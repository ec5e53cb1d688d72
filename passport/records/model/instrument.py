"""The record of one instrument, `records/instruments/<ID>.yml`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Self

from pydantic import PrivateAttr

from passport.records.model.events import Event
from passport.records.model.marks import Audience, Entry, Record, by_entry, public, shop
from passport.records.model.sheets import MeasurementSheet, SetupSheet
from passport.records.model.values import (
    Celsius,
    Count,
    Days,
    Density,
    DistanceMm,
    Dose,
    Grams,
    Hertz,
    Hours,
    Identifier,
    Irradiance,
    Millimetres,
    Percent,
    Text,
    Texts,
    Thickness,
    When,
)
from passport.records.model.words import OneOf
from passport.reference import kinds

PUBLISH = ("listed", "unlisted", "shop_only")
ORIGINS = ("made_here", "set_up_here", "second_hand", "customer")
SHOP_ORIGINS = ("second_hand", "customer")
STATUSES = ("in_use", "withdrawn", "missing", "destroyed")
PHOTO_VIEWS = (
    "front", "back", "bass_side", "treble_side", "scroll", "scroll_front", "scroll_back", "f_holes", "corner",
    "button", "heel", "label", "inside", "setup", "damage", "work",
)  # fmt: skip
SHOP_PHOTOS = ("damage", "inside", "work")
STAGES = (
    "arching_done", "graduation_done", "f_holes_cut", "bass_bar_fitted", "before_closing", "as_found",
)  # fmt: skip


class OtherNumbers(Record):
    """Numbers that others gave this instrument."""

    factory: Text | None = public("Factory number")
    school: Text | None = shop("School's number")
    insurer: Text | None = shop("Insurer's number")


class Hands(Record):
    """Whose hands; names out of workshop.yml, or others' by name."""

    body: Text | None = public("Body")
    scroll: Text | None = public("Scroll")
    varnish: Text | None = public("Varnish")
    setup: Text | None = public("Set-up")


class Made(Record):
    """When, where and by whose hands."""

    begun: When | None = public("Begun")
    finished: When | None = public("Finished", "2021-11; for an old instrument 1890~ or 1924/1926")
    place: Text | None = public("Place")
    hands: Hands | None = public("Hands", "who did what")


class Attribution(Record):
    """For another hand's work: the wording, whose opinion it is, and on which paper."""

    wording: Text | None = public("Wording", "as the paper says: workshop of, circle of, in all important parts")
    by: Text | None = public("By")
    paper: Text | None = shop("Paper", "number and date of the certificate")
    date: When | None = public("Date")


class LabelInside(Record):
    """The label or brand inside."""

    text: Text | None = public("Text")
    place: Text | None = public("Place", "such as “back, bass f-hole”, in quotes because of the comma")


class Status(Record):
    """What has become of it; without this field it is in use."""

    now: Annotated[str, OneOf(*STATUSES)] | None = public("Now", "withdrawn, missing or destroyed", required=True)
    since: When | None = public("Since")
    why: Text | None = public("Why")


class StringFitted(Record):
    """One string, low string first; only where it differs from the usual four."""

    number: Count | None = public("Number")
    tuning: Text | None = public("Tuning", "note and octave, such as B0")
    length: Millimetres | None = public("Own length", "of an extension")
    note: Text | None = public("Note")


class Part(Record):
    """The wood of one part: a lot and wedge of ours, or a species."""

    lot: Text | None = public("Lot")
    wedge: Text | None = public("Wedge")
    species: Text | None = public("Species", "scientific name")
    wood: Text | None = public("Wood", "common name")
    origin: Text | None = public("Origin of the wood")
    cut: Annotated[str, OneOf("quarter", "slab", "rift")] | None = public("Cut", "quarter, slab or rift")
    density: Density | None = public("Density", "of this piece, kg/m3")
    figure: Text | None = public("Figure")
    note: Text | None = public("Note")


class PlatePart(Part):
    """A top or a back."""

    pieces: Count | None = public("Pieces")
    build: Annotated[str, OneOf("carved", "flat", "bent", "laminated")] | None = public("Build")


class Fittings(Part):
    """Several small parts of one wood."""

    pieces: Texts | None = public("Pieces", "[pegs, tailpiece, button]")
    machine_heads: Text | None = public("Machine heads")


class Parts(Record):
    """Part by part."""

    top: PlatePart | None = public("Top")
    back: PlatePart | None = public("Back")
    ribs: Part | None = public("Ribs")
    neck: Part | None = public("Neck and scroll")
    blocks: Part | None = public("Blocks")
    linings: Part | None = public("Linings")
    bass_bar: Part | None = public("Bass bar")
    soundpost: Part | None = public("Post")
    bridge: Part | None = public("Bridge")
    board: Part | None = public("Fingerboard")
    nut: Part | None = public("Nut")
    saddle: Part | None = public("Saddle")
    fittings: Fittings | None = public("Fittings")
    purfling: Part | None = public("Purfling")


class Stage(Record):
    """Mass and taps of a plate at one moment of its making."""

    date: When | None = public("Date")
    when: Annotated[str, OneOf(*STAGES)] | None = public("When")
    mass: Grams | None = public("Mass")
    mode1: Hertz | None = public("Mode 1")
    mode2: Hertz | None = public("Mode 2")
    mode5: Hertz | None = public("Mode 5")
    moisture: Percent | None = public("Moisture")


class BassBar(Record):
    """The bar inside the top."""

    length: Millimetres | None = public("Length")
    thickness: Millimetres | None = public("Thickness")
    height_at_bridge: Millimetres | None = public("Height at the bridge")
    inset_from_foot_edge: Millimetres | None = public("Inside the foot's outer edge")
    spring: Millimetres | None = public("Spring")


class Plate(Record):
    """Thickness in rows by the distance from the bottom edge, from bass edge to treble edge, seen from the front."""

    thickness: dict[DistanceMm, tuple[Thickness, ...]] | None = public(
        "Thickness", "mm; bass edge, bass half, joint, treble half, treble edge"
    )
    gauge: Text | None = public("Gauge")
    accepted: Text | None = public("Accepted", "why thicknesses outside the window are left so")
    stages: tuple[Stage, ...] | None = public("Stages")
    bass_bar: BassBar | None = public("Bass bar")


class Plates(Record):
    """Both plates."""

    top: Plate | None = public("Top")
    back: Plate | None = public("Back")


class Coat(Record):
    """One coat of varnish on this instrument."""

    date: When | None = public("Date", required=True)
    coat: Text | None = public("Coat", "ground, 1, 2 …")
    batch: Text | None = public("Batch")
    area: Text | None = public("Area")
    method: Text | None = public("Method")
    wet_mass: Grams | None = public("Varnish laid on", "weighed wet")
    mass_gain: Grams | None = public("Mass gained", "once it is dry")
    uv: Annotated[str, OneOf("none", "tubes", "led", "sun")] | None = public("Light", "none, tubes, led or sun")
    irradiance: Irradiance | None = public("Irradiance", "W/m2 at the wood")
    hours: Hours | None = public("Hours of light")
    dose: Dose | None = public("Dose", "kJ/m2, as the meter or the log summed it up")
    effective_irradiance: Irradiance | None = public(
        "Effective irradiance", "W/m2 weighted by the hazard of each wavelength, where somebody may stand"
    )
    temperature: Celsius | None = public("Temperature")
    humidity: Percent | None = public("Humidity")
    drying: Days | None = public("Drying time")
    note: Text | None = public("Note")


class Outfit(Record):
    """What goes with it."""

    case: Text | None = public("Case")
    bow: Text | None = public("Bow")
    rest: Text | None = public("Rest")
    other: Texts | None = public("Other")


class Photo(Entry):
    """One picture in `photos/<ID>/`. Damage, the inside and work in progress stay in the shop unless said otherwise."""

    decided_by: ClassVar[tuple[str, ...]] = ("audience", "view")

    file: Text | None = public("File", required=True)
    view: Annotated[str, OneOf(*PHOTO_VIEWS)] | None = public("View", "front, back, scroll, f_holes, label, damage …")
    date: When | None = public("Date")
    caption: Text | None = public("Caption")

    @property
    def shown_to(self) -> Audience:
        """Give the audience: the entry's own word, else by what the picture shows."""
        return self.audience or ("shop" if self.view in SHOP_PHOTOS else "public")


class Instrument(Record):
    """One instrument."""

    decided_by: ClassVar[tuple[str, ...]] = ("publish", "origin")
    closed: ClassVar[str] = "shop_only"

    schema_: Count | None = public("Schema", "version of this form")
    id: Identifier | None = public("Number", "7 characters, on the label and inside; never changed", required=True)
    kind: Annotated[str, OneOf(*kinds.KINDS)] | None = public("Kind", "violin, viola, cello or bass", required=True)
    size: Text | None = public("Size", "4/4, 3/4 …; a viola's body length", required=True)
    model: Text | None = public("Model", "a file in models/")
    serial: Text | None = public("Serial", "the workshop's own number")
    other_numbers: OtherNumbers | None = public("Other numbers")
    origin: Annotated[str, OneOf(*ORIGINS)] | None = public("Origin", ", ".join(ORIGINS), required=True)
    publish: Annotated[str, OneOf(*PUBLISH)] | None = public("Publish", ", ".join(PUBLISH))
    status: Status | None = public("Status")
    handed: Annotated[str, OneOf("right", "left")] | None = public("Handedness", "right or left")
    strings: tuple[StringFitted, ...] | None = public("Strings", "only where they differ from the usual four")
    made: Made | None = public("Made")
    attribution: Attribution | None = public("Attribution")
    label: LabelInside | None = public("Label inside")
    marks: Text | None = public("Marks", "brands, inscriptions, distinguishing features")
    parts: Parts | None = public("Parts")
    measurements: tuple[MeasurementSheet, ...] | None = by_entry("Measurements")
    plates: Plates | None = public("Plates")
    varnish: tuple[Coat, ...] | None = public("Varnish")
    setups: tuple[SetupSheet, ...] | None = by_entry("Set-ups")
    history: tuple[Event, ...] | None = by_entry("History")
    outfit: Outfit | None = public("Outfit")
    photos: tuple[Photo, ...] | None = by_entry("Pictures")
    note: Text | None = shop("Note", "for the shop")

    # Not of the record: which fields were worked on between two of the sheets shown, by their places in `setups`, or
    # since one of them, in entries that are not shown. Never what was done, nor when.
    _unseen: Mapping[tuple[int, int], frozenset[str]] = PrivateAttr(default_factory=dict)

    @property
    def published(self) -> str:
        """Give listed, unlisted or shop_only; what others own stays in the shop unless said otherwise."""
        return self.publish or ("shop_only" if self.origin in SHOP_ORIGINS else "listed")

    def with_unseen(self, unseen: Mapping[tuple[int, int], frozenset[str]]) -> Self:
        """Give the record knowing which fields were worked on between which of its sheets, unseen."""
        if not unseen:
            return self
        copied = self.model_copy()
        copied._unseen = unseen  # noqa: SLF001 - its own
        return copied

    def worked_on_unseen(self, one: SetupSheet, other: SetupSheet | None = None) -> frozenset[str]:
        """Give the fields worked on between two sheets, or since one, in entries of this record that are not shown."""
        if not self._unseen:
            return frozenset()
        sheets = self.setups or ()
        places = [index for index, sheet in enumerate(sheets) if sheet is one or sheet is other]
        first, second = sorted(places if other else (*places, len(sheets)))
        return self._unseen.get((first, second), frozenset())

    @property
    def string_names(self) -> tuple[str, ...]:
        """Give the names of the open strings, low string first."""
        if self.strings:
            return tuple((string.tuning or "").rstrip("0123456789") for string in self.strings)
        return kinds.OPEN_STRINGS.get(self.kind or "", ())
