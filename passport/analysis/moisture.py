"""What the air of each dated day would bring the wood to, and what follows: at closing, and across the grain.

Works out and judges nothing; what a number cannot be worked out for is said in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from passport.analysis.timeline import coat_said, happenings, when_said
from passport.findings import Path
from passport.physics.moisture import equilibrium_moisture_pct
from passport.physics.ranges import OutsideRange
from passport.physics.wood import size_change_mm
from passport.records.catalogue import Archive
from passport.records.dates import Date
from passport.records.model.instrument import Instrument, PlatePart
from passport.records.model.values import Value
from passport.reference import terms
from passport.reference.woods import WOODS, Movement

# These events leave the box shut; the second of them to come shuts it.
GLUED = {"top_glued": "the top", "back_glued": "the back"}
# Wood that lies further than this from what the room would bring it to has not stood there long enough. Common
# practice, no source.
CLOSING_APART_PCT = 1.5
# How the rings of a piece stand to its width: quarter-cut wood moves as along the radius, slab-cut along the rings.
CUTS = {"quarter": "radial", "slab": "tangential"}


@dataclass(frozen=True)
class Equilibrium:
    """The moisture in percent that wood comes to in a climate, if it stands there long enough; or why it is unknown."""

    pct: float | None
    why_not: str = ""


@dataclass(frozen=True)
class RoomClimate:
    """The air of one dated day: what was done then, and what wood would come to in it."""

    what: str
    date: Date
    path: Path
    temperature: Value | None
    humidity: Value
    days: Value | None
    rest: Equilibrium


@dataclass(frozen=True)
class Closing:
    """A plate glued on: the moisture of the wood, and what the room would have brought it to."""

    said: str
    date: Date | None
    path: Path
    moisture: Value | None
    climate: tuple[Value | None, Value | None]
    rest: Equilibrium

    @property
    def apart_pct(self) -> float | None:
        """Give by how much the wood was wetter than the room would make it."""
        return self.moisture.value.middle - self.rest.pct if self.moisture and self.rest.pct is not None else None


@dataclass(frozen=True)
class PlateMovement:
    """How far a free plate would move across the grain between the driest and the dampest dated climate."""

    plate: str
    species: str = ""
    cut: str = ""
    width_mm: float | None = None
    width_from: str = ""
    movement: Movement | None = None
    change_mm: float | None = None
    why_not: str = ""


def equilibrium(temperature: Value | None, humidity: Value | None) -> Equilibrium:
    """Give the moisture that wood comes to in a climate."""
    if humidity is None:
        return Equilibrium(None, "the humidity is not recorded")
    if temperature is None:
        return Equilibrium(None, "the temperature is not recorded")
    try:
        return Equilibrium(equilibrium_moisture_pct(temperature.value.middle, humidity.value.middle))
    except OutsideRange as error:
        return Equilibrium(None, str(error))


def climates(record: Instrument) -> tuple[RoomClimate, ...]:
    """Give every dated climate of an instrument that tells the humidity, oldest first."""
    found = [climate for each in happenings(record) for climate in _climate(record, each.path, each.date)]
    return tuple(sorted(found, key=lambda climate: str(climate.date.earliest)))


def _climate(record: Instrument, path: Path, date: Date) -> Iterator[RoomClimate]:
    if path[0] not in ("measurements", "setups", "varnish", "history"):
        return
    entry: Any = getattr(record, str(path[0]))[int(path[1])]
    air = getattr(entry, "state", None) if path[0] in ("measurements", "setups") else entry
    if air is not None and air.humidity is not None:
        rest = equilibrium(air.temperature, air.humidity)
        days = getattr(air, "days", None)
        yield RoomClimate(_named(str(path[0]), entry), date, path, air.temperature, air.humidity, days, rest)


def _named(field: str, entry: Any) -> str:
    if field == "varnish":
        return coat_said(entry)
    if field == "history":
        term = terms.EVENTS.get(entry.event)
        return term.words if term else str(entry.event)
    when = f", {entry.taken.when.replace('_', ' ')}" if entry.taken.when else ""
    return f"sheet {entry.sheet}{when}" if entry.sheet else f"dimensions{when}"


def closings(record: Instrument) -> Iterator[Closing]:
    """Give each gluing of a plate that tells of the wood's moisture or of the room."""
    for index, event in enumerate(record.history or ()):
        if event.event in GLUED and (event.moisture or event.humidity):
            rest = equilibrium(event.temperature, event.humidity)
            climate = (event.temperature, event.humidity)
            yield Closing(GLUED[event.event], event.date, ("history", index), event.moisture, climate, rest)


def extremes(found: tuple[RoomClimate, ...]) -> tuple[RoomClimate, RoomClimate] | None:
    """Give the driest and the dampest climate; None while there are not two that differ."""
    known = [climate for climate in found if climate.rest.pct is not None]
    by_moisture = sorted(known, key=lambda climate: climate.rest.pct or 0)
    if not by_moisture or by_moisture[0].rest.pct == by_moisture[-1].rest.pct:
        return None
    return by_moisture[0], by_moisture[-1]


def plate_movements(
    archive: Archive, record: Instrument, between: tuple[RoomClimate, RoomClimate]
) -> Iterator[PlateMovement]:
    """Give how far top and back would move between two climates, each as a free plate."""
    for plate in ("top", "back"):
        part: PlatePart | None = getattr(record.parts, plate, None)
        if part is not None:
            yield _movement(archive, record, plate, part, between)


def _movement(
    archive: Archive, record: Instrument, plate: str, part: PlatePart, between: tuple[RoomClimate, RoomClimate]
) -> PlateMovement:
    filed = archive.wood.get(part.lot or "")
    lot = filed.record if filed else None
    species = part.species or (lot.species if lot else None) or ""
    cut = part.cut or (lot.cut if lot else None) or ""
    if part.build == "laminated":
        return PlateMovement(plate, species, why_not="it is laminated, and its layers hold each other")
    if cut not in CUTS:
        why_not = f"it is cut {cut}, and the rings stand at no one angle" if cut else "the cut is not recorded"
        return PlateMovement(plate, species, cut, why_not=why_not)
    movement: Movement | None = getattr(WOODS.get(species), CUTS[cut], None)
    if movement is None:
        why_not = f"the table has no coefficient for {species}, {cut} cut" if species else "the species is not recorded"
        return PlateMovement(plate, species, cut, why_not=why_not)
    width_mm, width_from = _width(archive, record)
    if width_mm is None:
        return PlateMovement(plate, species, cut, why_not="the width of the lower bout is not recorded")
    driest, dampest = (climate.rest.pct or 0.0 for climate in between)
    try:
        change_mm = size_change_mm(width_mm, movement.coefficient, driest, dampest)
    except OutsideRange as error:
        return PlateMovement(plate, species, cut, width_mm, width_from, movement, None, str(error))
    return PlateMovement(plate, species, cut, width_mm, width_from, movement, change_mm)


def _width(archive: Archive, record: Instrument) -> tuple[float | None, str]:
    """Give the width of the lower bout in mm, and where it is from: as last measured, else as the model asks."""
    for sheet in reversed(record.measurements or ()):
        if sheet.bout_width and sheet.bout_width.lower:
            taken = sheet.taken.date if sheet.taken else None
            return sheet.bout_width.lower.value.middle, f"measured {when_said(taken)}" if taken else "measured"
    filed = archive.models.get(record.model or "")
    targets = filed.record.targets if filed else None
    asked = targets.bout_width if targets else None
    if asked and asked.lower:
        return asked.lower.value.middle, "as the model asks"
    return None, ""
