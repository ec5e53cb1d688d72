"""What instruments are made from: wood lots, varnish batches, and the models they follow."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Annotated

from passport.records.model.marks import Entry, Record, by_entry, public, shop
from passport.records.model.sheets import (
    BodyLength,
    BoutWidth,
    Bridge,
    FHole,
    Fingerboard,
    NeckThickness,
    RibStations,
    Soundpost,
    Spacing,
)
from passport.records.model.values import (
    Celsius,
    Count,
    Days,
    Density,
    DistanceMm,
    Grams,
    Hertz,
    Hours,
    Millimetres,
    Money,
    Percent,
    PerSide,
    PerString,
    PointMm,
    Speed,
    Text,
    Texts,
    Thickness,
    TopAndBack,
    Value,
    When,
)
from passport.records.model.words import OneOf
from passport.records.walk import measured
from passport.reference import cautions, kinds


class SoundSpeed(Record):
    """Speed of sound, and how it was found: a tapped bar and an ultrasonic meter do not agree."""

    along: Speed | None = public("Along the grain")
    across: Speed | None = public("Across the grain")
    method: Annotated[str, OneOf("tapped_bar", "ultrasonic")] | None = public("Method", "tapped_bar or ultrasonic")


class TapTest(Record):
    """One strip or bar of the lot, held at two places and tapped: its first bending mode."""

    date: When | None = public("Date")
    piece: Text | None = public("Piece")
    grain: Annotated[str, OneOf("along", "across")] | None = public("Grain", "along or across the bar's length")
    length: Millimetres | None = public("Length", "both ends free, held at a fifth from each end")
    thickness: Millimetres | None = public("Thickness", "the way it bends")
    density: Density | None = public("Density", "of this bar, kg/m3")
    frequency: Hertz | None = public("Frequency", "of the lowest note of bending")
    bandwidth: Hertz | None = public("Bandwidth", "of its peak, 3 dB down")


class MoistureReading(Record):
    """One reading of the wood's moisture, by a meter or by weighing a sample before and after the oven."""

    date: When | None = public("Date")
    value: Percent | None = public("Moisture")
    gauge: Text | None = public("Gauge")
    mass: Grams | None = public("Mass of a sample", "as it was cut")
    oven_dry_mass: Grams | None = public("Its mass oven-dry", "103 °C until it loses no more")


class Storage(Record):
    """Where the wood seasons."""

    place: Text | None = public("Place")
    temperature: Celsius | None = public("Temperature")
    humidity: Percent | None = public("Humidity")


class Papers(Record):
    """What customs may ask for."""

    felling: Text | None = shop("Felling or harvest paper")
    permit: Text | None = shop("Permit")
    invoice: Text | None = shop("Invoice")
    statement: Text | None = public("Statement", "what may be said of origin and papers")


class WoodLot(Record):
    """A wood lot, `records/wood/<lot>.yml`."""

    schema_: Count | None = public("Schema")
    lot: Text | None = public("Lot", "the file's name", required=True)
    species: Text | None = public("Species", "scientific name", required=True)
    wood: Text | None = public("Wood", "common name")
    uses: Texts | None = public("For", "tops, backs, ribs, necks, boards …")
    origin: Text | None = public("Origin")
    supplier: Text | None = shop("Supplier")
    price: Money | None = shop("Price")
    currency: Text | None = shop("Currency")
    felled: When | None = public("Felled")
    bought: When | None = public("Bought")
    sawn: When | None = public("Sawn")
    cut: Annotated[str, OneOf("quarter", "slab", "rift", "mixed")] | None = public("Cut")
    pieces: Count | None = public("Pieces", "wedges, billets or blanks bought")
    thickness: Millimetres | None = public("Thickness of the pieces", "of a wedge at its thick edge, while it dries")
    density: Density | None = public("Density")
    sound_speed: SoundSpeed | None = public("Speed of sound")
    tap_tests: tuple[TapTest, ...] | None = public("Bars tapped")
    rings: Text | None = public("Rings", "annual rings per cm")
    figure: Text | None = public("Figure")
    moisture: tuple[MoistureReading, ...] | None = public("Moisture readings")
    storage: Storage | None = public("Storage")
    papers: Papers | None = public("Papers")
    note: Text | None = shop("Note")


class Ingredient(Record):
    """One ingredient by mass."""

    what: Text | None = public("What")
    mass: Grams | None = public("Mass")
    lot: Text | None = public("Supplier's lot")


class CookStep(Record):
    """One line of the cook log."""

    after: Hours | None = public("After", "hours from the start; “20 min” is understood")
    temperature: Celsius | None = public("Temperature")
    what: Text | None = public("What happened")


class Recipe(Entry):
    """What is in a batch and how it was cooked. Stays in the shop unless the maker opens it."""

    ingredients: tuple[Ingredient, ...] | None = public("Ingredients")
    cook: tuple[CookStep, ...] | None = public("Cook log")


