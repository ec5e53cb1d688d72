"""Data files beside the pages: record.json for each instrument, and the script that names the listed ones.

Both are the view again, in another form; the same view gives the same bytes.
"""

from __future__ import annotations

import json

from passport.views.tree import InstrumentView, SiteView

LISTED_PATH = "data/listed.js"


def record_json(view: InstrumentView) -> bytes:
    """The view as plain JSON, one line a section, without the drawings: what they are drawn from stands there too."""
    sections = (
        f"{json.dumps(name)}: {json.dumps(value, ensure_ascii=False, default=_plain)}"
        for name, value in vars(view).items()
    )
    return ("{\n" + ",\n".join(sections) + "\n}\n").encode()


def _plain(part: object) -> dict[str, object]:
    return {name: value for name, value in vars(part).items() if name != "drawing"}


def listed_js(site: SiteView) -> bytes:
    """A classic script for the box that mends a typed number: number, title, serial of each listed instrument.

    The path follows where it is not the number alone.
    """
    lines = sorted(
        [line.id, line.title, line.serial, *([] if line.path == f"{line.id}/" else [line.path])]
        for group in site.catalogue
        for line in group.instruments
    )
    text = json.dumps(lines, ensure_ascii=True, separators=(",", ":"))
    return f"var passportListed={text};\n".encode()
