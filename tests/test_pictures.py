"""The copy of a picture that may leave the shop: upright, true in colour, no larger than asked, bare of metadata."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image, ImageCms, PngImagePlugin

from passport.pictures import facts_of, fitted, published_copy

WORDS = b"TELLTALE"
# A corner of one colour tells how a picture was turned; a JPEG keeps it within a few steps of its colour.
RED, WHITE = (220, 20, 20), (255, 255, 255)
JPEG_STEPS = 6


def saved(path: Path, image: Image.Image, kind: str, **options: object) -> Path:
    image.save(path, kind, **options)
    return path


def opened(copy: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(copy))
    image.load()
    return image


def near(one: tuple[float, ...], other: tuple[float, ...], steps: int = JPEG_STEPS) -> bool:
    return all(abs(a - b) <= steps for a, b in zip(one, other, strict=True))


def cornered() -> Image.Image:
    """White, with a red corner above on the side that comes first."""
    image = Image.new("RGB", (96, 64), WHITE)
    image.paste(RED, (0, 0, 32, 32))
    return image


# Exif 2.32, table 6 (Orientation): where row 0 and column 0 of the file are seen; so where the red corner belongs.
@pytest.mark.parametrize(
    ("orientation", "size", "corner"),
    [
        (1, (96, 64), (8, 8)),
        (2, (96, 64), (88, 8)),
        (3, (96, 64), (88, 56)),
        (4, (96, 64), (8, 56)),
        (5, (64, 96), (8, 8)),
        (6, (64, 96), (56, 8)),
        (7, (64, 96), (56, 88)),
        (8, (64, 96), (8, 88)),
    ],
)
def test_a_picture_is_turned_upright(
    tmp_path: Path, orientation: int, size: tuple[int, int], corner: tuple[int, int]
) -> None:
    exif = Image.Exif()
    exif[0x0112] = orientation
    path = saved(tmp_path / "a.jpg", cornered(), "JPEG", exif=exif, quality=95)
    facts = facts_of(path)
    copy = opened(published_copy(path, 1000))
    assert (facts.width, facts.height) == copy.size == size
    assert near(copy.getpixel(corner), RED, 25)  # type: ignore[arg-type]
    others = [(x, y) for x in (8, size[0] - 8) for y in (8, size[1] - 8) if (x, y) != corner]
    assert all(near(copy.getpixel(place), WHITE, 25) for place in others)  # type: ignore[arg-type]


def exif_with_place() -> Image.Exif:
    exif = Image.Exif()
    exif[0x010E] = WORDS.decode()  # ImageDescription
    exif[0x010F] = WORDS.decode()  # Make
    exif.get_ifd(0x8825)[29] = WORDS.decode()  # GPSDateStamp
    exif.get_ifd(0x8825)[2] = (51.0, 3.0, 2.0)  # GPSLatitude
    return exif


def profile(name: bytes = WORDS) -> bytes:
    made = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return made + name


def with_everything(kind: str) -> bytes:
    out = io.BytesIO()
    text = PngImagePlugin.PngInfo()
    text.add_text("Comment", WORDS.decode())
    text.add_itxt("XML:com.adobe.xmp", f"<x:xmpmeta>{WORDS.decode()}</x:xmpmeta>")
    own = {
        "JPEG": {"comment": WORDS, "xmp": b"<x:xmpmeta>" + WORDS + b"</x:xmpmeta>"},
        "PNG": {"pnginfo": text},
        "WEBP": {"xmp": WORDS},
        "TIFF": {"description": WORDS.decode()},
    }[kind]
    cornered().save(out, kind, exif=exif_with_place(), icc_profile=profile(), **own)  # type: ignore[arg-type]
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_no_metadata_leaves_the_shop(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "a.bin"
    path.write_bytes(with_everything(kind))
    assert path.read_bytes().count(WORDS) >= 2
    copy = published_copy(path, 1000)
    assert [trace for trace in (WORDS, b"Exif", b"xmpmeta", b"ICC_PROFILE", b"8BIM") if trace in copy] == []
    # Of the JPEG markers that may hold words (ITU-T T.81, B.1.1.3: APPn and COM) only JFIF's own APP0 is there.
    assert [hex(marker) for marker in markers(copy) if 0xE0 <= marker <= 0xEF or marker == 0xFE] == ["0xe0"]
    assert not opened(copy).getexif()


def markers(jpeg: bytes) -> list[int]:
    """The markers before the picture data (ITU-T T.81, B.1.1.4: each with its length)."""
    found, at = [], 2
    while jpeg[at] == 0xFF and jpeg[at + 1] != 0xDA:
        found.append(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return found


# opRGB (IEC 61966-2-5): D50-adapted colorants and gamma as its ICC profiles carry them, from memory.
OPRGB = ((0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087), (0.14919, 0.06322, 0.74457))
OPRGB_GAMMA = 563 / 256
# sRGB (IEC 61966-2-1), D50-adapted, as in the ICC's own sRGB profile.
SRGB = ((0.43607, 0.22249, 0.01392), (0.38515, 0.71687, 0.09708), (0.14307, 0.06061, 0.71410))


def wide_profile() -> bytes:
    """A matrix profile by ICC.1:2001-04 (version 2): three colorants, one gamma, a white and a name."""

    def xyz(values: tuple[float, ...]) -> bytes:
        return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    name = b"wide\0"
    desc = b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + b"\0" * 78
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(OPRGB_GAMMA * 256)) + b"\0\0"
    tags = [(b"desc", desc), (b"cprt", b"text\0\0\0\0free\0"), (b"wtpt", xyz((0.9642, 1.0, 0.8249)))]
    tags += [(key, xyz(values)) for key, values in zip((b"rXYZ", b"gXYZ", b"bXYZ"), OPRGB, strict=True)]
    tags += [(key, curve) for key in (b"rTRC", b"gTRC", b"bTRC")]
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for key, data in tags:
        table += key + struct.pack(">II", start + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    head = struct.pack(">I4sI4s4s4s", start + len(body), b"none", 0x02400000, b"mntr", b"RGB ", b"XYZ ")
    head += b"\0" * 12 + b"acsp" + b"\0" * 28 + struct.pack(">iii", 63190, 65536, 54061)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


def worked_out(colour: tuple[int, int, int]) -> tuple[float, ...]:
    """The sRGB numbers of an opRGB colour, from the two standards' formulas alone."""
    linear = [(value / 255) ** OPRGB_GAMMA for value in colour]
    xyz = [sum(linear[c] * OPRGB[c][axis] for c in range(3)) for axis in range(3)]
    (a, b, c), (d, e, f), (g, h, i) = zip(*SRGB, strict=True)
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    inverse = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    out = [sum(row[axis] * xyz[axis] for axis in range(3)) / det for row in inverse]
    return tuple(255 * (12.92 * v if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055) for v in out)


