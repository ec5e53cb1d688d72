"""Family 5, consistency: a plate's map against the scale, its two sides, its taps, its wood against the lot.

Words what `analysis` works out; none of it is certain, so that all of it only warns.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.plate_mass import MapMass
from passport.analysis.plates import Measured, PlateMap, PlateStudy, study
from passport.analysis.taps import Taps
from passport.analysis.windows import windows_of
from passport.checks.plausibility import BOUNDS
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument, Plate
from passport.records.walk import fields_of

# Beyond these it is no wood, which plausibility tells.
LIGHTEST, HEAVIEST = BOUNDS["density"]
# The pieces of one lot may lie so far from its mean. Common practice, no source.
LOT_SPREAD = 0.15
# A point that lies so far from what its neighbours lead to, as a share of the mean, is more likely a slip than carving.
STANDS_OUT_SHARE = 0.25


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the plates of one instrument against themselves, and the wood of its parts against their lots."""
    filed = archive.instruments[stem]
    record = filed.record
    yield from _woods(archive, filed)
    windows = windows_of(archive, record)
    for name in ("top", "back"):
        found = study(archive, record, name, windows)
        plate: Plate | None = getattr(record.plates, name) if record.plates else None
        if found is None or plate is None:
            continue
        yield from _taps(filed.file, name, found.taps)
        if found.map is not None and found.map.mass is not None and found.map.mass.is_apart:
            yield _mass(filed, found, found.map.mass)
        if record.origin == "made_here" and not plate.accepted:
            yield from _sides(filed.file, found, found.map)
            yield from _thin(filed.file, found)


def _woods(archive: Archive, filed: Filed[Instrument]) -> Iterator[Finding]:
    for part, wood in fields_of(filed.record.parts) if filed.record.parts else ():
        lot = archive.wood.get(wood.lot or "")
        asked = lot.record.density if lot else None
        if wood.density is None or asked is None or not LIGHTEST <= wood.density.value.middle <= HEAVIEST:
            continue
        own, middle = wood.density.value.middle, asked.value.middle
        is_among = asked.value.low <= own <= asked.value.high
        if not is_among and abs(own - middle) > LOT_SPREAD * middle:
            lots = f"{asked.value.low:g}–{asked.value.high:g}" if asked.value.is_range else f"{middle:g}"
            what = f"the wood of the {_said(part)} has {own:g} kg/m3, and its lot {wood.lot} has {lots}"
            todo = f"weigh and measure the piece again; or mend the lot here, or density: in wood/{wood.lot}.yml"
            yield Finding(Code.DENSITY_APART, filed.file, what, todo, ("parts", part, "density"))


def _said(part: str) -> str:
    return part.replace("_", " ")


def _taps(file: str, name: str, taps: Taps | None) -> Iterator[Finding]:
    if taps is None or not taps.is_unusual:
        return
    modes = f"mode 5 of the {name} is {taps.ratio:.2f} times mode 2 ({taps.mode5_hz:g} and {taps.mode2_hz:g} Hz)"
    what = f"{modes}; {taps.low:g} to {taps.high:g} is usual ({taps.source})"
    todo = "tap both again, each held where its own lines cross; makers dispute what it is worth, so it may stay"
    yield Finding(Code.TAP_RATIO, file, what, todo, ("plates", name, "stages", taps.index, "mode5"))


def _sides(file: str, found: PlateStudy, of: PlateMap | None) -> Iterator[Finding]:
    if of is None or of.asymmetry is None or not of.is_uneven:
        return
    where = of.asymmetry
    treble = _at(found, where.x_mm, where.height_mm)
    bass = _at(found, -where.x_mm, where.height_mm)
    both = f"{bass.amount.written} on the bass side and {treble.amount.written} on the treble side"
    what = f"{treble.row} mm from the bottom the {found.name} is {both}; up to {of.uneven_mm:g} apart is usual"
    todo = "measure both places again; if it is meant so, give the plate accepted: with the reason"
    yield Finding(Code.UNEVEN_PLATE, file, what, todo, _path(found.name, treble))


