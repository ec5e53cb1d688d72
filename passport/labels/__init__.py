"""Case labels: each has a code and the words that make it useful without any web.

What is handed out comes from `finished_png` and `finished_sheet` alone, which read every label back.
"""

from __future__ import annotations

from passport.labels.code import note
from passport.labels.finished import PRINTER_DPI, finished_png, finished_sheet
from passport.labels.stock import ROLL_STOCK, SHEET_STOCK, STOCKS, Sheet, Stock, find_stock

__all__ = [
    "PRINTER_DPI",
    "ROLL_STOCK",
    "SHEET_STOCK",
    "STOCKS",
    "Sheet",
    "Stock",
    "find_stock",
    "finished_png",
    "finished_sheet",
    "note",
]
