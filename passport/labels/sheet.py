"""Layouts on pages of paper, as a PDF in true millimetres.

Arranges and hands to typst; the code is drawn as one shape, so no viewer shows seams between its squares.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Sequence
from itertools import count, islice
from typing import Any, NamedTuple

from passport.labels.code import Code
from passport.labels.column import Bar, Line
from passport.labels.layout import Layout, Ring
from passport.pdf import pdf_from_typst
from passport.stocks import PAPER_MM, Paper, Printer, Sheet, Stock

SOURCE = """
#let sheet = json(bytes(sys.inputs.sheet))
#set page(width: sheet.width * 1mm, height: sheet.height * 1mm, margin: 0mm)
#set text(fallback: false, ligatures: false, hyphenate: false, top-edge: "baseline", bottom-edge: "baseline")
#let at(x, y, body) = place(top + left, dx: x * 1mm, dy: y * 1mm, body)
#let label(it) = {
  for bar in it.bars { at(bar.x, bar.y, rect(width: bar.width * 1mm, height: bar.height * 1mm, fill: black)) }
  for ring in it.rings { at(ring.x, ring.y, circle(radius: ring.radius * 1mm, stroke: 0.15mm)) }
  for line in it.lines {
    at(line.x, line.y, text(
      font: line.family, weight: line.weight, style: line.style, size: line.size * 1pt,
      tracking: line.tracking * 1em, fill: if line.white { white } else { black }, box(line.text),
    ))
  }
  for code in it.codes {
    at(code.x, code.y, image(bytes(code.svg), format: "svg", width: code.width * 1mm, alt: code.alt))
  }
}
#let whole(body) = box(width: sheet.width * 1mm, height: sheet.height * 1mm, body)
#for (number, cells) in sheet.pages.enumerate() {
  if number > 0 { pagebreak() }
  at(sheet.dx, sheet.dy, scale(sheet.scale * 100%, origin: top + left, whole(for it in cells { label(it) })))
}
"""

# Arms of the crosses at the corners of what is cut apart; no longer than the white every label keeps at its edges.
MARK_ARM_MM, MARK_MM = 1.0, 0.1


class Placed(NamedTuple):
    """A layout and the place of its corner on a page."""

    layout: Layout
    x_mm: float
    y_mm: float


class Cell(NamedTuple):
    """A place on one of several sheets, both counted from 0."""

    page: int
    cell: int


def cells_for(labels: int, sheet: Sheet, used: Collection[int]) -> tuple[Cell, ...]:
    """The cells that so many labels go into, along the rows, those passed over that are used on the first sheet."""
    every = (Cell(*divmod(place, sheet.cells)) for place in count())
    return tuple(islice((cell for cell in every if cell.page or cell.cell not in used), labels))


def pages(layouts: Sequence[Layout], stock: Stock, sheet: Sheet, cells: Sequence[Cell]) -> list[list[Placed]]:
    """The pages that hold each layout in its cell, with marks where they are to be cut apart."""
    marks = [Placed(_cut_marks(stock, sheet), 0.0, 0.0)] if sheet.cut else []
    made = [[*marks] for _ in range(cells[-1].page + 1)]
    for layout, cell in zip(layouts, cells, strict=True):
        made[cell.page].append(Placed(layout, *sheet.corner_mm(cell.cell)))
    return made


def pdf(pages: Sequence[Sequence[Placed]], paper: Paper, printer: Printer, title: str = "Labels") -> bytes:
    """The pages, moved and scaled so that this printer puts everything where it belongs."""
    width_mm, height_mm = PAPER_MM[paper]
    data = {
        "width": width_mm,
        "height": height_mm,
        "dx": printer.offset_x_mm,
        "dy": printer.offset_y_mm,
        "scale": printer.scale,
        "pages": [[_placed(*placed) for placed in page] for page in pages],
    }
    return pdf_from_typst(SOURCE, {"sheet": json.dumps(data, ensure_ascii=False)}, title)


def _cut_marks(stock: Stock, sheet: Sheet) -> Layout:
    """Small crosses on the corners of every cell, their arms along its edges."""
    corners = [sheet.corner_mm(cell) for cell in range(sheet.cells)]
    across = sorted({edge for x_mm, _ in corners for edge in (x_mm, x_mm + stock.width_mm)})
    down = sorted({edge for _, y_mm in corners for edge in (y_mm, y_mm + stock.height_mm)})
    bars = tuple(bar for x_mm in across for y_mm in down for bar in cross(x_mm, y_mm, MARK_ARM_MM, MARK_MM))
    return Layout(*PAPER_MM[sheet.paper], None, (), bars)


def cross(x_mm: float, y_mm: float, arm_mm: float, thick_mm: float) -> Iterator[Bar]:
    """Two bars that cross in one place."""
    yield Bar(x_mm - arm_mm, y_mm - thick_mm / 2, 2 * arm_mm, thick_mm)
    yield Bar(x_mm - thick_mm / 2, y_mm - arm_mm, thick_mm, 2 * arm_mm)


def _placed(layout: Layout, x_mm: float, y_mm: float) -> dict[str, Any]:
    """A layout in the words of the typst source, moved to its place on the sheet."""
    code = layout.code
    return {
        "bars": [_bar(bar, x_mm, y_mm) for bar in layout.bars],
        "rings": [_ring(ring, x_mm, y_mm) for ring in layout.rings],
        "lines": [_line(line, x_mm, y_mm) for line in layout.lines],
        "codes": [
            {
                "x": x_mm + code.x_mm,
                "y": y_mm + code.y_mm,
                "width": code.side_mm,
                "svg": code_svg(code.code),
                "alt": code.code.text,
            }
        ]
        if code
        else [],
    }


def _bar(bar: Bar, x_mm: float, y_mm: float) -> dict[str, float]:
    return {"x": x_mm + bar.x_mm, "y": y_mm + bar.y_mm, "width": bar.width_mm, "height": bar.height_mm}


def _ring(ring: Ring, x_mm: float, y_mm: float) -> dict[str, float]:
    radius_mm = ring.diameter_mm / 2
    return {"x": x_mm + ring.x_mm - radius_mm, "y": y_mm + ring.y_mm - radius_mm, "radius": radius_mm}


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
