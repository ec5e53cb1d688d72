"""The one build: load the records, check them, project them for an audience, and hand the pages out.

The command line and the MkDocs plugin both come through here, so that they give the same site.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from passport.checks import check
from passport.errors import PassportError
from passport.files import Synced, sync, write_atomic
from passport.findings import Finding, Severity
from passport.pictures import published_copy
from passport.records.catalogue import Archive, load
from passport.records.model.marks import Audience
from passport.views.pictures import pictures_of
from passport.views.project import project
from passport.views.tree import SiteView

# Says that a folder is ours to bring up to date, and for which audience. It names no page.
MARKER = ".passport-site"
CACHE = ".passport-cache"


class BuildStoppedError(PassportError):
    """The records have errors, so nothing was built; `findings` says which."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__(
            "the site was not built, because the records have errors",
            "mend them, or build with --with-errors",
        )
        self.findings = findings


@dataclass(frozen=True)
class Edition:
    """What is to be handed out: the views, the pictures they show, and what the checks said."""

    site: SiteView
    findings: tuple[Finding, ...]
    pictures: Mapping[str, tuple[Path, int]]
    cache: Path


def edition(records: Path, audience: Audience, *, with_errors: bool = False) -> Edition:
    """Load, check and project; BuildStoppedError where a record has an error and that was not asked for."""
    archive = load(records)
    findings = check(archive)
    if not with_errors and any(finding.severity is Severity.ERROR for finding in findings):
        raise BuildStoppedError(findings)
    site = project(archive, findings, audience)
    return Edition(site, findings, _pictures(archive, site), records.parent / CACHE)


def _pictures(archive: Archive, site: SiteView) -> Mapping[str, tuple[Path, int]]:
    return {name: (archive.root / "photos" / source, px) for name, source, px in pictures_of(archive, site)}


def hand_out(made: Edition, pages: Iterable[tuple[str, bytes]], staged: Path, out: Path) -> Synced:
    """Bring the folder `out` up to date: what MkDocs staged, the pages, and the pictures."""
    claim(out, made.site.audience)
    return sync(out, _all_files(made, pages, staged))


def _all_files(made: Edition, pages: Iterable[tuple[str, bytes]], staged: Path) -> Iterator[tuple[str, bytes]]:
    yield MARKER, made.site.audience.encode()
    ours = dict(pages)
    for path in sorted(path for path in staged.rglob("*") if path.is_file()):
        name = path.relative_to(staged).as_posix()
        if name not in ours:
            yield name, path.read_bytes()
    yield from ours.items()
    for name, (source, longest_px) in made.pictures.items():
        yield name, _picture(source, longest_px, made.cache)


def claim(out: Path, audience: str) -> None:
    """Make sure that a folder may be overwritten: it is new, empty, or a site of the same audience."""
    marker = out / MARKER
    if marker.is_file():
        theirs = marker.read_text(encoding="utf-8").strip()
        if theirs != audience:
            raise PassportError(f"“{out}” holds the {theirs} site", f"build the {audience} site into another folder")
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
