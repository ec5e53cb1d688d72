"""The address of every page; nothing else builds one.

An instrument's address never changes: what is printed on its label must lead to it for as long as the instrument lasts.
"""

from __future__ import annotations

from collections.abc import Mapping

from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience

SECTIONS = {"wood": "wood", "varnish": "varnish", "models": "models"}


def instrument_paths(archive: Archive, audience: Audience) -> Mapping[str, str]:
    """Give the path of each instrument's page, "ZVSPYJH/"; an instrument this audience has no page of is not there.

    The shop's site keeps every instrument at the address of its label, the long one of an unlisted instrument included.
    """
    paths = {stem: _path(stem, filed.record, _tail(archive, stem)) for stem, filed in archive.instruments.items()}
    return {
        stem: path
        for stem, path in paths.items()
        if audience == "shop" or archive.instruments[stem].record.published != "shop_only"
    }


def _tail(archive: Archive, stem: str) -> str:
    """Give the random end of an unlisted address: once made it stays, even when the instrument is listed later."""
    return (archive.private[stem].record.page or "") if stem in archive.private else ""


def _path(stem: str, instrument: Instrument, tail: str) -> str:
    number = instrument.id or stem
    return f"{number}-{tail}/" if tail else f"{number}/"


def supply_path(section: str, name: str) -> str:
    """Give the path of a lot's, a batch's or a model's page."""
    return f"{SECTIONS[section]}/{name}/"


def full_address(site: str, path: str) -> str:
    """Give the whole address of a page on a site; nothing while the site has no address."""
    return f"{site.rstrip('/')}/{path}" if site else ""
