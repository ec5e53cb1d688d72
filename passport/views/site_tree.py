"""What all pages but those of single instruments are made from: cards, lists, lots, batches, models, the site.

As plain as `tree`, whose words it uses: text, numbers, flags, None, tuples, and other views.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from passport.views.tree import Fact, FindingView, InstrumentView, Link, TableView, Workings, WorkshopView


@dataclass(frozen=True)
class FoundIn:
    """A file and what the checks found in it; `path` leads to its page, where it has one."""

    file: str
    path: str
    findings: tuple[FindingView, ...]


@dataclass(frozen=True)
class InstrumentLine:
    """An instrument in a list; `use` says what it has to do with the page it stands on ("top, wedge 4")."""

    id: str
    path: str
    kind: str
    size: str
    title: str
    model: str
    year: str
    serial: str
    status: str
    use: str = ""


@dataclass(frozen=True)
class CatalogueEntry(InstrumentLine):
    """A line of the catalogue, with what it can be found by there.

    `first_year` and `last_year` hold every year it may have been made in; None where that end is open or unknown.
    `publication` is told to the shop only.
    """

    first_year: int | None = None
    last_year: int | None = None
    hands: tuple[str, ...] = ()
    lots: tuple[str, ...] = ()
    batches: tuple[str, ...] = ()
    publication: str = ""


@dataclass(frozen=True)
class Use:
    """What an instrument has to do with a lot, a batch or a model: the name of its page, and "Top, wedge 4"."""

    section: str
    name: str
    words: str


@dataclass(frozen=True)
class PictureSource:
    """A picture to be copied: its name on the site, the file below photos/, its longest side in pixels."""

    name: str
    file: str
    longest_px: int


@dataclass(frozen=True)
class Lack:
    """How complete an instrument is for one purpose; `words` says what it lacks, if anything."""

    purpose: str
    percent: int
    words: str


@dataclass(frozen=True)
class Work:
    """What the shop's own lists say of an instrument in use; days as they stand in the record."""

    next_check: str
    reference: str
    wants_reference: bool
    lacks: tuple[Lack, ...]


@dataclass(frozen=True)
class PlateCard:
    """One plate beside others of its model; mass and mode 5 at a common moisture, None where they are not known."""

    plate: str
    date: str
    iso: str
    mean_mm: float | None
    mass_g: float | None
    mode2_hz: float | None
    mode5_hz: float | None
    ratio: float | None


@dataclass(frozen=True)
class Reading:
    """A number that is set beside those of other instruments: what it is, and how it was written."""

    name: str
    value: float
    text: str


@dataclass(frozen=True)
class Figures:
    """What charts across instruments are drawn from; kind, size and model by the names they have in the record.

    `lots` names for each part cut from a whole wedge its lot; `densities` are those of single pieces: the lot, then the
    part and its number.
    """

    kind: str
    size: str
    model: str
    lots: tuple[tuple[str, str], ...]
    readings: tuple[Reading, ...]
    densities: tuple[tuple[str, Reading], ...]


@dataclass(frozen=True)
class Holder:
    """Who has an instrument now; told to the shop alone."""

    what: str
    name: str
    contact: str


@dataclass(frozen=True)
class Card:
    """What all other pages say of one instrument; whatever else is known of it stands on its own page alone.

    `words` is what it is found by, `order` its place in the catalogue; `work` and `holders` are for the shop alone.
    """

    line: CatalogueEntry
    listed: bool
    changed: str
    words: str
    order: str
    uses: tuple[Use, ...]
    pictures: tuple[PictureSource, ...]
    work: Work | None
    plates: tuple[PlateCard, ...] = ()
    figures: Figures | None = None
    holders: tuple[Holder, ...] = ()


@dataclass(frozen=True)
class Call:
    """Somebody to call, and the instruments of theirs that a lot or a batch is in; nobody where none is recorded."""

    name: str
    contact: str
    instruments: tuple[Link, ...]


@dataclass(frozen=True)
class ChartRow:
    """A line of the table beside a chart: whose number it is, which of theirs, and the number with its window."""

    of: Link
    which: str
    cells: tuple[Link, ...]


@dataclass(frozen=True)
class ChartGroup:
    """The lines of one column of a chart."""

    column: Link
    rows: tuple[ChartRow, ...]


@dataclass(frozen=True)
class ChartTable:
    """The table beside a chart: the same in figures, with the way to each instrument."""

    caption: str
    heads: tuple[str, ...]
    groups: tuple[ChartGroup, ...]


@dataclass(frozen=True)
class ChartView:
    """One number of many instruments, drawn and in a table."""

    title: str
    drawing: str
    table: ChartTable
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class AcrossView:
    """A page that sets many instruments, or many lots, side by side.

    `choices` lead to the same numbers in other columns, `chosen` is the one that this page has; `leaves` lead to the
    columns that do not stand on it.
    """

    path: str
    title: str
    lead: str
    choices: tuple[Link, ...]
    chosen: str
    leaves: tuple[Link, ...]
    charts: tuple[ChartView, ...]
    notes: tuple[str, ...]
    sources: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class AcrossGroup:
    """What can be set side by side of one kind and size, or of wood; `words` says what cannot, and why."""

    title: str
    pages: tuple[Link, ...]
    words: str = ""


@dataclass(frozen=True)
class SupplyView:
    """A wood lot, a varnish batch or a model: what is known of it and the instruments it touches."""

    audience: str
    section: str
    id: str
    path: str
    title: str
    subtitle: str
    drawing: str
    facts: tuple[Fact, ...]
    tables: tuple[TableView, ...]
    instruments: tuple[InstrumentLine, ...]
    shop_facts: tuple[Fact, ...]
    cautions: tuple[str, ...]
    changed: str
    worked: tuple[Workings, ...] = ()
    calls: tuple[Call, ...] = ()


@dataclass(frozen=True)
class SupplyLine:
    """A lot, batch or model in its list."""

    id: str
    path: str
    title: str
    detail: str
    count: int


@dataclass(frozen=True)
class CatalogueGroup:
    """The instruments of one kind."""

    title: str
    instruments: tuple[CatalogueEntry, ...]


@dataclass(frozen=True)
class WorkGroup:
    """Instruments that want the same; `left_off` counts those that the list was cut by."""

    title: str
    lines: tuple[InstrumentLine, ...]
    left_off: int
    none: str


@dataclass(frozen=True)
class WorkList:
    """One of the shop's own lists."""

    title: str
    lead: str
    groups: tuple[WorkGroup, ...]


@dataclass(frozen=True)
class SiteView:
    """The whole site for one audience; unlisted instruments stand in `instruments` and `cards`, and in no list.

    What has a card has a page; that is made when it is asked for: all of them at once would fill the memory. So are
    the pages that set instruments side by side; `across_from` names all that each of them comes from.
    """

    audience: str
    workshop: WorkshopView
    instruments: Mapping[str, InstrumentView]
    cards: tuple[Card, ...]
    supplies: tuple[SupplyView, ...]
    catalogue: tuple[CatalogueGroup, ...]
    wood: tuple[SupplyLine, ...]
    varnish: tuple[SupplyLine, ...]
    models: tuple[SupplyLine, ...]
    work_lists: tuple[WorkList, ...] = ()
    is_draft: bool = False
    found: tuple[FoundIn, ...] = ()
    unread: tuple[FoundIn, ...] = ()
    side_by_side: tuple[AcrossGroup, ...] = ()
    across: Mapping[str, AcrossView] = field(default_factory=dict)
    across_from: Mapping[str, str] = field(default_factory=dict)