def _at(found: PlateStudy, x_mm: float, height_mm: float) -> Measured:
    return min(found.points, key=lambda point: abs(point.x_mm - x_mm) + abs(point.height_mm - height_mm))


def _thin(file: str, found: PlateStudy) -> Iterator[Finding]:
    """Report the thinnest of the spots that lie inside their window all the same; plausibility tells the others."""
    spots = [(point.thin_below - point.amount.middle, point) for point in found.thin if point.thin_below is not None]
    unsaid = [spot for spot in spots if not spot[1].is_reported]
    if unsaid:
        _, point = max(unsaid, key=lambda spot: spot[0])
        count = f"; {len(unsaid)} points in all" if len(unsaid) > 1 else ""
        here = f"{point.row} mm from the bottom the {found.name} is {point.amount.written}"
        what = f"{here}: inside its window, and thin all the same below {point.thin_below:g}{count}"
        todo = "measure again; if it is meant so, give the plate accepted: with the reason"
        yield Finding(Code.THIN_SPOT, file, what, todo, _path(found.name, point))


def _path(name: str, point: Measured) -> Path:
    return ("plates", name, "thickness", point.row, point.column)


def _mass(filed: Filed[Instrument], found: PlateStudy, mass: MapMass) -> Finding:
    """Say how far map and scale are apart, at the value that is most likely wrong."""
    path, todo = _likeliest(filed.record, found, mass)
    weighed = mass.weighed
    scale = f"the scale said {weighed.mass_g:g} g ({_said(weighed.stage.when or '')})" if weighed else ""
    sum_ = f"the thicknesses of the {found.name} and {mass.density.value:g} kg/m3 ({mass.density.whence})"
    what = f"{sum_} give {mass.mass_g:.0f} g, and {scale}: {abs(mass.difference):.0%} apart"
    return Finding(Code.MASS_APART, filed.file, what, todo, path)


def _likeliest(record: Instrument, found: PlateStudy, mass: MapMass) -> tuple[Path, str]:
    return _point(found, mass) or _stage(record, found, mass) or _density(record, found, mass)


def _point(found: PlateStudy, mass: MapMass) -> tuple[Path, str] | None:
    """Give the point that stands out among its neighbours, to the side on which the map is wrong."""
    from passport.physics.plates import stands_out  # noqa: PLC0415 - numpy comes with it, see analysis.plates

    if found.map is None:
        return None
    (x, height, _), beyond = stands_out(found.map.surface)
    if beyond * mass.difference < 0 or abs(beyond) < STANDS_OUT_SHARE * found.map.shape.mean_mm:
        return None
    point = _at(found, x, height)
    side = "above" if beyond > 0 else "below"
    todo = f"measure here again: {point.amount.written} lies {abs(beyond):.1f} mm {side} what its neighbours lead to"
    return _path(found.name, point), todo


def _stage(record: Instrument, found: PlateStudy, mass: MapMass) -> tuple[Path, str] | None:
    """Give the stage whose mass was written, where that of another stage fits."""
    plate: Plate = getattr(record.plates, found.name)
    for index, stage in enumerate(plate.stages or ()):
        if mass.weighed and index != mass.weighed.index and stage.mass and mass.fits(stage.mass.value.middle):
            path: Path = ("plates", found.name, "stages", mass.weighed.index, "mass")
            fits = f"{stage.mass.value.written} g, written at {_said(stage.when or 'another stage')}, would fit"
            return path, f"{fits}: have two stages changed places? Else weigh again"
    return None


def _density(record: Instrument, found: PlateStudy, mass: MapMass) -> tuple[Path, str]:
    """Give the density, of the piece or of its lot."""
    field = "density" if getattr(record.parts, found.name).density is not None else "lot"
    needed = mass.density.value / (1 + mass.difference)
    todo = f"weigh again, and look at {field}: the scale would want wood of {needed:.0f} kg/m3"
    return ("parts", found.name, field), todo
