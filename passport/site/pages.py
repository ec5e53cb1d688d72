"""Every page of the site, as an address and its bytes.

It chooses the template and fills the shell; what may be said was decided when the view was made.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, partial
from html import escape
from itertools import groupby
from pathlib import Path

from passport.kept import digest, states
from passport.site import linked_data
from passport.site.shell import Shell
from passport.site.templates import environment, template_roots
from passport.views.addresses import FINDINGS, SIDE_BY_SIDE, WORK_LISTS, full_address
from passport.views.site_tree import (
    AcrossGroup,
    AcrossView,
    CatalogueGroup,
    FoundIn,
    SiteView,
    SupplyLine,
    SupplyView,
    WorkList,
)
from passport.views.tree import InstrumentView, WorkshopView

# A line is some 300 bytes of HTML: so a page stays below 60 KB, whatever the catalogue holds.
LINES_ON_A_LEAF = 150
# A longer list is worked through with `passport check`; the page says how much it leaves out.
MOST_FILES = 200
UNLISTED_HEAD = '<meta name="robots" content="noindex"><meta name="referrer" content="no-referrer">'


@dataclass(frozen=True)
class SupplyList:
    """One of the lists of lots, batches and models: its folder and what it is called."""

    section: str
    title: str
    one: str
    lead: str
    none: str


SUPPLY_LISTS = (
    SupplyList(
        "wood", "Wood", "lot", "Every lot, and how many instruments were made of it.", "No lot is recorded yet."
    ),
    SupplyList(
        "varnish", "Varnish", "batch", "Every batch, and how many instruments carry it.", "No batch is recorded yet."
    ),
    SupplyList(
        "models", "Models", "model", "Every pattern, and how many instruments follow it.", "No model is recorded yet."
    ),
)


@dataclass(frozen=True)
class Press:
    """What every page is set with; `archive` is the workshop's folder, for its own templates."""

    shells: Mapping[int, Shell]
    workshop: WorkshopView
    audience: str
    archive: Path | None = None

    @cached_property
    def digest(self) -> str:
        """Name everything of a page that does not come from its record."""
        templates = [found for root in template_roots(self.archive) for found in states(root)]
        return digest([self.shells, self.workshop, self.audience, *templates])

    def page(
        self, path: str, template: str, *, title: str, description: str, head: str = "", **parts: object
    ) -> tuple[str, bytes]:
        """One finished page at `path`, which ends in "/"."""
        depth = path.count("/")
        page_template = environment(self.archive, self.digest).get_template(template)
        content = page_template.render(
            base="../" * depth,
            workshop=self.workshop,
            audience=self.audience,
            address=full_address(self.workshop.site_url, path),
            **parts,
        )
        page = self.shells[depth].fill(title=title, description=description, head=head, content=content)
        return f"{path}index.html", page


@dataclass(frozen=True)
class Shared:
    """A page that is made from several records: where it stands, all that it comes from, and how it is made."""

    path: str
    of: object
    make: Callable[[], tuple[str, bytes]]


def shared_pages(press: Press, site: SiteView) -> Iterator[Shared]:
    """Every page but those of the instruments."""
    for supply in site.supplies:
        yield Shared(supply.path, supply, partial(supply_page, press, supply))
    lists = {"wood": site.wood, "varnish": site.varnish, "models": site.models}
    for kind in SUPPLY_LISTS:
        lines = lists[kind.section]
        yield Shared(f"{kind.section}/", lines, partial(supply_list_page, press, kind, lines))
    leaves = catalogue_leaves(site.catalogue)
    for leaf in leaves:
        yield Shared(leaf.path, (leaf, len(leaves)), partial(catalogue_page, press, leaf, leaves))
    yield Shared(SIDE_BY_SIDE, site.side_by_side, partial(side_by_side_page, press, site.side_by_side))
    for path, inputs in site.across_from.items():
        yield Shared(path, inputs, lambda path=path: across_page(press, site.across[path]))  # type: ignore[misc]
    if site.work_lists:
        yield Shared(WORK_LISTS, site.work_lists, partial(work_lists_page, press, site.work_lists))
    if site.is_draft or site.audience == "shop":
        yield Shared(FINDINGS, site.found, partial(findings_page, press, site.found))
    for each in site.unread:
        yield Shared(each.path, each, partial(unread_page, press, each))


def pages(press: Press, site: SiteView) -> Iterator[tuple[str, bytes]]:
    """Every page but those of the instruments, made."""
    return (shared.make() for shared in shared_pages(press, site))


@dataclass(frozen=True)
class Leaf:
    """One page of the catalogue: its number, its address, and the part of each kind that stands on it."""

    number: int
    path: str
    groups: tuple[CatalogueGroup, ...]


