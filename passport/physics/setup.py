"""The set-up seen from the side and along the bridge: angles, heights, loads, spacing.

Millimetres, degrees and newtons. In the side view z = 0 at the upper surface of the top's edge beside the neck, x = 0
at that edge; the strings are straight lines from nut to bridge to saddle. Geometry throughout; what is not names its
source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan, cos, degrees, hypot, log2, radians, sin, sqrt

from passport.physics.ranges import within
from passport.physics.strings import SEMITONES_IN_OCTAVE

# What no instrument of the family exceeds, with room to spare (common practice, no source): the angle of a string to
# the plane of the edges, a length along the body, a height above it, the diameter of a string.
STEEPEST_DEG = 60.0
LONGEST_MM = 2500.0
HIGHEST_MM = 500.0
THICKEST_STRING_MM = 10.0


@dataclass(frozen=True)
class SideView:
    """What follows from the side view: lengths in mm, angles in degrees, heights above the plane of the top's edge.

    `height_at_board_end_mm` is that of the string over the end of the board, `board_slope` the rise of the board a mm.
    """

    string_length_mm: float
    neck_side_deg: float
    tail_side_deg: float
    included_deg: float
    height_at_board_end_mm: float
    board_slope: float
    nut_mm: float
    seat_mm: float


def side_view(
    *,
    body_length_mm: float,
    body_stop_mm: float,
    neck_stop_mm: float,
    overstand_mm: float,
    board_thickness_mm: float,
    board_length_mm: float,
    arch_mm: float,
    projection_mm: float,
    bridge_height_mm: float,
    saddle_mm: float,
    nut_clearance_mm: float,
) -> SideView:
    """Work the side view out: S, N, o, t, h, P, H, z_s, c of a set-up to string length, angles and height.

    slope m = (h + P - o - t) / S; nut = o + t - m N; seat = h + H; L = sqrt((S + N)^2 + (seat - nut - c)^2);
    a = atan((seat - nut - c) / (S + N)); b = atan((seat - z_s) / (B - S)); included angle = 180 - a - b.
    `board_thickness_mm` is that of the board at its centre where the body begins, `arch_mm` the belly above the plane
    of the edge at the bridge, `bridge_height_mm` from the belly to the string's seat, `nut_clearance_mm` the string
    above the board's centre line at the nut, and so below 0 for an outer string of a round board. The string is taken
    straight from its seat to the saddle, as the middle of the tailgut goes. Lengths 1 to 2500 mm, the stop and the
    board shorter than what they lie on, heights 0 to 500 mm, the clearance down to -500; OutsideRange. A bass is 15 to
    25 mm longer along the string than its stops together, the others 2 to 9.
    """
    within("the body length", body_length_mm, 2, LONGEST_MM, "mm")
    within("the body stop", body_stop_mm, 1, body_length_mm - 1, "mm")
    within("the neck stop", neck_stop_mm, 1, LONGEST_MM, "mm")
    _heights({"overstand": overstand_mm, "board thickness": board_thickness_mm, "arch": arch_mm, "saddle": saddle_mm})
    stops = body_stop_mm + neck_stop_mm
    at_board_end = string_height_mm(bridge_height_mm, projection_mm, nut_clearance_mm, board_length_mm, stops)
    slope = (arch_mm + projection_mm - overstand_mm - board_thickness_mm) / body_stop_mm
    nut = overstand_mm + board_thickness_mm - slope * neck_stop_mm
    seat = arch_mm + bridge_height_mm
    rise = seat - nut - nut_clearance_mm
    neck_side = degrees(atan(rise / stops))
    tail_side = degrees(atan((seat - saddle_mm) / (body_length_mm - body_stop_mm)))
    return SideView(
        string_length_mm=hypot(stops, rise),
        neck_side_deg=neck_side,
        tail_side_deg=tail_side,
        included_deg=180 - neck_side - tail_side,
        height_at_board_end_mm=at_board_end,
        board_slope=slope,
        nut_mm=nut,
        seat_mm=seat,
    )


def string_height_mm(
    bridge_height_mm: float, projection_mm: float, nut_clearance_mm: float, board_length_mm: float, stops_mm: float
) -> float:
    """Give the height of a string over the end of the board: h = c + (H - P - c) FB / (S + N).

    `stops_mm` is neck stop and body stop together, 1 to 2500 mm, the board 1 mm to those, heights 0 to 500 mm. Height
    and clearance of a string are from the board's centre line: an outer string may lie as much as 500 mm below it.
    OutsideRange.
    """
    _heights({"bridge height": bridge_height_mm, "projection": projection_mm})
    _clearances({"nut clearance": nut_clearance_mm})
    share = _board_share(board_length_mm, stops_mm)
    return nut_clearance_mm + (bridge_height_mm - projection_mm - nut_clearance_mm) * share


def bridge_height_mm(
    string_height_mm: float, projection_mm: float, nut_clearance_mm: float, board_length_mm: float, stops_mm: float
) -> float:
    """Give the height of the seat above the belly that a wanted string height asks for.

    H = P + c + (h - c)(S + N)/FB; arguments and errors as of `string_height_mm`.
    """
    _heights({"projection": projection_mm})
    _clearances({"string height": string_height_mm, "nut clearance": nut_clearance_mm})
    share = _board_share(board_length_mm, stops_mm)
    return projection_mm + nut_clearance_mm + (string_height_mm - nut_clearance_mm) / share


def projection_mm(
    bridge_height_mm: float, string_height_mm: float, nut_clearance_mm: float, board_length_mm: float, stops_mm: float
) -> float:
    """Give the projection that bridge and string height together ask for: P = H - c - (h - c)(S + N)/FB.

    Arguments and errors as of `string_height_mm`.
    """
    _heights({"bridge height": bridge_height_mm})
    _clearances({"string height": string_height_mm, "nut clearance": nut_clearance_mm})
    share = _board_share(board_length_mm, stops_mm)
    return bridge_height_mm - nut_clearance_mm - (string_height_mm - nut_clearance_mm) / share


def _heights(named_mm: Mapping[str, float]) -> None:
    for name, height in named_mm.items():
        within(f"the {name}", height, 0, HIGHEST_MM, "mm")


def _clearances(named_mm: Mapping[str, float]) -> None:
    for name, clearance in named_mm.items():
        within(f"the {name}", clearance, -HIGHEST_MM, HIGHEST_MM, "mm")


def _board_share(board_length_mm: float, stops_mm: float) -> float:
    """Give how much of the way from nut to bridge the board goes."""
    within("the sum of the stops", stops_mm, 1, LONGEST_MM, "mm")
    return within("the board's length", board_length_mm, 1, stops_mm, "mm") / stops_mm


def bridge_load_n(
    tensions_n: Sequence[float], neck_side_deg: float | Sequence[float], tail_side_deg: float | Sequence[float]
) -> float:
    """Give the force of the strings into the top through the bridge, in N: the sum of T (sin a + sin b).

    The angles below the plane of the edges, one for all strings or one each, 0 to 60 degrees; tensions 0 to 1000 N;
    OutsideRange. Parallelogram of forces: G. Hart, The Violin: its famous makers and their imitators, on the pressure
    of the strings, works 18 lb of tension out to 8 lb on the bridge.
    """
    return sum(string_loads_n(tensions_n, neck_side_deg, tail_side_deg))


def string_loads_n(
    tensions_n: Sequence[float], neck_side_deg: float | Sequence[float], tail_side_deg: float | Sequence[float]
) -> tuple[float, ...]:
    """Give each string's part of the bridge load, in N; arguments as of `bridge_load_n`."""
    return tuple(
        tension * (sin(radians(neck)) + sin(radians(tail)))
        for tension, neck, tail in _each(tensions_n, neck_side_deg, tail_side_deg)
    )


