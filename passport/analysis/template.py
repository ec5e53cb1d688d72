"""What a full-size template is drawn from: the bridge to cut today, where the post stands, where the bass bar lies.

Works out and says of every number where it is from; draws and words nothing. Millimetres throughout, the middle line
at 0; of the bridge bass side minus, as seen from the front.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot, sqrt

from passport.analysis.course import evenly, from_steps
from passport.analysis.gathered import gathered
from passport.analysis.known import Known
from passport.analysis.latest import Knowledge, NotRecorded, said_of
from passport.analysis.pull import diameter_of
from passport.analysis.seats import Seat, StringLine, seats
from passport.analysis.setup import reference_of
from passport.figures.outline import Curve, length_mm
from passport.figures.plate import bouts
from passport.findings import Path
from passport.physics.ranges import within
from passport.physics.setup import crown_sagitta_mm
from passport.records.model.sheets import SetupSheet

# By how much the belly is lower under the feet of a violin's bridge than in the middle, and the span of those feet; of
# larger bridges in proportion. Common practice, no source.
BELLY_DROP_MM, BELLY_DROP_SPAN_MM = 1.0, 41.5
# What can be at all, so wide that only a slip lies outside. Common practice, no source.
POSSIBLE_MM: Mapping[str | int, tuple[float, float]] = {
    "string_height": (0.0, 30.0),
    "nut_clearance": (0.0, 10.0),
    "bridge_steps": (1.0, 100.0),
    "string_spacing": (3.0, 300.0),
    "foot_span": (5.0, 400.0),
    "foot_thickness": (0.5, 80.0),
    "top_thickness": (0.2, 40.0),
    "diameter": (1.0, 60.0),
    "behind_foot": (-50.0, 100.0),
    "inset_from_foot_edge": (-20.0, 100.0),
    "to_f_hole": (0.0, 300.0),
    "bass_bar": (0.0, 1500.0),
    "body_length": (50.0, 2000.0),
    "bout_width": (20.0, 1500.0),
}
# Whence a figure is that stands in no record.
GIVEN = "given for this template"
# What is further from the usual projection than this factor is a slip of the pen. Common practice, no source.
FURTHEST_FACTOR = 1.8
LEAST_PROJECTION_MM, MOST_PROJECTION_MM = 5.0, 250.0
# The bar's rule divides the width of a bout by seven; the first marks lie half a seventh either side of the joint.
SEVENTHS = 14


# What went into a template, each with the quantity it stands for.
Used = tuple[tuple[Path, Known], ...]


@dataclass(frozen=True)
class Crown:
    """The arc of the crown: of the recorded radius, through the outer seats, raised where another stands above it."""

    radius_mm: float
    centre_x_mm: float
    centre_above_belly_mm: float

    def above_belly_mm(self, x_mm: float) -> float:
        """Give how high the arc stands at a place."""
        return self.centre_above_belly_mm + sqrt(self.radius_mm**2 - (x_mm - self.centre_x_mm) ** 2)


@dataclass(frozen=True)
class BridgeCut:
    """The bridge to cut: its seats, its crown, its feet. A thickness nobody recorded is None."""

    seats: tuple[Seat, ...]
    crown: Crown
    belly_drop_mm: float
    projection_mm: float
    stops_mm: float
    board_length_mm: float
    board_radius_mm: float
    foot_span_mm: float
    foot_thickness_mm: float | None
    top_thickness_mm: float | None
    used: Used
    heights_to: str | None
    adjusters: str


@dataclass(frozen=True)
class PostPlace:
    """Where the post stands, seen from the front: x from the joint to the treble side, y from the nick line down.

    `nick_x_mm` is where the inner nick of the f-hole lies by the recorded distance; None where it cannot be told.
    """

    centre_x_mm: float
    centre_y_mm: float
    diameter_mm: float
    foot_span_mm: float
    foot_thickness_mm: float
    behind_foot_mm: float
    inset_mm: float
    to_f_hole_mm: float | None
    nick_x_mm: float | None
    used: Used


@dataclass(frozen=True)
class BarLine:
    """Where the bass bar lies: distances from the joint at heights above the line of the bridge, toward the neck plus.

    `slope` is by how much the bar comes nearer to the joint in a millimetre; `by_sevenths_mm` is where the rule of the
    bouts alone would put its inner edge at the line of the bridge.
    """

    centre_mm: float
    slope: float
    thickness_mm: float
    lower_end_mm: float
    upper_end_mm: float
    by_sevenths_mm: float
    upper_bout_at_mm: float
    lower_bout_at_mm: float
    body_length_mm: float
    stop_mm: float
    used: Used

    def edges_mm(self, height_mm: float) -> tuple[float, float, float]:
        """Give inner edge, middle and outer edge of the bar at a height."""
        middle = self.centre_mm - self.slope * height_mm
        half = self.thickness_mm / 2 * hypot(1, self.slope)
        return middle - half, middle, middle + half


class _Needed:
    """Gathers what goes into a template, and what is not there."""

    def __init__(self, knowledge: Knowledge) -> None:
        self._used: list[tuple[Path, Known]] = []
        self._knowledge = knowledge
        self._lacking: list[Path] = []

    def measured(self, *quantity: str) -> float:
        return self._take(quantity, self._knowledge.measured(quantity))

    def usual(self, *quantity: str) -> float:
        return self._take(quantity, self._knowledge.usual(quantity))

    def if_measured(self, *quantity: str) -> float | None:
        return self.if_known(quantity, self._knowledge.measured(quantity))

    def if_known(self, quantity: Path, known: Known | None) -> float | None:
        return self.add(quantity, known) if known else None

    def add(self, quantity: Path, known: Known) -> float:
        self._used.append((quantity, known))
        return known.value

    def body_stop(self) -> float:
        """Give the stop between the sides where each has its own."""
        there = [stop for side in ("bass", "treble") if (stop := self.if_measured("body_stop", side)) is not None]
        return sum(there) / len(there) if there else self.measured("body_stop", "value")

    def complete(self) -> Used:
        """Give what was used; NotRecorded with everything that is not there, OutsideRange for what cannot be."""
        if self._lacking:
            raise NotRecorded(tuple(dict.fromkeys(self._lacking)))
        for quantity, known in self._used:
            part = next((part for part in reversed(quantity) if part in POSSIBLE_MM), None)
            if part is not None:
                within(_named(quantity), known.value, *POSSIBLE_MM[part], "mm")
        return tuple(self._used)

    def _take(self, quantity: Path, known: Known | None) -> float:
        if known is not None:
            return self.add(quantity, known)
        self._lacking.append(quantity)
        return 1.0


def _named(quantity: Path) -> str:
    """Name a quantity in a sentence."""
    return f"the {' '.join(map(str, quantity)).replace('_', ' ')}"


def bridge_cut(
    knowledge: Knowledge, projection_mm: float | None = None, heights_mm: Mapping[str, float] | None = None
) -> BridgeCut:
    """Work the bridge out that gives the heights wanted today; what is given counts before what was measured.

    Heights not given are those of the reference. NotRecorded, OutsideRange.
    """
    needed = _Needed(knowledge)
    projection = _projection(needed, projection_mm)
    stops, board = needed.body_stop() + needed.measured("neck_stop"), needed.measured("fingerboard", "length")
    board_radius = needed.usual("fingerboard", "radius")
    lines = _string_lines(needed, knowledge, heights_mm or {})
    crown_radius, span = needed.usual("bridge", "crown_radius"), needed.usual("bridge", "foot_span")
    foot, top = (needed.if_measured("bridge", part) for part in ("foot_thickness", "top_thickness"))
    used = needed.complete()
    _within_reach(knowledge, projection)
    found = seats(lines, projection_mm=projection, stops_mm=stops, board_length_mm=board, board_radius_mm=board_radius)
    crown = crown_over([(seat.string.bridge_x_mm, seat.above_belly_mm) for seat in found], crown_radius)
    return BridgeCut(
        seats=found, crown=crown, belly_drop_mm=BELLY_DROP_MM * span / BELLY_DROP_SPAN_MM, projection_mm=projection,
        stops_mm=stops, board_length_mm=board, board_radius_mm=board_radius, foot_span_mm=span,
        foot_thickness_mm=foot, top_thickness_mm=top, used=used, heights_to=_heights_to(knowledge),
        adjusters=_adjusters(knowledge),
    )  # fmt: skip


def _heights_to(knowledge: Knowledge) -> str | None:
    """Give the point of the strings that the reference's heights were measured to."""
    reference = reference_of(knowledge.record.setups or ())
    return reference.string_height.to if reference and reference.string_height else None


