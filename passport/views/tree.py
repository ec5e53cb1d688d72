"""What pages, data files and labels are made from: words already formatted, nothing that can reach back into a record.

Only `views.project` builds these. Every attribute is text, a number, a flag, None, a tuple, or another of these
classes; a test walks every view to prove it. A path is relative to the root of the site and ends in "/" for a page.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Link:
    """A name that leads to a page; `path` is empty where this audience has no such page."""

    text: str
    path: str = ""


@dataclass(frozen=True)
class Fact:
    """One named value in words: "Origin", "north slope above Harrowmere"."""

    name: str
    value: str
    link: str = ""


@dataclass(frozen=True)
class WorkshopView:
    """Who keeps the archive."""

    name: str
    place: str
    contact: str
    site_url: str


@dataclass(frozen=True)
class PhotoView:
    """One picture in two sizes; sizes in pixels."""

    large: str
    small: str
    width: int
    height: int
    small_width: int
    small_height: int
    view: str
    words: str
    caption: str
    date: str


@dataclass(frozen=True)
class SetupRow:
    """One quantity of the set-up: the reference, the latest value, the difference, the window; figures without unit.

    `whose` is model, workshop or trade; `mark` is "above" or "below" where the last value lies outside.
    """

    name: str
    unit: str
    then: str
    now: str
    moved: str
    now_from: str = ""
    note: str = ""
    window: str = ""
    whose: str = ""
    mark: str = ""


@dataclass(frozen=True)
class SetupGroup:
    """Rows that belong together: "Strings", "Bridge", "Post"."""

    title: str
    rows: tuple[SetupRow, ...]


@dataclass(frozen=True)
class SheetView:
    """Who measured, when, and in what state."""

    name: str
    date: str
    when: str
    by: str
    state: str
    fitted: tuple[Fact, ...]
    heard: str = ""
    role: str = ""
    note: str = ""


@dataclass(frozen=True)
class SheetValues:
    """A sheet that is neither the reference nor the latest, with everything measured that day."""

    sheet: SheetView
    values: tuple[Fact, ...]


@dataclass(frozen=True)
class SetupView:
    """The reference set-up beside the latest one; `latest` is None while nothing was measured since.

    `others` holds every other sheet, newest first: an original set-up is never lost behind a later reference.
    """

    reference: SheetView
    latest: SheetView | None
    headline: tuple[SetupRow, ...]
    groups: tuple[SetupGroup, ...]
    others: tuple[SheetValues, ...] = ()
    sources: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class MeasureRow:
    """One dimension of the instrument and its window; figures without unit."""

    name: str
    unit: str
    value: str
    window: str
    whose: str = ""
    mark: str = ""
    note: str = ""


@dataclass(frozen=True)
class MeasureSheet:
    """The dimensions taken on one day, and what stands behind their windows."""

    sheet: SheetView
    rows: tuple[MeasureRow, ...]
    sources: tuple[Fact, ...] = ()


@dataclass(frozen=True)
class PlateView:
    """One plate: its thickness as measured, drawn and in a table, and its masses and taps stage by stage."""

    name: str
    drawing: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    stage_columns: tuple[str, ...]
    stages: tuple[tuple[str, ...], ...]
    bar: tuple[Fact, ...]
    accepted: str = ""


@dataclass(frozen=True)
class PartView:
    """One part and the wood it is made of."""

    name: str
    wood: str
    scientific: str
    origin: str
    lot: Link | None
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class CoatView:
    """One coat of varnish."""

    date: str
    coat: str
    batch: Link | None
    area: str
    light: str
    climate: str
    mass_gain: str
    note: str


@dataclass(frozen=True)
class EventView:
    """One thing that happened; `shop_only` entries are never in a public view."""

    date: str
    iso: str
    title: str
    by: str
    facts: tuple[Fact, ...]
    shop_only: bool


@dataclass(frozen=True)
class FindingView:
    """One finding of the checks, on the shop's pages only."""

    code: str
    severity: str
    where: str
    what: str
    todo: str


@dataclass(frozen=True)
class MissingThing:
    """One thing that is not recorded, what to do about it, and who will ask for it."""

    name: str
    todo: str
    asked_by: str


@dataclass(frozen=True)
class MissingView:
    """How much is there of what each purpose asks for, and all that is not; on the shop's pages only."""

    shares: tuple[Fact, ...]
    things: tuple[MissingThing, ...]


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


@dataclass(frozen=True)
class InstrumentView:
    """Everything the page of one instrument says."""

    audience: str
    id: str
    path: str
    listed: bool
    title: str
    kind: str
    size: str
    serial: str
    maker_line: str
    maker: str
    made: str
    made_date: str
    model: Link | None
    label_text: str
    banner: str
    banner_detail: str
    notice: str
    identity: tuple[Fact, ...]
    setup: SetupView | None
    findings: tuple[FindingView, ...]
    history: tuple[EventView, ...]
    plates: tuple[PlateView, ...]
    parts: tuple[PartView, ...]
    varnish: tuple[CoatView, ...]
    measurements: tuple[MeasureSheet, ...]
    outfit: tuple[Fact, ...]
    photos: tuple[PhotoView, ...]
    shop_facts: tuple[Fact, ...]
    data_path: str
    changed: str
    missing: MissingView | None = None
    alike: tuple[Link, ...] = ()


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


@dataclass(frozen=True)
class TableView:
    """A plain table: a caption, column heads, rows of words."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class SupplyLine:
    """A lot, batch or model in its list."""

    id: str
    path: str
    title: str
    detail: str
    count: int


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
