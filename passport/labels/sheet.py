"""Layouts on sheets of labels, as a PDF in true millimetres.

Arranges and hands to typst; the code is drawn as one shape, so no viewer shows seams between its squares.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from passport.labels.code import Code
from passport.labels.column import Bar, Line
from passport.labels.layout import Layout
from passport.labels.stock import PAPER_MM, Sheet
from passport.pdf import pdf_from_typst

SOURCE = """
#let sheet = json(bytes(sys.inputs.sheet))
#set page(width: sheet.width * 1mm, height: sheet.height * 1mm, margin: 0mm)
#set text(fallback: false, ligatures: false, hyphenate: false, top-edge: "baseline", bottom-edge: "baseline")
#let at(x, y, body) = place(top + left, dx: x * 1mm, dy: y * 1mm, body)
#let label(it) = {
  for bar in it.bars { at(bar.x, bar.y, rect(width: bar.width * 1mm, height: bar.height * 1mm, fill: black)) }
  for line in it.lines {
    at(line.x, line.y, text(
      font: line.family, weight: line.weight, style: line.style, size: line.size * 1pt,
      tracking: line.tracking * 1em, fill: if line.white { white } else { black }, box(line.text),
    ))
  }
  let code = it.code
  at(code.x, code.y, image(bytes(code.svg), format: "svg", width: code.width * 1mm, alt: code.alt))
}
#for (number, cells) in sheet.pages.enumerate() {
  if number > 0 { pagebreak() }
  for it in cells { label(it) }
}
"""


def pdf(layouts: Sequence[Layout], sheet: Sheet) -> bytes:
    """As many pages as the layouts fill, cell by cell along the rows."""
    width_mm, height_mm = PAPER_MM[sheet.paper]
    pages = [
        [_placed(layout, *sheet.corner_mm(cell)) for cell, layout in enumerate(page)]
        for page in (layouts[first : first + sheet.cells] for first in range(0, len(layouts), sheet.cells))
    ]
    data = {"width": width_mm, "height": height_mm, "pages": pages}
    return pdf_from_typst(SOURCE, {"sheet": json.dumps(data, ensure_ascii=False)}, "Case labels")


def _placed(layout: Layout, x_mm: float, y_mm: float) -> dict[str, Any]:
    """A layout in the words of the typst source, moved to its place on the sheet."""
    return {
        "bars": [_bar(bar, x_mm, y_mm) for bar in layout.bars],
        "lines": [_line(line, x_mm, y_mm) for line in layout.lines],
        "code": {
            "x": x_mm + layout.code_x_mm,
            "y": y_mm + layout.code_y_mm,
            "width": layout.code.across * layout.module_mm,
            "svg": code_svg(layout.code),
            "alt": layout.code.text,
        },
    }


def _bar(bar: Bar, x_mm: float, y_mm: float) -> dict[str, float]:
    return {"x": x_mm + bar.x_mm, "y": y_mm + bar.y_mm, "width": bar.width_mm, "height": bar.height_mm}


def _line(line: Line, x_mm: float, y_mm: float) -> dict[str, Any]:
    return {
        "text": line.text,
        "family": line.face.family,
        "weight": line.face.weight,
        "style": line.face.style,
        "size": line.size_pt,
        "tracking": line.tracking_em,
        "white": line.white,
        "x": x_mm + line.x_mm,
        "y": y_mm + line.baseline_mm,
    }


def code_svg(code: Code) -> str:
    """The dark modules as runs along the rows, one path for all, a module being one unit."""
    path = "".join(
        f"M{start} {row}h{length}v1h-{length}z"
        for row, modules in enumerate(code.modules)
        for start, length in _dark_runs(modules)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {code.across} {code.across}"'
        f' width="{code.across}" height="{code.across}"><path d="{path}"/></svg>'
    )


def _dark_runs(modules: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Start and length of each run of dark modules."""
    runs: list[tuple[int, int]] = []
    for column, dark in enumerate(modules):
        if dark and runs and sum(runs[-1]) == column:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((column, 1))
    return runs