@pytest.mark.parametrize("colour", [(150, 90, 50), (128, 128, 128), (170, 110, 90)])
def test_a_wide_gamut_is_converted_before_its_profile_is_dropped(tmp_path: Path, colour: tuple[int, int, int]) -> None:
    expected = worked_out(colour)
    path = saved(tmp_path / "a.png", Image.new("RGB", (32, 32), colour), "PNG", icc_profile=wide_profile())
    shown = opened(published_copy(path, 100)).getpixel((16, 16))
    assert near(shown, expected, 4)  # type: ignore[arg-type]
    if colour != (128, 128, 128):
        assert not near(colour, expected, 8)


@pytest.mark.parametrize(
    ("mode", "colour", "options", "shown"),
    [
        ("CMYK", (0, 255, 255, 0), {}, (255, 0, 0)),
        ("L", 128, {}, (128, 128, 128)),
        ("1", 1, {}, WHITE),
        ("LA", (10, 0), {}, WHITE),
        ("RGBA", (200, 30, 40, 0), {}, WHITE),
        ("RGBA", (200, 30, 40, 255), {}, (200, 30, 40)),
        ("P", 0, {"transparency": 0}, WHITE),
        ("RGB", (1, 2, 3), {"transparency": (1, 2, 3)}, WHITE),
        ("I;16", 32896, {}, (128, 128, 128)),
        ("I;16", 65535, {}, WHITE),
        ("L", 128, {"icc_profile": b"not a profile"}, (128, 128, 128)),
    ],
)
def test_every_kind_of_picture_becomes_plain_colour_on_white(
    tmp_path: Path, mode: str, colour: int, options: dict[str, object], shown: tuple[int, int, int]
) -> None:
    kind = "TIFF" if mode == "CMYK" else "PNG"
    path = saved(tmp_path / "a", Image.new(mode, (40, 40), colour), kind, **options)
    assert facts_of(path).fault == ""
    copy = opened(published_copy(path, 100))
    assert (copy.mode, copy.format) == ("RGB", "JPEG")
    assert near(copy.getpixel((20, 20)), shown)  # type: ignore[arg-type]


def test_a_profile_for_other_colours_than_the_pictures_own_is_not_used(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.tif", Image.new("CMYK", (40, 40), (0, 255, 255, 0)), "TIFF", icc_profile=wide_profile())
    assert near(opened(published_copy(path, 100)).getpixel((20, 20)), (255, 0, 0))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("size", "longest", "fits"),
    [
        ((4000, 3000), 1600, (1600, 1200)),
        ((3000, 4000), 1600, (1200, 1600)),
        ((800, 600), 1600, (800, 600)),
        ((1600, 1), 640, (640, 1)),
        ((10000, 10), 100, (100, 1)),
        ((1601, 1600), 1600, (1600, 1599)),
    ],
)
def test_a_copy_is_no_larger_than_asked_and_never_larger_than_the_picture(
    size: tuple[int, int], longest: int, fits: tuple[int, int]
) -> None:
    assert fitted(*size, longest) == fits


def test_a_copy_has_the_size_that_was_foretold(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.jpg", Image.new("RGB", (333, 97), RED), "JPEG")
    assert opened(published_copy(path, 50)).size == fitted(333, 97, 50)


def test_the_same_picture_gives_the_same_bytes(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", cornered(), "PNG")
    assert published_copy(path, 50) == published_copy(path, 50)


def noise() -> Image.Image:
    return Image.effect_noise((300, 200), 60).convert("RGB")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF", "WEBP"])
def test_a_picture_cut_short_is_found(tmp_path: Path, kind: str) -> None:
    path = saved(tmp_path / "a", noise(), kind)
    assert facts_of(path).fault == ""
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    assert facts_of(path).fault == "it is damaged or cut short" or "not a picture" in facts_of(path).fault


@pytest.mark.parametrize("content", [b"", b"plain words", b"%PDF-1.7 something", b"\xff\xd8\xff"])
def test_what_is_no_picture_is_said_to_be_none(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(content)
    assert "not a picture" in facts_of(path).fault


@pytest.mark.parametrize("side", [11_500, 60_000])
def test_a_picture_larger_than_any_photograph_is_refused_before_it_is_decoded(tmp_path: Path, side: int) -> None:
    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0))
    path = tmp_path / "a.png"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b""))
    assert facts_of(path).fault == "it is larger than any photograph should be"


def test_a_folder_or_a_missing_file_is_a_fault_and_no_crash(tmp_path: Path) -> None:
    assert facts_of(tmp_path / "none.jpg").fault
    assert facts_of(tmp_path).fault
