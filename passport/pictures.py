"""Photographs: what is in a file, and the copy of it that may be published.

With `labels`, the only door to Pillow. A published copy is upright, in sRGB, and carries no metadata at all.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageCms, UnidentifiedImageError

# A picture beyond this is a mistake or an attack. Pillow warns of one and refuses twice as much; here both are refused.
Image.MAX_IMAGE_PIXELS = 120_000_000

# What cameras, telephones and scanners write; other formats are refused, since some of them can run programs.
FORMATS = ("JPEG", "PNG", "TIFF", "WEBP")

ORIENTATION = 0x0112  # Exif 2.32, tag Orientation
SIDEWAYS = (5, 6, 7, 8)  # the four orientations that exchange width and height
# How to turn a picture of each orientation upright; 1 is upright already.
UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
JPEG_QUALITY = 86
_SRGB = ImageCms.createProfile("sRGB")

# What Pillow raises for files that are cut short, broken, of another kind, or too large.
TOO_LARGE = (Image.DecompressionBombError, Image.DecompressionBombWarning)
PICTURE_FAULTS = (UnidentifiedImageError, *TOO_LARGE, OSError, SyntaxError, ValueError)


@dataclass(frozen=True)
class PictureFacts:
    """Width and height in pixels when upright, or why the file is no picture."""

    width: int
    height: int
    fault: str = ""


def facts_of(path: Path) -> PictureFacts:
    """Look at a picture file; decodes it once, small, so that a file cut short is found."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(path, formats=FORMATS) as image:
                width, height = image.size
                turned = _orientation(image) in SIDEWAYS
                image.draft("RGB", (256, 256))
                image.load()
    except PICTURE_FAULTS as error:
        return PictureFacts(0, 0, _in_plain_words(error))
    return PictureFacts(height, width) if turned else PictureFacts(width, height)


def _in_plain_words(error: Exception) -> str:
    if isinstance(error, UnidentifiedImageError):
        return "it is not a picture that can be read (JPEG, PNG, TIFF, WebP)"
    if isinstance(error, TOO_LARGE):
        return "it is larger than any photograph should be"
    return "it is damaged or cut short"


def fitted(width: int, height: int, longest_px: int) -> tuple[int, int]:
    """Give the size of the published copy: no side longer than `longest_px`, never larger than the picture."""
    scale = min(1.0, longest_px / max(width, height))
    return max(1, round(width * scale)), max(1, round(height * scale))


def published_copy(path: Path, longest_px: int) -> bytes:
    """Give the JPEG that may leave the shop: upright, sRGB, resized, without any metadata."""
    with Image.open(path, formats=FORMATS) as image:
        turn = UPRIGHT.get(_orientation(image))
        upright = image if turn is None else image.transpose(turn)
        size = fitted(*upright.size, longest_px)
        seen = _in_srgb(upright).resize(size, Image.Resampling.LANCZOS)
    bare = Image.new("RGB", seen.size)
    bare.paste(seen)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=JPEG_QUALITY, optimize=True, progressive=True)
    return out.getvalue()


def hidden_words(content: bytes) -> list[str]:
    """Give what a picture file says besides the picture: what its header and its camera's notes hold, as text."""
    with Image.open(io.BytesIO(content)) as image:
        notes = [*image.info.items(), *image.getexif().items()]
    return [f"{name} {note.decode('latin-1') if isinstance(note, bytes) else note}" for name, note in notes]


def _orientation(image: Image.Image) -> int:
    """Give the Exif orientation, 1 to 8; what a broken header says instead is taken for upright."""
    found = image.getexif().get(ORIENTATION, 1)
    return found if isinstance(found, int) else 1


def _in_srgb(image: Image.Image) -> Image.Image:
    """Convert colours by the picture's own profile before it is dropped, so that the varnish looks right."""
    profile = image.info.get("icc_profile")
    on_white = _without_transparency(_eight_bit(image))
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            converted = ImageCms.profileToProfile(on_white, source, _SRGB, outputMode="RGB")
            return converted if converted is not None else on_white.convert("RGB")
        except (ImageCms.PyCMSError, OSError):
            # A profile that cannot be used says nothing of the colours; the numbers are then taken as sRGB.
            return on_white.convert("RGB")
    return on_white.convert("RGB")


def _eight_bit(image: Image.Image) -> Image.Image:
    """Bring greys of sixteen bits down to eight; Pillow by itself would cut them off and leave the picture white."""
    if not image.mode.startswith("I"):
        return image
    return image.convert("I").point(lambda value: value * (1 / 257)).convert("L")


def _without_transparency(image: Image.Image) -> Image.Image:
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        layered = image.convert("RGBA")
        white = Image.new("RGBA", layered.size, "white")
        return Image.alpha_composite(white, layered).convert("RGB")
    return image
