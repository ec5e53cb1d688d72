"""What the map of a plate says it weighs, edge and f-holes included, beside what the scale said.

The map alone misses the thick edge and counts the f-holes; each number that mends this keeps how it was come by.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from passport.analysis.gathered import mean_at
from passport.analysis.known import Known
from passport.analysis.taps import COMMON_MOISTURE_PCT
from passport.physics.ranges import OutsideRange
from passport.physics.varnish import ARCH_FACTOR
from passport.physics.wood import mass_at
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument, Plate, Stage
from passport.records.model.supplies import Targets
from passport.records.walk import measured
from passport.reference import measures
from passport.reference.measures import Place

if TYPE_CHECKING:
    from passport.physics.plates import Surface

# A flat plate is as large as its shadow.
FLAT = 1.0
# Stages at which a plate holds what the map holds: a top without its bar, with its f-holes or still without them.
WITH_F_HOLES = ("f_holes_cut",)
WEIGHED = {"top": ("graduation_done", "f_holes_cut"), "back": ("graduation_done", "before_closing")}
# By how much the map may miss the scale: a gauge that reads 0.1 mm high makes 4 %, a density 2 %, arch and edge 3 %.
# Common practice, no source.
TOLERANCE = 0.08
# A violin's measures, in proportion to the length of another body, where neither the record, nor the model, nor the
# trade's table has its own.
VIOLIN_MM = {"edge_overhang": 2.2, "rib_thickness": 1.1, "lining_thickness": 1.8}
VIOLIN_BODY_MM = 355


@dataclass(frozen=True)
class Weighing:
    """What the scale said of a plate at one stage; `index` is the stage's place in the record.

    `common_g` is its mass at the common moisture, None where the moisture is not recorded or no sum holds for it.
    """

    index: int
    stage: Stage
    mass_g: float
    common_g: float | None


@dataclass(frozen=True)
class Shape:
    """A plate by its map, each number as finely as it is told, so that every sum can be done again by hand.

    `inner_edge_mm` is its mean thickness along the outline, without the thick edge.
    """

    area_mm2: float
    mean_mm: float
    edge_length_mm: float
    inner_edge_mm: float


@dataclass(frozen=True)
class Volumes:
    """What the map, the thick edge and the f-holes come to, the last two as finely as they are told."""

    plate_cm3: float
    band_cm3: float
    f_holes_cm3: float

    @property
    def whole_cm3(self) -> float:
        """Give all of it."""
        return self.plate_cm3 + self.band_cm3 - self.f_holes_cm3


@dataclass(frozen=True)
class MapMass:
    """What the map weighs and all that goes into it; `difference` is a share of what the scale said.

    `f_hole` is None where no f-holes are cut; `weighed` where no stage can be held against the map.
    """

    mass_g: float
    density: Known
    arch: Known
    edge: Known
    band: tuple[tuple[str, Known], ...]
    f_hole: Known | None
    shape: Shape
    volumes: Volumes
    weighed: Weighing | None

    @property
    def band_mm(self) -> float:
        """Give the width of the edge band: overhang, rib and lining side by side."""
        return sum(known.value for _, known in self.band)

    @property
    def difference(self) -> float:
        """Give by which share of what the scale said the map is heavier."""
        return self.mass_g / self.weighed.mass_g - 1 if self.weighed else 0.0

    @property
    def is_apart(self) -> bool:
        """Tell whether map and scale cannot both be right."""
        return self.weighed is not None and not self.fits(self.weighed.mass_g)

    def fits(self, mass_g: float) -> bool:
        """Tell whether the plate may weigh so much."""
        return mass_g > 0 and abs(self.mass_g / mass_g - 1) <= TOLERANCE


def shape_of(surface: Surface) -> Shape:
    """Give what a map tells of its plate."""
    # numpy takes a tenth of a second to load, and archives whose results are kept need none of it.
    from passport.physics import plates  # noqa: PLC0415

    return Shape(
        area_mm2=round(plates.area_mm2(surface), -1),
        mean_mm=round(plates.mean_thickness_mm(surface), 3),
        edge_length_mm=round(plates.edge_length_mm(surface), 1),
        inner_edge_mm=round(plates.edge_thickness_mm(surface), 3),
    )


def map_mass(archive: Archive, record: Instrument, name: str, shape: Shape, length_mm: float) -> MapMass | str:
    """Work out what the map of a plate weighs; in words what is wanting where that cannot be."""
    from passport.physics import plates  # noqa: PLC0415 - as above

    density, edge = density_of(archive, record, name), _edge(archive, record, name)
    if density is None:
        return f"what the map of the {name} weighs: the density of its wood is not recorded, here or in its lot"
    if edge is None:
        return f"what the map of the {name} weighs: the edge thickness is not recorded"
    weighed = weighing(getattr(record.plates, name), name)
    is_cut = name == "top" and (weighed is None or weighed.stage.when in WITH_F_HOLES)
    f_hole = _known(archive, record, ((("f_hole", "length"),), "f_hole_length"), length_mm) if is_cut else None
    arch, band = _arch(record, name), tuple(_band(archive, record, length_mm))
    volumes = _volumes(shape, sum(known.value for _, known in band), edge.value, f_hole)
    mass_g = plates.mass_g(volumes.whole_cm3 * 1000, density.value, arch.value)
    return MapMass(mass_g, density, arch, edge, band, f_hole, shape, volumes, weighed)


def _volumes(shape: Shape, band_mm: float, edge_mm: float, f_hole: Known | None) -> Volumes:
    from passport.physics import plates  # noqa: PLC0415 - as above

    band_mm3 = plates.edge_band_mm3(shape.edge_length_mm, band_mm, edge_mm, shape.inner_edge_mm)
    holes_mm3 = 2 * plates.f_hole_area_mm2(f_hole.value) * shape.mean_mm if f_hole else 0.0
    return Volumes(shape.area_mm2 * shape.mean_mm / 1000, round(band_mm3 / 1000, 2), round(holes_mm3 / 1000, 2))


def density_of(archive: Archive, record: Instrument, name: str) -> Known | None:
    """Give the density of a plate's wood: that of its own piece, else the middle of its lot's."""
    part = getattr(record.parts, name) if record.parts else None
    if part is None:
        return None
    if part.density is not None:
        return Known(part.density.value.middle, "measured", "this piece", "kg/m3")
    lot = archive.wood.get(part.lot or "")
    density = lot.record.density if lot else None
    return Known(density.value.middle, "measured", f"lot {part.lot}", "kg/m3") if density else None


def weighing(plate: Plate, name: str) -> Weighing | None:
    """Give the last stage at which the plate was what its map shows, and was weighed."""
    found = [
        Weighing(index, stage, stage.mass.value.middle, _at_common_g(stage, stage.mass.value.middle))
        for index, stage in enumerate(plate.stages or ())
        if stage.when in WEIGHED[name] and stage.mass is not None and stage.mass.value.middle > 0
    ]
    return found[-1] if found else None


def _at_common_g(stage: Stage, mass_g: float) -> float | None:
    try:
        return mass_at(mass_g, stage.moisture.value.middle, COMMON_MOISTURE_PCT) if stage.moisture else None
    except OutsideRange:
        return None


def _arch(record: Instrument, name: str) -> Known:
    part = getattr(record.parts, name) if record.parts else None
    if part is not None and part.build == "flat":
        return Known(FLAT, "assumed", "a flat plate", "")
    return Known(
        ARCH_FACTOR, "assumed", "arched plates are 2 % larger than their shadow; common practice, no source", ""
    )


def _edge(archive: Archive, record: Instrument, name: str) -> Known | None:
    places: tuple[Place, ...] = (("edge_thickness", name), ("edge_thickness", "value"))
    return _known(archive, record, (places, f"edge_thickness_{name}"), 0)


def _band(archive: Archive, record: Instrument, length_mm: float) -> Iterator[tuple[str, Known]]:
    """Give what lies side by side where the plate has its full edge: overhang, rib, lining."""
    for field, words in (("edge_overhang", "overhang"), ("rib_thickness", "rib"), ("lining_thickness", "lining")):
        known = _known(archive, record, (measures.PLACES[field], field), length_mm)
        if known is not None:
            yield words, known


def _known(
    archive: Archive, record: Instrument, sought: tuple[tuple[Place, ...], str], length_mm: float
) -> Known | None:
    """Give a measure: as last measured, else as the model asks, else the trade's, else a violin's in proportion."""
    places, field = sought
    for sheet in reversed(record.measurements or ()):
        mean = mean_at(dict(measured(sheet)), *places)
        if mean is not None:
            date = sheet.taken.date.words() if sheet.taken and sheet.taken.date else "the sheet"
            # To a hundredth, as it is told.
            return Known(round(mean, 2), "measured", date)
    model = archive.models.get(record.model or "")
    asked = (model.record.targets or Targets()).by_place if model else {}
    wanted = [asked[place].value.middle for place in places if place in asked]
    if wanted:
        return Known(sum(wanted) / len(wanted), "from a table", f"what model {record.model} asks for")
    trade = measures.measure(record.kind or "", record.size or "", field)
    if trade is not None:
        return Known(trade.nominal, "from a table", trade.words)
    if field in VIOLIN_MM and length_mm:
        value = round(VIOLIN_MM[field] * length_mm / VIOLIN_BODY_MM, 1)
        return Known(value, "assumed", "a violin’s, in proportion to the body")
    return None
