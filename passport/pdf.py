"""The one door to typst and pypdf: a source and its data in, the bytes of a PDF out; and what a finished PDF says.

May read the shipped fonts and nothing else; the same input gives the same bytes on any day and any machine.
"""

from __future__ import annotations

import functools
import io
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType

import typst
from pypdf import PdfReader

from passport.errors import PassportError
from passport.fonts import FONTS

# Seconds since 1970, written into every PDF, so that its bytes do not depend on the day: 1 January 2000.
TIMESTAMP_S = 946_684_800
MAIN = "main.typ"
OUR_FAULT = "Please report this: it is a fault of this tool."


@functools.cache
def _typesetter() -> typst.Compiler:
    """Without the system's fonts and typst's own: a missing glyph must not be borrowed from another face."""
    shipped = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])
    return typst.Compiler(font_paths=shipped)


def pdf_from_typst(
    source: str,
    data: Mapping[str, str],
    title: str,
    day: date | None = None,
    files: Mapping[str, bytes] = MappingProxyType({}),
) -> bytes:
    """Typeset `source`, which finds `data` in `sys.inputs` and `files` by name; `title` names it to its reader.

    Structured data goes in as JSON, read with `json(bytes(sys.inputs.name))`, so nothing needs escaping. A document
    that bears a day is one to keep: it is made as PDF/A-3a and PDF/UA-1.
    """
    dated = f"datetime(year: {day.year}, month: {day.month}, day: {day.day})" if day else "none"
    whole = f"#set document(title: sys.inputs.document_title, date: {dated})\n" + source
    with TemporaryDirectory(prefix="passport-") as folder:
        for name, content in {MAIN: whole.encode(), **files}.items():
            (Path(folder) / name).write_bytes(content)
        try:
            made = _typesetter().compile(
                Path(folder) / MAIN,
                format="pdf",
                root=folder,
                sys_inputs={**data, "document_title": title},
                timestamp=TIMESTAMP_S,
                # What is kept and read for long, by eye or by ear: ISO 19005-3, level A, and ISO 14289-1.
                pdf_standards=["a-3a", "ua-1"] if day else [],
            )
        except typst.TypstError as fault:
            raise PassportError(f"The PDF “{title}” could not be typeset: {fault}", OUR_FAULT) from fault
    if not isinstance(made, bytes):
        raise PassportError(f"The PDF “{title}” came out empty.", OUR_FAULT)
    return made


@dataclass(frozen=True)
class Inside:
    """What a PDF says: the texts of its pages and of what is written about it, and the files attached to it."""

    texts: tuple[str, ...]
    attached: tuple[tuple[str, bytes], ...]


def words_of_pdf(content: bytes) -> Inside:
    """Read a finished PDF again, page by page, with its title and the like and all files attached."""
    reader = PdfReader(io.BytesIO(content))
    about = [str(value) for value in (reader.metadata or {}).values()]
    attached = tuple((name, data) for name, files in reader.attachments.items() for data in files)
    return Inside((*about, *(page.extract_text() for page in reader.pages)), attached)
