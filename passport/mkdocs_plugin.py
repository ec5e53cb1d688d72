"""The thin adapter between MkDocs and the site: the theme in its place, the shells rendered, the pages written.

It alone knows MkDocs. It decides nothing about instruments.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.commands.build import get_context
from mkdocs.config.base import Config
from mkdocs.config.config_options import Choice
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File
from mkdocs.structure.nav import Link
from mkdocs.structure.pages import Page

from passport.site import data, pages, search, shell, sitemap
from passport.site.templates import shipped_root

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jinja2 import Environment
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.structure.files import Files
    from mkdocs.structure.nav import Navigation

    from passport.site.shell import Shell
    from passport.views.tree import SiteView

THEME = Path("site_templates") / "theme"
# How deep a page lies below the root of the site: /<ID>/ is one, /wood/<lot>/ is two.
PAGE_ADDRESSES = {1: "shell.md", 2: "shell/shell.md"}
LISTS = (("Catalogue", "catalogue/"), ("Wood", "wood/"), ("Varnish", "varnish/"), ("Models", "models/"))
SEARCH_INDEX = Path("search") / "search_index.json"


class PassportConfig(Config):  # type: ignore[misc] # MkDocs ships no types
    """What mkdocs.yml may set under `passport`."""

    audience = Choice(("public", "shop"), default="public")


class PassportPlugin(BasePlugin[PassportConfig]):  # type: ignore[misc] # MkDocs ships no types
    """Builds the pages of all instruments around MkDocs' build of the hand-written ones."""

    def __init__(self) -> None:
        super().__init__()
        self.site: SiteView | None = None
        self.shells: dict[int, Shell] = {}
        self._nav: Navigation | None = None

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Put our theme before Material's, and hand the workshop's name and place to its templates."""
        use_our_theme(config)
        config.extra["audience"] = self.config.audience
        if self.site is not None:
            introduce(config, self.site)
        return config

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:  # noqa: ARG002 # MkDocs calls it so
        """Add the lists, which are made from records and so have no file that MkDocs knows."""
        nav.items[1:1] = [Link(title, address) for title, address in LISTS]
        self._nav = nav
        return nav

    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Render the theme once for each depth of address."""
        self.shells = shells(env, config, self._nav, files)
        return env

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write what the records say beside what MkDocs has built."""
        if self.site is not None:
            publish_into(Path(config.site_dir), self.site, self.shells, hand_written(self._nav))


def use_our_theme(config: MkDocsConfig) -> None:
    """Look for theme files in the workshop's custom_dir, then in ours, then in Material's; the sitemap is ours."""
    ours = str(shipped_root() / THEME)
    folders = config.theme.dirs
    if ours not in [str(Path(folder).resolve()) for folder in folders]:
        folders.insert(1 if config.theme.custom_dir else 0, ours)
    config.theme.static_templates.discard("sitemap.xml")


def introduce(config: MkDocsConfig, site: SiteView) -> None:
    """Let the theme say who keeps the archive; the address of the site comes from the workshop's record alone."""
    workshop = site.workshop
    config.site_name = workshop.name
    config.site_url = f"{workshop.site_url.rstrip('/')}/" if workshop.site_url else ""
    config.extra["workshop"] = {"place": workshop.place, "contact": workshop.contact}


def shells(env: Environment, config: MkDocsConfig, nav: Navigation | None, files: Files) -> dict[int, Shell]:
    """The theme around a page at each depth, cut at the marks that stand for title, description, head and content."""
    return {depth: _shell(env, config, nav, files, address) for depth, address in PAGE_ADDRESSES.items()}


def _shell(env: Environment, config: MkDocsConfig, nav: Navigation | None, files: Files, address: str) -> Shell:
    page = Page(shell.TITLE, File.generated(config, address, content=""), config)
    page.meta = {
        "description": shell.DESCRIPTION,
        "head": shell.HEAD,
        "template": "main.html",
        "leaf": "record",
    }
    page.content = shell.CONTENT
    context = get_context(nav, files, config, page)
    return shell.Shell.cut(env.get_template("main.html").render(context))


def hand_written(nav: Navigation | None) -> list[str]:
    """The addresses of the pages MkDocs itself has built."""
    return [] if nav is None else [page.url.removeprefix("./") for page in nav.pages]


def publish_into(folder: Path, site: SiteView, filled: dict[int, Shell], addresses: list[str]) -> None:
    """Write pages, data, search index and sitemap below `folder`."""
    for path, content in _outputs(folder, site, filled, addresses):
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)


def _outputs(
    folder: Path, site: SiteView, filled: dict[int, Shell], addresses: list[str]
) -> Iterator[tuple[str, bytes]]:
    yield from pages.pages(site, filled)
    yield from data.data_files(site)
    index = folder / SEARCH_INDEX
    if index.is_file():
        yield SEARCH_INDEX.as_posix(), search.merged(index.read_bytes(), search.entries(site))
    found = sitemap.sitemap(site, addresses)
    if found:
        yield "sitemap.xml", found