def _projection(needed: _Needed, given_mm: float | None) -> float:
    if given_mm is None:
        return needed.measured("projection")
    return needed.add(("projection",), Known(given_mm, "given", GIVEN))


def _adjusters(knowledge: Knowledge) -> str:
    """Give what the record says of adjusters in the legs of the bridge that is fitted now."""
    fitted = [sheet.fitted for sheet in knowledge.record.setups or () if sheet.fitted]
    return (fitted[-1].bridge_adjusters or "") if fitted else ""


def _string_lines(needed: _Needed, knowledge: Knowledge, given_mm: Mapping[str, float]) -> list[StringLine]:
    names = knowledge.record.string_names
    count = int(within("the number of strings", len(names), 2, 10, ""))
    nut = evenly(needed.usual("string_spacing", "nut"), count)
    bridge = _bridge_places(needed, knowledge, count)
    heights = [_height(needed, knowledge, name, given_mm.get(name)) for name in names]
    clearances = [needed.usual("nut_clearance", name) for name in names]
    return [StringLine(*line) for line in zip(names, nut, bridge, heights, clearances, strict=True)]


def _bridge_places(needed: _Needed, knowledge: Knowledge, count: int) -> tuple[float, ...]:
    """Give where the strings lie by the recorded steps; without them, equally far apart."""
    steps: list[Path] = [("string_spacing", "bridge_steps", index) for index in range(count - 1)]
    if all(step in knowledge.latest for step in steps):
        return from_steps([needed.add(step, knowledge.latest[step]) for step in steps])
    return evenly(needed.usual("string_spacing", "bridge"), count)