class SolidsTest(Record):
    """A little of the varnish weighed wet, and again when it loses no more."""

    wet: Grams | None = public("Wet")
    dry: Grams | None = public("Dry")


class VarnishBatch(Record):
    """A varnish batch, `records/varnish/<batch>.yml`."""

    schema_: Count | None = public("Schema")
    batch: Text | None = public("Batch", "the file's name", required=True)
    made: When | None = public("Made", required=True)
    by: Text | None = public("By")
    purpose: Annotated[str, OneOf("ground", "clear", "colour", "retouch", "polish")] | None = public("Purpose")
    base: Annotated[str, OneOf("oil", "spirit", "mixed", "water", "mineral")] | None = public("Base")
    colour: Text | None = public("Colour")
    recipe: Recipe | None = by_entry("Recipe")
    yield_: Grams | None = public("Yield")
    solids: Percent | None = public("Solids")
    solids_test: SolidsTest | None = public("Test of the solids")
    touch_dry: Hours | None = public("Dry to the touch")
    hard: Days | None = public("Hard")
    film_test: Text | None = public("Film test")
    storage: Text | None = public("Storage")
    expires: When | None = public("Use by")
    hazards: tuple[Annotated[str, OneOf(*cautions.CAUTIONS)], ...] | None = public(
        "Hazards", ", ".join(cautions.CAUTIONS)
    )
    note: Text | None = shop("Note")


class Outline(Record):
    """The half outline in three curves, neck to bottom: points [height above the bottom edge, half width] in mm."""

    upper: tuple[PointMm, ...] | None = public("Upper bout", "from the neck to the upper corner")
    middle: tuple[PointMm, ...] | None = public("Middle bout", "from the upper to the lower corner")
    lower: tuple[PointMm, ...] | None = public("Lower bout", "from the lower corner to the bottom")


class Targets(Record):
    """What the model asks for; a range is the window, a single value the aim."""

    body_length: BodyLength | None = public("Body length")
    bout_width: BoutWidth | None = public("Bout width")
    rib_height: RibStations | None = public("Rib height")
    rib_thickness: RibStations | None = public("Rib thickness")
    arch_height: TopAndBack | None = public("Arch height")
    edge_thickness: TopAndBack | None = public("Edge thickness")
    edge_overhang: Millimetres | None = public("Edge overhang")
    f_hole: FHole | None = public("F-holes")
    fingerboard: Fingerboard | None = public("Fingerboard")
    neck_thickness: NeckThickness | None = public("Neck thickness")
    scroll_length: Millimetres | None = public("Scroll length")
    body_stop: PerSide | None = public("Body stop")
    neck_stop: Millimetres | None = public("Neck stop")
    string_length: Millimetres | None = public("String length")
    overstand: Millimetres | None = public("Overstand")
    projection: Millimetres | None = public("Projection")
    string_height: PerString | None = public("String height")
    string_spacing: Spacing | None = public("String spacing")
    bridge: Bridge | None = public("Bridge")
    soundpost: Soundpost | None = public("Post")
    afterlength: PerString | None = public("Afterlength")
    tailpiece_length: Millimetres | None = public("Tailpiece length")
    saddle_height_above_top: Millimetres | None = public("Saddle above the top")
    instrument_mass: Grams | None = public("Mass of the instrument")

    @cached_property
    def by_place(self) -> Mapping[tuple[str, ...], Value]:
        """Give every target by where it stands; kept, since every instrument of a model asks for them."""
        return {tuple(map(str, path)): value for path, value in measured(self)}


class PlateTarget(Record):
    """What a plate of this model should come to."""

    thickness: dict[DistanceMm, tuple[Thickness, ...]] | None = public("Thickness")
    mass: Grams | None = public("Mass", "of a top with its f-holes and without the bar")
    mode2: Hertz | None = public("Mode 2", "of a top with its bar")
    mode5: Hertz | None = public("Mode 5", "of a top with its bar")


class PlateTargets(Record):
    """Both plates."""

    top: PlateTarget | None = public("Top")
    back: PlateTarget | None = public("Back")


class Model(Record):
    """A model, `records/models/<model>.yml`."""

    schema_: Count | None = public("Schema")
    model: Text | None = public("Model", "the file's name", required=True)
    kind: Annotated[str, OneOf(*kinds.KINDS)] | None = public("Kind", required=True)
    size: Text | None = public("Size", required=True)
    title: Text | None = public("Name")
    drawn: When | None = public("Drawn")
    by: Text | None = public("By")
    after: Text | None = public("After", "what it was drawn after")
    outline: Outline | None = public("Outline")
    targets: Targets | None = public("Targets")
    plates: PlateTargets | None = public("Plates")
    note: Text | None = public("Note")
