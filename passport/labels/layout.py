"""Where everything stands on a label, in millimetres from its upper corner; PNG and PDF both follow it.

Pure arithmetic on words and sizes; draws nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from passport.errors import PassportError
from passport.labels import column
from passport.labels import words as say
from passport.labels.code import MM_PER_INCH, Code, module_dots
from passport.labels.column import Bar, Column, Line, Text
from passport.stocks import LEAST_MODULE_MM, QUIET_MODULES, Stock, larger_stocks
from passport.views.label import CaseLabel

BESIDE_QUIET_MM = 0.4  # of our own choosing


@dataclass(frozen=True)
class PlacedCode:
    """A code and the corner of its first module, quiet zone not counted."""

    code: Code
    x_mm: float
    y_mm: float
    module_mm: float

    @property
    def side_mm(self) -> float:
        """From the first module to the end of the last."""
        return self.code.across * self.module_mm

    @property
    def quiet_mm(self) -> float:
        """The white that the code needs on every side."""
        return QUIET_MODULES * self.module_mm


@dataclass(frozen=True)
class Ring:
    """A thin circle round the place of a hole."""

    x_mm: float
    y_mm: float
    diameter_mm: float


@dataclass(frozen=True)
class Layout:
    """A whole label, or any other part of a page."""

    width_mm: float
    height_mm: float
    code: PlacedCode | None
    lines: tuple[Line, ...]
    bars: tuple[Bar, ...]
    rings: tuple[Ring, ...] = ()


def lay_out(label: CaseLabel, stock: Stock, code: Code, dpi: int, *, proof: bool) -> Layout:
    """The layout of a case label; the code's modules are whole dots at `dpi`.

    The code is as large as it may be; it gives way down to its least size before a word is cut or refused.
    """
    text = case_text(label, proof=proof)
    sizes_mm = module_sizes_mm(code, stock.code_space_mm, dpi)
    field = ""
    for cutting in (False, True):
        for module_mm in sizes_mm:
            try:
                return _laid_out(text, stock, code, module_mm, cutting=cutting)
            except column.TooLongError as fault:
                field = fault.field
    raise too_long(field, stock)


def case_text(label: CaseLabel, *, proof: bool) -> Text:
    """What it is, the check line, and who made the label."""
    return head(label), foot_of_check(proof=proof), tuple((piece,) for piece in say.imprint(label))


def head(label: CaseLabel) -> tuple[tuple[say.Words, ...], ...]:
    """The number, and below it kind and serial number."""
    serial = say.serial(label)
    return (say.identity(label),), (say.description(label), *((serial,) if serial else ()))


def foot_of_check(*, proof: bool) -> tuple[tuple[say.Words, ...], ...]:
    """The check line, or what stands in its place on a proof."""
    return ((say.proof_line() if proof else say.check_line(),),)


def module_sizes_mm(code: Code, space_mm: float, dpi: int) -> tuple[float, ...]:
    """Whole dots from the most that fit down to the least that may be."""
    most = module_dots(code.across, space_mm, dpi)
    sizes_mm = (dots * MM_PER_INCH / dpi for dots in range(most, 0, -1))
    return tuple(size_mm for size_mm in sizes_mm if size_mm >= LEAST_MODULE_MM)


def _laid_out(text: Text, stock: Stock, code: Code, module_mm: float, *, cutting: bool) -> Layout:
    side_mm, quiet_mm = code.across * module_mm, QUIET_MODULES * module_mm
    x_mm = max(stock.inset_x_mm, quiet_mm)
    placed = PlacedCode(code, x_mm, (stock.height_mm - side_mm) / 2, module_mm)
    room = beside(placed, stock.width_mm - stock.inset_x_mm, stock.inset_y_mm, stock.height_mm - stock.inset_y_mm)
    lines, bars = column.fill(text, room, cutting=cutting)
    return Layout(stock.width_mm, stock.height_mm, placed, lines, bars)


def beside(placed: PlacedCode, far_edge_mm: float, top_mm: float, bottom_mm: float) -> Column:
    """The column for words between a code's quiet zone and the far edge."""
    x_mm = placed.x_mm + placed.side_mm + placed.quiet_mm + BESIDE_QUIET_MM
    return Column(x_mm, top_mm, far_edge_mm - x_mm, bottom_mm - top_mm)


def too_long(field: str, stock: Stock) -> PassportError:
    """The refusal of words that do not fit."""
    larger = larger_stocks(stock)
    other = f", or print on a larger label: {', '.join(larger)}" if larger else ""
    return PassportError(f"The {field} is too long for a {stock.name} label.", f"Shorten it{other}.")