def bridge_push_n(
    tensions_n: Sequence[float], neck_side_deg: float | Sequence[float], tail_side_deg: float | Sequence[float]
) -> float:
    """Give the force along the body in N, the sum of T (cos a - cos b); plus pulls the crown toward the nut.

    Arguments and errors as of `bridge_load_n`; nothing where the bridge halves the angle.
    """
    return sum(
        tension * (cos(radians(neck)) - cos(radians(tail)))
        for tension, neck, tail in _each(tensions_n, neck_side_deg, tail_side_deg)
    )


def _each(
    tensions_n: Sequence[float], neck_side_deg: float | Sequence[float], tail_side_deg: float | Sequence[float]
) -> list[tuple[float, float, float]]:
    count = len(tensions_n)
    necks = [neck_side_deg] * count if isinstance(neck_side_deg, (int, float)) else neck_side_deg
    tails = [tail_side_deg] * count if isinstance(tail_side_deg, (int, float)) else tail_side_deg
    for tension in tensions_n:
        within("the tension", tension, 0, 1000, "N")
    for angle in (*necks, *tails):
        within("the angle", angle, 0, STEEPEST_DEG, "degrees")
    return list(zip(tensions_n, necks, tails, strict=True))


def feet_load_n(loads_n: Sequence[float], positions_mm: Sequence[float], foot_centres_mm: float) -> tuple[float, float]:
    """Split the load of the strings over the feet: bass foot, treble foot, in N.

    `loads_n` 0 to 1000 each; `positions_mm` are the strings' places from the middle of the bridge, treble side plus;
    `foot_centres_mm` is from the middle of one foot to the middle of the other, 1 to 500. Law of the lever for a
    stiff bridge, loads straight down. Hart's rule of thumb (outer strings on their own foot, the others 2/3 and 1/3)
    is the same where the feet stand as far apart as the outer strings; where they stand closer, an outer string
    presses its own foot with more than its load and takes from the other. OutsideRange where a foot would be lifted.
    """
    within("the distance of the feet", foot_centres_mm, 1, 500, "mm")
    for load in loads_n:
        within("the load of a string", load, 0, 1000, "N")
    turning = sum(load * position for load, position in zip(loads_n, positions_mm, strict=True)) / foot_centres_mm
    half = sum(loads_n) / 2
    within("the load that goes from foot to foot", turning, -half, half, "N")
    return half - turning, half + turning


