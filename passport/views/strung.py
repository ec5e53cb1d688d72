"""The set-up as it is worked out: the reference and the latest sheet in full, and a line for each of the others.

The sums are done in `analysis.strung`; here they are only worded, so that each can be done again by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from passport.analysis.closing import CLOSES_WITHIN_MM, closing_of
from passport.analysis.setup import compared
from passport.analysis.side import FOOT_SHARE, board_width_mm
from passport.analysis.strung import Strung, strung
from passport.records.model.instrument import Instrument
from passport.reference.measures import CUSTOM
from passport.views.numbers import EN_DASH, figure
from passport.views.strung_drawings import across_the_bridge, from_the_side, sheet_name, short_name, value_of
from passport.views.strung_tables import GEOMETRY, MERSENNE, after, every_other, gaps, given, pulls, string_by_string
from passport.views.titles import capital
from passport.views.tree import Worked, Workings

HART = "parallelogram of forces, G. Hart, The Violin: its famous makers and their imitators"
LEVER = f"law of the lever; that a foot takes {FOOT_SHARE:g} of the span is {CUSTOM}"
# The sizes whose strings the table holds, by their own lengths.
FULL_SIZES = {"violin": ("4/4", "7/8"), "cello": ("4/4", "7/8"), "bass": ("4/4", "3/4")}


def setup_worked(record: Instrument) -> tuple[Workings, ...]:
    """Give the reference and the latest sheet in full, and a line for each of the others."""
    result = compared(record)
    if result is None:
        return ()
    by_sheet = {id(each.sheet): each for each in strung(record)}
    full = [by_sheet[id(sheet)] for sheet in (result.reference, result.latest) if sheet is not None]
    others = [by_sheet[id(sheet)] for sheet in result.others]
    rest = (Workings("Every other sheet", tables=(every_other(others),)),) if others else ()
    return (_workings(full), *rest)


def _workings(sheets: Sequence[Strung]) -> Workings:
    by_string = [string_by_string(sheet, tells_rule=sheet is sheets[0]) for sheet in sheets]
    spaced = next((sheet for sheet in reversed(sheets) if any(step.is_of_the_day for step in sheet.steps)), sheets[0])
    behind = [sheet for sheet in sheets if sheet.after]
    behind_it = [after(sheet, tells_rule=sheet is behind[0]) for sheet in behind]
    tables = (given(sheets), pulls(sheets), *by_string, gaps(spaced), *behind_it)
    drawings = (from_the_side(sheets[-1]) or from_the_side(sheets[0]), across_the_bridge(spaced))
    return Workings(
        title=capital(", and now ".join(map(sheet_name, sheets))),
        figures=tuple(_figures(sheets)),
        tables=tuple(table for table in tables if table is not None),
        drawings=tuple(drawing for drawing in drawings if drawing),
        notes=tuple(_notes(sheets)),
        lacking=tuple(_lacking(sheets)),
    )


def _lacking(sheets: Sequence[Strung]) -> Iterator[str]:
    """Say what both lack once, and of the rest whose it is."""
    first = sheets[0].lacking
    yield from first
    for sheet in sheets[1:]:
        yield from (f"{capital(short_name(sheet))}: {words}" for words in sheet.lacking if words not in first)


def _notes(sheets: Sequence[Strung]) -> Iterator[str]:
    if any(sheet.course is not None and not sheet.is_whole_crown for sheet in sheets):
        yield "Where the crowns are not known, the middle strings alone are worked out, as if over the centre line."
    record = sheets[0].day.record
    from_table = any(pull.density.is_range for sheet in sheets for pull in sheet.pulls)
    if from_table and record.size not in FULL_SIZES.get(record.kind or "", (record.size,)):
        yield "The table is of full-size strings; a set made for this size is heavier and pulls more."


def _both(sheets: Sequence[Strung], number: Callable[[Strung], float | None], decimals: int) -> str:
    """Write a figure of the reference, and what it is now where that differs."""
    texts = [figure(value, decimals) if (value := number(sheet)) is not None else "" for sheet in sheets]
    then, now = texts[0], texts[-1]
    if then and now and then != now:
        return f"{then}, now {now}"
    return then or (f"now {now}" if now else "")


def _figures(sheets: Sequence[Strung]) -> Iterator[Worked]:
    yield from _listed(sheets, RESULTS)
    yield from _closings(sheets)
    ratio = sheets[0].ratio
    if ratio is not None:
        span = f"{figure(ratio[1].low, 3)}{EN_DASH}{figure(ratio[1].high, 3)} is usual"
        yield Worked("Neck stop to body stop", figure(ratio[0], 3), "", "worked out", "N/S", span, ratio[1].words)
    yield from _listed(sheets, ON_THE_WAY)


def _listed(sheets: Sequence[Strung], listed: Sequence[Figure]) -> Iterator[Worked]:
    for name, number, decimals, unit, rule, source in listed:
        value = _both(sheets, number, decimals)
        if value:
            yield Worked(name, value, unit, "worked out", rule, _beside(name, sheets), source)


def _closings(sheets: Sequence[Strung]) -> Iterator[Worked]:
    """Hold the projection against the string heights."""
    value = _both(sheets, lambda sheet: closing.worked_mm if (closing := closing_of(sheet)) else None, 1)
    if not value:
        return
    rule = "the mean over the strings of seat − c − (measured − s − c)(S + N)/FB"
    within = CLOSES_WITHIN_MM[sheets[0].day.record.kind or ""]
    told = "; ".join(
        f"{short_name(sheet)} has {value_of(closing.recorded)}, {'agrees' if closing.closes else 'does not agree'}"
        for sheet in sheets
        if (closing := closing_of(sheet))
    )
    given_ = f"{told} within {within:g} mm"
    source = f"{GEOMETRY}; the limit is {CUSTOM}"
    yield Worked("Projection that the string heights ask for", value, "mm", "worked out", rule, given_, source)


def _beside(name: str, sheets: Sequence[Strung]) -> str:
    """Give what was measured of a figure, or how far it may lie from the truth."""
    if name == PULL:
        low, high = _pull(sheets[0], "low_n") or 0.0, _pull(sheets[0], "high_n") or 0.0
        return f"{figure(low, 0)}{EN_DASH}{figure(high, 0)} over the range of the table" if low < high else ""
    quantity = {LENGTH: "string length", ANGLE: "string angle over the bridge"}.get(name, "")
    found = [(sheet, known) for sheet in sheets if (known := sheet.known.get(quantity)) and known.is_of_the_day]
    return "; ".join(f"{short_name(sheet)} has {value_of(known)}" for sheet, known in found)


def _pull(sheet: Strung, what: str = "tension_n") -> float | None:
    return sum(getattr(pull, what) for pull in sheet.pulls) if sheet.pulls else None


def _crowns(sheet: Strung) -> float | None:
    course = sheet.course
    if course is None or course.crown_radius_mm is None or course.board_radius_mm is None:
        return None
    return course.crown_radius_mm - course.board_radius_mm


def _foot(sheet: Strung, foot: int) -> float | None:
    return sheet.load.feet_n[foot] if sheet.load and sheet.load.feet_n else None


LENGTH, ANGLE, PULL = "String length", "Angle of the strings over the bridge", "Pull of all strings"
Figure = tuple[str, Callable[[Strung], float | None], int, str, str, str]
RESULTS: tuple[Figure, ...] = (
    (PULL, _pull, 0, "N", "the sum of T", MERSENNE),
    ("Load on the bridge", lambda it: it.load.whole_n if it.load else None, 1, "N", "the sum of T (sin a + sin b)",
     HART),
    ("Load of the bass foot", lambda it: _foot(it, 0), 1, "N", "the sum of load × (½ − y/d)", LEVER),
    ("Load of the treble foot", lambda it: _foot(it, 1), 1, "N", "the sum of load × (½ + y/d)", LEVER),
    ("Pull of the crown toward the nut", lambda it: it.load.push_n if it.load else None, 1, "N",
     "the sum of T (cos a − cos b)", HART),
    (ANGLE, lambda it: it.angle_deg, 1, "°", "180° − b − the mean of the strings’ a", GEOMETRY),
    ("Crown of the bridge less that of the board", _crowns, 1, "mm",
     "r − R; below 0 the middle strings stand higher over the board, above it lower", GEOMETRY),
    (LENGTH, lambda it: it.length_worked_mm, 1, "mm", "the mean of the strings’ L", GEOMETRY),
)  # fmt: skip
ON_THE_WAY: tuple[Figure, ...] = (
    ("Angle behind the bridge, b", lambda it: it.tail_deg, 2, "°",
     "atan((h + seat − z)/(B − S)), the seats weighted by pull", GEOMETRY),
    ("Between the middles of the feet, d", lambda it: it.load.foot_centres_mm if it.load else None, 1, "mm",
     f"{1 - FOOT_SHARE:g} F", LEVER),
    ("Lean of the crown to the treble side, k", lambda it: it.course.lean if it.course and it.is_whole_crown else None,
     4, "mm/mm", "so much that the outer strings differ in height as measured", GEOMETRY),
    ("Nut over the plane of the edges, n", lambda it: it.views[0].nut_mm if it.views else None, 2, "mm",
     "o + t − N (h + P − o − t)/S", GEOMETRY),
    ("Belly over that plane at the bridge, h", lambda it: it.body.arch_mm if it.body else None, 2, "mm", "A − E",
     GEOMETRY),
    ("Board’s thickness where the body begins, t", lambda it: it.body.board_thickness_mm if it.body else None, 2, "mm",
     "e + R − √(R² − (w/2)²)", GEOMETRY),
    ("Board’s width there, w", lambda it: board_width_mm(it.known) if it.body else None, 1, "mm",
     "w₁ + (w₂ − w₁) N/FB", GEOMETRY),
)  # fmt: skip
