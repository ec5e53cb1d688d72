"""What all pages but those of single instruments are made from: cards, lists, lots, batches, models, the site.

As plain as `tree`, whose words it uses: text, numbers, flags, None, tuples, and other views.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from passport.views.tree import Fact, FindingView, InstrumentView, TableView, Workings, WorkshopView


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
class Card:
    """What all other pages say of one instrument; whatever else is known of it stands on its own page alone.

    `words` is what it is found by, `order` its place in the catalogue; `work` is for the shop alone.
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

    What has a card has a page; that is made when it is asked for: all of them at once would fill the memory.
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
