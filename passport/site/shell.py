"""The theme around a page, rendered once for each depth of address and filled once for each page.

It alone knows the marks left in the theme's HTML, and it alone escapes what is put in their place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape
from typing import Self

from passport.errors import PassportError

TITLE = "PASSPORT-MARK-TITLE"
DESCRIPTION = "PASSPORT-MARK-DESCRIPTION"
HEAD = "PASSPORT-MARK-HEAD"
CONTENT = "PASSPORT-MARK-CONTENT"
MARKS = (TITLE, DESCRIPTION, HEAD, CONTENT)
_CUT = re.compile("|".join(MARKS))


@dataclass(frozen=True)
class Shell:
    """The theme's HTML cut at its marks: the pieces between them, and which mark stood at each cut."""

    pieces: tuple[str, ...]
    marks: tuple[str, ...]

    @classmethod
    def cut(cls, html: str) -> Self:
        """The shell in the theme's HTML; a theme that lost one of the marks cannot be used."""
        missing = [mark for mark in MARKS if mark not in html]
        if missing:
            raise PassportError(
                f"The theme's page template leaves no place for {', '.join(missing)}.",
                "Keep the blocks of site_templates/theme/main.html in your own copy.",
            )
        return cls(tuple(_CUT.split(html)), tuple(_CUT.findall(html)))

    def fill(self, *, title: str, description: str, head: str, content: str) -> bytes:
        """One page. `title` and `description` are plain text, escaped here; `head` and `content` are finished HTML."""
        values = {TITLE: escape(title), DESCRIPTION: escape(description), HEAD: head, CONTENT: content}
        out = [self.pieces[0]]
        for mark, piece in zip(self.marks, self.pieces[1:], strict=True):
            out += [values[mark], piece]
        return "".join(out).encode()
