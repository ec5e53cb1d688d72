"""Drawings of the pages as files of their own, for paper: the rules they are drawn by are put inside.

Changes no shape.
"""

from __future__ import annotations

import re

OPENING = re.compile(r"(<svg\b[^>]*>)")


def for_paper(drawing: str, rules: str) -> bytes:
    """Give a drawing with the rules of its looks."""
    return OPENING.sub(lambda opening: f"{opening[0]}<style>{rules}</style>", drawing, count=1).encode()
