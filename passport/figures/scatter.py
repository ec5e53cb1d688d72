"""A chart of many instruments: a column for each year, model, lot or batch, and in it a mark for each instrument.

Takes plain numbers. Shapes tell the marks apart, and every mark leads to the page of what it stands for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import groupby
from math import ceil, floor, log10

from passport.figures.drawing import HALF_X_HEIGHT, svg, text, texts

# The drawing's own units; on a phone one of them is a little less than a pixel.
WIDTH, HEIGHT = 400.0, 200.0
LEFT, RIGHT, TOP = 44.0, 8.0, 8.0
TEXT = 11.0
# A letter of this typeface is about so wide, as a share of its size.
LETTER = 0.56
LEGEND = 18.0
MOST_TICKS = 6
# Names below the columns are cut here; the table beside the chart has the whole of them.
LONGEST_NAME = 14
# Half the size of a mark; marks closer than two of them stand side by side.
MARK = 3.2
STEPS = (1, 2, 5, 10)
# A scale shows at least this share of its values, so that equal ones do not look far apart.
LEAST_REACH = 0.01


@dataclass(frozen=True)
class Mark:
    """One instrument in a column: its value, which shape it has, what it is called and where it leads."""

    column: int
    value: float
    shape: int
    name: str
    href: str


@dataclass(frozen=True)
class Stretch:
    """From where to where something reaches in a column: a window, or the lowest and the highest of many."""

    column: int
    low: float
    high: float


@dataclass(frozen=True)
class Chart:
    """What is drawn: the columns' names, the unit, the names of the shapes, and from where to where the scale goes."""

    columns: Sequence[str]
    unit: str
    shapes: Sequence[str]
    low: float
    high: float
    marks: Sequence[Mark] = ()
    windows: Sequence[Stretch] = ()
    spans: Sequence[Stretch] = ()


def ticks(low: float, high: float) -> tuple[float, ...]:
    """Give round numbers, few of them and evenly spaced, the outer two at or beyond both ends."""
    reach = max(high - low, abs(high) * LEAST_REACH) or 1.0
    least = reach / (MOST_TICKS - 2)
    power = 10.0 ** floor(log10(least))
    step = next(power * step for step in STEPS if power * step >= least * (1 - 1e-9))
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    last = max(last, first + 1)
    return tuple(round(step * index, 9) for index in range(first, last + 1))


def scatter(title: str, words: str, chart: Chart) -> str:
    """Draw a chart. Its links are for the pointer: whoever has none takes those of the table beside it."""
    frame = _Frame(chart, ticks(chart.low, chart.high))
    body = (*_windows(frame), *_axes(frame), *_spans(frame), *_marks(frame), *_legend(frame))
    box = (0.0, 0.0, WIDTH, frame.foot + frame.names_height)
    return svg(title, words, box, body, "chart", role="group")


