"""What a template is drawn from: the latest measures, the reference heights, and the places that follow from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

from passport.analysis.latest import Knowledge, NotRecorded, knowledge_of
from passport.analysis.strung import strung
from passport.analysis.template import bar_line, bridge_cut, crown_over, post_place
from passport.figures.outline import Curve
from passport.physics.ranges import OutsideRange
from passport.physics.setup import string_height_mm
from passport.records.catalogue import load
from tests import archives

VIOLIN, CELLO, BASS = "ZVSPYJH", "YXSP8BQ", "8NG3NYF"
HALF_STRINGS = [0.4, 0.41, 0.34, 0.13]
SETUP = """\
  - sheet: S1
    taken: {date: 2021-11-18, when: delivered}
    role: reference
    state: {strings: at_pitch}
    projection: 27
    body_stop: {bass: 196, treble: 194}
    neck_stop: 130
    string_height: {G: 5.0, D: 4.7, A: 4.2, E: 3.5, to: underside}
    nut_clearance: {G: 0.4, D: 0.35, A: 0.3, E: 0.25}
    string_spacing: {nut: 16.5, bridge: 33.6}
    bridge: {crown_radius: 41, foot_span: 42, foot_thickness: 4.4}
    soundpost: {diameter: 6, behind_foot: 2.5, inset_from_foot_edge: 0.5, to_f_hole: 14}
  - sheet: S2
    taken: {date: 2024-01-10, when: before_work}
    state: {strings: slack}
    projection: 29
    soundpost: {behind_foot: 3.5}
measurements:
  - taken: {date: 2021-05-20, when: in_the_white}
    body_length: {caliper: 355}
    bout_width: {upper: 168, lower: 210}
    fingerboard: {length: 270, radius: 42}
