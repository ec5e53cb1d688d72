"""Instruments side by side: plates, set-ups and wood, by model, year, lot and batch.

Sees only the cards of those instruments that lists may name, and of lots what `visible` lets through.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby

from passport.analysis.across import SUBJECTS, Quantity, quantities
from passport.analysis.windows import Fitting, Window, Windows, windows_of
from passport.kept import digest, form_of
from passport.records.model.instrument import Instrument
from passport.reference.kinds import KIND_WORDS, KINDS, size_fault
from passport.views.addresses import catalogue_path, side_by_side_path, supply_path
from passport.views.alike import PLURALS
from passport.views.charts import (
    COLUMNS_ON_A_LEAF,
    CROWDED,
    FEWEST,
    Entry,
    Leaf,
    Plan,
    from_to,
    in_leaves,
    leaf_links,
    leaf_of,
    too_few,
)
from passport.views.desk import Desk
from passport.views.lots import all_species, species_page
from passport.views.lots import come_from as wood_from
from passport.views.numbers import counted, joined, size_text
from passport.views.site_tree import AcrossGroup, AcrossView, Card, Figures, Reading
from passport.views.titles import lowered
from passport.views.tree import Fact, Link
from passport.views.windows import sources

BY: Mapping[str, str] = {"year": "Year", "model": "Model", "lot": "Wood lot", "batch": "Varnish batch"}
UNKNOWN: Mapping[str, str] = {"year": "no year", "model": "no model", "lot": "no lot", "batch": "no batch"}
REFERENCE = "Each number is that of the instrument’s reference set-up."
WEIGHED = "Tops are weighed with their f-holes cut, before and after the bar goes in; backs when they are graduated."
UNDERSIDE = "Heights are those to the underside of the string; one measured to its centre stands on its own page alone."
TAPPED = "Tops are tapped with their bar in, backs when they are graduated."
SAID = dict(zip(SUBJECTS, (WEIGHED, TAPPED, f"{REFERENCE} {UNDERSIDE}", REFERENCE), strict=True))
EVERY_LOT = "An instrument stands under each lot of its top, back, neck and board."
PLATES_LOT = "A plate stands under the lot that it is made of."
EVERY_BATCH = "An instrument stands under each batch it carries."


@dataclass(frozen=True)
class Side:
    """What is set side by side: the groups of the first page, and each page, made when it is asked for."""

    groups: tuple[AcrossGroup, ...]
    pages: Mapping[str, AcrossView]
    come_from: Mapping[str, str]


@dataclass(frozen=True)
class Made(Mapping[str, AcrossView]):
    """Pages by their path, made when they are asked for."""

    makers: Mapping[str, Callable[[], AcrossView]]

    def __getitem__(self, path: str) -> AcrossView:
        return self.makers[path]()

    def __iter__(self) -> Iterator[str]:
        return iter(self.makers)

    def __len__(self) -> int:
        return len(self.makers)


@dataclass(frozen=True)
class Family:
    """The instruments of one kind and size, in the order of the catalogue."""

    kind: str
    size: str
    members: tuple[tuple[Card, Figures], ...]

    @property
    def title(self) -> str:
        """Give "Violins 4/4"."""
        return f"{PLURALS[self.kind]} {size_text(self.kind, self.size)}"


@dataclass(frozen=True)
class Sheet:
    """One page: whose numbers, which of them, in which columns; `leaves` are the columns of every leaf."""

    family: Family
    subject: str
    by: str
    leaves: tuple[tuple[str, ...], ...]
    leaf: int
    offered: tuple[str, ...]

    def path(self, *, by: str = "", leaf: int = 1) -> str:
        """Give the path of this page, or of another leaf or other columns of it."""
        name = by or self.by
        columns = f"by-{name}" if name != "year" else ""
        return side_by_side_path(self.family.kind, self.family.size, self.subject, columns, leaf=leaf)


def side_by_side(desk: Desk, cards: Iterable[Card]) -> Side:
    """Give everything that is set side by side of the instruments that lists may name."""
    known = [(card, card.figures) for card in cards if card.figures is not None]
    families = list(_families(known))
    groups: list[AcrossGroup] = []
    makers: dict[str, Callable[[], AcrossView]] = {}
    come_from: dict[str, str] = {}
    for family in families:
        sheets = tuple(_sheets(family))
        made_from = _come_from(desk, family) if sheets else ""
        for sheet in sheets:
            path = sheet.path(leaf=sheet.leaf + 1)
            makers[path] = partial(_page, desk, sheet)
            come_from[path] = made_from
        if len(family.members) >= FEWEST:
            groups.append(_group(family, sheets))
    woods = list(all_species(desk, known))
    for species in woods:
        for leaf in range(len(species.leaves)):
            makers[species.path(leaf + 1)] = partial(species_page, species, leaf)
            come_from[species.path(leaf + 1)] = wood_from(desk, species)
    if woods:
        groups.append(AcrossGroup("Wood", tuple(Link(species.title, species.path()) for species in woods)))
    return Side((*groups, *_apart(known, families)), Made(makers), come_from)


def _apart(known: Sequence[tuple[Card, Figures]], families: Sequence[Family]) -> Iterator[AcrossGroup]:
    """Say which stand beside nothing, and why."""
    alone = [family.members[0][0].line for family in families if len(family.members) < FEWEST]
    if alone:
        links = tuple(Link(f"{line.title}, {line.id}", line.path) for line in alone)
        yield AcrossGroup("On their own", links, "There is only one of each of these, so nothing stands beside it.")
    without = len(known) - sum(len(family.members) for family in families)
    if without:
        what = counted(without, "instrument")
        yield AcrossGroup("Left out", (), f"{what}, of which kind or size is not recorded as it is read here.")


def _families(known: Sequence[tuple[Card, Figures]]) -> Iterator[Family]:
    by_family: dict[tuple[str, str], list[tuple[Card, Figures]]] = defaultdict(list)
    for card, figures in sorted(known, key=lambda each: (each[0].order, each[0].line.id)):
        if figures.kind in KINDS and figures.size and size_fault(figures.kind, figures.size) is None:
            by_family[figures.kind, figures.size].append((card, figures))
    for kind in KINDS:
        yield from (Family(kind, size, tuple(found)) for (of, size), found in by_family.items() if of == kind)


def _group(family: Family, sheets: Sequence[Sheet]) -> AcrossGroup:
    subjects = {sheet.subject: sheet.path() for sheet in sheets}
    links = tuple(Link(subject, path) for subject, path in subjects.items())
    lacking = [subject for subject in SUBJECTS if subject not in subjects]
    return AcrossGroup(family.title, links, too_few(lacking))


def _sheets(family: Family) -> Iterator[Sheet]:
    """Give the pages of a family: of each subject that two instruments know of, in each kind of column they have."""
    for subject in SUBJECTS:
        asked = {quantity.name: quantity.part for quantity in quantities(family.kind) if quantity.subject == subject}
        parts = [{asked[each.name] for each in figures.readings if each.name in asked} for _, figures in family.members]
        measured = [(*member, found) for member, found in zip(family.members, parts, strict=True) if found]
        if len(measured) < FEWEST:
            continue
        columns = {by: _columns(by, measured) for by in BY}
        offered = tuple(by for by, keys in columns.items() if any(keys))
        for by in offered or ("year",):
            leaves = tuple(_leaves(by, columns[by]))
            for leaf in range(len(leaves)):
                yield Sheet(family, subject, by, leaves, leaf, offered or ("year",))


def _columns(by: str, measured: Iterable[tuple[Card, Figures, set[str]]]) -> list[str]:
    """Give the columns that are needed, in order; the one of what is not known has no name and stands last."""
    found = {
        key
        for card, figures, parts in measured
        for part in (parts if by == "lot" else ("",))
        for key in _keys(by, card, figures, part)
    }
    return sorted(found, key=lambda key: (not key, key))


def _keys(by: str, card: Card, figures: Figures, part: str) -> tuple[str, ...]:
    """Give the columns in which an instrument stands; a plate stands under its own lot alone."""
    line = card.line
    if by == "year":
        return (str(line.first_year) if line.first_year and line.first_year == line.last_year else "",)
    if by == "model":
        return (figures.model,)
    if by == "batch":
        return line.batches or ("",)
    return tuple(dict.fromkeys(lot for of, lot in figures.lots if part in ("", of))) or ("",)


def _leaves(by: str, keys: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Share columns out on leaves: years by the calendar, those without any instrument too, newest leaf first."""
    known = [key for key in keys if key]
    leaves = list(_years(known) if by == "year" and known else in_leaves(known)) or [()]
    if "" in keys:
        leaves[-1] = (*leaves[-1], "")
    yield from leaves


