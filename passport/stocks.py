"""Label stocks, sheets of paper and printers as plain measures: where a label lies, and what cannot be.

Arithmetic on millimetres; knows nothing of records, of words on labels, or of how anything is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

from passport.errors import PassportError
from passport.near import nearest

Paper = Literal["a4", "letter"]
PAPERS: tuple[Paper, ...] = get_args(Paper)
# ISO 216 (A4) and ANSI/ASME Y14.1 (Letter, 8.5 x 11 in).
PAPER_MM: dict[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}

# What label printers have (common practice, no source).
PRINTER_DPI = (203, 300, 600)

# What a phone reads from a label that has been in a case for years (common practice, no source).
LEAST_MODULE_MM = 0.5
# ISO/IEC 18004: the light margin of 4 modules, and version 2 of 25 modules; no address at level Q is shorter.
QUIET_MODULES = 4
LEAST_CODE_MM = (25 + 2 * QUIET_MODULES) * LEAST_MODULE_MM
# Shares and distances of our own choosing.
CODE_SHARE = 0.45  # of a label's width, quiet zone included
FEED_MM = 1.0  # what a roll may run out of true, kept free above and below the code
# What office printers leave bare at the paper's edge, and what few feeds are truer than (common practice, no source).
BARE_EDGE_MM = 4.0
LEAST_INSET_X_MM, LEAST_INSET_Y_MM = 2.0, 1.6
# What a knife may be out by, and still leave words their white.
CUT_INSET_MM = 3.0

# Beyond these a measure is a slip of the pen.
SHORTEST_MM, LONGEST_MM = 5.0, 300.0
LEAST_SCALE, MOST_SCALE = 90.0, 110.0
MOST_OFFSET_MM = 20.0
# Sizes in inches are written to a hundredth of a millimetre, and add up over a row.
ROUNDING_MM = 0.05


@dataclass(frozen=True)
class Sheet:
    """Where the labels lie on a sheet; the pitch is from one label's edge to the next one's.

    `cut` is plain paper or card, cut apart after printing; other sheets come cut.
    """

    paper: Paper
    columns: int
    rows: int
    margin_left_mm: float
    margin_top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float
    cut: bool = False

    @property
    def cells(self) -> int:
        """How many labels one sheet holds."""
        return self.columns * self.rows

    def corner_mm(self, cell: int) -> tuple[float, float]:
        """Upper corner, from the sheet's own, of a cell counted along the rows from 0."""
        row, column = divmod(cell, self.columns)
        return self.margin_left_mm + column * self.pitch_x_mm, self.margin_top_mm + row * self.pitch_y_mm


@dataclass(frozen=True)
class Stock:
    """One size of label; a roll has no sheet."""

    name: str
    width_mm: float
    height_mm: float
    sheet: Sheet | None

    @property
    def far_corner_mm(self) -> tuple[float, float]:
        """The far corner of the last cell of a sheet, or of the label."""
        x_mm, y_mm = self.sheet.corner_mm(self.sheet.cells - 1) if self.sheet else (0.0, 0.0)
        return x_mm + self.width_mm, y_mm + self.height_mm

    @property
    def inset_x_mm(self) -> float:
        """White kept at the sides of a label."""
        if self.sheet is None:
            return LEAST_INSET_X_MM
        beyond_mm = PAPER_MM[self.sheet.paper][0] - self.far_corner_mm[0]
        least_mm = CUT_INSET_MM if self.sheet.cut else LEAST_INSET_X_MM
        return max(least_mm, BARE_EDGE_MM - min(self.sheet.margin_left_mm, beyond_mm))

    @property
    def inset_y_mm(self) -> float:
        """White kept above and below."""
        if self.sheet is None:
            return LEAST_INSET_Y_MM
        beyond_mm = PAPER_MM[self.sheet.paper][1] - self.far_corner_mm[1]
        least_mm = CUT_INSET_MM if self.sheet.cut else LEAST_INSET_Y_MM
        return max(least_mm, BARE_EDGE_MM - min(self.sheet.margin_top_mm, beyond_mm))

    @property
    def code_space_mm(self) -> float:
        """The square that a code and its quiet zone may take."""
        return min(self.height_mm - 2 * FEED_MM, self.width_mm * CODE_SHARE)


