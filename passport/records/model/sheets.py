"""The dated sheets: dimensions of the body, and the set-up.

A sheet lists only what was measured that day. Quantities have the names the trade uses for them.
"""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import ConfigDict

from passport.records.model.marks import Audience, Entry, Record, public
from passport.records.model.values import (
    ByString,
    Celsius,
    Days,
    Degrees,
    DensityByString,
    Grams,
    Hertz,
    Millimetres,
    Percent,
    PerSide,
    PerString,
    Stations,
    Text,
    Texts,
    TopAndBack,
    When,
)
from passport.records.model.words import OneOf

WHEN_MEASURED = ("in_the_white", "as_received", "before_work", "after_work", "settled", "delivered")
CONDITION_SHEETS = ("as_received", "before_work")


class Taken(Record):
    """Who measured, on what day, at what moment of the instrument's stay."""

    date: When | None = public("Date", "2021-11-18", required=True)
    when: Annotated[str, OneOf(*WHEN_MEASURED)] | None = public(
        "When", "as_received, before_work, after_work, settled …"
    )
    by: Text | None = public("By", "a name out of workshop.yml")


class State(Record):
    """The state in which a sheet was taken; two sheets of different states are not compared."""

    strings: Annotated[str, OneOf("at_pitch", "slack", "none")] | None = public("Strings", "at_pitch, slack or none")
    a4: Hertz | None = public("Pitch A4", "Hz")
    temperature: Celsius | None = public("Temperature", "degrees C in the room")
    humidity: Percent | None = public("Humidity", "% relative humidity in the room")
    days: Days | None = public("Days in it", "days the instrument has stood in this climate")


class Gauges(Record):
    """Which gauge took which field; `all` stands for those not named."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Text | None]

    all: Text | None = public("All fields", "a gauge out of gauges.yml")

    @property
    def by_field(self) -> dict[str, str]:
        """Give the gauge of each field named."""
        return {field: gauge for field, gauge in self.__pydantic_extra__.items() if gauge is not None}


class Sheet(Entry):
    """What every dated sheet has. A sheet of an instrument as it came in is a condition, and stays in the shop."""

    decided_by: ClassVar[tuple[str, ...]] = ("audience", "taken")

    sheet: Text | None = public("Sheet", "a short name, S3, by which events point to it")
    taken: Taken | None = public("Taken", required=True)
    state: State | None = public("State")
    gauges: Gauges | None = public("Gauges")
    note: Text | None = public("Note")

    @property
    def shown_to(self) -> Audience:
        """Give the audience: the sheet's own word, else public unless it is a condition."""
        is_condition = self.taken is not None and self.taken.when in CONDITION_SHEETS
        return self.audience or ("shop" if is_condition else "public")


class BodyLength(Record):
    """With the callipers, or over the arch with a tape; the button is never included."""

    caliper: Millimetres | None = public("Straight", "with the callipers, button not included")
    over_arch: Millimetres | None = public("Over the arch", "with a tape, button not included")


class BoutWidth(Record):
    """Widths of the three bouts."""

    upper: Millimetres | None = public("Upper bout")
    middle: Millimetres | None = public("Middle bout", "at the narrowest")
    lower: Millimetres | None = public("Lower bout")


class RibStations(Stations):
    """Along the ribs, from the neck to the bottom block."""

    neck: Millimetres | None = public("At the neck")
    upper_corner: Millimetres | None = public("Upper corner")
    lower_corner: Millimetres | None = public("Lower corner")
    bottom: Millimetres | None = public("At the bottom")
    upper: Millimetres | None = public("Upper bout")
    middle: Millimetres | None = public("Middle bout")
    lower: Millimetres | None = public("Lower bout")


class FHole(Record):
    """The f-holes."""

    length: Millimetres | None = public("Length", "between the ends of the wings")
    upper_eyes: Millimetres | None = public("Between the upper eyes")
    lower_eye_to_edge: Millimetres | None = public("Lower eye to edge")


class Fingerboard(Record):
    """The board as fitted."""

    length: Millimetres | None = public("Length")
    width_nut: Millimetres | None = public("Width at the nut")
    width_end: Millimetres | None = public("Width at the end")
    radius: Millimetres | None = public("Radius")
    edge_thickness: Millimetres | None = public("Edge thickness")


class Purfling(Record):
    """The inlay."""

    width: Millimetres | None = public("Width")
    distance_from_edge: Millimetres | None = public("Distance from the edge")


class Linings(Record):
    """The strips along the ribs."""

    thickness: Millimetres | None = public("Thickness")
    width: Millimetres | None = public("Height of the strip")


class NeckThickness(Record):
    """Neck and board together."""

    nut: Millimetres | None = public("At the nut")
    heel: Millimetres | None = public("At the heel")


