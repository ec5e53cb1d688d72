"""The address of every page; nothing else builds one.

An instrument's address never changes: what is printed on its label must lead to it for as long as the instrument lasts.
"""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from passport.records.catalogue import Archive
from passport.records.identity import is_valid
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience

# The lists of the site, with the names they are read by; a list of supplies holds a page for each below its own.
LISTS = (("Catalogue", "catalogue/"), ("Wood", "wood/"), ("Varnish", "varnish/"), ("Models", "models/"))


def instrument_paths(archive: Archive, audience: Audience) -> Mapping[str, str]:
    """Give the path of each instrument's page, "ZVSPYJH/"; an instrument this audience has no page of is not there.

    The shop's site keeps every instrument at the address of its label, the long one of an unlisted one included. A
    record whose file is not named by a number has no page, nor has, in public, an unlisted one without its address.
    """
    paths = {}
    for stem, filed in archive.instruments.items():
        # Once made, the address stays, even when the instrument is listed later.
        tail = archive.address_tail(stem)
        if is_valid(stem) and (audience == "shop" or _is_public(filed.record, tail)):
            paths[stem] = f"{stem}-{tail}/" if tail else f"{stem}/"
    return paths


def _is_public(record: Instrument, tail: str) -> bool:
    return record.published == "listed" or (record.published == "unlisted" and bool(tail))


def supply_path(section: str, name: str) -> str:
    """Give the path of a lot's, a batch's or a model's page."""
    return f"{section}/{name}/"


def catalogue_path(**choices: str) -> str:
    """Give the path of the catalogue with choices made in it: "catalogue/?year=2021"."""
    return f"catalogue/?{urlencode(choices)}"


def full_address(site: str, path: str) -> str:
    """Give the whole address of a page on a site; nothing while the site has no address."""
    return f"{site.rstrip('/')}/{path}" if site else ""