def _height(needed: _Needed, knowledge: Knowledge, name: str, given_mm: float | None) -> float:
    """Give the height wanted, to the underside of the string."""
    quantity = ("string_height", name)
    if given_mm is not None:
        return needed.add(quantity, Known(given_mm, "given", GIVEN))
    reference = reference_of(knowledge.record.setups or ())
    heights = reference.string_height if reference else None
    if reference is None or heights is None or name not in heights.strings:
        return needed.usual(*quantity)
    mm = needed.add(quantity, Known(heights.strings[name].value.middle, "measured", said_of(reference)))
    return mm - _half_string(needed, knowledge, reference, name) if heights.to == "centre" else mm


def _half_string(needed: _Needed, knowledge: Knowledge, reference: SetupSheet, name: str) -> float:
    """Give half of the thickness that the string had when its height was measured."""
    day = next(day for day in gathered(knowledge.record) if day.sheet is reference)
    thick = diameter_of(day, name)
    if thick is None:
        raise NotRecorded((("string_diameter", name),))
    return needed.add(("string_diameter", name), thick) / 2


def _within_reach(knowledge: Knowledge, projection_mm: float) -> None:
    """Refuse what no instrument of this kind can have; OutsideRange."""
    usual = replace(knowledge, latest={}).usual(("projection",))
    low = max(LEAST_PROJECTION_MM, usual.value / FURTHEST_FACTOR if usual else 0.0)
    high = min(MOST_PROJECTION_MM, usual.value * FURTHEST_FACTOR if usual else MOST_PROJECTION_MM)
    within("the projection", projection_mm, round(low, 1), round(high, 1), "mm")


def crown_over(places: Sequence[tuple[float, float]], radius_mm: float) -> Crown:
    """Lay an arc over seats (place, height): through the outer two, then up until none stands above it."""
    (x1, z1), (x2, z2) = places[0], places[-1]
    chord = hypot(x2 - x1, z2 - z1)
    down = radius_mm - crown_sagitta_mm(radius_mm, chord)
    centre_x = (x1 + x2) / 2 + down * (z2 - z1) / chord
    low = Crown(radius_mm, centre_x, (z1 + z2) / 2 - down * (x2 - x1) / chord)
    raised = max(z - low.above_belly_mm(x) for x, z in places)
    return replace(low, centre_above_belly_mm=low.centre_above_belly_mm + max(raised, 0.0))