history:
"""


def violin(tmp_path: Path, changes: Mapping[str, str] = {}) -> Knowledge:
    text = archives.VIOLIN[: archives.VIOLIN.index("  - sheet: S1")] + SETUP
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    root = archives.write(tmp_path / "records", {f"instruments/{archives.LISTED}.yml": text})
    return knowledge_of(load(root), archives.LISTED)


def demo(stem: str) -> Knowledge:
    return knowledge_of(archives.demo(), stem)


def where(knowledge: Knowledge, *quantity: str) -> tuple[float, str, str]:
    known = knowledge.usual(quantity)
    assert known is not None
    return known.value, known.how, known.whence.partition(",")[0]


def test_each_quantity_is_the_one_measured_last(tmp_path: Path) -> None:
    known = violin(tmp_path)
    assert where(known, "soundpost", "behind_foot") == (3.5, "measured", "S2")
    assert where(known, "soundpost", "diameter") == (6, "measured", "S1")


def test_the_projection_of_slack_strings_is_not_that_of_an_instrument_that_plays(tmp_path: Path) -> None:
    assert where(violin(tmp_path), "projection") == (27, "measured", "S1")


def test_what_nobody_measured_comes_from_a_table_and_says_so(tmp_path: Path) -> None:
    known = violin(tmp_path, {", inset_from_foot_edge: 0.5": ""}).usual(("soundpost", "inset_from_foot_edge"))
    assert known is not None
    # 0.5 mm: the trade's table of measures, the row of a violin.
    assert (known.value, known.how) == (0.5, "from a table")
    assert known.whence


@pytest.mark.parametrize("stem", [VIOLIN, CELLO, BASS])
def test_every_string_over_the_bridge_has_the_height_wanted(stem: str) -> None:
    cut = bridge_cut(demo(stem))
    assert len(cut.seats) == 4
    for seat in cut.seats:
        lowered = cut.projection_mm - seat.board_drop_mm
        height = string_height_mm(
            seat.above_belly_mm, lowered, seat.string.clearance_mm, cut.board_length_mm, cut.stops_mm
        )
        assert height == pytest.approx(seat.string.height_mm, abs=1e-9)


def test_with_the_projection_of_its_delivery_the_bridge_is_the_one_that_was_delivered() -> None:
    # The bridges on record were measured by hand; the crown worked out must meet them within their rules.
    for stem, projection_mm, height_mm, tolerance_mm in ((VIOLIN, 27.0, 32.3, 0.3), (CELLO, 82.0, 88.6, 0.6)):
        cut = bridge_cut(demo(stem), projection_mm)
        assert cut.crown.above_belly_mm(0) == pytest.approx(height_mm, abs=tolerance_mm)


def test_a_neck_that_sank_asks_for_a_bridge_lower_by_as_much() -> None:
    then, now = bridge_cut(demo(CELLO), 82.0), bridge_cut(demo(CELLO), 80.0)
    for one, other in zip(then.seats, now.seats, strict=True):
        assert one.above_belly_mm - other.above_belly_mm == pytest.approx(2.0)


def test_heights_given_count_before_those_of_the_reference() -> None:
    asked = bridge_cut(demo(VIOLIN), None, {"E": 4.0})
    assert [seat.string.height_mm for seat in asked.seats] == [5.0, 4.7, 4.2, 4.0]
    assert [known.how for quantity, known in asked.used if quantity[0] == "string_height"] == [
        *["measured"] * 3,
        "given",
    ]


def test_heights_to_the_centre_are_taken_to_the_underside_by_half_a_string(tmp_path: Path) -> None:
    underside, centre = (
        bridge_cut(violin(tmp_path / to, {"to: underside": f"to: {to}"})) for to in ("underside", "centre")
    )
    lower = [
        one.string.height_mm - other.string.height_mm for one, other in zip(underside.seats, centre.seats, strict=True)
    ]
    # Half of the usual thicknesses in the trade's table: G 0.80, D 0.82, A 0.68, E 0.26 (from memory).
    assert lower == pytest.approx(HALF_STRINGS, abs=1e-9)


def test_a_recorded_thickness_goes_before_the_usual_one(tmp_path: Path) -> None:
    changes = {"to: underside}": "to: centre}\n    string_diameter: {G: 1.2}"}
    known = violin(tmp_path, changes)
    # By hand: 5.0 - 1.2/2; the page with the sums of this very sheet must say the same.
    assert bridge_cut(known).seats[0].string.height_mm == pytest.approx(4.4)
    first = strung(known.record)[0].heights[0]
    assert first is not None
    assert first.value == pytest.approx(4.4)


def test_without_recorded_steps_the_strings_lie_equally_far_apart(tmp_path: Path) -> None:
    places = [seat.string.bridge_x_mm for seat in bridge_cut(violin(tmp_path)).seats]
    assert places == pytest.approx([-16.8, -5.6, 5.6, 16.8])


def test_the_belly_is_lower_under_the_feet_in_proportion_to_their_span() -> None:
    # A violin's belly drops about 1 mm between its feet: common practice, no source.
    assert bridge_cut(demo(VIOLIN)).belly_drop_mm == pytest.approx(1.0)
    assert bridge_cut(demo(BASS)).belly_drop_mm == pytest.approx(148 / 41.5)


def test_the_crown_runs_over_every_seat_and_through_the_outer_ones_of_an_even_crown() -> None:
    even = crown_over([(-16.0, 30.0), (-5.0, 32.5), (6.0, 32.0), (16.0, 29.0)], 41)
    assert even.above_belly_mm(-16) == pytest.approx(30, abs=1e-9)
    assert even.above_belly_mm(16) == pytest.approx(29, abs=1e-9)
    peaked = crown_over([(-16.0, 30.0), (-5.0, 35.0), (16.0, 29.0)], 41)
    assert peaked.above_belly_mm(-5) == pytest.approx(35)
    assert peaked.above_belly_mm(16) > 29


@pytest.mark.parametrize(("line", "field"), [
    ("    projection: 27\n", ("projection",)),
    ("    neck_stop: 130\n", ("neck_stop",)),
    ("length: 270, ", ("fingerboard", "length")),
])  # fmt: skip
def test_what_must_be_measured_is_asked_for(tmp_path: Path, line: str, field: tuple[str, ...]) -> None:
    with pytest.raises(NotRecorded) as fault:
        bridge_cut(violin(tmp_path, {line: ""}))
    assert fault.value.quantities == (field,)


def test_everything_that_is_missing_is_named_at_once(tmp_path: Path) -> None:
    with pytest.raises(NotRecorded) as fault:
        bridge_cut(violin(tmp_path, {"    projection: 27\n": "", "    neck_stop: 130\n": ""}))
    assert fault.value.quantities == (("projection",), ("neck_stop",))


@pytest.mark.parametrize("projection_mm", [2.7, 270.0, -27.0, float("nan")])
def test_a_projection_that_no_violin_has_is_refused(projection_mm: float) -> None:
    with pytest.raises(OutsideRange):
        bridge_cut(demo(VIOLIN), projection_mm)


def test_a_height_that_no_string_has_is_refused() -> None:
    with pytest.raises(OutsideRange):
        bridge_cut(demo(VIOLIN), None, {"G": 50})


def test_the_post_stands_where_its_three_measures_put_it(tmp_path: Path) -> None:
    place = post_place(violin(tmp_path))
    # By hand: 42/2 - 0.5 - 6/2 from the joint; 4.4/2 + 3.5 + 6/2 behind the middle of the foot.
    assert [place.centre_x_mm, place.centre_y_mm] == pytest.approx([17.5, 8.7])
    assert place.nick_x_mm is not None
    # From the nick to the nearest wood of the post.
    assert hypot(place.nick_x_mm - 17.5, 8.7) - 3 == pytest.approx(14)


def test_a_nick_nearer_than_the_post_reaches_is_not_drawn(tmp_path: Path) -> None:
    assert post_place(violin(tmp_path, {"to_f_hole: 14": "to_f_hole: 3"})).nick_x_mm is None


CURVES = (
    [(355.0, 0.0), (340.0, 60.0), (295.0, 84.0), (240.0, 72.0), (228.0, 79.0)],
    [(228.0, 79.0), (180.0, 56.0), (146.0, 94.0)],
    [(146.0, 94.0), (134.0, 89.0), (85.0, 105.0), (0.0, 0.0)],
)
TOP = "  top:\n"
BAR = {f"{TOP}    t": f"{TOP}    bass_bar: {{length: 275, thickness: 5, inset_from_foot_edge: 1}}\n    t"}


def test_the_bar_lies_inside_the_foot_and_slants_as_the_bouts_do(tmp_path: Path) -> None:
    line = bar_line(violin(tmp_path, BAR), CURVES)
    # By hand: 42/2 - 1 - 5/2 = 17.5 at the bridge; (210 - 168)/14 = 3 mm nearer over 295 - 85 = 210 mm.
    assert line.centre_mm == pytest.approx(17.5)
    assert line.slope == pytest.approx(3 / 210)
    # The line of the bridge is 355 - 195 = 160 above the bottom edge; 40 mm stay free at either end.
    assert [line.lower_end_mm, line.upper_end_mm] == pytest.approx([-120, 155])
    # By the bouts alone: 210/14 = 15 at 85 mm, less 75 mm of slant.
    assert line.by_sevenths_mm == pytest.approx(15 - 75 * 3 / 210)
    inner, middle, outer = line.edges_mm(70)
    assert middle == pytest.approx(17.5 - 1)
    assert outer - inner == pytest.approx(5, abs=0.001)


def test_a_bar_longer_than_the_body_is_refused(tmp_path: Path) -> None:
    with pytest.raises(OutsideRange):
        bar_line(violin(tmp_path, {key: text.replace("275", "375") for key, text in BAR.items()}), CURVES)


@pytest.mark.parametrize(("typed", "mistyped"), [
    ("foot_span: 42", "foot_span: 0"), ("foot_span: 42", "foot_span: 4200"), ("bridge: 33.6", "bridge: 0"),
    ("crown_radius: 41", "crown_radius: 4"), ("radius: 42", "radius: 0"), ("neck_stop: 130", "neck_stop: 3"),
    ("nut: 16.5", "nut: 1650"), ("G: 5.0", "G: 500"), ("G: 0.4", "G: 400"), ("projection: 27", "projection: 0"),
])  # fmt: skip
def test_no_slip_in_a_record_ends_in_a_drawing_or_a_crash(tmp_path: Path, typed: str, mistyped: str) -> None:
    with pytest.raises(OutsideRange):
        bridge_cut(violin(tmp_path, {typed: mistyped}))


@pytest.mark.parametrize(("typed", "mistyped"), [
    ("diameter: 6", "diameter: 600"), ("behind_foot: 3.5", "behind_foot: 350"), ("to_f_hole: 14", "to_f_hole: 1400"),
    ("foot_thickness: 4.4", "foot_thickness: 440"), ("inset_from_foot_edge: 0.5", "inset_from_foot_edge: 50"),
])  # fmt: skip
def test_no_slip_moves_a_post_off_the_sheet(tmp_path: Path, typed: str, mistyped: str) -> None:
    with pytest.raises(OutsideRange):
        post_place(violin(tmp_path, {typed: mistyped}))


@pytest.mark.parametrize("curves", [
    ([(0.0, 0.0)] * 3,) * 3,
    tuple([(height, 50.0) for height, _ in curve][:1] * 3 for curve in [CURVES[2]] * 3),
])  # fmt: skip
def test_an_outline_that_is_none_is_refused(tmp_path: Path, curves: Sequence[Curve]) -> None:
    with pytest.raises(OutsideRange):
        bar_line(violin(tmp_path, BAR), curves)


def test_an_instrument_without_a_sheet_has_no_bridge_to_cut(tmp_path: Path) -> None:
    known = knowledge_of(load(archives.write(tmp_path / "records")), archives.OTHER)
    with pytest.raises(NotRecorded):
        bridge_cut(replace(known, latest={}))
