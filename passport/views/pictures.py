"""Which picture file is behind each picture of the pages.

Pages name pictures by their place in the record; only here is that place led back to a file of the workshop.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.records.catalogue import Archive
from passport.views.instrument import LARGE_PX, SMALL_PX, shown_photos
from passport.views.tree import SiteView
from passport.views.visible import visible


def pictures_of(archive: Archive, site: SiteView) -> Iterator[tuple[str, str, int]]:
    """Give the name on the site, the file below photos/, and the longest side in pixels of every picture shown."""
    shown = visible(archive, "shop" if site.audience == "shop" else "public")
    for stem, view in zip(shown.instruments, site.instruments, strict=True):
        files = shown_photos(shown.instruments[stem].record, shown.photos.get(stem, {}))
        for file, photo in zip(files, view.photos, strict=True):
            yield photo.large, f"{stem}/{file.file}", LARGE_PX
            yield photo.small, f"{stem}/{file.file}", SMALL_PX
