"""A full-size template as a PDF for the printer, or as one SVG.

Places drawings at their true size and sets the numbers beside them; changes neither.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from html import escape
from typing import Any

from passport.pdf import pdf_from_typst
from passport.stocks import PAPER_MM, Paper
from passport.views.tree import TemplateView, TrueDrawing, Worked, WorkedTable

STYLE = (
    "path,circle{fill:none;stroke:#000;stroke-width:.15}"
    ".line-strong,.bar{stroke-width:.35}.check,.level,.seat,.join,.bridge-line{stroke-width:.25}"
    ".line-broken{stroke-dasharray:2 1}.join{stroke-dasharray:6 1 1 1}.outline{stroke-width:inherit}"
    "text{font-family:'Passport Sans',sans-serif;font-size:2.8px;fill:#000}.name{font-weight:600}"
    ".middle{text-anchor:middle}.end{text-anchor:end}.title{font-size:5px}"
)
SOURCE = """
#let it = json(bytes(sys.inputs.template))
#set page(
  width: it.width * 1mm, height: it.height * 1mm, margin: (x: 11mm, top: 11mm, bottom: 14mm),
  footer: context text(size: 8pt)[#it.title #h(1fr) at 100 % #h(1fr) #counter(page).display("1 of 1", both: true)],
)
#set text(font: "Passport Sans", size: 9pt, fallback: false, lang: "en", hyphenate: false)
#set par(leading: 0.5em, spacing: 0.8em)
#set table(stroke: none, inset: (x: 1.2mm, y: 0.55mm))
#show heading: set text(font: "Passport Serif", weight: 400)
#show table.cell.where(y: 0): set text(weight: 600)
#heading(level: 1, text(size: 17pt, it.title))
#for line in it.lines { par(line) }
#let drawn(pieces) = {
  v(1mm)
  for piece in pieces {
    box(image(bytes(piece.svg), format: "svg", width: piece.width * 1mm, height: piece.height * 1mm, alt: piece.alt))
    h(3mm, weak: true)
  }
  parbreak()
}
#let numbers = for each in it.tables {
  block(breakable: false, {
    heading(level: 2, text(size: 11pt, each.caption))
    text(size: 8pt, table(
      columns: each.columns.len(),
      align: (x, y) => if x == 0 { left } else { right },
      table.header(..each.columns), table.hline(stroke: 0.3pt), ..each.rows.flatten(),
    ))
    text(size: 8pt, each.rule)
  })
}
// Where the pieces fill sheets of their own, the numbers come before them.
#if it.overview.len() == 0 {
  drawn(it.pieces)
  numbers
} else {
  grid(columns: (auto, 1fr), column-gutter: 5mm, drawn(it.overview), numbers)
}
#heading(level: 2, text(size: 11pt, "What went in, and what was worked out"))
#text(size: 8pt, table(
  columns: (auto, auto, auto, 1fr), align: (x, y) => if x == 1 { right } else { left },
  table.header("Measure", "mm", "how", "from"), table.hline(stroke: 0.3pt), ..it.used.flatten(),
))
#set text(size: 8pt)
#for note in it.notes { par(note) }
#strong(it.cautions.join(" "))
#if it.overview.len() > 0 {
  for piece in it.pieces {
    pagebreak()
    drawn((piece,))
  }
}
"""
# Set in the SVG, which knows no columns: its lines of text, their height, and where each column begins.
MARGIN_MM, LINE_MM, TITLE_MM = 5.0, 4.4, 9.0
COLUMNS_MM = (0.0, 66.0, 94.0, 114.0)
GAP_MM = 6.0
TABLE_COLUMN_MM = 24.0
WIDTH_MM = 250.0
# The mean width of a letter, to break lines by.
LETTER_MM = 1.5


def template_pdf(view: TemplateView, paper: Paper) -> bytes:
    """Set a template on paper; its drawings keep their size."""
    width_mm, height_mm = PAPER_MM[paper]
    data = {
        "width": width_mm,
        "height": height_mm,
        "title": view.title,
        "lines": view.lines,
        "pieces": [_piece(drawing) for drawing in view.pieces],
        "overview": [_piece(drawing) for drawing in view.overview],
        "tables": [_table(table) for table in view.tables],
        "used": [_row(worked) for worked in view.used],
        "notes": view.notes,
        "cautions": view.cautions,
    }
    return pdf_from_typst(SOURCE, {"template": json.dumps(data, ensure_ascii=False)}, view.title)


def _piece(drawing: TrueDrawing) -> dict[str, Any]:
    return {
        "svg": _svg(drawing.inside, drawing.title, drawing.words, _box(drawing)),
        "width": drawing.width_mm,
        "height": drawing.height_mm,
        "alt": f"{drawing.title}. {drawing.words}",
    }


def _table(table: WorkedTable) -> dict[str, Any]:
    rule = f"{table.rule} Source: {table.source}." if table.source else table.rule
    return {"caption": table.caption, "columns": table.columns, "rows": table.rows, "rule": rule}


def _row(worked: Worked) -> tuple[str, str, str, str]:
    return worked.name, worked.value, worked.how, "; ".join(filter(None, (worked.rule, worked.inputs, worked.source)))


Box = tuple[float, float, float, float]


def _box(drawing: TrueDrawing) -> Box:
    return drawing.x_mm, drawing.y_mm, drawing.width_mm, drawing.height_mm


def _svg(inside: str, title: str, words: str, box: Box) -> str:
    """Wrap a drawing whose unit is the millimetre, so that whoever prints it gets millimetres."""
    view = " ".join(f"{side:g}" for side in box)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{box[2]:g}mm" height="{box[3]:g}mm" viewBox="{view}" '
        f'role="img"><title>{escape(title)}</title><desc>{escape(words)}</desc><style>{STYLE}</style>{inside}</svg>'
    )


def template_svg(view: TemplateView) -> bytes:
    """Draw a template in one SVG: its drawings side by side, title above, the numbers below."""
    top = MARGIN_MM + TITLE_MM + LINE_MM * len(view.lines)
    height = top + max(drawing.height_mm for drawing in view.whole) + GAP_MM
    text = list(_text(view))
    bottom = height + LINE_MM * len(text) + MARGIN_MM
    width = max(sum(drawing.width_mm + GAP_MM for drawing in view.whole) + 2 * MARGIN_MM, WIDTH_MM)
    head = [_said(view.title, 0, MARGIN_MM + 5, "title")]
    head += [_said(line, 0, MARGIN_MM + TITLE_MM + LINE_MM * (at + 0.5)) for at, line in enumerate(view.lines)]
    rows = [_said(word, x, height + LINE_MM * (at + 1)) for at, line in enumerate(text) for x, word in line]
    words = " ".join(drawing.words for drawing in view.whole)
    inside = "".join((*head, *_placed(view, top), *rows))
    return _svg(inside, view.title, words, (0, 0, round(width, 1), round(bottom, 1))).encode()


def _placed(view: TemplateView, top: float) -> Iterator[str]:
    """Move the drawings side by side; nothing is scaled."""
    x = MARGIN_MM
    for drawing in view.whole:
        yield f'<g transform="translate({x - drawing.x_mm:g} {top - drawing.y_mm:g})">{drawing.inside}</g>'
        x += drawing.width_mm + GAP_MM


def _said(words: str, x: float, y: float, kind: str = "") -> str:
    named = f' class="{kind}"' if kind else ""
    return f'<text{named} x="{MARGIN_MM + x:g}" y="{y:.2f}">{escape(words)}</text>'


Line = tuple[tuple[float, str], ...]


def _text(view: TemplateView) -> Iterator[Line]:
    """Give the numbers and notes line by line, each word with where it begins."""
    for table in view.tables:
        yield ((0.0, table.caption),)
        for row in (table.columns, *table.rows):
            yield tuple((TABLE_COLUMN_MM * at, word) for at, word in enumerate(row))
        yield from _broken(_table(table)["rule"])
    for worked in view.used:
        *first, last = _row(worked)
        [begun], *more = _broken(last, COLUMNS_MM[-1])
        yield (*zip(COLUMNS_MM, first, strict=False), begun)
        yield from more
    for note in (*view.notes, *view.cautions):
        yield from _broken(note)


def _broken(words: str, x: float = 0.0) -> Iterator[Line]:
    """Break words into lines that begin at a place."""
    letters = (WIDTH_MM - 2 * MARGIN_MM - x) / LETTER_MM
    line = ""
    for word in words.split():
        if len(line) + len(word) > letters:
            yield ((x, line),)
            line = ""
        line = f"{line} {word}".lstrip()
    yield ((x, line),)
