"""The address of an instrument's page, on the site and on labels; nothing else builds one.

It never changes: what is printed on a label must lead to the page for as long as the instrument lasts.
"""

from __future__ import annotations

from collections.abc import Mapping

from passport.records.catalogue import Archive
from passport.records.identity import is_valid
from passport.records.model.marks import Audience
from passport.records.model.workshop import Workshop


def instrument_paths(archive: Archive, audience: Audience) -> Mapping[str, str]:
    """Give the path of each instrument's page, "ZVSPYJH/"; an instrument this audience has no page of is not there.

    The shop's site keeps every instrument at the address of its label, the long one of an unlisted one included. A
    record whose file is not named by a number has no page, nor has, in public, an unlisted one without its address.
    """
    paths = {}
    for stem, filed in archive.instruments.items():
        # Once made, the address stays, even when the instrument is listed later.
        tail = archive.address_tail(stem)
        if is_valid(stem) and (audience == "shop" or _is_public(filed.look.standing, tail)):
            paths[stem] = f"{stem}-{tail}/" if tail else f"{stem}/"
    return paths


def _is_public(published: str, tail: str) -> bool:
    return published == "listed" or (published == "unlisted" and bool(tail))


def label_base(workshop: Workshop) -> str:
    """Give what the addresses on labels begin with; nothing while the workshop has no address."""
    return workshop.label_address or workshop.site_address or ""


def full_address(site: str, path: str) -> str:
    """Give the whole address of a page on a site; nothing while the site has no address."""
    return f"{site.rstrip('/')}/{path}" if site else ""
