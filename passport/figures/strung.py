"""A set-up seen from the side, and the strings across the bridge, as on a plan.

From the side the nut is left and the saddle right, and heights are drawn larger than lengths; across the bridge the
bass side is left, and the strings are drawn thicker than they are. Both say so. Sizes are millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from passport.figures.drawing import svg, text, texts

# A set-up is ten times as long as it is high; so much higher it can be read.
HEIGHTS_TIMES = 3
# A string is a fortieth of the gap beside it; so much thicker it can be seen.
THICK_TIMES = 3
# Sizes of letters as shares of the drawing's width.
SIDE_TEXT_SHARE = 0.031
GAP_TEXT_SHARE = 0.036


@dataclass(frozen=True)
class SideShape:
    """What the side view is drawn from: lengths along the body from the top's edge, heights over its plane."""

    body: float
    stop: float
    neck: float
    board: float
    board_thickness: float
    arch: float
    nut: float
    nut_clearance: float
    projection: float
    bridge: float
    saddle: float
    after: float
    tailpiece: float


@dataclass(frozen=True)
class SideFigures:
    """The figures of the side view, already written."""

    neck: str
    stop: str
    rest: str
    length: str
    bridge: str
    projection: str
    saddle: str
    neck_angle: str
    tail_angle: str
    angle: str


class _Pen:
    """Turns places in the set-up into places on the sheet."""

    def __init__(self, shape: SideShape) -> None:
        self.shape = shape
        self.text = (shape.neck + shape.body) * SIDE_TEXT_SHARE

    def at(self, along: float, height: float) -> str:
        return f"{along + 0.0:.1f},{-height * HEIGHTS_TIMES + 0.0:.1f}"

    def words(self, words: str, along: float, height: float, kind: str = "", lower: float = 0.0) -> str:
        """Set words at a place; `lower` moves them down, in letters."""
        x, y = along, -height * HEIGHTS_TIMES + lower * self.text
        how = f' class="{kind}"' if kind else ""
        return f'<text{how} x="{x:.1f}" y="{y:.1f}">{escape(words)}</text>'

    def line(self, *places: tuple[float, float]) -> str:
        first, *others = places
        return f"M{self.at(*first)}" + "".join(f"L{self.at(*place)}" for place in others)


def side_drawing(title: str, words: str, shape: SideShape, figures: SideFigures) -> str:
    """Draw nut, board, bridge, tailpiece and saddle with the string over them, and the figures at their places."""
    pen = _Pen(shape)
    width, seat = shape.neck + shape.body, shape.arch + shape.bridge
    low = min(shape.nut - shape.board_thickness, 0) * HEIGHTS_TIMES
    top, margin = seat * HEIGHTS_TIMES + 2.2 * pen.text, 1.2 * pen.text
    box = (-shape.neck - margin, -top, width + 2 * margin, top - low + 4.6 * pen.text)
    ground = -low / HEIGHTS_TIMES
    lines = f'<path class="line-strong" d="{_solid(pen)}"/><path class="line-fine" d="{_fine(pen, ground)}"/>'
    figured = texts("figure", pen.text, _side_texts(pen, figures, ground))
    said = f"heights drawn {HEIGHTS_TIMES} times as large as lengths"
    note = _side_note(said, shape.body, ground * HEIGHTS_TIMES + 4.0 * pen.text, pen.text)
    return svg(title, f"{words} Nut left, saddle right; {said}.", box, (lines, figured, note), "side-view")


def _side_note(words: str, x: float, y: float, size: float) -> str:
    return texts("side end", size, [text(words, x, y)])


def _board_height(shape: SideShape, along: float) -> float:
    """Give the height of the board's upper surface, or of its line drawn on."""
    slope = (shape.arch + shape.projection - shape.nut) / (shape.neck + shape.stop)
    return shape.nut + slope * (along + shape.neck)


def _string_behind(shape: SideShape, behind: float) -> tuple[float, float]:
    """Give a place on the string so far behind the bridge."""
    share = behind / (shape.body - shape.stop)
    seat = shape.arch + shape.bridge
    return shape.stop + behind, seat + (shape.saddle - seat) * share


