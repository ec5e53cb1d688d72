"""The copy that opens from a folder or a stick: links that name a file, nothing unlisted, a readme for a stranger.

It alone says how a link ends there; the addresses themselves are those of the site.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from urllib.parse import urlsplit, urlunsplit

from passport.views.numbers import counted
from passport.views.site_tree import SiteView

README = "readme.txt"
# A server's business: a page for addresses that lead nowhere, and a list for search engines.
FOR_SERVERS = ("404.html", "sitemap.xml", "sitemap.xml.gz")
NUMBERS = """\
An instrument's number stands inside it and on the label in its case. The folder of that name holds its page,
index.html, and beside it record.json, which says the same as plain text for any program. The folders wood, varnish
and models tell what the instruments were made of and after."""
LINK = re.compile(r'(<(?:a|form)\b[^>]*?\s(?:href|action)=")([^"]*)(?=")')


def naming_its_file(link: str) -> str:
    """The link with the file it means: a folder shows no page by itself, with scripts or without."""
    parts = urlsplit(link)
    if parts.scheme or parts.netloc or not parts.path or parts.path.rpartition("/")[2] not in ("", ".", ".."):
        return link
    return urlunsplit(parts._replace(path=f"{parts.path.removesuffix('/')}/index.html"))


def page(html: bytes) -> bytes:
    """The page with every link to another page of the site naming its file.

    The link that says which address is the page's own stays: nothing is ever loaded from there, and a copy that
    somebody puts on a server one day leads back to the site.
    """
    return LINK.sub(lambda link: link[1] + naming_its_file(link[2]), html.decode()).encode()


def index(index_json: bytes) -> bytes:
    """The search index with the file of each page."""
    whole = json.loads(index_json)
    for entry in whole["docs"]:
        entry["location"] = naming_its_file(f"./{entry['location']}").removeprefix("./")
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":")).encode()


def files(site: SiteView, of_the_site: Iterable[tuple[str, bytes | None]]) -> Iterator[tuple[str, bytes | None]]:
    """The files of the copy, made from those of the site."""
    for name, content in of_the_site:
        if name not in FOR_SERVERS:
            yield name, page(content) if content is not None and name.endswith(".html") else content
    yield README, readme(site).encode()


def without_unlisted(site: SiteView) -> SiteView:
    """The site as it may be handed on: a server tells nobody a page's address, a folder tells everybody its name."""
    if site.audience == "shop":
        return site
    return replace(site, cards=tuple(card for card in site.cards if card.listed))


def last_entry(site: SiteView) -> str:
    """The latest day in what the copy shows. The day of copying would make two copies of one archive differ."""
    days = [card.changed for card in site.cards] + [view.changed for view in site.supplies]
    return max(days, default="")


def readme(site: SiteView) -> str:
    """What a stranger is told who finds the folder."""
    paragraphs = (
        "Open index.html. Any web browser shows it; nothing has to be installed, and nothing is asked of any network.",
        "This is the workshop's own copy. It is not for publication." if site.audience == "shop" else "",
        _contents(site),
        NUMBERS,
        f"The same pages stand, or stood, at {site.workshop.site_url}" if site.workshop.site_url else "",
        f"Kept by: {site.workshop.contact}" if site.workshop.contact else "",
    )
    return "\n\n".join(paragraph for paragraph in paragraphs if paragraph) + "\n"


def _contents(site: SiteView) -> str:
    amount = len(site.cards)
    keeper = ", ".join(part for part in (site.workshop.name, site.workshop.place) if part)
    day = last_entry(site)
    return (
        f"This folder holds the records of {counted(amount, 'instrument')}"
        f"{' kept by ' if keeper else ''}{keeper}:\n"
        "what each is made of, how it was set up, and what has happened to it since."
        f"{f' The last dated entry is of {day}.' if day else ''}"
    )