def post_place(knowledge: Knowledge) -> PostPlace:
    """Give where the post stands by the latest sheet that tells; NotRecorded, OutsideRange."""
    needed = _Needed(knowledge)
    span, foot = needed.usual("bridge", "foot_span"), needed.usual("bridge", "foot_thickness")
    diameter, behind = needed.usual("soundpost", "diameter"), needed.usual("soundpost", "behind_foot")
    inset = needed.usual("soundpost", "inset_from_foot_edge")
    to_f_hole = needed.if_measured("soundpost", "to_f_hole")
    needed.if_measured("soundpost", "length")
    used = needed.complete()
    centre_x, centre_y = span / 2 - inset - diameter / 2, foot / 2 + behind + diameter / 2
    within("the post’s place beside the joint", centre_x, diameter / 2, span, "mm")
    reach = to_f_hole + diameter / 2 if to_f_hole is not None else 0.0
    nick_x = centre_x + sqrt(reach**2 - centre_y**2) if reach > centre_y else None
    return PostPlace(centre_x, centre_y, diameter, span, foot, behind, inset, to_f_hole, nick_x, used)


def bar_line(knowledge: Knowledge, curves: Sequence[Curve]) -> BarLine:
    """Give where the bass bar lies: at the bridge by the foot, slanting as the bouts do; NotRecorded, OutsideRange.

    Slant: the first mark when the widths of upper and lower bout are divided by seven; a rule for violins, used for
    the others by common practice, no source.
    """
    needed = _Needed(knowledge)
    span, inset = needed.usual("bridge", "foot_span"), _of_bar(needed, knowledge, "inset_from_foot_edge")
    thickness, length = _of_bar(needed, knowledge, "thickness"), _of_bar(needed, knowledge, "length")
    body, stop = needed.usual("body_length", "caliper"), needed.body_stop()
    upper, lower = (needed.usual("bout_width", bout) / SEVENTHS for bout in ("upper", "lower"))
    # These go into no sum and are wanted at the bench.
    for part in ("height_at_bridge", "spring"):
        needed.if_known((*_BAR, part), _recorded_of_bar(knowledge, part))
    used = needed.complete()
    within("the bar’s length", length, 1, body, "mm")
    # The outline is the model's; its heights are stretched to the body that was measured.
    (upper_at, _), _, (lower_at, _) = bouts(curves)
    line, stretched = body - stop, body / within("the length of the outline", length_mm(curves), 50, 2000, "mm")
    upper_at, lower_at = (at * stretched - line for at in (upper_at, lower_at))
    within("the distance of the widest bouts in the outline", upper_at - lower_at, 10, body, "mm")
    slope = (lower - upper) / (upper_at - lower_at)
    end = (body - length) / 2
    return BarLine(
        centre_mm=span / 2 - inset - thickness / 2,
        slope=slope,
        thickness_mm=thickness,
        lower_end_mm=end - line,
        upper_end_mm=body - end - line,
        by_sevenths_mm=lower + slope * lower_at,
        upper_bout_at_mm=upper_at,
        lower_bout_at_mm=lower_at,
        body_length_mm=body,
        stop_mm=stop,
        used=used,
    )


def _of_bar(needed: _Needed, knowledge: Knowledge, part: str) -> float:
    """Give a measure of the bar as the record of the top has it, else as it is usually wanted."""
    known = _recorded_of_bar(knowledge, part)
    return needed.add((*_BAR, part), known) if known else needed.usual(*_BAR, part)


_BAR = ("plates", "top", "bass_bar")


def _recorded_of_bar(knowledge: Knowledge, part: str) -> Known | None:
    plates = knowledge.record.plates
    value = getattr(plates.top.bass_bar if plates and plates.top else None, part, None)
    if value is None:
        return None
    return Known(value.value.middle, "measured", "the record of the top")