@dataclass(frozen=True)
class Printer:
    """How a printer draws: its dots, and what undoes its shift and stretch; `stock` is what lies in it."""

    dpi: int = 300
    offset_x_mm: float = 0.0
    offset_y_mm: float = 0.0
    scale: float = 1.0
    stock: str = ""

    def on_file_mm(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Where a place on the paper has to stand in the file, so that the printer puts it there."""
        return self.offset_x_mm + x_mm * self.scale, self.offset_y_mm + y_mm * self.scale


TRUE_PRINTER = Printer()


class Misfit(NamedTuple):
    """Why a stock cannot be: the field it shows in, what is, and what to do."""

    field: tuple[str, ...]
    what: str
    todo: str


# Layouts in common use, from memory; those given in inches are worked out to a hundredth of a millimetre.
STOCKS = (
    Stock("60x30", 60.0, 30.0, None),
    Stock("70x40", 70.0, 40.0, None),
    Stock("100x50", 100.0, 50.0, None),
    Stock("70x36", 70.0, 36.0, Sheet("a4", 3, 8, 0.0, 4.5, 70.0, 36.0)),
    Stock("63.5x38.1", 63.5, 38.1, Sheet("a4", 3, 7, 7.25, 15.15, 66.0, 38.1)),
    Stock("99.1x57", 99.1, 57.0, Sheet("a4", 2, 5, 4.65, 6.0, 101.6, 57.0)),
    Stock("66.7x25.4", 66.68, 25.4, Sheet("letter", 3, 10, 4.76, 12.7, 69.85, 25.4)),
    Stock("101.6x50.8", 101.6, 50.8, Sheet("letter", 2, 5, 3.97, 12.7, 106.36, 50.8)),
    # Plain paper and card to be cut apart; divided by us.
    Stock("30x12", 30.0, 12.0, Sheet("a4", 6, 22, 15.0, 16.5, 30.0, 12.0, cut=True)),
    Stock("100x60", 100.0, 60.0, Sheet("a4", 2, 4, 5.0, 28.5, 100.0, 60.0, cut=True)),
    Stock("100x140", 100.0, 140.0, Sheet("a4", 2, 2, 5.0, 8.5, 100.0, 140.0, cut=True)),
    Stock("31.8x12.7", 31.75, 12.7, Sheet("letter", 6, 20, 12.7, 12.7, 31.75, 12.7, cut=True)),
    Stock("101.6x63.5", 101.6, 63.5, Sheet("letter", 2, 4, 6.35, 12.7, 101.6, 63.5, cut=True)),
    Stock("101.6x133.4", 101.6, 133.35, Sheet("letter", 2, 2, 6.35, 6.35, 101.6, 133.35, cut=True)),
)


def find_stock(name: str, stocks: Iterable[Stock] = STOCKS) -> Stock:
    """The stock of that name; PassportError where there is none, or where it cannot be printed on."""
    known = {stock.name: stock for stock in stocks}
    if name not in known:
        raise PassportError(f"There is no label stock “{name}”.", f"Choose one of: {', '.join(known)}.")
    misfit = next(misfits(known[name]), None)
    if misfit:
        raise PassportError(f"The label stock {name} cannot be: {misfit.what}.", f"In workshop.yml, {misfit.todo}.")
    return known[name]


def larger_stocks(stock: Stock, stocks: Iterable[Stock] = STOCKS) -> tuple[str, ...]:
    """Name the stocks of the same sort, roll or sheet, that are larger and in neither way smaller."""
    return tuple(
        other.name
        for other in stocks
        if other != stock
        and (other.sheet is None) == (stock.sheet is None)
        and other.width_mm >= stock.width_mm
        and other.height_mm >= stock.height_mm
    )


def find_printer(name: str, printers: dict[str, Printer]) -> Printer:
    """The printer of that name; PassportError where there is none."""
    if name not in printers:
        todo = nearest(name, printers, "write it under printers: in workshop.yml")
        raise PassportError(f"There is no printer “{name}”.", todo)
    return printers[name]


def misfits(stock: Stock) -> Iterator[Misfit]:
    """Everything about a stock that cannot be; of a chain of such things the first, since the rest follows."""
    sides = (("width", stock.width_mm), ("height", stock.height_mm))
    wrong = [(field, side_mm) for field, side_mm in sides if not SHORTEST_MM <= side_mm <= LONGEST_MM]
    for field, side_mm in wrong:
        todo = f"write a {field} from {SHORTEST_MM:g} to {LONGEST_MM:g} mm"
        yield Misfit((field,), f"a label with a {field} of {side_mm:g} mm cannot be printed", todo)
    if stock.sheet and not wrong:
        yield from _sheet_misfits(stock, stock.sheet)


def _sheet_misfits(stock: Stock, sheet: Sheet) -> Iterator[Misfit]:
    width_mm, height_mm = PAPER_MM[sheet.paper]
    ways = (
        ("columns", sheet.columns, "margin_left", sheet.margin_left_mm, "pitch_x", sheet.pitch_x_mm, stock.width_mm,
         width_mm),
        ("rows", sheet.rows, "margin_top", sheet.margin_top_mm, "pitch_y", sheet.pitch_y_mm, stock.height_mm,
         height_mm),
    )  # fmt: skip
    for counted, count, margin, margin_mm, pitch, pitch_mm, side_mm, paper_mm in ways:
        reach_mm = margin_mm + (count - 1) * pitch_mm + side_mm
        if count < 1:
            yield Misfit(("sheet", counted), f"a sheet has one of {counted} at least", f"count its {counted}")
        elif margin_mm < 0:
            todo = f"write {margin}: 0 where the labels begin at the edge"
            yield Misfit(("sheet", margin), f"a margin of {margin_mm:g} mm lies off the paper", todo)
        elif count > 1 and pitch_mm < side_mm - ROUNDING_MM:
            what = f"the labels overlap: each takes {side_mm:g} mm, and the next begins after {pitch_mm:g} mm"
            todo = "measure the pitch from one label's edge to the same edge of the next"
            yield Misfit(("sheet", pitch), what, todo)
        elif reach_mm > paper_mm + ROUNDING_MM:
            what = f"its {count} {counted} reach to {reach_mm:g} mm, and the paper ends at {paper_mm:g} mm"
            yield Misfit(("sheet", counted), what, f"mend the {counted}, {margin} or {pitch}")


def has_room_for_code(stock: Stock) -> bool:
    """Tell whether the smallest code that can hold an address fits with squares that wear well."""
    return stock.code_space_mm >= LEAST_CODE_MM
