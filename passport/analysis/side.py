"""The side view and the load on the top, from what is known of a set-up; what is missing for them is told.

Decides what is enough: without the crowns of bridge and board, only the strings beside the centre line are judged.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import atan, degrees

from passport.analysis.course import Body, Course, evenly, from_steps
from passport.analysis.known import Known
from passport.analysis.lacking import Lacking
from passport.analysis.pull import Pull
from passport.physics.ranges import within
from passport.physics.setup import LONGEST_MM, SideView, bridge_push_n, crown_sagitta_mm, feet_load_n, string_loads_n

# Each foot of a bridge takes this share of the span of both, outer edge to outer edge. Common practice, no source.
FOOT_SHARE = 0.28
OF_THE_COURSE = ("body stop", "neck stop", "length of the board", "projection", "height of the bridge")
OF_THE_CROWNS = ("radius of the board", "crown radius of the bridge", "spacing at the nut", "spacing at the bridge")
OF_THE_BODY = (
    "body length", "overstand", "edge thickness of the board", "radius of the board", "width of the board at the nut",
    "width of the board at its end", "arch height at the bridge", "edge thickness of the top", "height of the saddle",
)  # fmt: skip


@dataclass(frozen=True)
class Load:
    """What presses on the top, in N: each string's part, the feet's, and the pull along the body toward the nut."""

    strings_n: tuple[float, ...]
    push_n: float
    foot_centres_mm: float | None
    feet_n: tuple[float, float] | None

    @property
    def whole_n(self) -> float:
        """Give the load of all strings."""
        return sum(self.strings_n)


def course_of(
    known: Mapping[str, Known],
    names: tuple[str, ...],
    clearances: tuple[Known | None, ...],
    heights: tuple[Known | None, ...],
    steps: tuple[Known, ...],
    lacking: Lacking,
) -> Course | None:
    """Give the strings' course: on both crowns where these are known, else that of the middle strings alone."""
    missing = [name for name in OF_THE_COURSE if name not in known]
    missing += [f"nut clearance of the {name}" for name, each in zip(names, clearances, strict=True) if each is None]
    if missing or not names:
        lacking.missing("The side view", (*missing, *(name for name in OF_THE_BODY if name not in known)))
        return None
    stop, neck, board, projection, bridge = (known[name].value for name in OF_THE_COURSE)
    within(
        "the length of the board", board, 1, within("stop and neck together", stop + neck, 2, LONGEST_MM, "mm"), "mm"
    )
    over = tuple(each.value for each in clearances if each is not None)
    high = tuple(each.value if each else None for each in heights)
    middle = slice((len(names) - 1) // 2, len(names) // 2 + 1)
    flat = (0.0,) * len(names[middle])
    of_the_middle = Course(stop, neck, board, projection, bridge, over[middle], high[middle], flat, flat)
    no_crowns = [name for name in OF_THE_CROWNS if name not in known]
    if no_crowns:
        lacking.missing("The strings one by one, on the crowns of bridge and board", no_crowns)
        return of_the_middle
    course = _on_crowns(replace(of_the_middle, clearances_mm=over, heights_mm=high), known, steps)
    # Whatever cannot be is told here and not later.
    return course if course.heights_worked_mm and course.projections_mm else None


def _on_crowns(course: Course, known: Mapping[str, Known], steps: tuple[Known, ...]) -> Course:
    """Give every string its own place on the crowns of bridge and board."""
    board_radius, crown_radius, at_nut, at_bridge = (known[name].value for name in OF_THE_CROWNS)
    count = len(course.heights_mm)
    return replace(
        course,
        places_mm=from_steps([step.value for step in steps]) if steps else evenly(at_bridge, count),
        nut_places_mm=evenly(at_nut, count),
        crown_radius_mm=crown_radius,
        board_radius_mm=board_radius,
    )


def body_of(known: Mapping[str, Known], lacking: Lacking) -> Body | None:
    """Give what the strings' course hangs on; nothing where a measure is missing; OutsideRange."""
    missing = [name for name in OF_THE_BODY if name not in known]
    if missing:
        lacking.missing("The side view", missing)
        return None
    width = board_width_mm(known)
    thickness = known["edge thickness of the board"].value + crown_sagitta_mm(known["radius of the board"].value, width)
    return Body(
        length_mm=known["body length"].value,
        overstand_mm=known["overstand"].value,
        board_thickness_mm=thickness,
        arch_mm=known["arch height at the bridge"].value - known["edge thickness of the top"].value,
        saddle_mm=known["height of the saddle"].value,
    )


def board_width_mm(known: Mapping[str, Known]) -> float:
    """Give the width of the board where the body begins: on a straight line between its two ends."""
    nut, end = known["width of the board at the nut"].value, known["width of the board at its end"].value
    return nut + (end - nut) * known["neck stop"].value / known["length of the board"].value


def tail_of(course: Course, body: Body, pulls: tuple[Pull, ...]) -> float:
    """Give the angle behind the bridge: one for all strings, from the seat weighted by their pull."""
    weights = [pull.tension_n for pull in pulls]
    if len(weights) != len(course.seats_mm):
        weights = [1.0] * len(course.seats_mm)
    seat = sum(seat * weight for seat, weight in zip(course.seats_mm, weights, strict=True)) / sum(weights)
    return degrees(atan((body.arch_mm + seat - body.saddle_mm) / (body.length_mm - course.stop_mm)))


def load_of(
    places_mm: tuple[float, ...],
    views: tuple[SideView, ...],
    pulls: tuple[Pull, ...],
    tail_deg: float,
    known: Mapping[str, Known],
    lacking: Lacking,
) -> Load:
    """Give the load of every string on its own neck side angle and one tail side angle; OutsideRange."""
    tensions, necks = [pull.tension_n for pull in pulls], [view.neck_side_deg for view in views]
    loads, push = string_loads_n(tensions, necks, tail_deg), bridge_push_n(tensions, necks, tail_deg)
    span = known.get("span of the bridge’s feet")
    if span is None:
        lacking.missing("The load of each foot", ["span of the bridge’s feet"])
        return Load(loads, push, None, None)
    centres = span.value * (1 - FOOT_SHARE)
    feet = lacking.tried("The load of each foot", lambda: feet_load_n(loads, places_mm, centres))
    return Load(loads, push, centres, feet)
