"""The label stocks that can be printed on, named by their plain size in millimetres.

A table and its look-up; draws nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from passport.errors import PassportError

Paper = Literal["a4", "letter"]

# ISO 216 (A4) and ANSI/ASME Y14.1 (Letter, 8.5 x 11 in).
PAPER_MM: dict[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@dataclass(frozen=True)
class Sheet:
    """Where the labels lie on a sheet; the pitch is from one label's edge to the next one's."""

    paper: Paper
    columns: int
    rows: int
    margin_left_mm: float
    margin_top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float

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
    """One kind of label; a roll has no sheet."""

    name: str
    width_mm: float
    height_mm: float
    sheet: Sheet | None

    @property
    def inset_x_mm(self) -> float:
        """White kept at the sides; office printers leave 4 mm of it bare (common practice, no source)."""
        return 4.0 if self.sheet else 2.0

    @property
    def inset_y_mm(self) -> float:
        """White kept above and below; few feeds are truer than a millimetre (common practice, no source)."""
        return 1.6


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
)
ROLL_STOCK = "60x30"
SHEET_STOCK = "70x36"


def find_stock(name: str) -> Stock:
    """The stock of that name."""
    for stock in STOCKS:
        if stock.name == name:
            return stock
    names = ", ".join(stock.name for stock in STOCKS)
    raise PassportError(f"There is no label stock “{name}”.", f"Choose one of: {names}.")


def larger_stocks(stock: Stock) -> tuple[str, ...]:
    """Name the stocks of the same sort, roll or sheet, that are larger and in neither way smaller."""
    return tuple(
        other.name
        for other in STOCKS
        if other != stock
        and (other.sheet is None) == (stock.sheet is None)
        and other.width_mm >= stock.width_mm
        and other.height_mm >= stock.height_mm
    )
