"""Data files beside the pages: record.json for each instrument, and the scripts of the catalogue.

Both are the view again, in another form; the same view gives the same bytes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator

from passport.site import catalogue_data
from passport.views.tree import InstrumentView, SiteView


def data_files(site: SiteView) -> Iterator[tuple[str, bytes]]:
    """Every data file of the site."""
    for view in site.instruments:
        if view.data_path:
            yield view.data_path, record_json(view)
    yield catalogue_data.LISTED_PATH, catalogue_data.listed_js(site)
    yield catalogue_data.FACETS_PATH, catalogue_data.facets_js(site)


def record_json(view: InstrumentView) -> bytes:
    """The view as plain JSON, one line a section, without the drawings: what they are drawn from stands there too."""
    sections = (
        f"{json.dumps(name)}: {json.dumps(value, ensure_ascii=False, default=_plain)}"
        for name, value in vars(view).items()
    )
    return ("{\n" + ",\n".join(sections) + "\n}\n").encode()


def _plain(part: object) -> dict[str, object]:
    return {name: value for name, value in vars(part).items() if name != "drawing"}
