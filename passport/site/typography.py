"""Setting words and figures: decimals that align, fractions that look like fractions, thin spaces before units.

Filters for the templates; each takes plain text and returns markup in which that text is escaped.
"""

from __future__ import annotations

import re
from functools import lru_cache

from markupsafe import Markup, escape

from passport.views.numbers import NARROW_SPACE

# The same few thousand figures stand on all pages.
KEPT_FIGURES = 20_000
NUMBER = re.compile(r"[+\-−±≈~<>≤≥]?\s?\d+(?:[.,]\d+)?(?:\s?[–/]\s?\d+(?:[.,]\d+)?)*")
LAST_DECIMALS = re.compile(r"(.*?)([.,]\d+)?", re.DOTALL)
FRACTION = re.compile(r"(?<![\d/.])(\d{1,2}/\d{1,2})(?![\d/])")


def is_number(text: str) -> bool:
    """Whether the text is a figure, a range or a pair of figures, and so aligns on the decimal."""
    return NUMBER.fullmatch(text.strip()) is not None


@lru_cache(maxsize=KEPT_FIGURES)
def figures(text: str) -> Markup:
    """The text with its last decimals in a box of fixed width, so that a column aligns; words come back as they are."""
    if not is_number(text):
        return escape(text)
    match = LAST_DECIMALS.fullmatch(text.strip())
    whole, decimals = (match[1], match[2] or "") if match else (text, "")
    return Markup("{}<i>{}</i>").format(whole, decimals)


def fractions(text: str) -> Markup:
    """The text with every "3/4" marked, for the typeface to set as a fraction; copied, it is still "3/4"."""
    pieces = FRACTION.split(text)
    marked = [
        Markup('<span class="frac">{}</span>').format(piece) if index % 2 else escape(piece)
        for index, piece in enumerate(pieces)
    ]
    return Markup("").join(marked)


def run_in(name: str) -> str:
    """A name as it stands inside a line: "Glue" as "glue", while "E1 string" and "UV" stay as they are."""
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def with_unit(text: str, unit: str) -> Markup:
    """A figure and its unit, kept on one line with a thin space between."""
    if not unit:
        return escape(text)
    return Markup('<span class="q">{}<span class="unit">{}{}</span></span>').format(text, NARROW_SPACE, unit)
