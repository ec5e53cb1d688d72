"""Which numbers of an instrument, and of a wood lot, are set beside those of others.

Only what was measured alike stands side by side: plates at the same stage of their making, set-ups as their reference
sheet has them, heights to the underside of the string.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from passport.analysis.setup import quantities as of_sheet
from passport.analysis.setup import reference_of
from passport.records.model.instrument import Instrument, Part, Parts, Plate, Stage
from passport.records.model.values import Value
from passport.reference import kinds, measures
from passport.reference.measures import Place

SUBJECTS = ("Plate mass", "Tap tones", "Strings", "Neck, bridge and body")


@dataclass(frozen=True)
class Quantity:
    """A number that many instruments have: the chart it stands in, and which of the chart's marks it has.

    `name` is unlike that of any other; `places` say where it stands in a record, the first that is filled counts.
    `part` is the part whose wood it hangs on, where it hangs on one.
    """

    name: str
    subject: str
    chart: str
    series: str
    unit: str
    places: tuple[Place, ...]
    part: str = ""


@cache
def quantities(kind: str) -> tuple[Quantity, ...]:
    """Give what is set side by side of a kind, in the order of the pages."""
    return (*_of_plates(), *_of_setup(kind))


def _of_plates() -> Iterator[Quantity]:
    for measure, part, series in (
        ("top_mass_no_bar", "top", "top, before its bar"),
        ("top_mass_with_bar", "top", "top, with its bar"),
        ("back_mass", "back", "back"),
    ):
        yield Quantity(measure, "Plate mass", "Mass of the plates", series, "g", measures.PLACES[measure], part)
    for number in (1, 2, 5):
        for part, series in (("top", "top, with its bar"), ("back", "back")):
            measure = f"tap_{part}_mode{number}"
            yield Quantity(measure, "Tap tones", f"Mode {number}", series, "Hz", measures.PLACES[measure], part)


def _of_setup(kind: str) -> Iterator[Quantity]:
    strings = kinds.OPEN_STRINGS.get(kind, ())
    outer = tuple(dict.fromkeys((*strings[:1], *strings[-1:])))
    strung, rest = SUBJECTS[2:]
    yield Quantity("string_length", strung, "String length", "", "mm", (("string_length",),))
    for string in outer:
        yield Quantity(
            f"string_height_{string}", strung, "String height", f"{string} string", "mm", (("string_height", string),)
        )
    for string in outer[:1]:
        yield Quantity(
            "afterlength", strung, f"Afterlength of the {string} string", "", "mm", (("afterlength", string),)
        )
    yield Quantity("projection", rest, "Projection", "", "mm", (("projection",),))
    yield Quantity("bridge_height", rest, "Height of the bridge", "", "mm", (("bridge", "height"),))
    yield Quantity("instrument_mass", rest, "Mass of the instrument", "", "g", (("instrument_mass",),))
    yield Quantity("air_mode", rest, "Air mode", "", "Hz", (("air_mode",),))


def numbers(record: Instrument) -> Iterator[tuple[Quantity, Value]]:
    """Give every number of an instrument that can be set beside those of others."""
    strung = _reference(record)
    for quantity in quantities(record.kind or ""):
        found = (strung.get(place) or _at_stage(record, place) for place in quantity.places)
        value = next((value for value in found if value is not None), None)
        if value is not None:
            yield quantity, value


def _reference(record: Instrument) -> dict[Place, Value]:
    reference = reference_of(record.setups or ())
    if reference is None:
        return {}
    to_centre = reference.string_height is not None and reference.string_height.to == "centre"
    return {
        tuple(map(str, path)): value
        for path, value in of_sheet(reference)
        if not (to_centre and path[0] == "string_height")
    }


def _at_stage(record: Instrument, place: Place) -> Value | None:
    """Give what a plate had at a stage: `("plates", "top", "stages", "f_holes_cut", "mass")`; the last time counts."""
    if place[0] != "plates":
        return None
    plate: Plate | None = getattr(record.plates, place[1], None)
    stages = [stage for stage in (plate and plate.stages) or () if stage.when == place[3]]
    found = [value for stage in reversed(stages) if (value := _of_stage(stage, place[4])) is not None]
    return found[0] if found else None


def _of_stage(stage: Stage, field: str) -> Value | None:
    value: Value | None = getattr(stage, field)
    return value


def densities(record: Instrument) -> Iterator[tuple[str, str, Value]]:
    """Give part, lot and density of every piece that was weighed for itself."""
    for name in Parts.model_fields:
        part: Part | None = getattr(record.parts, name, None)
        if part is not None and part.lot and part.density is not None:
            yield name, part.lot, part.density
