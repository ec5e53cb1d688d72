"""The two drawings of a set-up: from the side, and the strings across the bridge.

Only figures that stand in the tables too.
"""

from __future__ import annotations

from passport.analysis.known import Known
from passport.analysis.strung import Strung
from passport.figures.strung import GapShape, SideFigures, SideShape, gap_drawing, side_drawing
from passport.views.numbers import date_text, figure, joined


def value_of(known: Known) -> str:
    """Write a figure with the decimals it is known to."""
    return figure(known.value, known.decimals)


def sheet_name(sheet: Strung) -> str:
    """Name a sheet with its day."""
    taken = sheet.sheet.taken
    return joined(short_name(sheet), date_text(taken.date) if taken else "")


def short_name(sheet: Strung) -> str:
    """Name a sheet."""
    return f"sheet {sheet.sheet.sheet or 'without a name'}"


def from_the_side(sheet: Strung) -> str:
    """Draw the set-up from the side; nothing where the side view is not known."""
    course, body = sheet.course, sheet.body
    angle, length = sheet.angle_deg, sheet.length_worked_mm
    if course is None or body is None or not sheet.views or angle is None or length is None or sheet.tail_deg is None:
        return ""
    neck_side = sum(view.neck_side_deg for view in sheet.views) / len(sheet.views)
    tailpiece = sheet.day.of(("tailpiece_length",))
    middle = len(sheet.names) // 2
    after = sheet.day.of(("afterlength", sheet.names[middle]))
    clearance = sheet.clearances[middle]
    shape = SideShape(
        body=body.length_mm, stop=course.stop_mm, neck=course.neck_mm, board=course.board_mm,
        board_thickness=body.board_thickness_mm, arch=body.arch_mm,
        nut=sheet.views[0].nut_mm, nut_clearance=clearance.value if clearance else 0.0,
        projection=course.projection_mm, bridge=course.bridge_mm, saddle=body.saddle_mm,
        after=after.value if after else 0.0, tailpiece=tailpiece.value if tailpiece else 0.0,
    )  # fmt: skip
    known = sheet.known
    figures = SideFigures(
        neck=f"N {value_of(known['neck stop'])}", stop=f"S {value_of(known['body stop'])}",
        rest=figure(body.length_mm - course.stop_mm, 1), length=f"L {figure(length, 1)}",
        bridge=f"H {value_of(known['height of the bridge'])}", projection=f"P {value_of(known['projection'])}",
        saddle=f"z {value_of(known['height of the saddle'])}",
        neck_angle=f"a {figure(neck_side, 1)}°", tail_angle=f"b {figure(sheet.tail_deg, 1)}°",
        angle=f"{figure(angle, 1)}°",
    )  # fmt: skip
    words = (
        f"{figures.neck}, {figures.stop} and {figures.bridge} mm, {figures.projection} mm; the strings rise by "
        f"{figure(neck_side, 1)} degrees to the bridge and fall by {figure(sheet.tail_deg, 1)} to the saddle."
    )
    return side_drawing(f"The set-up from the side, {sheet_name(sheet)}", words, shape, figures)


def across_the_bridge(sheet: Strung) -> str:
    """Draw the strings across the bridge; nothing where their steps were not measured on that day."""
    gaps, course = sheet.gaps, sheet.course
    if gaps is None or not gaps.gaps_mm or not any(step.is_of_the_day for step in sheet.steps):
        return ""
    half = gaps.spacing_mm / 2
    places = tuple(sum(gaps.steps_mm[:index]) - half for index in range(len(sheet.names)))
    seats = course.seats_mm if course is not None and sheet.is_whole_crown else (0.0,) * len(places)
    base = min(seats)
    shape = GapShape(
        places, tuple(seat - base for seat in seats), tuple(known.value for known in gaps.diameters),
        course.crown_radius_mm if course is not None and sheet.is_whole_crown else None,
    )  # fmt: skip
    rows = (
        ("gap", tuple(figure(gap, 2) for gap in gaps.gaps_mm)),
        ("equal", (figure(gaps.equal_mm, 2),) * len(gaps.gaps_mm)),
        ("step", tuple(figure(step, 1) for step in gaps.steps_mm)),
    )
    listed, equal = ", ".join(rows[0][1]), figure(gaps.equal_mm, 2)
    words = f"Gaps of {listed} mm between {', '.join(sheet.names)}; {equal} would be equal."
    return gap_drawing(f"The strings across the bridge, {sheet_name(sheet)}", words, shape, sheet.names, rows)
