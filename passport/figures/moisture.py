"""Moisture of wood over the years: what the room would bring it to, and what was measured in it.

Takes days as numbers (`date.toordinal`) and percent; knows nothing of records.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor

from passport.figures.drawing import HALF_X_HEIGHT, svg, text, texts

# The drawing's own measure; letters and marks are shares of its width.
WIDTH, HEIGHT = 400.0, 210.0
TEXT = WIDTH * 0.034
DOT = WIDTH * 0.0095
LEFT, RIGHT, TOP, BOTTOM = TEXT * 2.2, TEXT * 1.2, TEXT * 2.2, TEXT * 1.9
# Percent from one line across to the next, and how many years are written at most below.
STEP_PCT = 2
# Percent kept free above and below for figures.
ROOM_PCT = 0.8
MOST_YEARS = 8
Point = tuple[int, float]


@dataclass(frozen=True)
class _Frame:
    """From which day to which, and from which moisture to which, the drawing runs."""

    first: int
    last: int
    low: float
    high: float

    def x(self, day: int) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * (day - self.first) / (self.last - self.first)

    def y(self, pct: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * (pct - self.low) / (self.high - self.low)


def moisture_chart(title: str, room: Sequence[Point], wood: Sequence[Point], store_pct: float | None = None) -> str:
    """Draw what rooms would bring wood to (rings), what was read in it (dots, joined), and its store (a line across).

    At least one point of either sort.
    """
    frame = _frame([*room, *wood], [] if store_pct is None else [store_pct])
    body = (
        texts("figure", TEXT, _years(frame)),
        texts("figure end", TEXT, _percents(frame)),
        f'<path class="line-fine" d="{"".join(_across(frame))}"/>',
        *_store(frame, store_pct),
        *_marks(frame, room, wood),
        texts("figure", TEXT, _extremes(frame, room)),
        texts("side start", TEXT, [text(_key(room, wood), LEFT, TEXT)]),
    )
    return svg(title, _words(room, wood, store_pct), (0.0, 0.0, WIDTH, HEIGHT), body, "moisture")


def _frame(points: Sequence[Point], levels: Sequence[float]) -> _Frame:
    days = [day for day, _ in points]
    moistures = [pct for _, pct in points] + list(levels)
    low, high = floor((min(moistures) - ROOM_PCT) / STEP_PCT), ceil((max(moistures) + ROOM_PCT) / STEP_PCT)
    first, last = date.fromordinal(min(days)).year, date.fromordinal(max(days)).year
    ends = (date(first, 1, 1).toordinal(), date(last + 1, 1, 1).toordinal())
    return _Frame(*ends, low * STEP_PCT, high * STEP_PCT)


def _years(frame: _Frame) -> Iterator[str]:
    first, last = (date.fromordinal(day).year for day in (frame.first, frame.last))
    for year in range(first, last + 1, ceil((last - first) / MOST_YEARS)):
        yield text(str(year), frame.x(date(year, 1, 1).toordinal()), HEIGHT - TEXT * 0.4)


def _levels(frame: _Frame) -> range:
    return range(round(frame.low), round(frame.high) + 1, STEP_PCT)


def _percents(frame: _Frame) -> Iterator[str]:
    for pct in _levels(frame):
        yield text(f"{pct}", LEFT - TEXT * 0.5, frame.y(pct) + TEXT * HALF_X_HEIGHT)


def _across(frame: _Frame) -> Iterator[str]:
    for pct in _levels(frame):
        yield f"M{LEFT:.1f},{frame.y(pct):.1f}H{WIDTH - RIGHT:.1f}"


def _store(frame: _Frame, pct: float | None) -> Iterator[str]:
    if pct is not None:
        y = frame.y(pct)
        yield f'<path class="line-strong dashed" d="M{LEFT:.1f},{y:.1f}H{WIDTH - RIGHT:.1f}"/>'
        yield texts("side start", TEXT, [text(f"its store: {pct:.1f}", LEFT, y + TEXT)])


def _marks(frame: _Frame, room: Sequence[Point], wood: Sequence[Point]) -> Iterator[str]:
    if len(wood) > 1:
        steps = [f"{frame.x(day):.1f},{frame.y(pct):.1f}" for day, pct in wood]
        yield f'<path class="line-strong" d="M{"L".join(steps)}"/>'
    yield _circles("ring", frame, room)
    yield _circles("dot", frame, wood)


def _circles(kind: str, frame: _Frame, points: Sequence[Point]) -> str:
    """Draw marks as one path: two half circles each."""
    steps = "".join(
        f"M{frame.x(day) - DOT:.1f},{frame.y(pct):.1f}a{DOT:.1f},{DOT:.1f} 0 1 0 {2 * DOT:.1f},0"
        f"a{DOT:.1f},{DOT:.1f} 0 1 0 {-2 * DOT:.1f},0"
        for day, pct in points
    )
    return f'<path class="{kind}" d="{steps}"/>' if steps else ""


def _extremes(frame: _Frame, room: Sequence[Point]) -> Iterator[str]:
    """Write the figures of the driest and the dampest room beside their marks."""
    if not room:
        return
    driest, dampest = (pick(room, key=lambda point: point[1]) for pick in (min, max))
    yield text(f"{dampest[1]:.1f}", frame.x(dampest[0]), frame.y(dampest[1]) - TEXT * 0.6)
    if driest[1] != dampest[1]:
        yield text(f"{driest[1]:.1f}", frame.x(driest[0]), frame.y(driest[1]) + TEXT * 1.2)


def _key(room: Sequence[Point], wood: Sequence[Point]) -> str:
    marks = [words for words, points in (("rings: the room", room), ("dots: the wood, measured", wood)) if points]
    return f"Moisture of wood, %; {'; '.join(marks)}"


def _words(room: Sequence[Point], wood: Sequence[Point], store_pct: float | None) -> str:
    said = [
        f"{name} at {len(points)} dates, from {min(pct for _, pct in points):.1f} to "
        f"{max(pct for _, pct in points):.1f} percent"
        for name, points in (("What the room would bring wood to", room), ("What was measured in the wood", wood))
        if points
    ]
    if store_pct is not None:
        said.append(f"its store would bring it to {store_pct:.1f} percent")
    return f"{'; '.join(said)}. The table beside it has the same numbers."
