"""Family 5, consistency: the measures of a set-up against each other.

A value outside its own window is told of by plausibility; here only what two or more measures say together. Sheets
taken as an instrument came in hold what is unusual, and are asked for nothing but what can be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from passport.analysis.closing import CLIMBS_MM, LENGTH_WITHIN_MM, Closing, Mistyped, closing_of, likeliest
from passport.analysis.known import Known
from passport.analysis.strung import Strung, strung
from passport.analysis.windows import Fitting, Windows, fitting_of, windows_of
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.model.sheets import CONDITION_SHEETS
from passport.units import Amount

# By how much a gap may differ from the mean, in mm. Common practice, no source.
EVEN_WITHIN_MM: Mapping[str, float] = {"violin": 0.3, "viola": 0.3, "cello": 0.5, "bass": 1.0}
# What two readings of one height may differ by, in mm. Common practice, no source.
SAME_HEIGHT_MM = 0.05
# What the rounding of the steps may add up to, in mm for each. Common practice, no source.
ROUNDING_OF_A_STEP_MM = 0.2
# What reading a sum through floats may cost.
TINY_MM = 1e-6


@dataclass(frozen=True)
class _Asked:
    """A sheet with what its values are held against."""

    file: str
    sheet: Strung
    windows: Windows
    fitting: Fitting
    is_ours: bool

    @property
    def kind(self) -> str:
        return self.sheet.day.record.kind or ""

    @property
    def known(self) -> Mapping[str, Known]:
        return self.sheet.known

    def fits(self, path: Path, value: float) -> bool:
        """Tell whether a value would lie in the window of its field; what has no window fits."""
        window = self.windows.of(tuple(map(str, path[2:])), self.fitting)
        return window is None or not window.side(Amount(value, value, 2, window.unit, ""))

    def is_usual(self, *known: Known) -> bool:
        """Tell whether plausibility has nothing to say of these values, and nobody has accepted one."""
        return all(self.fits(each.path, each.value) and not each.is_accepted for each in known)


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the set-up sheets of one instrument against their own geometry, each pair of values once."""
    filed = archive.instruments[stem]
    record = filed.record
    if not record.setups or record.kind not in EVEN_WITHIN_MM:
        return
    windows = windows_of(archive, record)
    said: set[tuple[Code, Path]] = set()
    for sheet in strung(record):
        asked = _Asked(filed.file, sheet, windows, fitting_of(record, sheet.sheet), record.origin == "made_here")
        for finding in _of_sheet(asked):
            if (finding.code, finding.path) not in said:
                said.add((finding.code, finding.path))
                yield finding


def _of_sheet(asked: _Asked) -> Iterator[Finding]:
    impossible = list(_impossible(asked))
    yield from impossible
    sheet = asked.sheet.sheet
    taken = sheet.taken.when if sheet.taken else None
    is_strung = sheet.state is None or sheet.state.strings in (None, "at_pitch")
    if impossible or taken in CONDITION_SHEETS or sheet.role == "trial":
        return
    yield from _steps(asked)
    yield from _gaps(asked)
    yield from _ratio(asked)
    if is_strung:
        yield from _open(asked)
        yield from _length(asked)
        yield from _heights(asked)


def _impossible(asked: _Asked) -> Iterator[Finding]:
    known = asked.known
    bridge, projection = known.get("height of the bridge"), known.get("projection")
    if bridge and projection and projection.is_of_the_day and bridge.value <= projection.value:
        what = f"the projection, {_mm(projection)}, is not below the height of the bridge, {_mm(bridge)}{_of(bridge)}"
        todo = f"the strings would lie on the board: measure both again{_swapped(projection, bridge)}"
        yield Finding(Code.SETUP_CANNOT_BE, asked.file, what, todo, projection.path)
    board, stop, neck = known.get("length of the board"), known.get("body stop"), known.get("neck stop")
    if board and stop and neck and board.value >= stop.value + neck.value:
        stops = f"body stop {_mm(stop)}{_of(stop)} and neck stop {_mm(neck)} together"
        what = f"the board, {_mm(board)} long, would reach beyond the bridge: {stops}"
        yield Finding(Code.SETUP_CANNOT_BE, asked.file, what, "look at the three lengths", board.path)
    crown, spacing = known.get("crown radius of the bridge"), known.get("spacing at the bridge")
    if crown and spacing and 2 * crown.value <= spacing.value:
        what = f"no crown of radius {_mm(crown)} is as wide as the strings, {_mm(spacing)}{_of(spacing)}"
        yield Finding(Code.SETUP_CANNOT_BE, asked.file, what, "look at the radius and at the spacing", crown.path)


def _swapped(one: Known, other: Known) -> str:
    return "; the two may have changed places" if one.path[:2] == other.path[:2] else ""


def _open(asked: _Asked) -> Iterator[Finding]:
    """Report a set-up whose bridge, projection and heights do not agree, at the likeliest slip."""
    closing = closing_of(asked.sheet)
    if closing is None or closing.closes:
        return
    sheet = asked.sheet
    named = (closing.recorded, sheet.known["height of the bridge"], *filter(None, sheet.heights))
    if any(each.is_accepted for each in named):
        return
    slip = likeliest(sheet, asked.fits)
    what, todo = _open_words(sheet, closing, slip)
    yield Finding(Code.SETUP_OPEN, asked.file, what, todo, slip.known.path if slip else closing.recorded.path)


