"""A finished label read again as a stranger's phone would, and measured: where it leads, how it will wear.

Sees finished pixels only, by a decoder that had no part in drawing them; a mismatch is a `PassportError`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import zxingcpp
from PIL import Image

from passport.errors import PassportError
from passport.labels.code import MM_PER_INCH, Code
from passport.stocks import LEAST_MODULE_MM, QUIET_MODULES
from passport.web import same_address

# ISO/IEC 15415 grades a symbol contrast of 70 % and more as A (from memory).
LEAST_CONTRAST = 0.70
FULL_SCALE = 255
# ISO/IEC 18004: a finder pattern is 7 modules wide, a symbol 17 + 4 x version.
FINDER_MIDDLE = 3.5
SEARCH_MODULES = 2.0


@dataclass(frozen=True)
class Reading:
    """What was read, and where: outer edges in pixels, the far ones just past the last dark pixel."""

    text: str
    across: int
    left_px: int
    top_px: int
    right_px: int
    bottom_px: int


def check(image: Image.Image, address: str, code: Code, dpi: float) -> None:
    """Raise `PassportError` unless this picture of one label leads to `address` and is fit to last."""
    grey = image.convert("L")
    reading = read(grey)
    if not same_address(reading.text, address):
        raise _refused(f"its code leads to “{reading.text}”, and the record's address is “{address}”")
    _check_module_size(reading, dpi)
    _check_modules(grey, reading, code)
    _check_quiet_zone(grey, reading)


def read(grey: Image.Image) -> Reading:
    """The one code in a grey picture."""
    pixels = memoryview(grey.tobytes()).cast("B", (grey.height, grey.width))
    found = zxingcpp.read_barcodes(
        pixels,
        formats=zxingcpp.BarcodeFormats([zxingcpp.BarcodeFormat.QRCode]),
        try_rotate=False,
        try_downscale=False,
        try_invert=False,
        text_mode=zxingcpp.TextMode.Plain,
    )
    if len(found) != 1:
        raise _refused("its code cannot be read" if not found else f"{len(found)} codes were read from it")
    return _measured(grey, found[0])


def _measured(grey: Image.Image, found: zxingcpp.Barcode) -> Reading:
    """Carry the decoder's corners, true to about a pixel, to the dark edges of the finder patterns."""
    across = 17 + 4 * _version(found)
    near, far = found.position.top_left, found.position.bottom_right
    module_px = (far.x - near.x) / across
    reach_px, middle_px = round(SEARCH_MODULES * module_px), int(FINDER_MIDDLE * module_px)
    column, row = near.x + middle_px, near.y + middle_px
    inwards = _Inwards(grey, 2 * reach_px, _middle_grey(grey))
    return Reading(
        text=found.text,
        across=across,
        left_px=inwards.first_dark((near.x - reach_px, row), (1, 0))[0],
        top_px=inwards.first_dark((column, near.y - reach_px), (0, 1))[1],
        right_px=inwards.first_dark((far.x + reach_px, row), (-1, 0))[0] + 1,
        bottom_px=inwards.first_dark((column, far.y + reach_px), (0, -1))[1] + 1,
    )


def _version(found: zxingcpp.Barcode) -> int:
    details = found.extra
    return int(details["Version"]) if isinstance(details, dict) else 0


@dataclass(frozen=True)
class _Inwards:
    """A walk from outside a code to its edge; `middle` parts dark from light."""

    grey: Image.Image
    steps: int
    middle: float

    def first_dark(self, start: tuple[int, int], step: tuple[int, int]) -> tuple[int, int]:
        """The first dark pixel on the way."""
        for count in range(self.steps + 1):
            x, y = start[0] + count * step[0], start[1] + count * step[1]
            if 0 <= x < self.grey.width and 0 <= y < self.grey.height and self._is_dark((x, y)):
                return x, y
        raise _refused("the edge of its code could not be found")

    def _is_dark(self, place: tuple[int, int]) -> bool:
        value = self.grey.getpixel(place)
        return isinstance(value, int) and value < self.middle


def _middle_grey(grey: Image.Image) -> float:
    return sum(_extremes(grey)) / 2


def _extremes(grey: Image.Image) -> tuple[int, int]:
    """The darkest and the lightest grey in a picture."""
    held = [value for value, count in enumerate(grey.histogram()) if count]
    return held[0], held[-1]


def _check_module_size(reading: Reading, dpi: float) -> None:
    """Refuse a size that falls short by more than a pixel, to which the edges are known, over the code."""
    smallest_px = min(reading.right_px - reading.left_px, reading.bottom_px - reading.top_px)
    if (smallest_px + 1) / dpi * MM_PER_INCH < LEAST_MODULE_MM * reading.across:
        size_mm = smallest_px / dpi * MM_PER_INCH / reading.across
        raise _refused(f"the squares of its code are {size_mm:.2f} mm, and {LEAST_MODULE_MM} mm is the least")


def _check_modules(grey: Image.Image, reading: Reading, code: Code) -> None:
    """Every module dark or light as it should be: a decoder mends blots, which must wait for years of wear."""
    middles, middle = _module_middles(grey, reading), _middle_grey(grey)
    if [value <= middle for value in middles] != [dark for row in code.modules for dark in row]:
        raise _refused("its code is spoilt, and can be read only by mending it")
    dark = max(value for value in middles if value <= middle)
    light = min(value for value in middles if value > middle)
    contrast = (light - dark) / FULL_SCALE
    if contrast < LEAST_CONTRAST:
        raise _refused(f"the contrast of its code is {contrast:.0%}, and {LEAST_CONTRAST:.0%} is the least")


def _module_middles(grey: Image.Image, reading: Reading) -> bytes:
    """The grey of the pixel in the middle of each module, row by row."""
    box = (reading.left_px, reading.top_px, reading.right_px, reading.bottom_px)
    return grey.resize((reading.across, reading.across), Image.Resampling.NEAREST, box=box).tobytes()


def _check_quiet_zone(grey: Image.Image, reading: Reading) -> None:
    """Four modules of white on every side; what lies outside the label counts as missing, not as white."""
    for box in _quiet_boxes(reading):
        if box[0] < 0 or box[1] < 0 or box[2] > grey.width or box[3] > grey.height:
            raise _refused("its code stands too near the edge of the label")
        if _extremes(grey.crop(box))[0] < LEAST_CONTRAST * FULL_SCALE:
            raise _refused("something is printed in the white border that its code needs")


def _quiet_boxes(reading: Reading) -> Iterator[tuple[int, int, int, int]]:
    """The border as four strips; a pixel next to the code, where a rasteriser blends, is left out."""
    quiet_px = int(QUIET_MODULES * (reading.right_px - reading.left_px) / reading.across)
    left, top, right, bottom = reading.left_px, reading.top_px, reading.right_px, reading.bottom_px
    outer_left, outer_right = left - quiet_px, right + quiet_px
    yield outer_left, top - quiet_px, outer_right, top - 1
    yield outer_left, bottom + 1, outer_right, bottom + quiet_px
    yield outer_left, top, left - 1, bottom
    yield right + 1, top, outer_right, bottom


def _refused(reason: str) -> PassportError:
    return PassportError(
        f"The finished label was read back and refused: {reason}.", "Do not print it; please report what was asked for."
    )
