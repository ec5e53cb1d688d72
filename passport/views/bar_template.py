"""Where the bass bar lies, in words, drawings and a table of distances.

For the shop alone. The sums are done in `analysis.template`; here they are worded.
"""

from __future__ import annotations

from passport.analysis.latest import knowledge_of
from passport.analysis.plates import curves_of
from passport.analysis.template import BarLine, bar_line
from passport.errors import PassportError
from passport.figures.bar_template import TICK_EVERY_MM, BarLines, bar_overview, bar_pieces, bar_whole
from passport.records.catalogue import Archive
from passport.reference.cautions import CAUTIONS, DEFERENCE
from passport.reference.measures import CUSTOM
from passport.views.numbers import figure, tenths
from passport.views.template import KNIVES, drawing, heading, shop_desk, used_rows, worked_out
from passport.views.tree import TemplateView, Worked, WorkedTable

LAYING = (
    "Looked at from the inside, neck end up: lay the strong line on the joint and “line of the bridge” on the line "
    "through the inner nicks. The bar lies on the bass side. Lay the pieces together on lines of one name."
)
FALLING = (
    "Height at the bridge and spring stand in the table where they are recorded; how the bar falls from there to its "
    "ends is left to the maker."
)
SEVENTHS = (
    "Slant by the bouts: the widths of upper and lower bout are divided by seven, the first marks from the joint "
    "(a fourteenth of the width away) joined. A rule for violins; for the others common practice, no source."
)


def bar_template(archive: Archive, stem: str) -> TemplateView:
    """Give the line of the bass bar; PassportError where it cannot be told."""
    desk = shop_desk(archive)
    known = knowledge_of(desk.archive, stem)
    curves = curves_of(desk.archive, known.record.model)
    if not curves:
        todo = "draw one into the model's file, and name the model in the record"
        raise PassportError(f"the bass bar of {stem} cannot be drawn: there is no outline of its model", todo)
    line = worked_out("bass bar", stem, lambda: bar_line(known, curves))
    title, lines = f"Bass bar of {stem}", _bar_lines(line)
    small = bar_overview(f"{title}, small, not to scale", lines, curves, line.body_length_mm, line.stop_mm)
    return TemplateView(
        id=stem,
        title=title,
        lines=heading(desk, stem),
        pieces=tuple(map(drawing, bar_pieces(title, lines))),
        whole=(drawing(bar_whole(title, lines)),),
        overview=(drawing(small),),
        used=(*used_rows(line.used), *_bar_sums(line)),
        tables=(_bar_table(line),),
        notes=(LAYING, SEVENTHS, FALLING),
        cautions=(KNIVES, CAUTIONS["dust"], DEFERENCE),
    )


def _bar_lines(line: BarLine) -> BarLines:
    inner, _, outer = line.edges_mm(0)
    return BarLines(line.centre_mm, line.slope, (outer - inner) / 2, line.lower_end_mm, line.upper_end_mm)


def _bar_sums(line: BarLine) -> tuple[Worked, ...]:
    inner = line.edges_mm(0)[0]
    ends = "(body length − length of the bar)/2 from either end of the body"
    return (
        Worked("Middle of the bar from the joint, at the bridge", tenths(line.centre_mm), "mm", "worked out",
               "foot span/2 − inside the foot’s edge − thickness/2"),
        Worked("Nearer to the joint, for each 100 mm toward the neck", figure(100 * line.slope, 2), "mm", "worked out",
               "100 (lower bout − upper bout)/14/(distance of their widest places)",
               f"widest places {tenths(line.lower_bout_at_mm)} and {tenths(line.upper_bout_at_mm)} mm from the line "
               "of the bridge, out of the model’s outline", CUSTOM),
        Worked("Inner edge at the bridge by the bouts alone", tenths(line.by_sevenths_mm), "mm", "worked out",
               f"beside {tenths(inner)} by the foot, which is drawn", source=CUSTOM),
        Worked("Ends from the line of the bridge", f"{tenths(line.lower_end_mm)} and {tenths(line.upper_end_mm)}",
               "mm", "worked out", ends, source=CUSTOM),
    )  # fmt: skip


def _bar_table(line: BarLine) -> WorkedTable:
    first, last = int(line.lower_end_mm // TICK_EVERY_MM) + 1, int(line.upper_end_mm // TICK_EVERY_MM)
    heights = [line.lower_end_mm, *(TICK_EVERY_MM * index for index in range(first, last + 1)), line.upper_end_mm]
    return WorkedTable(
        caption="Distances from the joint, mm; from the line of the bridge toward the neck plus",
        columns=("From the bridge", "Inner edge", "Middle", "Outer edge"),
        rows=tuple((tenths(height), *map(tenths, line.edges_mm(height))) for height in heights),
        rule="middle = middle at the bridge − slant × distance from the line of the bridge.",
        source="geometry",
    )
