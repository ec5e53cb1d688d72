"""The kinds of label: what each is for, the stock it is made on unless told otherwise, and how it is laid out.

Arranges what `words`, `column` and `layout` give; draws nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Protocol

from passport.labels import column
from passport.labels import words as say
from passport.labels.code import Code, encode
from passport.labels.column import MM_PER_PT, Bar, Column, Line
from passport.labels.faces import width_em
from passport.labels.layout import (
    Layout,
    PlacedCode,
    Ring,
    beside,
    foot_of_check,
    head,
    lay_out,
    module_sizes_mm,
    too_long,
)
from passport.stocks import Stock
from passport.views.label import CaseLabel

# Distances of our own choosing.
LARGEST_INSIDE_PT = 17.0
HOLE_MM, HOLE_FROM_EDGE_MM = 5.0, 9.0
HOLE_STRIP_MM = HOLE_FROM_EDGE_MM + HOLE_MM / 2 + 2.0
HOLE_CROSS_MM, THIN_MM = 2.0, 0.15
CARD_INSET_MM = 7.0
CARD_CODE_MM = 36.0  # enough for an arm's length, and not the first thing one sees
CARD_BETWEEN_MM = 6.0


class LaysOut(Protocol):
    """Makes the layout of one label."""

    def __call__(self, label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:
        """Give the layout; PassportError where it does not fit."""
        ...


@dataclass(frozen=True)
class Kind:
    """A kind of label; `roll` is empty where it is never printed on a roll, `note` is said when it was made."""

    name: str
    lay_out: LaysOut
    sheet: str
    roll: str = ""
    has_code: bool = True
    note: str = ""


def _case(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:
    """A case label: what belongs into this case."""
    return lay_out(label, stock, encode(label.address), dpi, proof=proof)


def _hang_tag(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:
    """A case label beside the place for a hole; the back is left for the pen."""
    printed = replace(stock, width_mm=stock.width_mm - HOLE_STRIP_MM)
    made = _moved(_case(label, printed, dpi, proof=proof), HOLE_STRIP_MM, stock.width_mm)
    x_mm, y_mm = HOLE_FROM_EDGE_MM, stock.height_mm / 2
    half_mm, thin_mm = HOLE_CROSS_MM / 2, THIN_MM / 2
    cross = (
        Bar(x_mm - half_mm, y_mm - thin_mm, HOLE_CROSS_MM, THIN_MM),
        Bar(x_mm - thin_mm, y_mm - half_mm, THIN_MM, HOLE_CROSS_MM),
    )
    return replace(made, bars=(*made.bars, *cross), rings=(Ring(x_mm, y_mm, HOLE_MM),))


def _moved(layout: Layout, by_mm: float, width_mm: float) -> Layout:
    return replace(
        layout,
        width_mm=width_mm,
        code=replace(layout.code, x_mm=layout.code.x_mm + by_mm) if layout.code else None,
        lines=tuple(replace(line, x_mm=line.x_mm + by_mm) for line in layout.lines),
        bars=tuple(replace(bar, x_mm=bar.x_mm + by_mm) for bar in layout.bars),
    )


def _inside(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:  # noqa: ARG001 - as the other kinds
    """The number alone, in the middle: a code of the least size takes 17 mm, and a mirror turns it about."""
    piece = say.identity(label)
    width_mm, height_mm = stock.width_mm - 2 * stock.inset_x_mm, stock.height_mm - 2 * stock.inset_y_mm
    wide_em = width_em(piece.text, piece.face, piece.tracking_em)
    size_pt = min(LARGEST_INSIDE_PT, width_mm / wide_em / MM_PER_PT, height_mm / MM_PER_PT)
    if size_pt < piece.least_pt:
        raise too_long(piece.field, stock)
    x_mm = (stock.width_mm - wide_em * size_pt * MM_PER_PT) / 2
    baseline_mm = (stock.height_mm + column.CAPITALS_EM * size_pt * MM_PER_PT) / 2
    line = Line(piece.text, piece.face, size_pt, piece.tracking_em, x_mm, baseline_mm)
    return Layout(stock.width_mm, stock.height_mm, None, (line,), ())


def _card(label: CaseLabel, stock: Stock, dpi: int, *, proof: bool) -> Layout:
    """The reference set-up as a table, and below it the code with the words of a case label."""
    code = encode(label.address)
    space_mm = min(CARD_CODE_MM, stock.code_space_mm)
    try:
        return _card_with(label, stock, code, module_sizes_mm(code, space_mm, dpi)[0], proof=proof)
    except column.TooLongError as fault:
        raise too_long(fault.field, stock) from fault


def _card_with(label: CaseLabel, stock: Stock, code: Code, module_mm: float, *, proof: bool) -> Layout:
    side_mm = code.across * module_mm
    placed = PlacedCode(code, CARD_INSET_MM, stock.height_mm - CARD_INSET_MM - side_mm, module_mm)
    inner_mm = stock.width_mm - 2 * CARD_INSET_MM
    above_mm = placed.y_mm - max(placed.quiet_mm, CARD_BETWEEN_MM)
    upper = Column(CARD_INSET_MM, CARD_INSET_MM, inner_mm, above_mm - CARD_INSET_MM)
    lower = beside(placed, CARD_INSET_MM + inner_mm, placed.y_mm, placed.y_mm + side_mm)
    imprint = tuple((piece,) for piece in (*say.imprint(label), *say.signed_with(label)))
    lines, bars = column.fill((head(label), *((row,) for row in say.setup(label))), upper, cutting=False)
    more_lines, more_bars = column.fill((foot_of_check(proof=proof), imprint), lower, cutting=True)
    return Layout(stock.width_mm, stock.height_mm, placed, lines + more_lines, bars + more_bars)


INSIDE_NOTE = (
    "Print the numbers for the inside on archival paper, and glue them to bare wood with the glue you use for labels, "
    "one that water opens again; nothing that sticks by itself belongs inside or on varnish."
)
KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("case", _case, sheet="70x36", roll="60x30"),
        Kind("inside", _inside, sheet="30x12", has_code=False, note=INSIDE_NOTE),
        Kind("hang-tag", _hang_tag, sheet="100x60", roll="100x50"),
        Kind("card", _card, sheet="100x140"),
    )
}
