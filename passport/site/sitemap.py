"""The sitemap: what search engines are told of, with the day each record was last changed.

Form: the protocol of sitemaps.org, version 0.9. Nothing unlisted is ever in it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from passport.views.addresses import LISTS, full_address
from passport.views.site_tree import SiteView

HEADER = '<?xml version="1.0" encoding="UTF-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n'


def sitemap(site: SiteView, hand_written: Iterable[str] = ("",)) -> bytes:
    """The whole sitemap, empty without a site address; `hand_written` are the paths of pages without a record."""
    root = site.workshop.site_url
    if not root:
        return b""
    lines = [
        f"<url><loc>{escape(full_address(root, path))}</loc>{_last_change(day)}</url>\n"
        for path, day in [*((path, "") for path in hand_written), *_recorded(site)]
    ]
    return (HEADER + "".join(lines) + "</urlset>\n").encode()


def _last_change(day: str) -> str:
    return f"<lastmod>{escape(day)}</lastmod>" if day else ""


def _recorded(site: SiteView) -> Iterator[tuple[str, str]]:
    """Pages made from records, in order of address."""
    pages = [(card.line.path, card.changed) for card in site.cards if card.listed]
    pages += [(view.path, view.changed) for view in site.supplies]
    yield from sorted([*pages, *((path, "") for _, path in LISTS)])
