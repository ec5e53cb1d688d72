"""The trade's measures: what an instrument of a kind and size usually has, from where, and how far it may lie from it.

Look-up only. Lengths in millimetres, masses in grams, taps in hertz, angles in degrees; a source that is nothing but
custom or memory says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import Literal

from passport.reference.kinds import OPEN_STRINGS
from passport.reference.tables import rows_of

Class = Literal["found", "derived", "practice", "memory"]
Place = tuple[str, ...]

# What stands as the source of a fact of the trade that no work vouches for.
CUSTOM = "common practice, no source"
MATERIALS = ("steel", "synthetic", "gut")
# A viola takes the measures of the body length nearest to its own, the shorter of two as near; none lies further off.
FURTHEST_VIOLA_MM = 15
# Half of what a viola's body may differ from the length by which its size is named. Common practice, no source.
VIOLA_NAME_MM = 4

# Where each measure stands in a record; of the plates' masses and taps, at the stage named after `stages`.
PLACES: Mapping[str, tuple[Place, ...]] = MappingProxyType(
    {
        "body_length": (("body_length", "caliper"),),
        "body_length_over_arch": (("body_length", "over_arch"),),
        "upper_bout_width": (("bout_width", "upper"),),
        "middle_bout_width": (("bout_width", "middle"),),
        "lower_bout_width": (("bout_width", "lower"),),
        "rib_height_upper": (("rib_height", "neck"), ("rib_height", "upper")),
        "rib_height_middle": tuple(("rib_height", at) for at in ("upper_corner", "middle", "lower_corner", "value")),
        "rib_height_lower": (("rib_height", "lower"), ("rib_height", "bottom")),
        "rib_thickness": tuple(
            ("rib_thickness", at)
            for at in ("value", "neck", "upper", "upper_corner", "middle", "lower_corner", "lower", "bottom")
        ),
        "lining_thickness": (("linings", "thickness"),),
        "lining_width": (("linings", "width"),),
        "arch_height_top": (("arch_height", "top"),),
        "arch_height_back": (("arch_height", "back"),),
        "edge_thickness_top": (("edge_thickness", "top"),),
        "edge_thickness_back": (("edge_thickness", "back"),),
        "edge_overhang": (("edge_overhang",),),
        "purfling_width": (("purfling", "width"),),
        "purfling_distance_from_edge": (("purfling", "distance_from_edge"),),
        "f_hole_length": (("f_hole", "length"),),
        "f_hole_upper_eye_distance": (("f_hole", "upper_eyes"),),
        "f_hole_lower_eye_to_edge": (("f_hole", "lower_eye_to_edge"),),
        "scroll_length": (("scroll_length",),),
        "fingerboard_length": (("fingerboard", "length"),),
        "fingerboard_width_nut": (("fingerboard", "width_nut"),),
        "fingerboard_width_end": (("fingerboard", "width_end"),),
        "fingerboard_radius": (("fingerboard", "radius"),),
        "neck_thickness_nut": (("neck_thickness", "nut"),),
        "neck_thickness_heel": (("neck_thickness", "heel"),),
        "body_stop": (("body_stop", "value"), ("body_stop", "bass"), ("body_stop", "treble")),
        "neck_stop": (("neck_stop",),),
        "instrument_mass": (("instrument_mass",),),
        "string_length": (("string_length",),),
        "overstand": (("overstand",),),
        "projection": (("projection",),),
        "fingerboard_end_to_top": (("fingerboard_end_to_top",),),
        "string_height": (("string_height",),),
        "nut_clearance": (("nut_clearance",),),
        "fingerboard_scoop": (("fingerboard_scoop",),),
        "string_spacing_nut": (("string_spacing", "nut"),),
        "string_spacing_bridge": (("string_spacing", "bridge"),),
        "bridge_height": (("bridge", "height"),),
        "bridge_foot_thickness": (("bridge", "foot_thickness"),),
        "bridge_top_thickness": (("bridge", "top_thickness"),),
        "soundpost_diameter": (("soundpost", "diameter"),),
        "soundpost_behind_foot": (("soundpost", "behind_foot"),),
        "soundpost_inset_from_foot_edge": (("soundpost", "inset_from_foot_edge"),),
        "afterlength": (("afterlength",),),
        "tailpiece_length": (("tailpiece_length",),),
        "saddle_height_above_top": (("saddle_height_above_top",),),
        "string_break_angle": (("string_break_angle",),),
        "top_thickness": (("plates", "top", "thickness"),),
        "back_thickness": (("plates", "back", "thickness"),),
        "bass_bar_length": (("plates", "top", "bass_bar", "length"),),
        "bass_bar_thickness": (("plates", "top", "bass_bar", "thickness"),),
        "bass_bar_height_at_bridge": (("plates", "top", "bass_bar", "height_at_bridge"),),
        "bass_bar_inset_from_foot_edge": (("plates", "top", "bass_bar", "inset_from_foot_edge"),),
        "top_mass_no_bar": (("plates", "top", "stages", "f_holes_cut", "mass"),),
        "top_mass_with_bar": tuple(
            ("plates", "top", "stages", when, "mass") for when in ("bass_bar_fitted", "before_closing")
        ),
        "back_mass": tuple(
            ("plates", "back", "stages", when, "mass") for when in ("graduation_done", "before_closing")
        ),
        **{
            f"tap_{plate}_{mode}": tuple(("plates", plate, "stages", when, mode) for when in (ready, "before_closing"))
            for plate, ready in (("top", "bass_bar_fitted"), ("back", "graduation_done"))
            for mode in ("mode1", "mode2", "mode5")
        },
    }
)
# Fields of which each string has its own; a measure without a string is the same for all of them.
PER_STRING = ("string_height", "nut_clearance", "fingerboard_scoop", "afterlength")
# No field of a record: what is worked out from several is held against these.
WORKED_OUT = ("neck_to_body_stop_ratio", "afterlength_ratio", "tap_mode5_to_mode2_ratio", "string_diameter")
# Parts of the plates, for who draws a model; in a record they are points of the thickness map.
PARTS_OF_PLATES = tuple(
    f"{plate}_thickness_{part}"
    for plate, parts in (("top", ("at_post", "centre_bout", "bouts", "fluting")),
                         ("back", ("at_post", "flanks", "bouts", "fluting")))
    for part in parts
)  # fmt: skip


@dataclass(frozen=True)
class Measure:
    """One row of the table: the usual value and the window around it, with its source in words.

    `string` and `material` are empty where they do not matter. `found` says the usual value was read in a published
    source, `derived` that it was worked out, `practice` that it is custom, `memory` that it was remembered;
    `is_range_found` tells whether the window was read too or is custom.
    """

    kind: str
    size: str
    field: str
    string: str
    material: str
    nominal: float
    low: float
    high: float
    unit: str
    class_: Class
    is_range_found: bool
    source: str
    note: str

    @property
    def words(self) -> str:
        """Give class and source in words: "published: a page on nut grooves; the range is common practice"."""
        if self.class_ in ("practice", "memory"):
            return self.source
        said = f"{'published' if self.class_ == 'found' else 'derived'}: {self.source}"
        return said if self.is_range_found or self.class_ == "derived" else f"{said}; its range is common practice"


@dataclass(frozen=True)
class Source:
    """Where numbers come from: in words, and where a reader may look."""

    class_: Class
    words: str
    where: str


@cache
def sources() -> Mapping[str, Source]:
    """Give every source by its key in the table."""
    rows = rows_of("sources.csv")
    return {row["source"]: Source(row["class"], row["words"], row["where"]) for row in rows}  # type: ignore[arg-type]


@cache
def all_measures() -> tuple[Measure, ...]:
    """Give the whole table."""
    return tuple(
        Measure(
            kind=row["kind"],
            size=row["size"],
            field=row["field"],
            string=row["string"],
            material=row["material"],
            nominal=float(row["nominal"]),
            low=float(row["low"]),
            high=float(row["high"]),
            unit=row["unit"],
            class_=row["class"],  # type: ignore[arg-type]
            is_range_found=row["range"] == "found",
            source=sources()[row["source"]].words,
            note=row["note"],
        )
        for row in rows_of("measurements.csv")
    )


@cache
def _by_size() -> Mapping[tuple[str, str], Mapping[tuple[str, str, str], Measure]]:
    sizes: dict[tuple[str, str], dict[tuple[str, str, str], Measure]] = {}
    for row in all_measures():
        sizes.setdefault((row.kind, row.size), {})[row.field, row.string, row.material] = row
    return sizes


@cache
def measure(kind: str, size: str, field: str, string: str = "", material: str = "") -> Measure | None:
    """Give the trade's measure of a field; None where the trade has none for this kind and size.

    Of a string between the outer two the measure is worked out: heights, clearances and scoops step evenly.
    """
    rows = _by_size().get((kind, _size(kind, size)), {})
    row = rows.get((field, string, material)) or rows.get((field, "", ""))
    if row is None and string:
        row = _between(kind, rows, field, string, material)
    if row is not None and kind == "viola" and field.startswith("body_length"):
        return _moved(row, float(size) - float(row.size))
    return row


def _size(kind: str, size: str) -> str:
    """Give the size whose rows count: for a viola the nearest length, for others the size itself."""
    if kind != "viola" or not size.isdecimal():
        return size
    lengths = sorted(int(known) for of, known in _by_size() if of == "viola" and known.isdecimal())
    nearest = min(lengths, key=lambda length: abs(length - int(size)))
    return str(nearest) if abs(nearest - int(size)) <= FURTHEST_VIOLA_MM else ""


def _moved(row: Measure, by: float) -> Measure:
    """Give the body length that a viola's size names, not that of the size next to it."""
    middle = row.nominal + by
    spread = VIOLA_NAME_MM if row.field == "body_length" else None
    low = middle - spread if spread else row.low + by
    high = middle + spread if spread else row.high + by
    return replace(row, nominal=middle, low=low, high=high)


def _between(
    kind: str, rows: Mapping[tuple[str, str, str], Measure], field: str, string: str, material: str
) -> Measure | None:
    strings = OPEN_STRINGS.get(kind, ())
    if string not in strings:
        return None
    low, high = (rows.get((field, outer, material)) for outer in (strings[0], strings[-1]))
    if low is None or high is None:
        return None
    share = strings.index(string) / (len(strings) - 1)

    def stepped(one: float, other: float) -> float:
        return round(one + share * (other - one), 3)

    return replace(
        low,
        string=string,
        nominal=stepped(low.nominal, high.nominal),
        low=stepped(low.low, high.low),
        high=stepped(low.high, high.high),
        class_="derived",
        source=f"an even step between {strings[0]} and {strings[-1]}",
    )


def string_diameter_mm(kind: str, string: str) -> float | None:
    """Give the usual thickness of a string, of every size; None for a string that this kind has not."""
    row = _by_size().get((kind, "any"), {}).get(("string_diameter", string, ""))
    return row.nominal if row else None
