"""A sample site, wholly invented: the violin of the example record, a cello that came back, one unlisted, one withdrawn."""

# ruff: noqa: E501 # a view reads better on one line, like the row of a table
from __future__ import annotations

from dataclasses import replace

from passport.views.site_tree import (
    AcrossGroup,
    AcrossView,
    Call,
    Card,
    CatalogueEntry,
    CatalogueGroup,
    ChartGroup,
    ChartRow,
    ChartTable,
    ChartView,
    FoundIn,
    InstrumentLine,
    SiteView,
    SupplyLine,
    SupplyView,
    WorkGroup,
    WorkList,
)
from passport.views.tree import (
    CoatView,
    EventView,
    Fact,
    FindingView,
    InstrumentView,
    Link,
    MeasureRow,
    MeasureSheet,
    MissingThing,
    MissingView,
    PartView,
    PhotoView,
    PlateView,
    SetupGroup,
    SetupRow,
    SetupView,
    SheetView,
    TableView,
    WorkshopView,
)

WORKSHOP = WorkshopView(
    name="Tamm & Penn",
    place="Harrowmere",
    contact="Lower Lane 3, Harrowmere; post@tamm-penn.example",
    site_url="https://tamm-penn.example/passports/",
)

DRAWING = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 220 380" role="img" aria-label="Thickness of the top">
<g fill="none" stroke="currentColor" stroke-width="0.8">
<path d="M110 12C62 12 40 40 40 82c0 34 22 44 22 92s-46 48-46 112c0 56 44 82 94 82s94-26 94-82c0-64-46-64-46-112s22-58 22-92c0-42-22-70-70-70z"/>
<path stroke-width="0.35" d="M110 40C76 40 62 60 62 88c0 30 20 46 20 86s-42 56-42 108c0 44 34 62 70 62s70-18 70-62c0-52-42-68-42-108s20-56 20-86c0-28-14-48-48-48z"/>
<path stroke-width="0.35" d="M110 90c-14 0-18 22-18 84s-18 62-18 102c0 24 16 34 36 34s36-10 36-34c0-40-18-40-18-102s-4-84-18-84z"/>
<path stroke-width="0.3" stroke-dasharray="3 2" d="M110 12v356"/></g>
<g font-size="9" fill="currentColor" text-anchor="middle"><text x="62" y="130">2.6</text><text x="110" y="82">2.8</text><text x="110" y="250">3.0</text>
<text x="24" y="24">bass</text><text x="196" y="24">treble</text></g></svg>"""

REFERENCE = SheetView(
    name="S1", date="18 November 2021", when="delivered", by="Jory",
    state="At pitch, a′ 440 Hz, 20 °C, 47 % humidity, 12 days in it",
    fitted=(
        Fact("bridge", "B1"), Fact("post", "P1"), Fact("tailpiece", "T1"),
        Fact("strings", "medium, steel E, synthetic A D G"), Fact("adjusters", "E"),
    ),
    heard="even, a touch bright on the E",
)  # fmt: skip
LATEST = SheetView(
    name="S4", date="19 August 2024", when="after work", by="Jory",
    state="At pitch, a′ 440 Hz, 20 °C, 48 % humidity, 13 days in it", fitted=(),
)  # fmt: skip

HEADLINE = (
    SetupRow("String length", "mm", "328", "328", "0", "S4"),
    SetupRow("Projection", "mm", "27.0", "26.8", "−0.2", "S4"),
    SetupRow("String height G", "mm", "5.0", "5.2", "+0.2", "S4"),
    SetupRow("String height E", "mm", "3.5", "3.7", "+0.2", "S4"),
    SetupRow("Post behind foot", "mm", "2.5", "3.0", "+0.5", "S2"),
    SetupRow("Bridge height", "mm", "32.3", "32.3", "0", "S1"),
)

GROUPS = (
    SetupGroup("Strings", (
        SetupRow("String length", "mm", "328", "328", "0", "S4"),
        SetupRow("String height G, underside", "mm", "5.0", "5.2", "+0.2", "S4"),
        SetupRow("String height D, underside", "mm", "4.7", "4.9", "+0.2", "S4"),
        SetupRow("String height A, underside", "mm", "4.2", "4.4", "+0.2", "S4"),
        SetupRow("String height E, underside", "mm", "3.5", "3.7", "+0.2", "S4"),
        SetupRow("Spacing at nut", "mm", "16.5", "", ""),
        SetupRow("Spacing at bridge", "mm", "33.5", "", ""),
        SetupRow("Clearance at nut G", "mm", "0.40", "", ""),
        SetupRow("Clearance at nut E", "mm", "0.25", "", ""),
        SetupRow("Afterlength E", "mm", "49.5", "", "", note="accepted: adjuster on the E"),
        SetupRow("Afterlength D", "mm", "54.5", "54.5", "0", "S4"),
    )),
    SetupGroup("Neck", (
        SetupRow("Neck stop", "mm", "130", "", ""),
        SetupRow("Body stop, bass side", "mm", "195.5", "", ""),
        SetupRow("Body stop, treble side", "mm", "195", "", ""),
        SetupRow("Overstand", "mm", "6.2", "", ""),
        SetupRow("Projection", "mm", "27.0", "26.8", "cannot tell", "S4", note="strung, rule between D and A"),
    )),
    SetupGroup("Bridge", (
        SetupRow("Height", "mm", "32.3", "", ""),
        SetupRow("Crown radius", "mm", "41", "", ""),
        SetupRow("Tilt", "°", "0", "0", "0", "S4"),
        SetupRow("Mass", "g", "2.1", "", ""),
    )),
    SetupGroup("Post", (
        SetupRow("Length", "mm", "51", "", ""),
        SetupRow("Behind the foot", "mm", "2.5", "3.0", "+0.5", "S2"),
        SetupRow("Inset from the foot’s edge", "mm", "0.5", "", ""),
    )),
    SetupGroup("Body", (
        SetupRow("Arch height, top", "mm", "15.6", "15.7", "+0.1", "S4"),
        SetupRow("Mass", "g", "452", "", "", note="chinrest on"),
        SetupRow("Air mode", "Hz", "272", "", ""),
    )),
)  # fmt: skip

HISTORY = (
    EventView("19 August 2024", "2024-08-19", "Returned", "Jory", (
        Fact("did", "bridge upright; nothing cut"), Fact("next check", "February 2025"),
    ), shop_only=False),
    EventView("9 August 2024", "2024-08-09", "Seam reglued", "Ilse", (
        Fact("where", "top, treble side, lower bout"), Fact("length", "40 mm"), Fact("glue", "thin hide"),
    ), shop_only=False),
    EventView("6 August 2024", "2024-08-06", "Came in", "Ilse", (
        Fact("said", "strings have climbed since June, buzz on the open D"),
        Fact("found", "open seam, top, treble lower, 40 mm; bridge leans to the board"),
        Fact("fine", "heel, button, post, pegs, board"),
    ), shop_only=True),
    EventView("13 January 2022", "2022-01-13", "Playing-in review", "Jory", (
        Fact("said", "E a bit thin"), Fact("did", "post back by 0.5 mm"),
    ), shop_only=False),
    EventView("18 November 2021", "2021-11-18", "Set-up complete", "Jory", (Fact("sheet", "S1"),), shop_only=False),
    EventView("6 May 2021", "2021-05-06", "Neck set", "Jory", (
        Fact("overstand", "6.2 mm"), Fact("projection", "27.5 mm"), Fact("note", "half a millimetre to settle"),
    ), shop_only=False),
    EventView("30 March 2021", "2021-03-30", "Top glued", "", (), shop_only=False),
)  # fmt: skip

THICKNESS_COLUMNS = ("from the bottom", "bass edge", "bass half", "joint", "treble half", "treble edge")
TOP = PlateView(
    "Top", DRAWING, THICKNESS_COLUMNS,
    (
        ("325", "2.9", "2.8", "2.9", "2.8", "2.9"), ("285", "2.6", "2.5", "2.6", "2.5", "2.6"),
        ("245", "2.6", "2.6", "2.7", "2.6", "2.6"), ("205", "2.7", "2.8", "2.9", "2.8", "2.7"),
        ("160", "2.7", "2.8", "3.0", "3.0", "2.7"), ("115", "2.6", "2.7", "2.8", "2.7", "2.6"),
        ("60", "2.6", "2.5", "2.6", "2.5", "2.6"),
    ),
    ("stage", "date", "mass, g", "mode 1, Hz", "mode 2, Hz", "mode 5, Hz"),
    (
        ("f-holes cut", "26 February 2021", "60", "79", "152", "308"),
        ("bass bar fitted", "10 March 2021", "65", "84", "166", "338"),
    ),
    (Fact("length", "275 mm"), Fact("thickness", "5.5 mm"), Fact("height at bridge", "11.8 mm")),
)  # fmt: skip
BACK = PlateView(
    "Back", DRAWING, THICKNESS_COLUMNS,
    (("245", "2.5", "3.0", "3.5", "3.0", "2.5"), ("205", "2.6", "3.5", "4.2", "3.5", ""), ("160", "2.7", "3.6", "4.4", "3.6", "2.7")),
    ("stage", "date", "mass, g", "mode 5, Hz"), (("graduation done", "12 February 2021", "102", "362"),), (),
)  # fmt: skip

VIOLIN = InstrumentView(
    audience="public", id="ZVSPYJH", path="ZVSPYJH/", listed=True, title="Violin 4/4", kind="violin", size="4/4",
    serial="TP 88", maker_line="Tamm & Penn, Harrowmere", maker="Tamm & Penn", made="November 2021", made_date="", model=Link("Harrow I", "models/harrow-1/"),
    label_text="Tamm & Penn, Harrowmere, fecerunt anno 2021", banner="", banner_detail="", notice="",
    identity=(
        Fact("Origin", "made here"), Fact("Body and varnish", "Ilse"), Fact("Scroll and set-up", "Jory"),
        Fact("Label", "“Tamm & Penn, Harrowmere, fecerunt anno 2021”, back, bass f-hole"),
    ),
    setup=SetupView(REFERENCE, LATEST, HEADLINE[:5], GROUPS), findings=(),
    history=tuple(event for event in HISTORY if not event.shop_only), plates=(TOP, BACK),
    parts=(
        PartView("Top", "spruce", "Picea abies", "north slope above Harrowmere, felled winter 2009", Link("SP09B", "wood/SP09B/"), (
            Fact("wedge", "4"), Fact("pieces", "2"), Fact("cut", "quarter"), Fact("density", "390 kg/m³"), Fact("note", "8–9 rings per cm at the joint"),
        )),
        PartView("Back", "maple", "Acer pseudoplatanus", "", Link("MA11A", "wood/MA11A/"), (
            Fact("pieces", "1"), Fact("cut", "quarter"), Fact("density", "615 kg/m³"), Fact("figure", "medium, falling to treble"),
        )),
        PartView("Ribs", "maple", "Acer pseudoplatanus", "", Link("MA11A", "wood/MA11A/"), (Fact("wedge", "3"),)),
        PartView("Neck", "maple", "Acer pseudoplatanus", "", Link("MA14C"), ()),
        PartView("Blocks and linings", "willow", "Salix alba", "", None, ()),
        PartView("Fittings", "boxwood", "Buxus sempervirens", "", None, (Fact("pieces", "pegs, tailpiece, button, chinrest"),)),
    ),
    varnish=(
        CoatView("8 June 2021", "ground", Link("GR21-1", "varnish/GR21-1/"), "all", "", "", "1.4 g", ""),
        CoatView("21 June 2021", "1", Link("OV20-3", "varnish/OV20-3/"), "all", "tubes, 8 W/m², 30 h", "23 °C, 50 %", "", ""),
        CoatView("5 July 2021", "2", Link("OV20-3", "varnish/OV20-3/"), "all", "tubes, 8 W/m², 36 h", "24 °C, 52 %", "", "flatted before"),
    ),
    measurements=(MeasureSheet(
        SheetView("M1", "20 May 2021", "in the white", "Ilse", "No strings, 21 °C, 46 % humidity, 20 days in it", ()),
        (
            MeasureRow("Body length, caliper", "mm", "355", "355"), MeasureRow("Body length, over the arch", "mm", "357", ""),
            MeasureRow("Upper bout", "mm", "168", "167–169", "model"), MeasureRow("Middle bout", "mm", "112", "111.5"),
            MeasureRow("Rib height, upper corner", "mm", "30.0–30.2", "30"), MeasureRow("Arch height, top", "mm", "15.6", "14–15.5", "trade", "above", "edge included"),
            MeasureRow("Rib thickness", "mm", "1.05–1.15", "1.1"),
        ),
        (Fact("Model", "Harrow I"), Fact("Trade", "common practice, no source")),
    ),),
    outfit=(Fact("Chinrest", "boxwood, side"), Fact("Case", "oblong, green lining")),
    photos=(
        PhotoView("ZVSPYJH/seam.jpg", "ZVSPYJH/seam-small.jpg", 900, 700, 450, 350, "damage", "Lower treble bout, the seam open by the width of a card", "lower bout treble", "6 August 2024"),
        PhotoView("ZVSPYJH/front.jpg", "ZVSPYJH/front-small.jpg", 1000, 1500, 500, 750, "front", "The violin from the front", "", "19 November 2021"),
        PhotoView("ZVSPYJH/back.jpg", "ZVSPYJH/back-small.jpg", 1000, 1500, 500, 750, "back", "The violin from the back, one piece of maple", "", "19 November 2021"),
    ),
    shop_facts=(), data_path="ZVSPYJH/record.json", changed="2024-08-19",
)  # fmt: skip

CELLO = replace(
    VIOLIN, id="NHPM4NB", path="NHPM4NB/", title="Cello 3/4", kind="cello", size="¾", serial="TP 91",
    model=None, made="2022", label_text="", setup=SetupView(replace(REFERENCE, heard=""), None, tuple(
        replace(row, now="", moved="") for row in (
            SetupRow("String length", "mm", "655", "", ""), SetupRow("Projection", "mm", "72", "", ""),
            SetupRow("String height C", "mm", "8.0", "", ""), SetupRow("String height A", "mm", "5.5", "", ""),
            SetupRow("Bridge height", "mm", "", "", ""),
        )
    ), (SetupGroup("Strings", (SetupRow("String length", "mm", "655", "", ""), SetupRow("Projection", "mm", "72", "", ""))),)),
    history=(), plates=(), parts=(), varnish=(), measurements=(), outfit=(), photos=(),
    data_path="NHPM4NB/record.json", changed="2022-04-02",
)  # fmt: skip

UNLISTED = replace(
    VIOLIN, id="98RHKVD", path="98RHKVD-Q7WK2M9XTB4RZ5HNC/", listed=False, serial="UNLISTED-SERIAL-77", title="Viola 405 mm",
    kind="viola", size="405 mm", data_path="98RHKVD-Q7WK2M9XTB4RZ5HNC/record.json", photos=(), setup=None,
)  # fmt: skip

WITHDRAWN = replace(
    VIOLIN, id="9P6WYJN", path="9P6WYJN/", title="Violin 1/2", size="½", serial="TP 12", photos=(), made="2015", plates=(),
    banner="Withdrawn", banner_detail="Broken up on 3 March 2023; the scroll and the pegs live on in TP 91.",
    data_path="9P6WYJN/record.json",
)  # fmt: skip


def line(view: InstrumentView, year: str, use: str = "") -> InstrumentLine:
    return InstrumentLine(
        id=view.id, path=view.path, kind=view.kind, size=view.size, title=view.title,
        model=view.model.text if view.model else "", year=year, serial=view.serial,
        status=view.banner.lower(), use=use,
    )  # fmt: skip


SPRUCE = SupplyView(
    audience="public", section="wood", id="SP09B", path="wood/SP09B/", title="SP09B", subtitle="Spruce, Picea abies", drawing="",
    facts=(Fact("Origin", "north slope above Harrowmere, 1 180 m"), Fact("Felled", "winter 2009"), Fact("Cut", "quarter")),
    tables=(TableView("Readings", ("date", "wedge", "moisture, %", "density, kg/m³"), (("March 2012", "4", "9.1", "392"), ("January 2020", "4", "8.4", "390"))),),
    instruments=(line(VIOLIN, "2021", "top, wedge 4; bass bar, wedge 7"), line(WITHDRAWN, "2015", "top, wedge 2")),
    shop_facts=(), cautions=(), changed="2021-02-01",
)  # fmt: skip
VARNISH = replace(
    SPRUCE, section="varnish", id="OV20-3", path="varnish/OV20-3/", title="OV20-3", subtitle="Oil varnish, brown",
    facts=(Fact("Base", "linseed oil, colophony"), Fact("Cooked", "12 March 2020"), Fact("Dries", "30 h under tubes")), tables=(),
    cautions=("Rags with drying oil heat themselves and catch fire: spread them flat outside, or drown them in water.",),
    instruments=(line(VIOLIN, "2021", "coats 1 and 2"),),
)  # fmt: skip
GROUND = replace(VARNISH, id="GR21-1", path="varnish/GR21-1/", title="GR21-1", subtitle="Ground", cautions=())
MAPLE = replace(SPRUCE, id="MA11A", path="wood/MA11A/", title="MA11A", subtitle="Maple, Acer pseudoplatanus", tables=())
MODEL = replace(
    SPRUCE, section="models", id="harrow-1", path="models/harrow-1/", title="Harrow I", subtitle="Violin 4/4", drawing=DRAWING,
    facts=(Fact("Body length", "355 mm"), Fact("Stop", "195 mm")), tables=(),
)  # fmt: skip

SHOP_VIOLIN = replace(
    VIOLIN, audience="shop", history=HISTORY, shop_facts=(Fact("Owner", "see the book, page 41"), Fact("Agreed price", "9 400")),
    findings=(
        FindingView("S301", "warning", "setups, S1, afterlength", "The afterlength of the E is 49.5 mm; a sixth of 328 mm is 54.7 mm.", "Accepted as written: adjuster on the E."),
        FindingView("C104", "note", "photos", "There is no picture of the scroll.", "Add one with view: scroll."),
    ),
    missing=MissingView(
        (Fact("A buyer", "93 %, 14 of 15 things"),),
        (MissingThing("A picture of the scroll", "take one and list it under photos:", "for a buyer"),),
    ),
)  # fmt: skip


def entry(view: InstrumentView, year: str) -> CatalogueEntry:
    return CatalogueEntry(
        **vars(line(view, year)), first_year=int(year), last_year=int(year), hands=("Ilse Tamm", "Jory Penn"),
        lots=("SP09B", "MA11A"), batches=("GR21-1", "OV20-3"),
    )  # fmt: skip


def card(view: InstrumentView) -> Card:
    what = (view.model.text if view.model else "", view.maker_line, view.made, view.banner)
    woods = [
        ", ".join(filter(None, found))
        for found in ([part.wood for part in view.parts], [part.lot.text for part in view.parts if part.lot])
    ]
    words = ". ".join(filter(None, [", ".join(filter(None, what)), *woods]))
    return Card(entry(view, view.made[-4:]), view.listed, view.changed, words, "", (), (), None)


def _catalogue() -> tuple[CatalogueGroup, ...]:
    more = [
        CatalogueEntry(
            number, f"{number}/", "violin", size, f"Violin {size}", model, year, serial, "",
            first_year=int(year), last_year=int(year), hands=("Jory Penn",), lots=("MA11A",),
        )
        for number, size, model, year, serial in (
            ("2YVHAKY", "4/4", "Harrow I", "2022", "TP 90"), ("9MK6DY9", "4/4", "Harrow II", "2023", "TP 94"),
            ("ES2QT4S", "4/4", "Harrow II", "2024", "TP 101"), ("T2VWAHU", "¾", "", "2019", "TP 71"),
            ("NSYXER8", "⅛", "", "2020", ""),
        )
    ]  # fmt: skip
    return (
        CatalogueGroup("Violins", (entry(VIOLIN, "2021"), *more[:4], entry(WITHDRAWN, "2015"), more[4])),
        CatalogueGroup("Cellos", (entry(CELLO, "2022"),)),
        CatalogueGroup("Basses", ()),
    )


OTHERS = tuple(
    replace(
        CELLO,
        id=entry.id,
        path=entry.path,
        title=entry.title,
        kind=entry.kind,
        size=entry.size,
        serial=entry.serial,
        data_path=f"{entry.path}record.json",
    )
    for entry in _catalogue()[0].instruments
    if entry.id not in (VIOLIN.id, WITHDRAWN.id)
)

LENGTHS = AcrossView(
    path="side-by-side/violin-4-4-strings/", title="Violins 4/4: strings", lead="1 of 6 instruments, by year",
    choices=(Link("by year", "side-by-side/violin-4-4-strings/"), Link("model not recorded")), chosen="by year",
    leaves=(Link("2015 – 2024", "side-by-side/violin-4-4-strings/"),),
    charts=(ChartView("String length", DRAWING, ChartTable("String length, mm", ("Year", "Instrument", "mm", "Window"), (
        ChartGroup(Link("2021", "catalogue/?year=2021"), (
            ChartRow(Link("ZVSPYJH", "ZVSPYJH/"), "", (Link("328"), Link("327–329 model"))),
            ChartRow(Link("NHPM4NB", "NHPM4NB/"), "G string", (Link("330.5", "NHPM4NB/"), Link("–"))),
        )),
    )), ("Measured with a tape.",)),),
    notes=("Each number is that of the reference set-up.",), sources=(Fact("Trade", "a page on string lengths"),),
)  # fmt: skip
BESIDE = (
    AcrossGroup("Violins 4/4", (Link("Strings", LENGTHS.path),), "Recorded of fewer than 2: tap tones."),
    AcrossGroup("On their own", (Link("Cello 3/4", "NHPM4NB/"),), "There is only one."),
)

INSTRUMENTS = (VIOLIN, CELLO, UNLISTED, WITHDRAWN, *OTHERS)
PUBLIC = SiteView(
    audience="public", workshop=WORKSHOP, instruments={view.id: view for view in INSTRUMENTS}, cards=tuple(map(card, INSTRUMENTS)),
    supplies=(SPRUCE, MAPLE, VARNISH, GROUND, MODEL), catalogue=_catalogue(),
    wood=(
        SupplyLine("SP09B", "wood/SP09B/", "Spruce, Picea abies", "felled winter 2009, quarter", 2),
        SupplyLine("MA11A", "wood/MA11A/", "Maple, Acer pseudoplatanus", "felled winter 2011", 0),
    ),
    varnish=(SupplyLine("OV20-3", "varnish/OV20-3/", "Oil varnish, brown", "", 1), SupplyLine("GR21-1", "varnish/GR21-1/", "Ground", "", 1)),
    models=(SupplyLine("harrow-1", "models/harrow-1/", "Harrow I", "violin 4/4", 2),),
    side_by_side=BESIDE, across={LENGTHS.path: LENGTHS}, across_from={LENGTHS.path: "a"},
)  # fmt: skip
WORK_LISTS = (
    WorkList("Next check due", "The longest overdue first.", (
        WorkGroup("", (InstrumentLine("ZVSPYJH", "ZVSPYJH/", "violin", "4/4", "Violin 4/4", "Harrow I", "2021", "TP 88", "", "February 2025, 20 months overdue"),), 3, "No check is due."),
    )),
    WorkList("Incomplete", "The least complete first.", (WorkGroup("For a buyer", (), 0, "Nothing is missing."),)),
)  # fmt: skip
UNREAD = FoundIn(
    "records/instruments/PB8ANDH.yml",
    "PB8ANDH/",
    (FindingView("broken-yaml", "error", "line 4", "The notation breaks off here.", ""),),
)
SHOP = replace(
    PUBLIC, audience="shop", instruments={**PUBLIC.instruments, VIOLIN.id: SHOP_VIOLIN}, work_lists=WORK_LISTS,
    supplies=(replace(SPRUCE, calls=(Call("Perpetua", "the mill house", (Link("ZVSPYJH, owner", "ZVSPYJH/"),)), Call("not recorded", "", (Link("9P6WYJN", "9P6WYJN/"),)))), *PUBLIC.supplies[1:]),
    is_draft=True, found=(FoundIn("records/instruments/ZVSPYJH.yml", VIOLIN.path, SHOP_VIOLIN.findings), UNREAD), unread=(UNREAD,),
)  # fmt: skip
