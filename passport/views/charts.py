"""One number of many instruments: a chart with a mark for each, and beside it a table that says the same.

Where there are too many to tell apart, both show of each column the lowest, the middle and the highest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from passport.analysis.windows import Window
from passport.figures.scatter import Chart, Mark, Stretch, scatter
from passport.units import Amount
from passport.views.numbers import EN_DASH, NARROW_SPACE, counted, joined
from passport.views.site_tree import ChartGroup, ChartRow, ChartTable, ChartView
from passport.views.tree import Link
from passport.views.windows import beside

# More columns than this cannot be told apart on a phone; the others stand on further leaves.
COLUMNS_ON_A_LEAF = 18
# A mark with its link and its line of the table is some 400 bytes of HTML: so a page stays below 60 KB.
MOST_MARKS = 100
# The room that a scale leaves above and below, as a share of what it shows.
MARGIN = 0.04
# One alone stands beside nothing.
FEWEST = 2
CROWDED = (
    "There are too many marks to tell apart, so a column shows its lowest, middle and highest; its name leads to all."
)


@dataclass(frozen=True)
class Entry:
    """One number in a chart: the column it stands in, its value as a number and as written, and what it is of.

    `reach` is from where to where it lies, where it was given as a range.
    """

    column: str
    series: str
    value: float
    text: str
    of: Link
    window: Window | None = None
    reach: tuple[float, float] | None = None


@dataclass(frozen=True)
class Plan:
    """What a chart is about: its title, unit and shapes, what its columns are, and the numbers of all its leaves.

    `of` names what has the numbers. The scale is the same on every leaf.
    """

    title: str
    unit: str
    series: tuple[str, ...]
    by: str
    of: str
    entries: tuple[Entry, ...]
    notes: tuple[str, ...] = ()

    def on(self, columns: Mapping[str, Link]) -> tuple[Entry, ...]:
        """Give the numbers that stand in these columns, in the order of the table."""
        places, shapes = list(columns), self.series
        here = (entry for entry in self.entries if entry.column in columns)
        order = sorted(
            here, key=lambda each: (places.index(each.column), shapes.index(each.series), each.value, each.of.text)
        )
        return tuple(order)


@dataclass(frozen=True)
class Leaf:
    """What stands on one leaf: its columns, the charts that have numbers in them, those of which too little is known.

    Where it is crowded its charts show of each column the lowest, the middle and the highest.
    """

    columns: Mapping[str, Link]
    plans: tuple[Plan, ...]
    lacking: tuple[str, ...]
    is_crowded: bool

    def charts(self, base: str) -> tuple[ChartView, ...]:
        """Draw the charts; `base` leads from the page to the root of the site."""
        return tuple(_chart_view(plan, self.columns, base, crowded=self.is_crowded) for plan in self.plans)


def leaf_of(plans: Sequence[Plan], columns: Mapping[str, Link]) -> Leaf:
    """Lay out the charts of a leaf by its columns."""
    there = tuple(plan for plan in plans if len(plan.entries) >= FEWEST and plan.on(columns))
    lacking = tuple(plan.title for plan in plans if len(plan.entries) < FEWEST)
    return Leaf(columns, there, lacking, sum(len(plan.on(columns)) for plan in there) > MOST_MARKS)


def in_leaves(names: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Share columns out on leaves."""
    return tuple(tuple(names[at : at + COLUMNS_ON_A_LEAF]) for at in range(0, len(names), COLUMNS_ON_A_LEAF))


def _chart_view(plan: Plan, columns: Mapping[str, Link], base: str, *, crowded: bool) -> ChartView:
    series = [list(group) for _, group in groupby(plan.on(columns), key=lambda each: (each.column, each.series))]
    drawing = _drawing(plan, columns, series, base, crowded=crowded)
    return ChartView(plan.title, drawing, _table(plan, columns, series, crowded=crowded), plan.notes)


def leaf_links(names: Sequence[str], path: Callable[[int], str]) -> tuple[Link, ...]:
    """Lead to each leaf by its name; nothing where one leaf holds all."""
    links = tuple(Link(name, path(number)) for number, name in enumerate(names, start=1))
    return links if len(links) > 1 else ()


def from_to(names: Sequence[str]) -> str:
    """Name a row of columns by its ends: "2015 – 2026"."""
    return f" {EN_DASH} ".join(dict.fromkeys((names[0], names[-1]))) if names else ""


def too_few(titles: Sequence[str]) -> str:
    """Say of what there is not enough to set side by side; nothing where there is enough of all."""
    return f"Recorded of fewer than {FEWEST}: {', '.join(titles).lower()}." if titles else ""


Series = Sequence[Sequence[Entry]]


