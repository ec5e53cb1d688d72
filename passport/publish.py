"""The one build: load the records, check them, project them for an audience, and hand the pages out.

The command line and the MkDocs plugin both come through here, so that they give the same site.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from passport.checks import check
from passport.errors import PassportError
from passport.files import Synced, sync, write_atomic
from passport.findings import Finding, Severity
from passport.pictures import published_copy
from passport.records.catalogue import Archive, load
from passport.records.model.marks import Audience
from passport.site import data, folder, pages, search, sitemap
from passport.site.shell import Shell
from passport.views.pictures import pictures_of
from passport.views.project import project
from passport.views.tree import SiteView

# Says that a folder is ours to bring up to date, and which of the sites it holds. It names no page.
MARKER = ".passport-site"
CACHE = ".passport-cache"
SEARCH_INDEX = "search/search_index.json"
SEARCH_SCRIPT = "search/search_index.js"


class BuildStoppedError(PassportError):
    """The records have errors, so nothing was built; `findings` says which."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__(
            "the site was not built, because the records have errors", "mend them, or build with --with-errors"
        )
        self.findings = findings


@dataclass(frozen=True)
class Edition:
    """What is to be handed out: the views, the pictures they show, what the checks said, and the workshop's folder.

    One that is `offline` opens from a folder, without a server.
    """

    site: SiteView
    findings: tuple[Finding, ...]
    pictures: Mapping[str, tuple[Path, int]]
    folder: Path
    offline: bool = False

    @property
    def name(self) -> str:
        """Say which of the sites this is: public, shop, public offline, shop offline."""
        return f"{self.site.audience} offline" if self.offline else self.site.audience


def offline_edition(made: Edition) -> Edition:
    """Give what is handed out in a folder: without the unlisted, whose addresses a folder would tell."""
    site = folder.without_unlisted(made.site)
    unlisted = {view.path for view in made.site.instruments} - {view.path for view in site.instruments}
    pictures = {name: source for name, source in made.pictures.items() if f"{name.rpartition('/')[0]}/" not in unlisted}
    return replace(made, site=site, pictures=pictures, offline=True)


def edition(records: Path, audience: Audience, *, with_errors: bool = False) -> Edition:
    """Load, check and project; BuildStoppedError where a record has an error and that was not asked for."""
    archive = load(records)
    findings = check(archive)
    if not with_errors and any(finding.severity is Severity.ERROR for finding in findings):
        raise BuildStoppedError(findings)
    site = project(archive, findings, audience)
    return Edition(site, findings, _pictures(archive, site), records.parent)


def _pictures(archive: Archive, site: SiteView) -> Mapping[str, tuple[Path, int]]:
    return {name: (archive.root / "photos" / source, px) for name, source, px in pictures_of(archive, site)}


@dataclass(frozen=True)
class Staged:
    """What MkDocs has built aside: its folder, the theme around a page by depth, the addresses of its own pages."""

    folder: Path
    shells: dict[int, Shell]
    hand_written: list[str]


def hand_out(made: Edition, staged: Staged, out: Path) -> Synced:
    """Bring the folder `out` up to date: what MkDocs staged, the pages, their data and the pictures."""
    claim(out, made.name)
    files = _all_files(made, staged)
    return sync(out, folder.files(made.site, files) if made.offline else files)


def _all_files(made: Edition, staged: Staged) -> Iterator[tuple[str, bytes]]:
    yield MARKER, made.name.encode()
    for path in sorted(path for path in staged.folder.rglob("*") if path.is_file()):
        name = path.relative_to(staged.folder).as_posix()
        yield from _search_index(made, path.read_bytes()) if name == SEARCH_INDEX else [(name, path.read_bytes())]
    yield from pages.pages(made.site, staged.shells, archive=made.folder)
    yield from data.data_files(made.site)
    found = sitemap.sitemap(made.site, staged.hand_written)
    if found:
        yield "sitemap.xml", found
    for name, (source, longest_px) in made.pictures.items():
        yield name, _picture(source, longest_px, made.folder / CACHE)


def _search_index(made: Edition, index: bytes) -> Iterator[tuple[str, bytes]]:
    """Give the theme's search index with our entries, and again as a script for a site opened from a folder."""
    whole = search.merged(index, search.entries(made.site))
    whole = folder.index(whole) if made.offline else whole
    yield SEARCH_INDEX, whole
    yield SEARCH_SCRIPT, search.as_script(whole)


def claim(out: Path, name: str) -> None:
    """Make sure that a folder may be overwritten: it is new, empty, or holds the site of the same name."""
    marker = out / MARKER
    if marker.is_file():
        theirs = marker.read_text(encoding="utf-8").strip()
        if theirs != name:
            raise PassportError(f"“{out}” holds the {theirs} site", f"build the {name} site into another folder")
    elif out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise PassportError(
            f"“{out}” holds something else than a site of ours", "name a new or an empty folder with --out"
        )


def _picture(source: Path, longest_px: int, cache: Path) -> bytes:
    """Give the published copy of a picture; made once for the same picture and size."""
    digest = hashlib.sha256(source.read_bytes() + f"/{longest_px}".encode()).hexdigest()
    kept = cache / "pictures" / f"{digest}.jpg"
    if not kept.is_file():
        write_atomic(kept, published_copy(source, longest_px))
    return kept.read_bytes()
