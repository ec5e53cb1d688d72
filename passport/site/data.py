"""Data files beside the pages: record.json for each instrument, and the scripts of the catalogue.

Both are the view again, in another form; the same view gives the same bytes.
"""

from __future__ import annotations

import json

from passport.views.tree import InstrumentView


def record_json(view: InstrumentView) -> bytes:
    """The view as plain JSON, one line a section, without the drawings: what they are drawn from stands there too."""
    sections = (
        f"{json.dumps(name)}: {json.dumps(value, ensure_ascii=False, default=plain)}"
        for name, value in vars(view).items()
    )
    return ("{\n" + ",\n".join(sections) + "\n}\n").encode()


def plain(part: object) -> dict[str, object]:
    """Give the fields of a view but its drawings."""
    return {name: value for name, value in vars(part).items() if name not in ("drawing", "drawings")}
