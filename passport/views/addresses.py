"""The address of every page, for whatever is handed out; nothing else builds one.

An instrument's own is decided in `analysis.addresses`, since the checks ask for it too; it is passed on from here.
"""

from __future__ import annotations

import re
from urllib.parse import urlencode

from passport.analysis.addresses import full_address, instrument_paths
from passport.records.model.marks import Audience

__all__ = [
    "FINDINGS",
    "LISTS",
    "SIDE_BY_SIDE",
    "VERIFICATION",
    "WORK_LISTS",
    "full_address",
    "instrument_paths",
    "lists",
    "supply_path",
]

SIDE_BY_SIDE = "side-by-side/"
# The lists of the site, with the names they are read by; a list of supplies holds a page for each below its own.
LISTS = (
    ("Catalogue", "catalogue/"), ("Wood", "wood/"), ("Varnish", "varnish/"), ("Models", "models/"),
    ("Side by side", SIDE_BY_SIDE),
)  # fmt: skip

WORK_LISTS = "work-lists/"


FINDINGS = "findings/"

# Where a signed passport is checked.
VERIFICATION = "verify/"


def lists(audience: Audience, *, is_draft: bool = False) -> tuple[tuple[str, str], ...]:
    """Give the lists of a site with their names: the shop's has some of its own, which the public never sees."""
    of_the_shop = (("Work lists", WORK_LISTS),) if audience == "shop" else ()
    of_whoever_writes = (("Findings", FINDINGS),) if audience == "shop" or is_draft else ()
    return (*LISTS, *of_the_shop, *of_whoever_writes)


def supply_path(section: str, name: str) -> str:
    """Give the path of a lot's, a batch's or a model's page."""
    return f"{section}/{name}/"


def side_by_side_path(*names: str, leaf: int = 1) -> str:
    """Give the path of a page that sets instruments side by side: "side-by-side/violin-4-4-tap-tones-by-lot-2/"."""
    words = [*names, *([str(leaf)] if leaf > 1 else [])]
    return f"{SIDE_BY_SIDE}{re.sub('[^a-z0-9]+', '-', '-'.join(filter(None, words)).lower())}/"


def catalogue_path(**choices: str) -> str:
    """Give the path of the catalogue with choices made in it: "catalogue/?year=2021"."""
    return f"catalogue/?{urlencode(choices)}"


def sums_path(path: str) -> str:
    """Give the page that holds the sums of an instrument, from the path of its own page."""
    return f"{path}sums/"
