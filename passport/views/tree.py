"""What pages, data files and labels are made from: words already formatted, nothing that can reach back into a record.

Only `views.project` builds these. Every attribute is text, a number, a flag, None, a tuple, or another of these
classes; a test walks every view to prove it. A path is relative to the root of the site and ends in "/" for a page.
"""

from __future__ import annotations

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
class Worked:
    """One figure that was worked out, or what went into one: enough to do the sum again by hand.

    `how` is "measured", "worked out", "from a table" or "assumed"; `rule` is the formula, `inputs` what stands in it,
    each with its value; figures without unit.
    """

    name: str
    value: str
    unit: str
    how: str
    rule: str = ""
    inputs: str = ""
    source: str = ""


@dataclass(frozen=True)
class WorkedTable:
    """Figures that were worked out alike, a row each; `rule` says how, with units in the column heads."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    rule: str = ""
    source: str = ""


@dataclass(frozen=True)
class Workings:
    """A sum done from the record: drawings, figures, tables, and what could not be worked out for want of what.

    `drawings` are SVG; each shows what a table or a figure beside it says too. `cautions` are for work that can hurt.
    """

    title: str
    figures: tuple[Worked, ...] = ()
    tables: tuple[WorkedTable, ...] = ()
    drawings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    lacking: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


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
    worked: tuple[Workings, ...] = ()


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
class MaterialLine:
    """The material of one part; `listing` is what CITES says of it, as far as is known, `basis` where that is from.

    `facts` are origin, dates and papers as recorded.
    """

    part: str
    common: str
    scientific: str
    facts: tuple[Fact, ...]
    listing: str
    basis: str
    is_listed: bool


@dataclass(frozen=True)
class MaterialsView:
    """The declaration of an instrument's materials on a day; it never says that anything is legal."""

    id: str
    title: str
    maker_line: str
    serial: str
    made: str
    workshop: str
    contact: str
    day: str
    as_of: str
    lines: tuple[MaterialLine, ...]
    asked_for: tuple[str, ...]
    deference: str


@dataclass(frozen=True)
class InstrumentView:
    """Everything the page of one instrument says; what was worked out stands in full at `sums_path`."""

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
    setup_worked: tuple[Workings, ...] = ()
    drift: tuple[Workings, ...] = ()
    materials: tuple[MaterialLine, ...] = ()
    sums_path: str = ""
    wood_worked: tuple[Workings, ...] = ()
    varnish_worked: tuple[Workings, ...] = ()


@dataclass(frozen=True)
class TableView:
    """A plain table: a caption, column heads, rows of words."""

    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class TrueDrawing:
    """A drawing in millimetres to be printed at full size: the inside of an SVG, where it begins, how large it is."""

    title: str
    words: str
    inside: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class TemplateView:
    """A full-size template: drawings in pieces that go on a sheet, the same whole, and every number that is in them.

    `lines` say of which instrument and for what; `used` is what went in, each with where it is from. `overview` shows
    small what is in several pieces.
    """

    id: str
    title: str
    lines: tuple[str, ...]
    pieces: tuple[TrueDrawing, ...]
    whole: tuple[TrueDrawing, ...]
    overview: tuple[TrueDrawing, ...]
    used: tuple[Worked, ...]
    tables: tuple[WorkedTable, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