def afterlength_semitones(string_mm: float, after_mm: float) -> float:
    """Give by how many semitones the string behind the bridge sounds above the open string: 12 log2(L / l).

    Both above 0 mm; OutsideRange. Six to one is two octaves and a pure fifth, 31.02 semitones.
    """
    within("the string length", string_mm, 1, LONGEST_MM, "mm")
    within("the afterlength", after_mm, 1, LONGEST_MM, "mm")
    return SEMITONES_IN_OCTAVE * log2(string_mm / after_mm)


def equal_gaps(spacing_mm: float, diameters_mm: Sequence[float]) -> tuple[float, tuple[float, ...]]:
    """Give the gap between strings that are equally far from edge to edge, and the steps from centre to centre, in mm.

    `spacing_mm` is from the centre of the first string to that of the last; diameters 0 to 10, two or more, in order.
    gap = (spacing + (d_1 + d_n)/2 - sum d) / (n - 1); OutsideRange where the strings would touch.
    """
    within("the number of strings", len(diameters_mm), 2, 10, "")
    within("the spacing", spacing_mm, 1, 500, "mm")
    for diameter in diameters_mm:
        within("the diameter", diameter, 0, THICKEST_STRING_MM, "mm")
    between = len(diameters_mm) - 1
    outer = (diameters_mm[0] + diameters_mm[-1]) / 2
    gap = (spacing_mm + outer - sum(diameters_mm)) / between
    within("the gap between the strings", gap, 0, spacing_mm, "mm")
    steps = tuple(gap + (one + other) / 2 for one, other in pairwise(diameters_mm))
    return gap, steps


def crown_sagitta_mm(radius_mm: float, chord_mm: float) -> float:
    """Give how far an arc rises over its chord: s = R - sqrt(R^2 - (w/2)^2), all in mm.

    The radius 1 to 500 mm, the chord 0 to twice the radius; OutsideRange.
    """
    within("the radius", radius_mm, 1, 500, "mm")
    half = within("the chord", chord_mm, 0, 2 * radius_mm, "mm") / 2
    return radius_mm - sqrt(radius_mm**2 - half**2)
