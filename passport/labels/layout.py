"""Where everything stands on a label, in millimetres from its upper corner; PNG and PDF both follow it.

Pure arithmetic on words and sizes; draws nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from passport.errors import PassportError
from passport.labels import column
from passport.labels.code import LEAST_MODULE_MM, MM_PER_INCH, QUIET_MODULES, Code, module_dots
from passport.labels.column import Bar, Column, Line
from passport.labels.stock import Stock, larger_stocks
from passport.views.label import CaseLabel

# Shares and distances of our own choosing.
CODE_SHARE = 0.45  # of the label's width, quiet zone included
FEED_MM = 1.0  # what a roll may run out of true, kept free above and below the code
BESIDE_QUIET_MM = 0.4


@dataclass(frozen=True)
class Layout:
    """A whole label; the code's place is that of its first module, quiet zone not counted."""

    width_mm: float
    height_mm: float
    code: Code
    code_x_mm: float
    code_y_mm: float
    module_mm: float
    lines: tuple[Line, ...]
    bars: tuple[Bar, ...]


def lay_out(label: CaseLabel, stock: Stock, code: Code, dpi: int, *, proof: bool) -> Layout:
    """The layout of a case label; the code's modules are whole dots at `dpi`.

    The code is as large as it may be; it gives way down to its least size before a word is cut or refused.
    """
    text = column.text_of(label, proof=proof)
    sizes_mm = _module_sizes_mm(stock, code, dpi)
    field = ""
    for cutting in (False, True):
        for module_mm in sizes_mm:
            try:
                return _laid_out(text, stock, code, module_mm, cutting=cutting)
            except column.TooLongError as fault:
                field = fault.field
    raise _too_long(field, stock)


def _module_sizes_mm(stock: Stock, code: Code, dpi: int) -> tuple[float, ...]:
    """Whole dots from the most that fit down to the least that may be."""
    space_mm = min(stock.height_mm - 2 * FEED_MM, stock.width_mm * CODE_SHARE)
    most = module_dots(code.across, space_mm, dpi)
    sizes_mm = (dots * MM_PER_INCH / dpi for dots in range(most, 0, -1))
    return tuple(size_mm for size_mm in sizes_mm if size_mm >= LEAST_MODULE_MM)


def _laid_out(text: column.Text, stock: Stock, code: Code, module_mm: float, *, cutting: bool) -> Layout:
    quiet_mm, ink_mm = QUIET_MODULES * module_mm, code.across * module_mm
    code_x_mm = max(stock.inset_x_mm, quiet_mm)
    words_x_mm = code_x_mm + ink_mm + quiet_mm + BESIDE_QUIET_MM
    words_width_mm = stock.width_mm - stock.inset_x_mm - words_x_mm
    room = Column(words_x_mm, stock.inset_y_mm, words_width_mm, stock.height_mm - 2 * stock.inset_y_mm)
    lines, bars = column.fill(text, room, cutting=cutting)
    return Layout(
        width_mm=stock.width_mm,
        height_mm=stock.height_mm,
        code=code,
        code_x_mm=code_x_mm,
        code_y_mm=(stock.height_mm - ink_mm) / 2,
        module_mm=module_mm,
        lines=lines,
        bars=bars,
    )


def _too_long(field: str, stock: Stock) -> PassportError:
    larger = larger_stocks(stock)
    other = f", or print on a larger label: {', '.join(larger)}" if larger else ""
    return PassportError(f"The {field} is too long for a {stock.name} label.", f"Shorten it{other}.")
