"""What the checks found, file by file, and pages for the records that cannot be read at all.

Made for the shop, and for drafts on the workshop's own machine; the public has no such page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from passport.findings import Finding
from passport.records.catalogue import Archive
from passport.records.identity import is_valid
from passport.views.desk import Desk
from passport.views.instrument import finding_view
from passport.views.site_tree import FoundIn


def found(desk: Desk, archive: Archive, by_file: Mapping[str, tuple[Finding, ...]]) -> tuple[FoundIn, ...]:
    """Give every file that something was found in, those with a page with the way to it."""
    if not desk.tells_findings:
        return ()
    pages = {filed.file: desk.paths[stem] for stem, filed in desk.archive.instruments.items()}
    pages |= {each.file: each.path for each in unread(desk, archive, by_file)}
    return tuple(FoundIn(file, pages.get(file, ""), tuple(map(finding_view, said))) for file, said in by_file.items())


def unread(desk: Desk, archive: Archive, by_file: Mapping[str, tuple[Finding, ...]]) -> Iterator[FoundIn]:
    """Give the instruments whose records cannot be read, so that a draft says so where their page was."""
    for folder, stem in sorted(archive.unread):
        if desk.is_draft and folder == "instruments" and is_valid(stem):
            tail = archive.address_tail(stem)
            file = (archive.root / folder / f"{stem}.yml").as_posix()
            path = f"{stem}-{tail}/" if tail else f"{stem}/"
            yield FoundIn(file, path, tuple(map(finding_view, by_file.get(file, ()))))
