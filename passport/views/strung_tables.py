"""The tables of a set-up as it is worked out: what goes in, and string by string what comes out.

Each carries its rule in the signs of what goes in, so that every figure can be worked out again by hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from passport.analysis.pull import Pull
from passport.analysis.side import OF_THE_BODY, OF_THE_COURSE, OF_THE_CROWNS
from passport.analysis.strung import Strung
from passport.reference.measures import CUSTOM
from passport.views.numbers import EN_DASH, date_text, difference_text, figure, joined
from passport.views.strung_drawings import short_name, value_of
from passport.views.titles import capital
from passport.views.tree import WorkedTable

GEOMETRY = "geometry of the side view, the strings straight from nut to bridge to saddle"
MERSENNE = "M. Mersenne, Harmonie universelle, 1636"
# The sign of each measure in the rules.
SIGNS = {
    "body length": "B", "body stop": "S", "neck stop": "N", "string length": "L", "overstand": "o", "projection": "P",
    "height of the bridge": "H", "length of the board": "FB", "width of the board at the nut": "w₁",
    "width of the board at its end": "w₂", "edge thickness of the board": "e", "radius of the board": "R",
    "arch height at the bridge": "A", "edge thickness of the top": "E", "height of the saddle": "z",
    "crown radius of the bridge": "r", "span of the bridge’s feet": "F", "spacing at the nut": "W₁",
    "spacing at the bridge": "W₂", "string angle over the bridge": "θ",
}  # fmt: skip
USED = tuple(
    dict.fromkeys((*OF_THE_COURSE, *OF_THE_CROWNS, *OF_THE_BODY, "string length", "span of the bridge’s feet"))
)
STRING_BY_STRING = (
    "All in mm but a and load. y from the middle, by the steps where they are recorded; seat over the belly = H − (r − "
    "√(r² − y²)) − k y; c = clearance − (R − √(R² − y₁²)), y₁ where the string lies at the nut, evenly; s = R − √(R² − "
    "y₂²), y₂ = y₁ + (y − y₁) FB/(S + N); height = c + (seat − P − c) FB/(S + N) + s; rise = h + seat − n − c; "
    "L = √((S + N)² + rise²); a = atan(rise/(S + N)); load = T (sin a + sin b)"
)


def given(sheets: Sequence[Strung]) -> WorkedTable | None:
    """List what goes in, by where it is from."""
    by_source: dict[str, dict[str, None]] = {}
    for sheet in sheets:
        for name in USED:
            if name in sheet.known:
                known = sheet.known[name]
                by_source.setdefault(known.whence, {})[f"{name} {SIGNS[name]} {value_of(known)}"] = None
    rows = tuple((capital(whence), "; ".join(measures)) for whence, measures in by_source.items())
    return WorkedTable("What goes in, mm", ("From", "Measures"), rows) if rows else None


def pulls(sheets: Sequence[Strung]) -> WorkedTable | None:
    """Give the pull of every string, and again as it is now where that differs."""
    told = [sheet for sheet in sheets if sheet.pulls]
    if not told:
        return None
    first, last = told[0], told[-1]
    columns = ["String", "Hz", "g/m", "T, N"]
    rows = [
        [pull.note, figure(pull.frequency_hz, 2), value_of(pull.density), figure(pull.tension_n, 1)]
        for pull in first.pulls
    ]
    if any(pull.density.is_range for pull in first.pulls):
        columns.append("range, N")
        rows = [[*row, _range(pull)] for row, pull in zip(rows, first.pulls, strict=True)]
    if [pull.tension_n for pull in first.pulls] != [pull.tension_n for pull in last.pulls]:
        columns.append("now, N")
        rows = [[*row, figure(pull.tension_n, 1)] for row, pull in zip(rows, last.pulls, strict=True)]
    tuned = "equal fourths" if first.day.record.kind == "bass" else "pure fifths"
    pitch = f"A4 {value_of(first.pitch)} Hz, {first.pitch.how}"
    rule = f"T = mass (2 L f)², {tuned} from {pitch}. Mass by length: {_densities(first)}"
    return WorkedTable("The pull of the strings", tuple(columns), tuple(map(tuple, rows)), rule, MERSENNE)


def _range(pull: Pull) -> str:
    return f"{figure(pull.low_n, 0)}{EN_DASH}{figure(pull.high_n, 0)}" if pull.density.is_range else EN_DASH


def _densities(sheet: Strung) -> str:
    """Say of each string where its mass by length is from, strings of one source together."""
    by_source: dict[str, list[str]] = {}
    for pull in sheet.pulls:
        by_source.setdefault(f"{pull.density.how}, {pull.density.whence}", []).append(pull.name)
    return "; ".join(f"{', '.join(names)} {source}" for source, names in by_source.items())


def string_by_string(sheet: Strung, *, tells_rule: bool) -> WorkedTable | None:
    """Give the course of every string, and its height as worked out beside the measured one."""
    course = sheet.course
    if course is None or not sheet.is_whole_crown:
        return None
    columns = ("String", "y", "seat", "c", "s", *(("L", "a, °") if sheet.views else ()))
    columns = (*columns, *(("load, N",) if sheet.load else ()), "height", "measured", "differs")
    rows = tuple(_course(sheet, index) for index in range(len(sheet.names)))
    rule = f"{STRING_BY_STRING}. Clearances: {_clearances(sheet)}" if tells_rule else ""
    return WorkedTable(f"String by string, {short_name(sheet)}", columns, rows, rule, GEOMETRY if tells_rule else "")


def _course(sheet: Strung, index: int) -> tuple[str, ...]:
    course, measured = sheet.course, sheet.heights[index]
    if course is None:
        return ()
    by_string = (course.places_mm, course.seats_mm, course.at_nut_mm, course.board_drops_mm)
    row = [sheet.names[index], *(figure(each[index], 2) for each in by_string)]
    if sheet.views:
        view = sheet.views[index]
        row += [figure(view.string_length_mm, 1), figure(view.neck_side_deg, 2)]
    if sheet.load:
        row.append(figure(sheet.load.strings_n[index], 1))
    worked = course.heights_worked_mm[index]
    row += [figure(worked, 2), value_of(measured) if measured else ""]
    return (*row, difference_text(measured.value - worked, 2) if measured else "")


def _clearances(sheet: Strung) -> str:
    each = [
        f"{name} {value_of(known)}{'' if known.how == 'measured' else ', ' + known.how}"
        for name, known in zip(sheet.names, sheet.clearances, strict=True)
        if known is not None
    ]
    return f"{', '.join(each)} mm"


def gaps(sheet: Strung) -> WorkedTable | None:
    """Set the gaps beside equal ones; where no steps were measured, the equal steps alone."""
    found = sheet.gaps
    if found is None:
        return None
    pairs = [f"{one} to {other}" for one, other in pairwise(sheet.names)]
    thick = ", ".join(f"{name} {value_of(known)}" for name, known in zip(sheet.names, found.diameters, strict=True))
    sources = "; ".join(dict.fromkeys(f"{known.how}, {known.whence}" for known in found.diameters))
    rule = f"All in mm. Gap = step − half of each string beside it. Thickness: {thick} ({sources})"
    equal = [figure(step, 1) for step in found.equal_steps_mm]
    if not found.gaps_mm:
        return WorkedTable(
            "Steps at the bridge for equal gaps",
            ("Strings", "step"),
            tuple(zip(pairs, equal, strict=True)),
            rule,
            GEOMETRY,
        )
    measured = zip(pairs, found.steps_mm, found.gaps_mm, equal, strict=True)
    rows = tuple(
        (pair, figure(step, 1), figure(gap, 2), difference_text(gap - found.equal_mm, 2), even)
        for pair, step, gap, even in measured
    )
    columns = ("Strings", "step", "gap", "from equal", "equal step")
    return WorkedTable(f"Gaps at the bridge, {short_name(sheet)}", columns, rows, rule, GEOMETRY)


def after(sheet: Strung, *, tells_rule: bool) -> WorkedTable:
    """Give what sounds behind the bridge, beside a sixth of the string."""
    rows = tuple(
        (
            each.name, value_of(each.length), figure(each.semitones, 2),
            difference_text(each.cents, 0) if each.cents is not None else EN_DASH,
            joined(each.sounds, f"{difference_text(each.sounds_cents, 0)} cents", by=" ") if each.sounds else "",
        )
        for each in sheet.after
    )  # fmt: skip
    is_bass = sheet.day.record.kind == "bass"
    asked = (
        "A bass is asked for no sixth"
        if is_bass
        else (
            "A sixth of the string is 31.02 semitones up, two octaves and a fifth; an E with an adjuster is not asked"
        )
    )
    columns = ("String", "mm", "semitones up", "cents off a sixth", "sounds")
    rule = f"12 log₂(L/l) semitones above the open string. {asked}" if tells_rule else ""
    source = f"a sixth: {CUSTOM}" if tells_rule else ""
    return WorkedTable(f"Behind the bridge, {short_name(sheet)}", columns, rows, rule, source)


def every_other(sheets: Sequence[Strung]) -> WorkedTable:
    """Give a line for every sheet that is neither the reference nor the latest."""
    rows = tuple(
        (
            each.sheet.sheet or "", date_text(each.sheet.taken.date) if each.sheet.taken else "",
            figure(sum(pull.tension_n for pull in each.pulls), 0) if each.pulls else "",
            figure(each.load.whole_n, 1) if each.load else "",
            figure(each.angle_deg, 1) if each.angle_deg is not None else "",
            figure(each.length_worked_mm, 1) if each.length_worked_mm is not None else "",
        )
        for each in sheets
    )  # fmt: skip
    columns = ("Sheet", "Date", "pull, N", "load, N", "angle, °", "L, mm")
    return WorkedTable("Every other sheet, worked out alike", columns, rows)
