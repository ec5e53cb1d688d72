"""The declaration of materials, handed over as text, as JSON or on paper.

Sees the view alone.
"""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import date

from passport.documents.paper import TYPST_PAPERS
from passport.pdf import pdf_from_typst
from passport.stocks import Paper
from passport.views.tree import MaterialLine, MaterialsView

TITLE = "Declaration of materials"

SOURCE = """
#let view = json(bytes(sys.inputs.view))
#set page(paper: sys.inputs.paper, margin: (x: 22mm, y: 20mm), numbering: "1 / 1", number-align: right)
#set text(font: "Passport Serif", size: 10pt, lang: "en")
#set par(leading: 0.6em)
#show heading.where(level: 1): set text(size: 20pt, weight: "medium")
#show heading.where(level: 2): set text(size: 11pt, weight: "medium")
#let small(body) = text(size: 8.5pt, fill: luma(35%), body)
= #sys.inputs.title
#v(-4pt)
#text(size: 12pt)[#view.title, number #text(font: "Passport Sans", tracking: 0.06em, view.id)#if (
  view.serial != ""
) [, serial #view.serial]]
#linebreak()
#view.maker_line#if view.made != "" [, #view.made]
#v(4pt)
#line(length: 100%, stroke: 0.5pt)
#table(
  columns: (26mm, 1fr, 1.1fr), stroke: none, inset: (x: 0pt, y: 5pt), column-gutter: 5mm,
  table.header(small[Part], small[Material, origin and papers], small[CITES, as of #view.as_of]),
  table.hline(stroke: 0.3pt),
  ..for it in view.lines {(
    it.part,
    [#it.common#if it.scientific != "" [#if it.common != "" [, ]#emph(it.scientific)]
     #linebreak()#small(it.facts.map(fact => [#fact.name: #fact.value]).join([; ]))],
    [#it.listing #if it.basis != "" [#linebreak()#small(it.basis)]],
    table.hline(stroke: 0.2pt + luma(60%)),
  )},
)
#block(breakable: false)[
== What an authority commonly asks for
#list(..view.asked_for.map(it => [#it]), marker: [–])
#v(2pt)
#strong(view.deference)
]
#v(1fr)
#small[This says what the workshop’s records hold for #view.day. It is no permit and no certificate, and it does not say
that anything may be traded or carried. #view.workshop. #view.contact]
"""


def as_pdf(view: MaterialsView, day: date, paper: Paper = "a4") -> bytes:
    """Set the declaration on paper; the document bears the day it speaks of."""
    data = {"view": json.dumps(asdict(view), ensure_ascii=False), "paper": TYPST_PAPERS[paper], "title": TITLE}
    return pdf_from_typst(SOURCE, data, f"{TITLE}, {view.id}", day)


def as_json(view: MaterialsView) -> str:
    """Give the declaration as plain data."""
    return json.dumps(asdict(view), ensure_ascii=False, indent=2)


def as_text(view: MaterialsView) -> str:
    """Give the declaration in lines, to read or to paste into a form."""
    head = [f"{TITLE}, {view.title}, {view.id}", ", ".join(filter(None, (view.maker_line, view.made))),
            f"for {view.day}; CITES as of {view.as_of}"]  # fmt: skip
    parts = (line for it in view.lines for line in ("", *_part(it)))
    asked = ("", "What an authority commonly asks for:", *(f"  – {it}" for it in view.asked_for), "", view.deference)
    return "\n".join((*filter(None, head), *parts, *asked)) + "\n"


def _part(it: MaterialLine) -> list[str]:
    material = ", ".join(filter(None, (it.common, it.scientific))) or "not recorded"
    told = [f"  {fact.name}: {fact.value}" for fact in it.facts]
    listing = f"  {it.listing}{f' ({it.basis})' if it.basis else ''}"
    return [f"{it.part}: {material}", *told, listing]
