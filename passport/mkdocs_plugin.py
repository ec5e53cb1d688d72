"""The thin adapter between MkDocs and `publish`: the theme in its place, its shells rendered, MkDocs' pages staged.

The only door to MkDocs. It decides nothing about instruments.
"""

from __future__ import annotations

import json
import logging
import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from jinja2 import Environment
from mkdocs.commands.build import build as mkdocs_build
from mkdocs.commands.build import get_context
from mkdocs.commands.serve import serve as mkdocs_serve
from mkdocs.config import load_config
from mkdocs.config.base import Config
from mkdocs.config.config_options import Choice, Type
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files
from mkdocs.structure.nav import Link, Navigation
from mkdocs.structure.pages import Page
from watchdog.observers.polling import PollingObserver

from passport.errors import PassportError
from passport.findings import Severity
from passport.publish import BuildStoppedError, Edition, HandedOut, Staged, claim, edition, hand_out
from passport.records.catalogue import find_root
from passport.records.model.marks import Audience
from passport.site import shell
from passport.site.folder import last_entry
from passport.site.templates import shipped_root
from passport.views.addresses import full_address, lists
from passport.views.tree import WorkshopView

THEME = Path("site_templates") / "theme"
# How deep a page lies below the root of the site: /<ID>/ is one, /wood/<lot>/ is two.
PAGE_ADDRESSES = {1: "shell.md", 2: "shell/shell.md"}
AFTER_ALL_OTHERS = -100
# How long a saved record may lie unseen while the site is shown.
LOOK_EVERY_S = 0.2
CHECKBOX = re.compile(r'(<input\b[^>]*\btype="checkbox"[^>]*?) autocomplete="off"([^>]*>)')

log = logging.getLogger("mkdocs.plugins.passport")

# The theme prints a notice about its own future at every start; it concerns no workshop.
os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")


class PassportConfig(Config):
    """What mkdocs.yml may set under `passport`."""

    audience = Choice(("public", "shop"), default="public")
    records = Type(str, default="records")


@dataclass
class _Run:
    """One build under way: what is handed out, what MkDocs stages aside, and the folder that was asked for."""

    made: Edition
    staged: Staged
    out: Path
    config: MkDocsConfig
    nav: Navigation | None = None

    def end(self) -> None:
        """Leave nothing behind, and give MkDocs its folder back, so that what runs next finds the site there."""
        shutil.rmtree(self.staged.folder, ignore_errors=True)
        self.config.site_dir = str(self.out)