def _years(known: Sequence[str]) -> Iterator[tuple[str, ...]]:
    last = max(map(int, known))
    by_leaf = groupby(sorted(map(int, known), reverse=True), key=lambda year: (last - year) // COLUMNS_ON_A_LEAF)
    for _, found in by_leaf:
        years = list(found)
        yield tuple(str(year) for year in range(years[-1], years[0] + 1))


def _come_from(desk: Desk, family: Family) -> str:
    """Name everything that the pages of a family come from."""
    models = sorted({figures.model for _, figures in family.members if figures.model in desk.archive.models})
    looks = [desk.archive.models[model].look.digest for model in models]
    lines = ((card.line, figures) for card, figures in family.members)
    told = form_of(
        [(line.id, line.path, line.model, line.first_year, line.last_year, line.batches, of) for line, of in lines]
    )
    return digest([told, desk.archive.surroundings, *looks])


def _page(desk: Desk, sheet: Sheet) -> AcrossView:
    family, path = sheet.family, sheet.path(leaf=sheet.leaf + 1)
    plans = tuple(_plans(desk, sheet))
    here = leaf_of(plans, {key: _column(desk, sheet, key) for key in sheet.leaves[sheet.leaf]})
    measured = {entry.of.text for plan in plans for entry in plan.entries}
    return AcrossView(
        path=path,
        title=f"{family.title}: {lowered(sheet.subject)}",
        lead=f"{len(measured)} of {len(family.members)} instruments, {_by(sheet.by)}",
        choices=tuple(_choices(sheet)),
        chosen=_by(sheet.by),
        leaves=leaf_links([_leaf_name(sheet, leaf) for leaf in sheet.leaves], lambda leaf: sheet.path(leaf=leaf)),
        charts=here.charts("../" * path.count("/")),
        notes=tuple(_notes(sheet, here)),
        sources=tuple(_sources(desk, family, here.plans)),
    )


def _sources(desk: Desk, family: Family, plans: Sequence[Plan]) -> Iterator[Fact]:
    """Say what stands behind the windows; models of which several are there are told one after another."""
    told: dict[str, list[str]] = defaultdict(list)
    windows = list(dict.fromkeys(entry.window for plan in plans for entry in plan.entries))
    for model in dict.fromkeys(figures.model for _, figures in family.members):
        for fact in sources(desk, model, windows):
            told[fact.name].append(fact.value)
    yield from (Fact(name, "; ".join(dict.fromkeys(values))) for name, values in told.items())


def _choices(sheet: Sheet) -> Iterator[Link]:
    for by, title in BY.items():
        is_there = by in sheet.offered
        yield Link(_by(by), sheet.path(by=by)) if is_there else Link(f"{title.lower()} not recorded")


def _by(by: str) -> str:
    return f"by {BY[by].lower()}"


def _leaf_name(sheet: Sheet, leaf: Sequence[str]) -> str:
    known = [_title(sheet, key) for key in leaf if key]
    return joined(from_to(known), UNKNOWN[sheet.by] if "" in leaf else "")


def _notes(sheet: Sheet, here: Leaf) -> Iterator[str]:
    yield SAID[sheet.subject]
    if sheet.by == "lot":
        yield PLATES_LOT if sheet.subject in SUBJECTS[:2] else EVERY_LOT
    if sheet.by == "batch":
        yield EVERY_BATCH
    if here.lacking:
        yield too_few(here.lacking)
    if here.is_crowded:
        yield CROWDED


def _column(desk: Desk, sheet: Sheet, key: str) -> Link:
    """Name a column, and lead to everything that stands in it."""
    family = sheet.family
    if not key:
        return Link(_title(sheet, key))
    if sheet.by == "year":
        choices = {"kind": KIND_WORDS[family.kind], "size": size_text(family.kind, family.size), "year": key}
        return Link(key, catalogue_path(**choices))
    section, records = {
        "model": ("models", desk.archive.models), "lot": ("wood", desk.archive.wood),
        "batch": ("varnish", desk.archive.varnish),
    }[sheet.by]  # fmt: skip
    return Link(_title(sheet, key), supply_path(section, key) if key in records else "")


def _title(sheet: Sheet, key: str) -> str:
    if sheet.by == "model" and key:
        return next(card.line.model for card, figures in sheet.family.members if figures.model == key)
    return key or UNKNOWN[sheet.by]


def _plans(desk: Desk, sheet: Sheet) -> Iterator[Plan]:
    """Give the charts of a page, with the numbers of every leaf."""
    family = sheet.family
    windows = {model: _windows(desk, family, model) for model in {figures.model for _, figures in family.members}}
    asked = [quantity for quantity in quantities(family.kind) if quantity.subject == sheet.subject]
    for title, found in groupby(asked, key=lambda quantity: quantity.chart):
        group = list(found)
        entries = [
            entry
            for quantity in group
            for card, figures in family.members
            for reading in figures.readings
            if reading.name == quantity.name
            for entry in _entries(sheet.by, card, figures, quantity, reading, windows[figures.model])
        ]
        series = tuple(quantity.series for quantity in group)
        yield Plan(title, group[0].unit, series, BY[sheet.by], "Instrument", tuple(entries))


def _windows(desk: Desk, family: Family, model: str) -> Windows:
    """Give what is asked of any instrument of this kind, size and model."""
    any_such = Instrument.model_validate({"kind": family.kind, "size": family.size, "model": model})
    return windows_of(desk.archive, any_such)


def _entries(
    by: str, card: Card, figures: Figures, quantity: Quantity, reading: Reading, windows: Windows
) -> Iterator[Entry]:
    window: Window | None = windows.of(quantity.places[0], Fitting({}))
    of = Link(card.line.id, card.line.path)
    for key in _keys(by, card, figures, quantity.part):
        yield Entry(key, quantity.series, reading.value, reading.text, of, window)