def _table(plan: Plan, columns: Mapping[str, Link], series: Series, *, crowded: bool) -> ChartTable:
    has_window = any(entry.window for group in series for entry in group)
    numbers = ("Lowest", "Middle", "Highest") if crowded else (plan.unit,)
    heads = (plan.by, "How many" if crowded else plan.of, *numbers, *(["Window"] if has_window else []))
    by_column = groupby(series, key=lambda group: group[0].column)
    groups = tuple(
        ChartGroup(
            columns[key],
            tuple(row for group in found for row in _rows(group, columns[key], crowded=crowded, has_window=has_window)),
        )
        for key, found in by_column
    )
    return ChartTable(f"{plan.title}, {plan.unit}", heads, groups)


def _rows(group: Sequence[Entry], column: Link, *, crowded: bool, has_window: bool) -> Iterator[ChartRow]:
    """Give a line for each number, or one for all; what the column is named after need not be named again."""
    if crowded:
        numbers = tuple(Link(entry.text, entry.of.path) for entry in _three(group))
        window = _window_text(_shared_window(group))
        yield ChartRow(Link(str(len(group))), group[0].series, (*numbers, *([Link(window)] if has_window else [])))
        return
    for entry in group:
        of = entry.of if entry.of != column else Link("")
        window = _window_text(entry.window, entry)
        yield ChartRow(of, entry.series, (Link(entry.text), *([Link(window)] if has_window else [])))


def _three(group: Sequence[Entry]) -> tuple[Entry, Entry, Entry]:
    """Give the lowest, the one in the middle and the highest of numbers in their order."""
    return group[0], group[(len(group) - 1) // 2], group[-1]


def _window_text(window: Window | None, entry: Entry | None = None) -> str:
    """Word a window, and on which side of it a number lies that is outside."""
    if window is None:
        return EN_DASH
    value = entry.value if entry is not None else window.low
    said = beside(window, Amount(value, value, 0, "", ""))
    return joined(f"{said.window} {said.whose}", said.mark)


def _shared_window(group: Sequence[Entry]) -> Window | None:
    """Give the window of a column where it is the same for all that stand there."""
    found = {entry.window for entry in group}
    return found.pop() if len(found) == 1 else None


def _drawing(plan: Plan, columns: Mapping[str, Link], groups: Series, base: str, *, crowded: bool) -> str:
    places = {key: place for place, key in enumerate(columns)}
    shown = [entry for group in groups for entry in (_ends(group) if crowded else group)]
    reaches = [(places[entry.column], entry.reach) for entry in shown if entry.reach is not None]
    summed = [(places[group[0].column], (group[0].value, group[-1].value)) for group in groups if crowded]
    low, high = _scale(plan)
    chart = Chart(
        columns=[link.text for link in columns.values()],
        unit=plan.unit,
        shapes=plan.series,
        low=low,
        high=high,
        marks=[
            Mark(places[entry.column], entry.value, plan.series.index(entry.series), _name(plan, entry),
                 base + entry.of.path if entry.of.path else "")
            for entry in shown
        ],
        windows=[stretch for series in plan.series for stretch in _windows(places, groups, series)],
        spans=[Stretch(place, *ends) for place, ends in (*reaches, *summed)],
    )  # fmt: skip
    return scatter(f"{plan.title}, {plan.by.lower()} by {plan.by.lower()}", _words(groups, crowded=crowded), chart)


def _windows(places: Mapping[str, int], groups: Series, series: str) -> Iterator[Stretch]:
    """Give the windows behind one kind of mark: one across all columns, or where they differ that of each column."""
    own = [group for group in groups if group[0].series == series]
    everywhere = _shared_window([entry for group in own for entry in group])
    by_column = {places[group[0].column]: _shared_window(group) for group in own}
    for place, window in (dict.fromkeys(places.values(), everywhere) if everywhere else by_column).items():
        if window is not None:
            yield Stretch(place, window.low, window.high)


def _ends(group: Sequence[Entry]) -> tuple[Entry, ...]:
    return tuple(dict.fromkeys((group[0], group[-1])))


def _name(plan: Plan, entry: Entry) -> str:
    return joined(entry.of.text, entry.series, f"{entry.text}{NARROW_SPACE}{plan.unit}")


def _scale(plan: Plan) -> tuple[float, float]:
    """Give the ends of what a chart has to hold: every number and every window, and a little room around them."""
    values = [end for entry in plan.entries for end in (entry.reach or (entry.value,))]
    windows = [end for entry in plan.entries if entry.window for end in (entry.window.low, entry.window.high)]
    low, high = min(*values, *windows), max(*values, *windows)
    around = (high - low) * MARGIN
    return low - around, high + around


def _words(groups: Series, *, crowded: bool) -> str:
    numbers = sum(len(group) for group in groups)
    columns = len({group[0].column for group in groups})
    what = "the lowest and the highest of each column" if crowded else "a mark for each"
    return (
        f"{numbers} numbers in {counted(columns, 'column')}, {what}. "
        "The scale does not begin at 0. The table beside it has the same numbers."
    )
