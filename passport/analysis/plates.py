"""What the measured thicknesses of a plate tell: the surface, thin spots, the two sides, the model's aims, the taps.

The points lie inside the outline of the instrument's model; without one there is no surface and no area.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from passport.analysis.gathered import PLACES, mean_at
from passport.analysis.plate_mass import MapMass, Shape, Weighing, map_mass, shape_of, weighing
from passport.analysis.taps import Taps, mode5_scaled_hz, taps_of
from passport.analysis.windows import Windows
from passport.figures.outline import Point, half_outline, half_width_mm, length_mm, row_places_mm
from passport.physics.ranges import OutsideRange
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument, Plate
from passport.records.model.sheets import MeasurementSheet, SetupSheet
from passport.records.model.supplies import Outline
from passport.records.walk import measured
from passport.reference import measures
from passport.units import Amount

if TYPE_CHECKING:
    from passport.physics.plates import Asymmetry, Surface

Curves = tuple[tuple[Point, ...], ...]
Thickness = Mapping[str, tuple[Amount, ...]]

# Fewer points than this make no curve of an outline, and fewer than this no map.
FEWEST_IN_CURVE, FEWEST_IN_MAP = 3, 12
# By how much the two sides of a plate may differ, in mm: on larger plates, which are thicker, more. Common practice.
UNEVEN_MM = {"violin": 0.3, "viola": 0.3, "cello": 0.5, "bass": 0.9}
# The bridge stands at this share of the body's length from the bottom edge.
BRIDGE_SHARE = 0.45
# A back is thin when its centre is 5 % below the trade's window at the post: 3.8 mm on a violin. Common practice.
THIN_CENTRE_SHARE = 0.95
# The middle of an eye lies this share of an f-hole's length from its middle. Common practice, no source.
EYE_SHARE = 0.4
# What two thicknesses may differ by once they have been through a float.
ROUNDING = 1e-6


@dataclass(frozen=True)
class Measured:
    """One measured thickness: its row and column in the record, its place on the plate, and what it is held against.

    `thin_below` is the limit that it lies below, None where it lies below none; `is_reported` says that it lies
    outside its window, which plausibility tells.
    """

    row: str
    column: int
    amount: Amount
    x_mm: float
    height_mm: float
    thin_below: float | None
    is_reported: bool

    @property
    def point(self) -> tuple[float, float, float]:
        """Give place and thickness."""
        return (self.x_mm, self.height_mm, self.amount.middle)


@dataclass(frozen=True)
class AgainstModel:
    """How a plate lies to what its model asks for, in mm: on the mean, and where most.

    `aim_mean_mm` is the mean thickness of the model's own map, `mode5_hz` what mode 5 would come to with it.
    """

    count: int
    mean_difference_mm: float
    most: Measured
    asked_there_mm: float
    aim_mean_mm: float
    mode5_hz: float | None


@dataclass(frozen=True)
class PlateMap:
    """What the surface through the points tells; `mass` is None where something for it is wanting."""

    surface: Surface
    length_mm: float
    shape: Shape
    mass: MapMass | None
    asymmetry: Asymmetry | None
    uneven_mm: float
    against: AgainstModel | None

    @property
    def is_uneven(self) -> bool:
        """Tell whether the two sides differ by more than is usual."""
        return self.asymmetry is not None and abs(self.asymmetry.difference_mm) > self.uneven_mm + ROUNDING


@dataclass(frozen=True)
class PlateStudy:
    """Everything worked out from one plate; what could not be, and for want of what, is said in `lacking`."""

    name: str
    curves: Curves
    points: tuple[Measured, ...]
    map: PlateMap | None
    weighed: Weighing | None
    taps: Taps | None
    lacking: tuple[str, ...]

    @property
    def thin(self) -> tuple[Measured, ...]:
        """Give the thin spots."""
        return tuple(point for point in self.points if point.thin_below is not None)


def curves_of(archive: Archive, model: str | None) -> Curves:
    """Give the outline of a model as plain numbers; nothing where the model has none that can be drawn."""
    filed = archive.models.get(model or "")
    outline: Outline | None = filed.record.outline if filed else None
    if outline is None:
        return ()
    curves = (outline.upper or (), outline.middle or (), outline.lower or ())
    if min(map(len, curves)) < FEWEST_IN_CURVE:
        return ()
    return tuple(tuple((height.middle, half_width.middle) for height, half_width in curve) for curve in curves)


def study(archive: Archive, record: Instrument, name: str, windows: Windows) -> PlateStudy | None:
    """Work out all that one plate tells, "top" or "back"; None where the record has none."""
    plate: Plate | None = getattr(record.plates, name) if record.plates else None
    if plate is None:
        return None
    curves = curves_of(archive, record.model)
    points = tuple(_points(record, name, plate.thickness or {}, curves, windows)) if curves else ()
    try:
        mapped = _mapped(archive, record, name, curves, points)
    except OutsideRange as error:
        mapped = f"the map of the {name}: {error}"
    taps, weighed = taps_of(record, plate), weighing(plate, name)
    if isinstance(mapped, str):
        return PlateStudy(name, curves, points, None, weighed, taps, (mapped,) if plate.thickness else ())
    return PlateStudy(name, curves, points, mapped[0], weighed, taps, mapped[1])


def _mapped(
    archive: Archive, record: Instrument, name: str, curves: Curves, points: Sequence[Measured]
) -> tuple[PlateMap, tuple[str, ...]] | str:
    """Give the map and what of it could not be worked out; in words why there is none at all."""
    # numpy takes a tenth of a second to load, and archives whose results are kept need none of it.
    from passport.physics import plates  # noqa: PLC0415

    if not curves:
        return f"a map of the {name}: its model has no outline, or it names no model"
    if len(points) < FEWEST_IN_MAP:
        return f"a map of the {name}: it takes at least {FEWEST_IN_MAP} measured points"
    length = length_mm(curves)
    surface = plates.thickness_surface([point.point for point in points], half_outline(curves))
    shape = shape_of(surface)
    try:
        mass = map_mass(archive, record, name, shape, length)
    except OutsideRange as error:
        mass = f"what the map of the {name} weighs: {error}"
    mapped = PlateMap(
        surface=surface,
        length_mm=length,
        shape=shape,
        mass=None if isinstance(mass, str) else mass,
        asymmetry=plates.asymmetry_mm(surface),
        uneven_mm=UNEVEN_MM.get(record.kind or "", UNEVEN_MM["violin"]),
        against=_against(archive, record, name, curves, points, shape.mean_mm),
    )
    return mapped, (mass,) if isinstance(mass, str) else ()


def _points(record: Instrument, name: str, rows: Thickness, curves: Curves, windows: Windows) -> Iterator[Measured]:
    """Give every measured point that lies on the plate, from the top down."""
    nearest = min(rows, key=lambda row: abs(float(row) / length_mm(curves) - BRIDGE_SHARE), default="")
    for row, places in _on_plate(rows, curves):
        for column, (x, amount) in enumerate(zip(places, rows[row], strict=True)):
            window = windows.of_thickness(name, row, column, len(places))
            is_reported = window is not None and bool(window.side(amount))
            limits = [_thin_limit(record, name, is_centre=row == nearest and abs(x) < ROUNDING)]
            limits += [window.low] if window is not None and is_reported else []
            broken = [limit for limit in limits if limit is not None and amount.middle < limit - ROUNDING]
            yield Measured(row, column, amount, x, float(row), max(broken, default=None), is_reported)


def _on_plate(rows: Thickness, curves: Curves) -> Iterator[tuple[str, list[float]]]:
    """Give the rows that lie on the plate, each height once, and where their points lie."""
    heights = {float(row): row for row in rows if 0 < float(row) < length_mm(curves) and rows[row]}
    for height in sorted(heights, reverse=True):
        yield heights[height], row_places_mm(curves, height, len(rows[heights[height]]))


def _thin_limit(record: Instrument, name: str, *, is_centre: bool) -> float | None:
    """Give the thickness below which a point is thin in any plate of this kind; None where the trade has none."""
    kind, size = record.kind or "", record.size or ""
    if name == "back" and is_centre:
        part = record.parts.back if record.parts else None
        post = measures.measure(kind, size, "back_thickness_at_post")
        return round(post.low * THIN_CENTRE_SHARE, 1) if post and not (part and part.build == "flat") else None
    anywhere = measures.measure(kind, size, f"{name}_thickness")
    return anywhere.low if anywhere else None


def _against(
    archive: Archive, record: Instrument, name: str, curves: Curves, points: Sequence[Measured], mean_mm: float
) -> AgainstModel | None:
    """Hold the plate against what its model asks for at the same places; None where it asks for nothing there."""
    from passport.physics import plates  # noqa: PLC0415 - as above

    target = getattr(archive.models[record.model or ""].record.plates, name, None)
    rows: Thickness = (target.thickness or {}) if target else {}
    count = {row: len(values) for row, values in rows.items()}
    rows_measured = [point.row for point in points]
    pairs = [
        (point, rows[point.row][point.column].middle)
        for point in points
        if count.get(point.row) == rows_measured.count(point.row)
    ]
    aims = [
        (x, float(row), amount.middle)
        for row, places in _on_plate(rows, curves)
        for x, amount in zip(places, rows[row], strict=True)
    ]
    if not pairs or len(aims) < FEWEST_IN_MAP:
        return None
    most, asked = max(pairs, key=lambda pair: abs(round(pair[0].amount.middle - pair[1], 6)))
    mean = sum(point.amount.middle - aim for point, aim in pairs) / len(pairs)
    aim_mean = plates.mean_thickness_mm(plates.thickness_surface(aims, half_outline(curves)))
    taps = taps_of(record, getattr(record.plates, name))
    mode5 = mode5_scaled_hz(taps, aim_mean / mean_mm) if taps else None
    return AgainstModel(len(pairs), mean, most, asked, aim_mean, mode5)


def f_holes_of(record: Instrument, curves: Curves) -> tuple[Point, Point] | None:
    """Give where the upper and the lower eye lie on the treble side; None unless all that tells it is recorded.

    The inner nick, which the stop is measured to, is taken as the middle of the length.
    """
    sheets: tuple[MeasurementSheet | SetupSheet, ...] = (*(record.measurements or ()), *(record.setups or ()))
    stops = (mean_at(dict(measured(sheet)), *PLACES["body stop"]) for sheet in reversed(sheets))
    stop = next((stop for stop in stops if stop), None)
    holes = next((sheet.f_hole for sheet in reversed(record.measurements or ()) if sheet.f_hole), None)
    if stop is None or holes is None or not (holes.length and holes.upper_eyes and holes.lower_eye_to_edge):
        return None
    nick, half = length_mm(curves) - stop, holes.length.value.middle * EYE_SHARE
    edge = half_width_mm(curves, nick - half)
    upper, lower = holes.upper_eyes.value.middle / 2, edge - holes.lower_eye_to_edge.value.middle
    return ((upper, nick + half), (lower, nick - half)) if 0 < upper < lower else None
