"""Draws the pictures of the demo archive: instruments from the outlines of their models, as tinted ledger drawings.

The one place that writes pictures: those the records list, the same bytes on every run with one Pillow.
Needs numpy (`pip install -e .[dev]`); run as `python records/photos/_draw`, with the numbers of some or for all.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any

from archive import PHOTOS, instrument_of, records
from damage import crack, seam
from label import label
from paper import ledger_page
from PIL import Image
from views import back, front, scroll

JPEG_QUALITY = 84  # of 100


def picture(photo: dict[str, Any], number: str, record: dict[str, Any]) -> Image.Image:
    """Draw one of the pictures a record lists."""
    instrument = instrument_of(number, record)
    if photo["view"] == "label":
        return label(instrument, record["label"]["text"])
    if photo["view"] == "damage":
        return seam(instrument) if photo["file"].startswith("seam") else crack(instrument)
    drawn = {"front": front, "back": back, "scroll": scroll}[photo["view"]]
    return ledger_page(drawn(instrument), number, mirror=instrument.left_handed)


def draw(number: str, record: dict[str, Any]) -> None:
    """Draw every picture that one record lists."""
    for photo in record.get("photos") or []:
        folder = PHOTOS / number
        folder.mkdir(exist_ok=True)
        image = picture(photo, number, record)
        image.save(folder / photo["file"], quality=JPEG_QUALITY, optimize=True, subsampling="4:2:0")


def main(wanted: Sequence[str]) -> None:
    """Draw the pictures of the instruments that are wanted, or of all."""
    known = records()
    unknown = [number for number in wanted if number not in known]
    if unknown:
        sys.exit(f"There is no record of {', '.join(unknown)} in records/instruments; check the number.")
    for number in wanted or known:
        draw(number, known[number])


if __name__ == "__main__":
    main(sys.argv[1:])