class PassportPlugin(BasePlugin[PassportConfig]):
    """Lets MkDocs build the hand-written pages aside, and hands out the whole site through `publish`."""

    def __init__(self) -> None:
        super().__init__()
        self.prepared: Edition | None = None
        self.is_ours = False
        self.done: HandedOut | None = None
        self._serving = False
        self._run: _Run | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:  # noqa: ARG002 - MkDocs calls it so
        """Note whether the pages are only shown on this machine."""
        self._serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Check and project the records before anything is touched, then have MkDocs build aside."""
        use_our_theme(config)
        records = _records_folder(config, self.config.records)
        with _said_to_mkdocs():
            refuse_overlap(config, records)
            made = self.prepared or self._edition(find_root(records))
            # MkDocs keeps a plugin from one build to the next; what was prepared is good for one.
            self.prepared = None
            claim(Path(config.site_dir), made.name)
        introduce(config, made.site.workshop, made.site.audience, keep_address=self._serving)
        config.extra["copied"] = last_entry(made.site) if made.offline else None
        staging = tempfile.mkdtemp(prefix="passport-")
        self._run = _Run(made, Staged(Path(staging), {}, []), Path(config.site_dir), config)
        config.site_dir = staging
        return config

    def _edition(self, records: Path) -> Edition:
        """Load, check and project; while the site is only shown, an error stands on its page and stops nothing."""
        made = edition(records, cast("Audience", self.config.audience), is_draft=self._serving)
        if self._serving:
            for found in made.findings:
                if found.severity is Severity.ERROR:
                    log.error("%s:%d:%d: %s → %s", found.file, found.line, found.column, found.what, found.todo)
        return made

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Leave out what the theme ships and no page of ours loads."""
        for file in [file for file in files if _is_idle(file.src_uri, config)]:
            files.remove(file)
        return files

    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:  # noqa: ARG002 - as above
        """Add the lists, which are made from records and so have no file that MkDocs knows."""
        audience = cast("Audience", config.extra["audience"])
        nav.items[1:1] = [Link(title, address) for title, address in lists(audience, is_draft=self._serving)]
        if self._run is not None:
            self._run.nav = nav
            self._run.staged.hand_written[:] = [page.url.removeprefix("./") for page in nav.pages]
        return nav

    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Render the theme once for each depth of address."""
        if self._run is not None and self._run.nav is not None:
            self._run.staged.shells.update(shells(env, config, self._run.nav, files))
        return env

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:  # noqa: ARG002 - as above
        """Give a page of MkDocs' own as valid HTML."""
        return valid(output)

    def on_post_template(self, output: str, *, template_name: str, config: MkDocsConfig) -> str:  # noqa: ARG002 - as above
        """Give the not-found page as valid HTML too."""
        return valid(output)

    @event_priority(AFTER_ALL_OTHERS)
    def on_post_build(self, *, config: MkDocsConfig) -> None:  # noqa: ARG002 - as above
        """Hand the whole site out."""
        if self._run is not None:
            with _said_to_mkdocs():
                self.done = hand_out(self._run.made, self._run.staged, self._run.out)
                if not self.is_ours:
                    self.done.refuse_leaks()
            self._run.end()
            log.info("The whole site is in %s", self._run.out)

    def on_build_error(self, *, error: Exception) -> None:  # noqa: ARG002 - as above
        """End the run; what was there before stays as it was."""
        if self._run is not None:
            self._run.end()

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: object) -> LiveReloadServer:  # noqa: ARG002 - as above
        """Build again when a record is saved, and look for that more often than MkDocs does: somebody waits for it."""
        watched = [config.docs_dir, config.config_file_path]
        for path in watched:
            server.unwatch(path)
        server.observer = PollingObserver(timeout=LOOK_EVERY_S)
        for path in (*watched, str(_records_folder(config, self.config.records))):
            server.watch(path)
        return server


def _is_idle(name: str, config: MkDocsConfig) -> bool:
    """Tell whether a theme file is never loaded: maps for debugging, Material's looks, other languages' stemmers."""
    english = list(config.plugins["search"].config["lang"] or ["en"]) == ["en"] if "search" in config.plugins else True
    idle = name.endswith(".map") or name.startswith("assets/stylesheets/")
    return idle or (english and name.startswith("assets/javascripts/lunr/"))


def _records_folder(config: MkDocsConfig, records: str) -> Path:
    """Give the records folder; in mkdocs.yml it is written from where that file lies."""
    folder = Path(config.config_file_path).parent / records
    here = Path.cwd()
    return folder.relative_to(here) if folder.is_relative_to(here) else folder


@contextmanager
def _said_to_mkdocs() -> Iterator[None]:
    """Say a fault of ours in the way that stops a build of MkDocs."""
    try:
        yield
    except BuildStoppedError as error:
        places = [
            f"  {found.file}:{found.line}:{found.column} {found.severity.value} {found.what}"
            for found in error.findings
        ]
        raise PluginError("\n".join([f"{error.what}:", *places])) from error
    except PassportError as error:
        raise PluginError(f"{error.what}; {error.todo}") from error


def refuse_overlap(config: MkDocsConfig, records: Path) -> None:
    """Refuse folders that would publish the records themselves, or write the site over them."""
    inside = records.resolve()
    for folder, name in ((config.docs_dir, "docs_dir"), (config.site_dir, "site_dir")):
        other = Path(folder).resolve()
        if other == inside or other in inside.parents or inside in other.parents:
            what = f"{name} ({folder}) and the records ({records}) lie in one another"
            raise PassportError(what, "keep them apart: the one is for everyone, the other is not")


