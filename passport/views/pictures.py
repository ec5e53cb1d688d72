"""The pictures of the pages: how they are shown, and which file of the workshop is behind each.

Their names on the site number them in the order of the record and tell nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from passport.pictures import PictureFacts, fitted
from passport.records.model.instrument import Instrument, Photo
from passport.views.numbers import date_text, joined
from passport.views.site_tree import PictureSource
from passport.views.titles import spoken
from passport.views.tree import PhotoView

LARGE_PX = 1600
SMALL_PX = 640


def photos(record: Instrument, of: str, path: str, files: Mapping[str, PictureFacts]) -> tuple[PhotoView, ...]:
    """Give the pictures that can be shown, numbered in the order of the record; their names tell nothing else."""
    numbered = enumerate(shown_photos(record, files), 1)
    return tuple(_photo(photo, f"{path}{number:02d}", files[photo.file or ""], of) for number, photo in numbered)


def shown_photos(record: Instrument, files: Mapping[str, PictureFacts]) -> tuple[Photo, ...]:
    """Give the photos of a record whose file is there and sound."""
    sound = {file for file, facts in files.items() if not facts.fault}
    return tuple(photo for photo in record.photos or () if photo.file in sound)


def _photo(photo: Photo, name: str, facts: PictureFacts, of: str) -> PhotoView:
    width, height = fitted(facts.width, facts.height, LARGE_PX)
    small_width, small_height = fitted(facts.width, facts.height, SMALL_PX)
    view = spoken(photo.view or "")
    return PhotoView(
        f"{name}.jpg", f"{name}-small.jpg", width, height, small_width, small_height,
        view, joined(of, view), photo.caption or "", date_text(photo.date),
    )  # fmt: skip


def sources(stem: str, record: Instrument, path: str, files: Mapping[str, PictureFacts]) -> Iterator[PictureSource]:
    """Give the file behind each picture of a page, in both sizes."""
    for photo, shown in zip(shown_photos(record, files), photos(record, "", path, files), strict=True):
        yield PictureSource(shown.large, f"{stem}/{photo.file}", LARGE_PX)
        yield PictureSource(shown.small, f"{stem}/{photo.file}", SMALL_PX)