def _open_words(sheet: Strung, closing: Closing, slip: Mistyped | None) -> tuple[str, str]:
    heights = ", ".join(
        f"{name} {height.value:.{height.decimals}f}"
        for name, height in zip(sheet.names, sheet.heights, strict=True)
        if height is not None
    )
    bridge = sheet.known["height of the bridge"]
    off = abs(closing.worked_mm - closing.recorded.value)
    what = (
        f"projection {_mm(closing.recorded)} and string heights {heights} do not agree: over a bridge of {_mm(bridge)}"
        f"{_of(bridge)} the heights ask for a projection of {closing.worked_mm:.1f} mm, {off:.1f} off and more than "
        f"{closing.within_mm:g}"
    )
    if slip is None:
        return what, "measure projection, bridge and string heights again; no single slip of the pen explains it"
    return (
        what,
        f"measure the {slip.name} first: {slip.known.value:g} would agree if it were {slip.likely:g}, {slip.how}",
    )


def _length(asked: _Asked) -> Iterator[Finding]:
    """Report a string length that neither the side view nor the stops explain."""
    length, stop, neck = (asked.known.get(name) for name in ("string length", "body stop", "neck stop"))
    if not (length and stop and neck) or not length.is_of_the_day or not asked.is_usual(length, stop, neck):
        return
    worked, within = asked.sheet.length_worked_mm, LENGTH_WITHIN_MM[asked.kind]
    stops = f"neck stop {_mm(neck)} and body stop {_mm(stop)}{_of(stop)}"
    if worked is not None:
        low, high = worked - within, worked + within
        said = f"with the height of the bridge ask for {worked:.1f} mm, give or take {within:g}"
    else:
        least, most = CLIMBS_MM[asked.kind]
        low, high = stop.value + neck.value + least - within, stop.value + neck.value + most + within
        said = f"ask for {low:.1f} to {high:.1f} mm"
    if low - TINY_MM <= length.value <= high + TINY_MM:
        return
    what = f"string length {_mm(length)} does not fit: {stops} {said}"
    todo = "measure the three again, and look whether the bridge stands on the inner nicks of the f-holes"
    yield Finding(Code.LENGTH_DIFFERS, asked.file, what, todo, length.path)


def _ratio(asked: _Asked) -> Iterator[Finding]:
    """Report neck and stop that are usual each alone, and not together."""
    neck, stop = asked.known.get("neck stop"), asked.known.get("body stop")
    if asked.sheet.ratio is None or not asked.is_ours or not (neck and stop) or not asked.is_usual(neck, stop):
        return
    ratio, usual = asked.sheet.ratio
    if usual.low <= round(ratio, 3) <= usual.high:
        return
    what = (
        f"neck stop {_mm(neck)} to body stop {_mm(stop)}{_of(stop)} is {ratio:.3f}, and {usual.low:g} to "
        f"{usual.high:g} is usual ({usual.words})"
    )
    yield Finding(Code.NECK_TO_STOP, asked.file, what, "measure both again; if it is meant so, accept one", neck.path)


def _heights(asked: _Asked) -> Iterator[Finding]:
    pairs = pairwise(zip(asked.sheet.names, asked.sheet.heights, strict=True))
    for (low, bass), (high, treble) in pairs:
        if not (bass and treble) or not (bass.is_of_the_day and treble.is_of_the_day):
            continue
        if treble.value > bass.value + SAME_HEIGHT_MM and asked.is_usual(bass, treble):
            what = f"the {high} stands {_mm(treble)} over the board, higher than the {low} beside it, {_mm(bass)}"
            todo = "measure both again; heights rise from the treble side to the bass side"
            yield Finding(Code.HEIGHTS_OUT_OF_ORDER, asked.file, what, todo, treble.path)


def _steps(asked: _Asked) -> Iterator[Finding]:
    spacing, steps = asked.known.get("spacing at the bridge"), asked.sheet.steps
    if spacing is None or not steps or not asked.is_usual(spacing):
        return
    whole = sum(step.value for step in steps)
    if abs(whole - spacing.value) <= ROUNDING_OF_A_STEP_MM * len(steps) + TINY_MM:
        return
    listed = " + ".join(f"{step.value:g}" for step in steps)
    what = (
        f"the steps at the bridge, {listed}, are {whole:g} mm together, and the spacing is {_mm(spacing)}{_of(spacing)}"
    )
    yield Finding(Code.STEPS_DIFFER, asked.file, what, "measure spacing and steps again", steps[0].path[:-1])


def _gaps(asked: _Asked) -> Iterator[Finding]:
    gaps, steps = asked.sheet.gaps, asked.sheet.steps
    if gaps is None or not gaps.gaps_mm or any(step.is_accepted for step in steps):
        return
    off = [abs(gap - gaps.equal_mm) for gap in gaps.gaps_mm]
    furthest = off.index(max(off))
    if off[furthest] <= EVEN_WITHIN_MM[asked.kind] + TINY_MM:
        return
    listed = ", ".join(
        f"{one} to {other} {gap:.1f}"
        for (one, other), gap in zip(pairwise(asked.sheet.names), gaps.gaps_mm, strict=True)
    )
    usual = (
        "" if all(each.how == "measured" for each in gaps.diameters) else ", with the usual thickness of the strings"
    )
    what = f"the gaps at the bridge are {listed} mm{usual}, and {gaps.equal_mm:.1f} each would be equal"
    equal = ", ".join(f"{step:.1f}" for step in gaps.equal_steps_mm)
    todo = f"measure the steps again; from centre to centre {equal} mm make equal gaps"
    yield Finding(Code.UNEVEN_GAPS, asked.file, what, todo, steps[furthest].path)


def _mm(known: Known) -> str:
    return f"{known.value:.{known.decimals}f} mm"


def _of(known: Known) -> str:
    """Name the sheet of a value that is not of that day."""
    return "" if known.is_of_the_day else f" ({known.whence})"