def _solid(pen: _Pen) -> str:
    """Draw what is wood and string."""
    it = pen.shape
    seat, end = it.arch + it.bridge, it.board - it.neck
    thick = it.board_thickness
    board = pen.line(
        (-it.neck, it.nut - thick), (-it.neck, it.nut), (end, _board_height(it, end)),
        (end, _board_height(it, end) - thick), (-it.neck, it.nut - thick),
    )  # fmt: skip
    string = pen.line((-it.neck, it.nut), (-it.neck, it.nut + it.nut_clearance), (it.stop, seat), (it.body, it.saddle))
    foot, top = it.bridge * 0.11, it.bridge * 0.03
    bridge = pen.line(
        (it.stop - foot, it.arch), (it.stop - top, seat), (it.stop + top, seat), (it.stop + foot, it.arch)
    )
    saddle = pen.line((it.body, 0), (it.body, it.saddle))
    return board + string + bridge + saddle + _tailpiece(pen)


def _tailpiece(pen: _Pen) -> str:
    it = pen.shape
    if not it.after or not it.tailpiece:
        return ""
    # It ends before the saddle, where the tailgut runs over.
    last = min(it.after + it.tailpiece, (it.body - it.stop) * 0.97)
    start, end = _string_behind(it, it.after), _string_behind(it, last)
    thick = it.bridge * 0.09
    return pen.line(start, (start[0], start[1] - thick), (end[0], end[1] - thick / 2), end)


def _fine(pen: _Pen, ground: float) -> str:
    """Draw the belly, the plane of its edges, the board's line drawn on, and the lines of the dimensions."""
    it = pen.shape
    end, tick = it.board - it.neck, pen.text / 2 / HEIGHTS_TIMES
    rest = it.body - it.stop
    belly = (
        f"M{pen.at(0, 0)}C{pen.at(it.stop * 0.3, it.arch * 0.2)} {pen.at(it.stop * 0.55, it.arch)} "
        f"{pen.at(it.stop, it.arch)}"
        f"C{pen.at(it.stop + rest * 0.45, it.arch)} {pen.at(it.body - rest * 0.3, it.arch * 0.2)} {pen.at(it.body, 0)}Z"
    )
    drawn_on = pen.line((end, _board_height(it, end)), (it.stop, it.arch + it.projection))
    foot = -ground - 1.6 * pen.text / HEIGHTS_TIMES
    ticks = "".join(pen.line((x, foot - tick), (x, foot + tick)) for x in (-it.neck, 0, it.stop, it.body))
    height = pen.line((end, _board_height(it, end)), (end, _string_at(it, end)))
    return belly + drawn_on + height + pen.line((-it.neck, foot), (it.body, foot)) + ticks


def _string_at(shape: SideShape, along: float) -> float:
    start, seat = shape.nut + shape.nut_clearance, shape.arch + shape.bridge
    return start + (seat - start) * (along + shape.neck) / (shape.neck + shape.stop)


def _side_texts(pen: _Pen, figures: SideFigures, ground: float) -> Iterable[str]:
    it = pen.shape
    seat = it.arch + it.bridge
    foot = -ground - 1.6 * pen.text / HEIGHTS_TIMES
    gap = pen.text * 0.5
    half = -it.neck / 2
    yield pen.words(figures.neck, half, foot, lower=1.1)
    yield pen.words(figures.stop, it.stop / 2, foot, lower=1.1)
    yield pen.words(figures.rest, (it.stop + it.body) / 2, foot, lower=1.1)
    yield pen.words(figures.length, half, _string_at(it, half), "end", lower=-0.9)
    yield pen.words(figures.neck_angle, it.stop * 0.42, _string_at(it, it.stop * 0.42), "end", lower=-0.5)
    yield pen.words(figures.tail_angle, *_string_behind(it, (it.body - it.stop) * 0.42), "start", lower=-0.5)
    yield pen.words(figures.angle, it.stop, seat, lower=-0.7)
    yield pen.words(figures.bridge, it.stop + it.bridge * 0.11 + gap, it.arch + it.bridge * 0.3, "start")
    yield pen.words(figures.projection, it.stop - it.bridge * 0.11 - gap, it.arch + it.projection * 0.45, "end")
    yield pen.words(figures.saddle, it.body, 0, "end", lower=1.0)


