"""The four kinds of instrument, their sizes and the names of their strings.

Sizes are the trade's conventional names, which no factor turns into lengths; a viola is named by its body length.
Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

KINDS = ("violin", "viola", "cello", "bass")

KIND_WORDS: Mapping[str, str] = MappingProxyType(
    {"violin": "violin", "viola": "viola", "cello": "cello", "bass": "double bass"}
)

SIZES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "violin": ("4/4", "7/8", "3/4", "1/2", "1/4", "1/8", "1/10", "1/16", "1/32"),
        "viola": (),
        "cello": ("4/4", "7/8", "3/4", "1/2", "1/4", "1/8", "1/10", "1/16"),
        "bass": ("4/4", "7/8", "3/4", "5/8", "1/2", "1/4", "1/8", "1/10", "1/16"),
    }
)

# A viola's size is its body length; these bounds only tell a length from a slip of the pen.
VIOLA_SHORTEST_MM = 280
VIOLA_LONGEST_MM = 460

# Low string first.
OPEN_STRINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "violin": ("G", "D", "A", "E"),
        "viola": ("C", "G", "D", "A"),
        "cello": ("C", "G", "D", "A"),
        "bass": ("E", "A", "D", "G"),
    }
)

STRING_NAMES = ("E", "A", "D", "G", "C", "B", "F", "F#", "C#")


def size_fault(kind: str, size: str) -> str | None:
    """Say what is wrong with a size for this kind, or None."""
    if kind == "viola":
        is_length = bool(re.fullmatch(r"[0-9]{3}", size)) and VIOLA_SHORTEST_MM <= int(size) <= VIOLA_LONGEST_MM
        return None if is_length else "a viola's size is its body length in millimetres, such as 405"
    if size in SIZES[kind]:
        return None
    return f"a {KIND_WORDS[kind]} is one of {', '.join(SIZES[kind])}"
