"""The bridge to cut today, in words and drawings: seats, crown, feet, and every number behind them.

For the shop alone. The sums are done in `analysis.template`; here they are worded.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from passport.analysis.latest import Knowledge, knowledge_of
from passport.analysis.seats import Seat
from passport.analysis.template import BridgeCut, bridge_cut
from passport.errors import PassportError
from passport.figures.bridge_template import BridgeLines, bridge_front, bridge_side
from passport.records.catalogue import Archive
from passport.reference.cautions import CAUTIONS, DEFERENCE
from passport.reference.measures import CUSTOM
from passport.views.numbers import figure, tenths, with_tenths
from passport.views.template import KNIVES, OWN_NAMES, drawing, heading, shop_desk, used_rows, worked_out
from passport.views.tree import TemplateView, TrueDrawing, Worked, WorkedTable

BRIDGE_RULE = (
    "seat = P − b + c + (h − c)(S + N)/FB; b = s(nut) + (s(end) − s(nut))(S + N)/FB; s(y) = R − root of (R² − y²). "
    "P projection, h height wanted, c nut clearance, S body stop (between the sides), N neck stop, FB and R length and "
    "radius of the board, y the string’s place from the middle at the nut and at the board’s end."
)
GEOMETRY = "geometry of straight strings over a crowned board"
# A seat that lies deeper below the crown line than a notch is worth a word.
DEEP_MM = 0.5
# What goes beside one another on either paper; a side view that does not is left to the SVG, its figures to the table.
SIDE_BY_SIDE_MM = 180.0
SEAT_COLUMNS = (
    "String", "Height wanted", "Nut clearance", "At the nut", "At board’s end", "At the bridge", "b",
    "Seat above belly", "Seat above feet", "Below crown line",
)  # fmt: skip


def bridge_template(
    archive: Archive, stem: str, projection_mm: float | None, heights_mm: Mapping[str, float]
) -> TemplateView:
    """Give the bridge to cut today; PassportError where it cannot be told."""
    desk = shop_desk(archive)
    known = knowledge_of(desk.archive, stem)
    _known_strings(known, heights_mm)
    cut = worked_out("bridge", stem, lambda: bridge_cut(known, projection_mm, heights_mm))
    title = f"Bridge for {stem}"
    drawings = _bridge_drawings(title, cut)
    return TemplateView(
        id=stem,
        title=title,
        lines=heading(desk, stem, *_for_what(cut)),
        pieces=drawings if sum(each.width_mm for each in drawings) <= SIDE_BY_SIDE_MM else drawings[:1],
        whole=drawings,
        overview=(),
        used=(*used_rows(cut.used), *_bridge_sums(cut)),
        tables=(_seat_table(cut),),
        notes=_bridge_notes(cut),
        cautions=(KNIVES, CAUTIONS["dust"], DEFERENCE),
    )


def _known_strings(known: Knowledge, heights_mm: Mapping[str, float]) -> None:
    there = known.record.string_names
    strange = [name for name in heights_mm if name not in there]
    if strange:
        todo = f"its strings are {', '.join(there)}"
        raise PassportError(f"this instrument has no string {' and no '.join(strange)}", todo)


def _for_what(cut: BridgeCut) -> Iterator[str]:
    """Say for which projection the bridge is drawn, and whose heights it gives."""
    rows = {row.name.partition(",")[0]: row for row in reversed(used_rows(cut.used))}
    projection, heights = rows["Projection"], rows[OWN_NAMES["string_height"]]
    yield (
        f"For a projection of {projection.value} mm ({projection.source}) and string heights of {heights.value} mm "
        f"({heights.source})."
    )


def _bridge_drawings(title: str, cut: BridgeCut) -> tuple[TrueDrawing, ...]:
    seats = [(s.string.name, s.string.bridge_x_mm, s.above_belly_mm, tenths(s.above_belly_mm)) for s in cut.seats]
    lines = BridgeLines(
        seats=seats,
        radius=cut.crown.radius_mm,
        centre_x=cut.crown.centre_x_mm,
        centre_height=cut.crown.centre_above_belly_mm,
        foot_span=cut.foot_span_mm,
        drop=cut.belly_drop_mm,
        span_words=tenths(cut.foot_span_mm),
        drop_words=tenths(cut.belly_drop_mm),
        spacing_words=tenths(seats[-1][1] - seats[0][1]),
    )
    front = drawing(bridge_front(f"{title}, looked at from the tailpiece", lines))
    if cut.foot_thickness_mm is None or cut.top_thickness_mm is None:
        return (front,)
    height = cut.crown.above_belly_mm(0) + cut.belly_drop_mm
    words = (tenths(cut.foot_thickness_mm), tenths(cut.top_thickness_mm))
    side = bridge_side(f"{title}, from the side", height, cut.foot_thickness_mm, cut.top_thickness_mm, words)
    return front, drawing(side)


def _bridge_sums(cut: BridgeCut) -> tuple[Worked, ...]:
    middle = cut.crown.above_belly_mm(0)
    drop = tenths(cut.belly_drop_mm)
    return (
        Worked("Stops together", with_tenths(cut.stops_mm), "mm", "worked out", "S + N, S between its two sides"),
        Worked("Belly lower at the feet", drop, "mm", "assumed",
               "1 mm for a foot span of 41.5 mm, others in proportion", source=CUSTOM),
        Worked("Crown in the middle, above the belly", tenths(middle), "mm", "worked out",
               "arc of the crown radius through the outer seats", source="geometry"),
        Worked("Crown in the middle, above the feet", tenths(middle + cut.belly_drop_mm), "mm", "worked out",
               "the line above and how much lower the belly is at the feet"),
    )  # fmt: skip


def _seat_table(cut: BridgeCut) -> WorkedTable:
    return WorkedTable(
        caption="Where the underside of each string rests, mm; places from the middle, bass side minus",
        columns=SEAT_COLUMNS,
        rows=tuple(_seat_row(seat, cut) for seat in cut.seats),
        rule=BRIDGE_RULE,
        source=GEOMETRY,
    )


def _seat_row(seat: Seat, cut: BridgeCut) -> tuple[str, ...]:
    string = seat.string
    places = (string.nut_x_mm, seat.end_x_mm, string.bridge_x_mm)
    return (
        string.name,
        with_tenths(string.height_mm),
        with_tenths(string.clearance_mm),
        *(figure(place, 2) for place in places),
        figure(seat.board_drop_mm, 2),
        *map(tenths, (seat.above_belly_mm, seat.above_belly_mm + cut.belly_drop_mm, _below_crown(seat, cut))),
    )


def _below_crown(seat: Seat, cut: BridgeCut) -> float:
    return cut.crown.above_belly_mm(seat.string.bridge_x_mm) - seat.above_belly_mm


def _bridge_notes(cut: BridgeCut) -> tuple[str, ...]:
    fitted = (
        "Fit the feet to the belly first. Then set the template with its feet on the feet of the blank: the seats "
        "count from the belly in the middle, and the feet stand lower by what is drawn. Try that drop on the belly; "
        "it is assumed here."
    )
    notch = (
        "A strong line is to be cut, a fine one only shows what belongs where. Leave the crown higher than the seats "
        "by a third of each string’s thickness, so that the string lies a third deep in its notch."
    )
    notes = [fitted, notch]
    if cut.heights_to is None:
        notes.append("Nothing says to which point of the string the heights were measured; the underside is assumed.")
    if cut.foot_thickness_mm is None or cut.top_thickness_mm is None:
        notes.append("The bridge’s thickness at the feet or at the top is not recorded, so the side is not drawn.")
    if max(_below_crown(seat, cut) for seat in cut.seats) > DEEP_MM:
        notes.append(
            "Some seats lie well below the crown line: the recorded crown radius and the heights wanted do not go "
            "together. The seats count; take the crown down to them."
        )
    if cut.adjusters:
        notes.append(f"The bridge fitted now has adjusters ({cut.adjusters}): count their height in with the legs.")
    return tuple(notes)
