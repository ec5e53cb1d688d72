"""The one door to typst: a source and its data in, the bytes of a PDF out.

May read the shipped fonts and nothing else; the same input gives the same bytes on any day and any machine.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping

import typst

from passport.errors import PassportError
from passport.fonts import FONTS

# Seconds since 1970, written into every PDF, so that its bytes do not depend on the day: 1 January 2000.
TIMESTAMP_S = 946_684_800
OUR_FAULT = "Please report this: it is a fault of this tool."


@functools.cache
def _typesetter() -> typst.Compiler:
    """Without the system's fonts and typst's own: a missing glyph must not be borrowed from another face."""
    shipped = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])
    return typst.Compiler(font_paths=shipped)


def pdf_from_typst(source: str, data: Mapping[str, str], title: str) -> bytes:
    """Typeset `source`, which finds `data` in `sys.inputs`; `title` names the document to its reader.

    Structured data goes in as JSON, read with `json(bytes(sys.inputs.name))`, so nothing needs escaping.
    """
    whole = "#set document(title: sys.inputs.document_title, date: none)\n" + source
    inputs = {**data, "document_title": title}
    try:
        made = _typesetter().compile(whole.encode(), format="pdf", sys_inputs=inputs, timestamp=TIMESTAMP_S)
    except typst.TypstError as fault:
        raise PassportError(f"The PDF “{title}” could not be typeset: {fault}", OUR_FAULT) from fault
    if not isinstance(made, bytes):
        raise PassportError(f"The PDF “{title}” came out empty.", OUR_FAULT)
    return made
