"""JSON-LD for one instrument in the words of schema.org: an IndividualProduct with its numbers and measurements.

It repeats what the page says and nothing else; the context is inline, so that a reader needs no network.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from passport.site.typography import is_number
from passport.views.addresses import full_address
from passport.views.tree import InstrumentView, MeasureRow, WorkshopView

CONTEXT = {"@vocab": "https://schema.org/"}
# UN/CEFACT Recommendation 20, the codes schema.org's unitCode asks for.
UNIT_CODES = {"mm": "MMT", "g": "GRM", "Hz": "HTZ", "°C": "CEL", "%": "P1", "N": "NEW", "kg": "KGM"}
# A script element ends at "</script" and may be confused by "<!--"; both need "<".
SCRIPT_ESCAPES = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}

Node = dict[str, object]


def script(view: InstrumentView, workshop: WorkshopView) -> str:
    """The script element for the page's head."""
    text = json.dumps(product(view, workshop), ensure_ascii=False, separators=(",", ":"))
    for character, escaped in SCRIPT_ESCAPES.items():
        text = text.replace(character, escaped)
    return f'<script type="application/ld+json">{text}</script>'


def product(view: InstrumentView, workshop: WorkshopView) -> Node:
    """The instrument as linked data."""
    return _kept(
        {
            "@context": CONTEXT,
            "@type": "IndividualProduct",
            "identifier": view.id,
            "url": full_address(workshop.site_url, view.path) if view.listed else "",
            "name": view.title,
            "category": view.kind,
            "size": view.size,
            "serialNumber": view.serial,
            "productionDate": view.made_date,
            "model": view.model.text if view.model else "",
            "manufacturer": _kept({"@type": "Organization", "name": view.maker}) if view.maker else None,
            "material": sorted({part.scientific or part.wood for part in view.parts} - {""}),
            "image": [full_address(workshop.site_url, photo.large) for photo in view.photos] if view.listed else [],
            "hasMeasurement": [*_setup(view), *_dimensions(view)],
            "additionalProperty": [
                {"@type": "PropertyValue", "name": fact.name, "value": fact.value} for fact in view.identity
            ],
        }
    )


def _setup(view: InstrumentView) -> Iterable[Node]:
    """The reference set-up; what was measured since stands on the page and in record.json."""
    if view.setup is None:
        return
    method = f"reference set-up, {view.setup.reference.date}"
    for group in view.setup.groups:
        # A quantity that only a later sheet has says in words that the reference does not record it.
        rows = [row for row in group.rows if is_number(row.then)]
        yield from (_measured(f"{group.title}: {row.name}", row.then, row.unit, method) for row in rows)


def _dimensions(view: InstrumentView) -> Iterable[Node]:
    rows: Iterable[tuple[str, MeasureRow]] = (
        (taken.sheet.date, row) for taken in view.measurements for row in taken.rows if row.value
    )
    for date, row in rows:
        yield _measured(row.name, row.value, row.unit, f"measured {date}")


def _measured(name: str, value: str, unit: str, method: str) -> Node:
    return _kept(
        {
            "@type": "QuantitativeValue",
            "name": name,
            "value": value,
            "unitCode": UNIT_CODES.get(unit, ""),
            "unitText": "" if unit in UNIT_CODES else unit,
            "description": method,
        }
    )


def _kept(node: Mapping[str, object]) -> Node:
    """The node without what is not recorded."""
    return {key: value for key, value in node.items() if value not in ("", None, [], [""])}