def use_our_theme(config: MkDocsConfig) -> None:
    """Look for theme files in the workshop's custom_dir, then in ours, then in Material's."""
    ours = str(shipped_root() / THEME)
    folders = config.theme.dirs
    if ours not in [str(Path(folder).resolve()) for folder in folders]:
        folders.insert(1 if config.theme.custom_dir else 0, ours)


def introduce(config: MkDocsConfig, workshop: WorkshopView, audience: str, *, keep_address: bool) -> None:
    """Let the theme say who keeps the archive; the address of the site comes from the workshop's record alone."""
    config.site_name = workshop.name
    if not keep_address:
        config.site_url = full_address(workshop.site_url, "")
    config.extra["workshop"] = {"place": workshop.place, "contact": workshop.contact}
    config.extra["audience"] = audience


def shells(env: Environment, config: MkDocsConfig, nav: Navigation, files: Files) -> dict[int, shell.Shell]:
    """Give the theme around a page at each depth, cut where title, description, head and content go."""
    return {depth: _shell(env, config, nav, files, address) for depth, address in PAGE_ADDRESSES.items()}


def _shell(env: Environment, config: MkDocsConfig, nav: Navigation, files: Files, address: str) -> shell.Shell:
    page = Page(shell.TITLE, File.generated(config, address, content=""), config)
    page.meta = {"description": shell.DESCRIPTION, "head": shell.HEAD, "template": "main.html", "leaf": "record"}
    page.content = shell.CONTENT
    context = get_context(nav, files, config, page)
    return shell.Shell.cut(valid(env.get_template("main.html").render(context)))


def valid(html: str) -> str:
    """Mend what the theme's own template has wrong: HTML allows `autocomplete` on fields that are typed into only."""
    return CHECKBOX.sub(r"\1\2", html)


def config_file() -> Path:
    """Give the workshop's own mkdocs.yml where there is one, else the one we ship."""
    own = Path("mkdocs.yml")
    return own.resolve() if own.is_file() else shipped_root() / "mkdocs.yml"


def build(made: Edition, records: Path, out: Path) -> HandedOut:
    """Build the site of an edition of these records that is ready; says what was written."""
    config = load_config(str(config_file()), site_dir=str(out.resolve()))
    plugin = config.plugins.get("passport")
    if not isinstance(plugin, PassportPlugin):
        raise PassportError("mkdocs.yml does not name the plugin passport", "add “passport: {}” to its plugins")
    plugin.prepared, plugin.is_ours = made, True
    plugin.config.records = str(records.resolve())
    # Refused here in our own words; MkDocs would only log them and abort.
    refuse_overlap(config, records)
    claim(out, made.name)
    try:
        mkdocs_build(config)
    except Abort as stopped:
        raise PassportError("the site was not built", "the reason stands above") from stopped
    if plugin.done is None:
        raise PassportError("the site was not built", "the plugin passport was not called; look at mkdocs.yml")
    plugin.done.refuse_leaks()
    return plugin.done


def serve(records: Path, audience: str, address: str) -> None:
    """Show the site on this machine, and build it again whenever something is saved."""
    options = {"passport": {"audience": audience, "records": str(records.resolve())}}
    with tempfile.TemporaryDirectory(prefix="passport-") as folder:
        inheriting = Path(folder) / "mkdocs.yml"
        inheriting.write_text(_inheriting(config_file(), options), encoding="utf-8")
        try:
            mkdocs_serve(str(inheriting), dev_addr=address)
        except OSError as error:
            todo = "perhaps the site is shown there already; try another port: --at 127.0.0.1:8001"
            raise PassportError(f"the site cannot be shown at {address}: {error.strerror}", todo) from error
        except Abort as stopped:
            raise PassportError("the site cannot be shown", "the reason stands above") from stopped


def _inheriting(parent: Path, plugins: dict[str, dict[str, str]]) -> str:
    """Give a configuration that is another one's with these plugin options; JSON is YAML."""
    theirs = load_config(str(parent))
    theme = {"name": "material", **({"custom_dir": theirs.theme.custom_dir} if theirs.theme.custom_dir else {})}
    return json.dumps({"INHERIT": str(parent), "docs_dir": theirs.docs_dir, "theme": theme, "plugins": plugins})
