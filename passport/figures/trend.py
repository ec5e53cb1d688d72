"""A measure over the years: its change from the reference with how sure it is, limits, and where an epoch begins.

Takes days and numbers; a table beside it has the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, floor, log10

from passport.figures.drawing import HALF_X_HEIGHT, svg, text, texts
from passport.records.dates import DAYS_A_YEAR

# Sizes in the drawing's own units; letters are shares of its width, so that they read alike on every screen.
WIDTH, HEIGHT = 320.0, 190.0
LEFT, RIGHT, TOP, BOTTOM = 30.0, 290.0, 16.0, 168.0
TEXT = WIDTH * 0.034
POINT_RADIUS = 2.6
BAR_END = 2.2
# Of the span of values and of days, that is left free at the ends.
ROOM = 0.06
MOST_YEARS_NAMED = 9
MOST_VALUES_NAMED = 7


@dataclass(frozen=True)
class Mark:
    """One sheet: the change from the reference and its expanded uncertainty; hollow where it does not count."""

    day: date
    change: float
    expanded: float
    counts: bool = True


@dataclass(frozen=True)
class Run:
    """One epoch: the name of its reference, and its sheets, the reference first."""

    name: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class _Scale:
    first: date
    days: float
    low: float
    high: float

    def x(self, day: date) -> float:
        return LEFT + (RIGHT - LEFT) * (ROOM + (1 - 2 * ROOM) * (day - self.first).days / self.days)

    def y(self, change: float) -> float:
        return BOTTOM - (BOTTOM - TOP) * (change - self.low) / (self.high - self.low)


def trend_drawing(title: str, unit: str, runs: Sequence[Run], look: float, act: float | None) -> str:
    """Draw the changes of every epoch on one time line; look and act limits as lines on both sides of nothing."""
    marks = [mark for run in runs for mark in run.marks]
    limits = _limits(marks, look, act)
    scale = _scale(marks, [at for at, _ in limits])
    words = f"{len(marks)} sheets from {marks[0].day.year} to {marks[-1].day.year}, change in {unit} with its "
    words += "uncertainty as a bar; limits dashed; a hollow point was taken in another season. "
    words += "The table beside it has the same numbers."
    inside = (
        f'<path class="line-fine" d="M{LEFT:.1f},{scale.y(0):.1f}H{RIGHT:.1f}{_ticks(scale)}"/>',
        f'<path class="line-fine line-limit" d="{"".join(_across(scale, at) for at, _ in limits)}"/>',
        f'<path class="line-fine" d="{"".join(_bar(scale, mark) for mark in marks if mark.expanded)}"/>',
        f'<path class="line-strong" d="{"".join(_boundary(scale, run) for run in runs)}"/>',
        "".join(_point(scale, mark) for mark in marks),
        texts("end", TEXT, _values(scale, unit)),
        f'<g font-size="{TEXT:.1f}">{"".join(_names(scale, runs, limits))}</g>',
        texts("figure", TEXT, _years(scale)),
    )
    return svg(title, words, (0.0, 0.0, WIDTH, HEIGHT), inside, "trend")


def _limits(marks: Sequence[Mark], look: float, act: float | None) -> list[tuple[float, str]]:
    """Give the limits to draw: look on both sides, act on the side where most has moved."""
    furthest = max((mark.change for mark in marks), key=abs)
    acts = [(act if furthest > 0 else -act, "act")] if act is not None else []
    return [(look, "look"), (-look, "look"), *acts]


def _scale(marks: Sequence[Mark], limits: Iterable[float]) -> _Scale:
    ends = [end for mark in marks for end in (mark.change - mark.expanded, mark.change + mark.expanded)]
    low, high = min(0.0, *ends, *limits), max(0.0, *ends, *limits)
    room = ROOM * (high - low)
    first = min(mark.day for mark in marks)
    days = max((max(mark.day for mark in marks) - first).days, 1)
    return _Scale(first, days, low - room, high + room)


def _across(scale: _Scale, at: float) -> str:
    return f"M{LEFT:.1f},{scale.y(at):.1f}H{RIGHT:.1f}"


def _bar(scale: _Scale, mark: Mark) -> str:
    x = scale.x(mark.day)
    high, low = scale.y(mark.change + mark.expanded), scale.y(mark.change - mark.expanded)
    ends = "".join(f"M{x - BAR_END:.1f},{y:.1f}h{2 * BAR_END:.1f}" for y in (high, low))
    return f"M{x:.1f},{high:.1f}V{low:.1f}{ends}"


def _point(scale: _Scale, mark: Mark) -> str:
    kind = "dot" if mark.counts else "dot-hollow"
    return f'<circle class="{kind}" cx="{scale.x(mark.day):.1f}" cy="{scale.y(mark.change):.1f}" r="{POINT_RADIUS}"/>'


def _boundary(scale: _Scale, run: Run) -> str:
    return f"M{scale.x(run.marks[0].day):.1f},{TOP:.1f}V{BOTTOM:.1f}"


def _names(scale: _Scale, runs: Sequence[Run], limits: Iterable[tuple[float, str]]) -> Iterator[str]:
    for run in runs:
        yield text(run.name, scale.x(run.marks[0].day) - TEXT * 0.5, TOP - TEXT * 0.5)
    for at, name in limits:
        yield text(name, RIGHT + TEXT * 0.4, scale.y(at) + TEXT * HALF_X_HEIGHT)


def _steps(scale: _Scale) -> list[float]:
    """Give round values for the scale at the side."""
    rough = (scale.high - scale.low) / MOST_VALUES_NAMED
    power = 10.0 ** floor(log10(rough))
    step = next(power * each for each in (1, 2, 5, 10) if power * each >= rough)
    return [step * index for index in range(ceil(scale.low / step), floor(scale.high / step) + 1)]


def _values(scale: _Scale, unit: str) -> Iterator[str]:
    for value in _steps(scale):
        words = f"{value:+g}".replace("-", "\u2212") if value else f"0 {unit}"
        yield text(words, LEFT - TEXT * 0.5, scale.y(value) + TEXT * HALF_X_HEIGHT)


def _ticks(scale: _Scale) -> str:
    values = "".join(f"M{LEFT - 2:.1f},{scale.y(value):.1f}h2" for value in _steps(scale))
    years = "".join(f"M{scale.x(day):.1f},{BOTTOM:.1f}v3" for day in _new_years(scale))
    return f"M{LEFT:.1f},{TOP:.1f}V{BOTTOM:.1f}H{RIGHT:.1f}{values}{years}"


def _new_years(scale: _Scale) -> list[date]:
    first, last = scale.first.year, scale.first.year + ceil(scale.days / DAYS_A_YEAR)
    every = ceil((last - first + 1) / MOST_YEARS_NAMED)
    days = (date(year, 1, 1) for year in range(first, last + 1, every) if year > 1)
    return [day for day in days if LEFT <= scale.x(day) <= RIGHT]


def _years(scale: _Scale) -> Iterator[str]:
    return (text(str(day.year), scale.x(day), BOTTOM + TEXT * 1.4) for day in _new_years(scale))
