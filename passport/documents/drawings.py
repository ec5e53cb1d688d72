"""Drawings of the pages, made ready for paper: there no stylesheet of the site reaches them.

Black on white, in the same two weights of line; what it sets is the look and never a shape.
"""

from __future__ import annotations

import re

# The same classes as in the site's stylesheet, below `.drawing`.
STYLE = (
    ".line-strong,.line-fine,.line-broken{fill:none;stroke:#000;stroke-width:0.9}.line-fine{stroke-width:0.4}"
    "text{font-family:'Passport Sans';fill:#000}.figure{text-anchor:middle}.end{text-anchor:end}"
    ".side text{font-family:'Passport Serif';font-style:italic;fill:#444}"
)
OPENING = re.compile(r"(<svg\b[^>]*>)")


def for_paper(drawing: str) -> bytes:
    """Give a drawing as a file of its own."""
    return OPENING.sub(rf"\1<style>{STYLE}</style>", drawing, count=1).encode()