def catalogue_leaves(groups: tuple[CatalogueGroup, ...]) -> tuple[Leaf, ...]:
    """The catalogue in pages of a bearable size; whoever has scripts sees only the first, and the whole list in it."""
    lines = [(group.title, entry) for group in groups for entry in group.instruments]
    starts = range(0, max(len(lines), 1), LINES_ON_A_LEAF)
    return tuple(
        Leaf(
            number,
            "catalogue/" if number == 1 else f"catalogue/{number}/",
            tuple(
                CatalogueGroup(title, tuple(entry for _, entry in part))
                for title, part in groupby(lines[start : start + LINES_ON_A_LEAF], key=lambda line: line[0])
            ),
        )
        for number, start in enumerate(starts, start=1)
    )


def catalogue_page(press: Press, leaf: Leaf, leaves: tuple[Leaf, ...]) -> tuple[str, bytes]:
    """One page of the catalogue; the first can be narrowed down where scripts run."""
    return press.page(
        leaf.path,
        "catalogue.html",
        title="Catalogue" if leaf.number == 1 else f"Catalogue, page {leaf.number}",
        description=f"Every listed instrument of {press.workshop.name}, by kind and size.",
        head=canonical(press.workshop, leaf.path),
        leaf=leaf,
        leaves=leaves,
    )


def instrument_page(press: Press, view: InstrumentView) -> tuple[str, bytes]:
    """The page of one instrument; one that is not listed asks search engines to stay away and sends no referrer."""
    head = canonical(press.workshop, view.path) if view.listed else UNLISTED_HEAD
    named = " · ".join(part for part in (view.id, view.serial, view.title) if part)
    return press.page(
        view.path,
        "instrument.html",
        title=named,
        description=description(view),
        head=head + linked_data.script(view, press.workshop),
        view=view,
    )


def sums_page(press: Press, view: InstrumentView) -> tuple[str, bytes]:
    """The sums behind the page of one instrument; found by the same people as that page."""
    return press.page(
        view.sums_path,
        "sums.html",
        title=f"{view.id} · The sums",
        description=f"What was worked out of {view.title}, number {view.id}, and from what",
        head=canonical(press.workshop, view.sums_path) if view.listed else UNLISTED_HEAD,
        view=view,
    )


def description(view: InstrumentView) -> str:
    """One line for search engines and link previews."""
    facts = (view.title, view.maker_line, view.made, f"number {view.id}")
    return ", ".join(fact for fact in facts if fact)


def supply_page(press: Press, view: SupplyView) -> tuple[str, bytes]:
    """The page of one lot, batch or model."""
    named = view.title if view.id in view.title else f"{view.id} · {view.title}"
    return press.page(
        view.path,
        "supply.html",
        title=named,
        description=view.subtitle or named,
        head=canonical(press.workshop, view.path),
        view=view,
    )


def supply_list_page(press: Press, kind: SupplyList, lines: tuple[SupplyLine, ...]) -> tuple[str, bytes]:
    """The list of all lots, batches or models."""
    path = f"{kind.section}/"
    return press.page(
        path,
        "supply_list.html",
        title=kind.title,
        description=kind.lead,
        head=canonical(press.workshop, path),
        kind=kind,
        lines=lines,
    )


def side_by_side_page(press: Press, groups: tuple[AcrossGroup, ...]) -> tuple[str, bytes]:
    """The way to everything that is set side by side."""
    return press.page(
        SIDE_BY_SIDE,
        "side_by_side.html",
        title="Side by side",
        description="Plates, set-ups and wood of many instruments, in charts and tables.",
        head=canonical(press.workshop, SIDE_BY_SIDE),
        groups=groups,
    )


def across_page(press: Press, view: AcrossView) -> tuple[str, bytes]:
    """Many instruments side by side."""
    return press.page(
        view.path,
        "across.html",
        title=view.title,
        description=f"{view.title}: {view.lead}.",
        head=canonical(press.workshop, view.path),
        view=view,
    )


def work_lists_page(press: Press, lists: tuple[WorkList, ...]) -> tuple[str, bytes]:
    """The shop's own lists on one page."""
    return press.page(
        WORK_LISTS, "work_lists.html", title="Work lists", description="What is due, old or incomplete.", lists=lists
    )


def findings_page(press: Press, found: tuple[FoundIn, ...]) -> tuple[str, bytes]:
    """What the checks found, file by file."""
    shown, left_off = found[:MOST_FILES], max(0, len(found) - MOST_FILES)
    return press.page(
        FINDINGS, "findings.html", title="Findings", description="What is to be mended.", found=shown, left_off=left_off
    )


def unread_page(press: Press, unread: FoundIn) -> tuple[str, bytes]:
    """What stands in a draft in place of an instrument whose record cannot be read."""
    title = f"{unread.path.rstrip('/')} cannot be read"
    return press.page(unread.path, "unread.html", title=title, description=title, head=UNLISTED_HEAD, found=unread)


def canonical(workshop: WorkshopView, path: str) -> str:
    """The link that says which of several addresses is the page's own; none without a site address."""
    whole = full_address(workshop.site_url, path)
    return f'<link rel="canonical" href="{escape(whole)}">' if whole else ""