class MeasurementSheet(Sheet):
    """Dimensions of the body, neck and board."""

    body_length: BodyLength | None = public("Body length")
    bout_width: BoutWidth | None = public("Bout width")
    rib_height: RibStations | None = public("Rib height")
    rib_thickness: RibStations | None = public("Rib thickness")
    linings: Linings | None = public("Linings")
    arch_height: TopAndBack | None = public("Arch height", "from the gluing plane, edge included")
    edge_thickness: TopAndBack | None = public("Edge thickness")
    edge_overhang: Millimetres | None = public("Edge overhang")
    purfling: Purfling | None = public("Purfling")
    f_hole: FHole | None = public("F-holes")
    scroll_length: Millimetres | None = public("Scroll length")
    fingerboard: Fingerboard | None = public("Fingerboard")
    neck_thickness: NeckThickness | None = public("Neck thickness", "board included")
    body_stop: PerSide | None = public("Body stop", "top edge beside the neck to the inner nick of the f-hole")
    neck_stop: Millimetres | None = public("Neck stop", "nut edge to top edge")
    instrument_mass: Grams | None = public("Mass of the instrument")


class Spacing(Record):
    """Outer string centre to outer string centre."""

    nut: Millimetres | None = public("At the nut")
    bridge: Millimetres | None = public("At the bridge")
    bridge_steps: tuple[Millimetres, ...] | None = public("Steps at the bridge", "centre to centre, bass side first")


class Bridge(Record):
    """The bridge as fitted."""

    height: Millimetres | None = public("Height", "belly to crown at the centre line")
    crown_radius: Millimetres | None = public("Crown radius")
    foot_span: Millimetres | None = public("Foot span", "outer edge to outer edge")
    foot_thickness: Millimetres | None = public("Thickness at the feet")
    top_thickness: Millimetres | None = public("Thickness at the top")
    tilt: Millimetres | None = public("Tilt at the crown", "toward the board is plus")
    mass: Grams | None = public("Mass")


class Soundpost(Record):
    """The post as it stands."""

    length: Millimetres | None = public("Length")
    diameter: Millimetres | None = public("Diameter")
    behind_foot: Millimetres | None = public("Behind the foot", "back of the bridge foot to the post")
    inset_from_foot_edge: Millimetres | None = public("Inside the foot's outer edge")
    to_f_hole: Millimetres | None = public("To the f-hole", "treble f-hole nick to the post")


class Fitted(Record):
    """Which pieces were on the instrument; a change of piece starts a new comparison."""

    bridge: Text | None = public("Bridge")
    post: Text | None = public("Post")
    tailpiece: Text | None = public("Tailpiece")
    tailgut: Text | None = public("Tailgut")
    strings: Text | None = public("Strings")
    adjusters: Texts | None = public("Adjusters", "the strings that have one")
    bridge_adjusters: Text | None = public("Bridge adjusters")
    endpin: Text | None = public("Endpin")
    mute: Text | None = public("Mute")
    wolf_suppressor: Text | None = public("Wolf suppressor")


class SetupSheet(Sheet):
    """The set-up, as the set-up person measures it."""

    role: Annotated[str, OneOf("trial", "reference", "check")] | None = public("Role", "trial, reference or check")
    fitted: Fitted | None = public("Fitted")
    string_length: Millimetres | None = public("String length", "nut to bridge, measured")
    body_stop: PerSide | None = public("Body stop", "top edge beside the neck to the inner nick of the f-hole")
    neck_stop: Millimetres | None = public("Neck stop", "nut edge to top edge")
    overstand: Millimetres | None = public("Overstand", "top edge to the glue line of the board")
    projection: Millimetres | None = public("Projection", "rule on the board, height above the belly at the bridge")
    fingerboard_end_to_top: Millimetres | None = public("Board end to top")
    string_height: PerString | None = public("String height", "at the end of the board")
    string_density: DensityByString | None = public("Mass by length of the string", "g/m, from the packet or weighed")
    string_diameter: ByString | None = public("Thickness of the string")
    nut_clearance: PerString | None = public("Nut clearance")
    string_spacing: Spacing | None = public("String spacing")
    fingerboard_scoop: PerString | None = public("Scoop of the board")
    bridge: Bridge | None = public("Bridge")
    soundpost: Soundpost | None = public("Post")
    afterlength: PerString | None = public("Afterlength", "bridge to tailpiece fret")
    tailpiece_length: Millimetres | None = public("Tailpiece length")
    saddle_height_above_top: Millimetres | None = public("Saddle above the top")
    string_break_angle: Degrees | None = public("String angle over the bridge")
    arch_height: TopAndBack | None = public("Arch height", "at the bridge, strung")
    instrument_mass: Grams | None = public("Mass of the instrument")
    endpin_length: Millimetres | None = public("Endpin out")
    air_mode: Hertz | None = public("Air mode", "the main air resonance, A0")
    heard: Text | None = public("Heard")