@dataclass(frozen=True)
class GapShape:
    """What the strings across the bridge are drawn from: places from the middle, seats over the lowest, thicknesses."""

    places: tuple[float, ...]
    seats: tuple[float, ...]
    diameters: tuple[float, ...]
    crown_radius: float | None


Rows = Sequence[tuple[str, Sequence[str]]]


class _GapSheet:
    """The size of the letters, and where the rows of figures stand below the strings."""

    def __init__(self, shape: GapShape) -> None:
        self.half = shape.places[-1] + shape.diameters[-1] * THICK_TIMES
        self.left = self.half * 0.62
        self.size = (2 * self.half + self.left) * GAP_TEXT_SHARE
        self.top = max(shape.seats) + max(shape.diameters) * THICK_TIMES + 1.6 * self.size
        self.first = -min(shape.seats) + 2.2 * self.size

    def row(self, index: float) -> float:
        return self.first + index * 1.5 * self.size


def gap_drawing(title: str, words: str, shape: GapShape, names: Sequence[str], rows: Rows) -> str:
    """Draw the strings on the crown of the bridge; each row is a name and a figure for every gap."""
    on = _GapSheet(shape)
    box = (-on.half - on.left, -on.top, 2 * on.half + on.left + on.size, on.top + on.row(len(rows) + 1.6))
    said = f"strings drawn {THICK_TIMES} times as thick as they are"
    figures = "".join((*_string_names(on, shape, names), *_gap_figures(on, shape, rows)))
    inside = (
        f'<path class="line-strong" d="{_crown(shape)}"/><path class="line-fine" d="{_drops(on, shape, len(rows))}"/>',
        "".join(map(_string, shape.places, shape.seats, shape.diameters)),
        f'<g class="figure" font-size="{on.size:.2f}">{figures}</g>',
        f'<g class="side" font-size="{on.size:.2f}">{"".join(_row_names(on, rows))}</g>',
        _side_note(said, on.half, on.row(len(rows) + 0.7), on.size),
    )
    return svg(title, f"{words} Bass side left; {said}.", box, inside, "gaps")


def _drops(on: _GapSheet, shape: GapShape, count: int) -> str:
    """Draw a line from each string down through the rows."""
    return "".join(
        f"M{place:.1f},{-seat + on.size * 0.4:.1f}V{on.row(count - 0.6):.1f}"
        for place, seat in zip(shape.places, shape.seats, strict=True)
    )


def _string_names(on: _GapSheet, shape: GapShape, names: Sequence[str]) -> Iterable[str]:
    for place, seat, thick, name in zip(shape.places, shape.seats, shape.diameters, names, strict=True):
        yield text(name, place, -seat - thick * THICK_TIMES - on.size * 0.4)


def _row_names(on: _GapSheet, rows: Rows) -> Iterable[str]:
    for index, (name, _) in enumerate(rows):
        yield text(name, -on.half - on.left + on.size * 0.5, on.row(index))


def _gap_figures(on: _GapSheet, shape: GapShape, rows: Rows) -> Iterable[str]:
    for index, (_, gaps) in enumerate(rows):
        for (one, other), gap in zip(pairwise(shape.places), gaps, strict=True):
            yield text(gap, (one + other) / 2, on.row(index))


def _string(place: float, seat: float, thick: float) -> str:
    half = thick * THICK_TIMES / 2
    return f'<circle class="line-strong" cx="{place:.1f}" cy="{-seat - half:.1f}" r="{half:.2f}"/>'


def _crown(shape: GapShape) -> str:
    """Draw the crown through the seats of the outer strings, as the arc it is."""
    (x, seat), (to_x, to_seat) = ((shape.places[at], shape.seats[at]) for at in (0, -1))
    if shape.crown_radius is None:
        return f"M{x:.1f},{-seat:.1f}H{to_x:.1f}"
    return f"M{x:.1f},{-seat:.1f}A{shape.crown_radius:g},{shape.crown_radius:g} 0 0 1 {to_x:.1f},{-to_seat:.1f}"
