"""Whether the measures of a set-up agree with each other, and which single one was most likely mistyped.

Bridge, projection and string heights, stops and board close in one sum: two people who measured the same instrument
cannot get it wrong by more than their rulers do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from passport.analysis.course import Course, seen_from_the_side
from passport.analysis.gathered import PLACES
from passport.analysis.known import Known
from passport.analysis.slips import with_digits_swapped
from passport.analysis.strung import Strung
from passport.findings import Path
from passport.physics.ranges import OutsideRange

# By how much projection and string heights may disagree, in mm. Worked out from what the rulers of each kind can see,
# and found to pass the trade's own nominals; common practice, no source.
CLOSES_WITHIN_MM: Mapping[str, float] = {"violin": 1.0, "viola": 1.0, "cello": 2.0, "bass": 6.0}
# By how much the string length may differ from the side view's, in mm: a bridge does not stand to the hair on the
# nicks. Common practice, no source.
LENGTH_WITHIN_MM: Mapping[str, float] = {"violin": 2.0, "viola": 2.0, "cello": 4.0, "bass": 8.0}
# What a string length is longer than neck stop and body stop together, since the string climbs, in mm. Worked out for
# violin to cello by the side view of the trade's nominals: 4 mm on a violin, 5 on a viola; a full cello's bridge stands
# so high that it is 12, though its table's lengths differ by 9. Common practice for a bass.
CLIMBS_MM: Mapping[str, tuple[float, float]] = {
    "violin": (2, 9), "viola": (2, 9), "cello": (2, 12), "bass": (15, 30),
}  # fmt: skip
DIGITS = "0123456789"

Fits = Callable[[Path, float], bool]


@dataclass(frozen=True)
class Closing:
    """The sum that should close: the projection as recorded, and as the string heights ask for it, in mm."""

    recorded: Known
    worked_mm: float
    within_mm: float

    @property
    def closes(self) -> bool:
        """Tell whether the two agree."""
        return abs(self.worked_mm - self.recorded.value) <= self.within_mm


@dataclass(frozen=True)
class Mistyped:
    """The one value that would close the sum if it were `likely`; `how` tells how the pen slipped."""

    name: str
    known: Known
    likely: float
    how: str


def closing_of(sheet: Strung) -> Closing | None:
    """Hold the projection of a sheet against its string heights; None unless both were measured on that day."""
    course, recorded = sheet.course, sheet.known.get("projection")
    heights = [height for height in sheet.heights if height is not None]
    if course is None or recorded is None or course.projection_worked_mm is None:
        return None
    if not recorded.is_of_the_day or not all(height.is_of_the_day for height in heights):
        return None
    return Closing(recorded, course.projection_worked_mm, CLOSES_WITHIN_MM[sheet.day.record.kind or ""])


def likeliest(sheet: Strung, fits: Fits) -> Mistyped | None:
    """Give the single slip of a pen that closes the sum and then leaves the least unexplained; None where none does.

    `fits` tells whether a value lies in the window of its field. Of several, the one whose present value lies outside
    its window goes first, then the one that suits string length and the other strings best.
    """
    if sheet.course is None:
        return None
    found = [
        (fits(slip.known.path, slip.known.value), _unexplained(sheet, course), slip.name, slip)
        for slip, course in _slips(sheet, sheet.course)
        if fits(slip.known.path, slip.likely)
    ]
    return min(found, key=lambda each: each[:3])[3] if found else None


def _slips(sheet: Strung, course: Course) -> Iterator[tuple[Mistyped, Course]]:
    for name, known, change in _values(sheet, course):
        for likely, how in _typed_otherwise(known):
            changed = change(likely)
            try:
                worked = changed.projection_worked_mm
            except (OutsideRange, ZeroDivisionError):
                continue
            within = CLOSES_WITHIN_MM[sheet.day.record.kind or ""] / 2
            if worked is not None and abs(worked - changed.projection_mm) <= within:
                yield Mistyped(name, known, likely, how), changed


def _values(sheet: Strung, course: Course) -> Iterator[tuple[str, Known, Callable[[float], Course]]]:
    """Give every value of the sum with what the course becomes when it is another."""
    known = sheet.known
    yield "projection", known["projection"], lambda value: replace(course, projection_mm=value)
    yield "height of the bridge", known["height of the bridge"], lambda value: replace(course, bridge_mm=value)
    yield from _stops(sheet, course)
    yield "neck stop", known["neck stop"], lambda value: replace(course, neck_mm=value)
    yield "length of the board", known["length of the board"], lambda value: replace(course, board_mm=value)
    if sheet.is_whole_crown:
        for index, (name, height) in enumerate(zip(sheet.names, sheet.heights, strict=True)):
            if height is not None:
                yield f"string height {name}", height, partial(_with_height, course, index)


def _stops(sheet: Strung, course: Course) -> Iterator[tuple[str, Known, Callable[[float], Course]]]:
    """Give the sides of the body stop one by one: a slip is made in one of them, and the mean tells of both."""
    first = sheet.known["body stop"].path[:2]
    sides = [each for path in PLACES["body stop"] if (each := sheet.day.of(path)) and each.path[:2] == first]
    for side in sides:
        others = sum(each.value for each in sides if each is not side)
        yield "body stop", side, partial(_with_side, course, others, len(sides))


def _with_side(course: Course, others: float, count: int, value: float) -> Course:
    return replace(course, stop_mm=(others + value) / count)


def _with_height(course: Course, index: int, value: float) -> Course:
    return replace(course, heights_mm=(*course.heights_mm[:index], value, *course.heights_mm[index + 1 :]))


def _typed_otherwise(known: Known) -> Iterator[tuple[float, str]]:
    """Give what may have been meant: two digits the other way round, the point elsewhere, another digit."""
    text = f"{known.value:.{known.decimals}f}"
    yield from ((float(swapped), "two digits swapped") for swapped in with_digits_swapped(text))
    for factor in (10.0, 0.1):
        yield round(known.value * factor, known.decimals + 1), "the point slipped"
    for place in (index for index, letter in enumerate(text) if letter.isdigit()):
        yield from ((float(text[:place] + digit + text[place + 1 :]), "one digit another") for digit in DIGITS)


def _unexplained(sheet: Strung, course: Course) -> float:
    """Add up what does not agree after a change, each in its tolerance: projection, string length, the strings."""
    kind = sheet.day.record.kind or ""
    left = abs((course.projection_worked_mm or 0.0) - course.projection_mm) / CLOSES_WITHIN_MM[kind]
    left += course.spread_mm / CLOSES_WITHIN_MM[kind]
    length = sheet.known.get("string length")
    if length is None or sheet.body is None:
        return left
    try:
        views = seen_from_the_side(course, sheet.body)
    except OutsideRange:
        return left + 1
    worked = sum(view.string_length_mm for view in views) / len(views)
    return left + abs(worked - length.value) / LENGTH_WITHIN_MM[kind]