@dataclass(frozen=True)
class _Frame:
    """Where things stand in a chart."""

    chart: Chart
    ticks: tuple[float, ...]

    @property
    def top(self) -> float:
        return TOP + (LEGEND if len(self.chart.shapes) > 1 else 0.0)

    @property
    def foot(self) -> float:
        return self.top + HEIGHT

    @property
    def left(self) -> float:
        """Give where the columns begin: the scale and its unit stand before them."""
        return max(LEFT, len(self.chart.unit) * LETTER * TEXT + 8)

    @property
    def column(self) -> float:
        """Give the width of a column."""
        return (WIDTH - self.left - RIGHT) / max(len(self.chart.columns), 1)

    @property
    def names(self) -> list[str]:
        return [name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…" for name in self.chart.columns]

    @property
    def widest_name(self) -> float:
        return max((len(name) for name in self.names), default=0) * LETTER * TEXT

    @property
    def is_upright(self) -> bool:
        """Tell whether the names have to stand on end, since they would run into each other."""
        return self.widest_name > self.column - 4

    @property
    def names_height(self) -> float:
        return (self.widest_name if self.is_upright else TEXT) + 8

    def x(self, column: int) -> float:
        return self.left + (column + 0.5) * self.column

    def y(self, value: float) -> float:
        share = (value - self.ticks[0]) / (self.ticks[-1] - self.ticks[0])
        return self.foot - share * HEIGHT


def _windows(frame: _Frame) -> Iterator[str]:
    """Draw the windows behind everything else; those of neighbours that are alike run together."""
    edges = sorted((window.low, window.high, window.column) for window in frame.chart.windows)
    runs: list[list[float]] = []
    for low, high, column in edges:
        if runs and runs[-1][:2] == [low, high] and runs[-1][3] == column - 1:
            runs[-1][3] = column
        else:
            runs.append([low, high, column, column])
    paths = [_window(frame, *run) for run in runs]
    if paths:
        yield f'<path class="window-band" d="{"".join(paths)}"/>'


def _window(frame: _Frame, low: float, high: float, first: float, last: float) -> str:
    left = frame.left + first * frame.column
    upper, lower = frame.y(min(high, frame.ticks[-1])), frame.y(max(low, frame.ticks[0]))
    return f"M{left:.1f},{upper:.1f}h{(last - first + 1) * frame.column:.1f}V{lower:.1f}H{left:.1f}z"


def _axes(frame: _Frame) -> Iterator[str]:
    lines = "".join(f"M{frame.left:.1f},{frame.y(tick):.1f}H{WIDTH - RIGHT:.1f}" for tick in frame.ticks)
    yield f'<path class="line-fine" d="{lines}"/>'
    decimals = max(len(f"{tick:g}".partition(".")[2]) for tick in frame.ticks)
    numbers = [
        text(f"{tick:.{decimals}f}", frame.left - 5, frame.y(tick) + TEXT * HALF_X_HEIGHT) for tick in frame.ticks[:-1]
    ]
    numbers.append(text(frame.chart.unit, frame.left - 5, frame.y(frame.ticks[-1]) + TEXT * HALF_X_HEIGHT))
    yield texts("end", TEXT, numbers)
    yield texts("end" if frame.is_upright else "figure", TEXT, _names(frame))


def _names(frame: _Frame) -> Iterator[str]:
    for column, name in enumerate(frame.names):
        x = frame.x(column)
        if frame.is_upright:
            turned = f'transform="translate({x + TEXT * HALF_X_HEIGHT:.1f},{frame.foot + 6:.1f})rotate(-90)"'
            yield f"<text {turned}>{escape(name)}</text>"
        else:
            yield text(name, x, frame.foot + TEXT + 4)


def _spans(frame: _Frame) -> Iterator[str]:
    lines = "".join(
        f"M{frame.x(span.column):.1f},{frame.y(span.low):.1f}V{frame.y(span.high):.1f}" for span in frame.chart.spans
    )
    if lines:
        yield f'<path class="line-strong" d="{lines}"/>'


def _marks(frame: _Frame) -> Iterator[str]:
    in_order = sorted(frame.chart.marks, key=lambda mark: (mark.column, mark.value, mark.shape, mark.name))
    for column, group in groupby(in_order, key=lambda mark: mark.column):
        marks = list(group)
        for mark, aside in zip(marks, _asides(frame, marks), strict=True):
            shape = _shape(mark.shape, frame.x(column) + aside, frame.y(mark.value))
            link = f'<a href="{escape(mark.href)}" tabindex="-1">' if mark.href else "<g>"
            yield f"{link}<title>{escape(mark.name)}</title>{shape}{'</a>' if mark.href else '</g>'}"


def _asides(frame: _Frame, marks: Sequence[Mark]) -> Iterator[float]:
    """Give how far aside each mark of a column stands, so that those of about one value are all to be seen."""
    places = max(1, floor(frame.column / (2 * MARK)))
    last_y: list[float] = []
    for mark in marks:
        y = frame.y(mark.value)
        free = (place for place, taken in enumerate(last_y) if taken - y >= 2 * MARK)
        place = next(free, len(last_y) if len(last_y) < places else 0)
        last_y[place : place + 1] = [y]
        yield 2 * MARK * ((place + 1) // 2) * (1 if place % 2 else -1)


def _shape(shape: int, x: float, y: float) -> str:
    """Give a ring, a full triangle or an empty square."""
    if shape == 0:
        return f'<circle class="mark" cx="{x:.1f}" cy="{y:.1f}" r="{MARK:.1f}"/>'
    if shape == 1:
        return f'<path class="mark full" d="M{x:.1f},{y - MARK - 0.6:.1f}l3.8,7h-7.6z"/>'
    return f'<path class="mark" d="M{x - MARK:.1f},{y - MARK:.1f}h6.4v6.4h-6.4z"/>'


def _legend(frame: _Frame) -> Iterator[str]:
    names = frame.chart.shapes
    if len(names) < len(("one", "another")):
        return
    x, inside = frame.left, []
    for shape, name in enumerate(names):
        inside += [_shape(shape, x + MARK, TOP + 1), text(name, x + 11, TOP + 1 + TEXT * HALF_X_HEIGHT)]
        x += 24 + len(name) * LETTER * TEXT
    yield texts("start", TEXT, inside)
