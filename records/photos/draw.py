"""Draws the pictures of the demo archive: instruments from the outlines of their models, as tinted ledger drawings.

Reads records, writes the pictures they list into the folders beside it; the same bytes on every run with one Pillow.
Needs numpy and Pillow; run from the checkout as `python records/photos/draw.py`, with the numbers of some or for all.
"""

from __future__ import annotations

import math
import sys
import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageFont

from passport.fonts import FONTS
from passport.records.reader import read

Array = NDArray[np.float64]
Point = tuple[float, float]
Colour = tuple[int, int, int]

RECORDS = Path(__file__).parent.parent
SIZE = (780, 1600)
FINER = 2  # drawn this much larger, then brought down
JPEG_QUALITY = 84

PAPER: Colour = (244, 238, 224)
INK: Colour = (58, 44, 34)
EBONY: Colour = (38, 31, 28)
BOX: Colour = (126, 74, 34)
BRIDGE: Colour = (222, 190, 138)
STEEL: Colour = (214, 210, 200)
SPRUCE_VARNISHED: Sequence[Colour] = ((203, 142, 74), (190, 122, 60), (182, 108, 52), (208, 154, 86))
MAPLE_VARNISHED: Sequence[Colour] = ((166, 96, 48), (152, 82, 42), (146, 72, 38), (178, 114, 60))
SPRUCE_WHITE: Colour = (222, 195, 146)
MAPLE_WHITE: Colour = (214, 188, 142)
# Between the upper eyes (and the feet of the bridge), f-hole length, outer strings at the bridge, tailpiece; full size.
SPANS = {
    "violin": (42.0, 75.0, 33.5, 43.0), "viola": (48.0, 78.0, 36.0, 46.0),
    "cello": (88.0, 136.0, 47.0, 60.0), "bass": (142.0, 196.0, 82.0, 96.0),
}  # fmt: skip
# What stands in for the outline where an instrument follows no model of the shop.
STAND_IN = {"violin": "harrow-1", "viola": "wren-405", "cello": "tarn-1", "bass": "fell-34"}


@dataclass(frozen=True)
class Build:
    """What the drawing needs to know of one instrument; lengths in mm, heights above the bottom edge."""

    number: str
    kind: str
    half: Array  # height, half width
    curves: tuple[Array, ...]
    body: float
    bridge: float  # height of the bridge line
    nut: float  # height of the nut
    board: float
    board_widths: Point
    eyes: float
    f_length: float
    foot_span: float
    string_span: float
    tail_width: float
    after: float
    strings: int
    pieces: int
    slab: bool
    flat_back: bool
    white: bool
    left: bool
    extension: bool
    rising: bool

    @property
    def scale(self) -> float:
        """Give the size of small parts against those of a full violin."""
        return self.eyes / 42.0

    @property
    def top_of_scroll(self) -> float:
        """Give the height of the highest point."""
        return self.nut + {"violin": 108.0, "viola": 122.0, "cello": 206.0, "bass": 330.0}[self.kind] * self.head

    @property
    def head(self) -> float:
        """Give the size of the head against that of the full size."""
        return {
            "violin": self.body / 355,
            "viola": self.body / 405,
            "cello": self.body / 755,
            "bass": self.body / 1110,
        }[self.kind]

    @property
    def seed(self) -> int:
        """Give a number that stays the same for this instrument."""
        return zlib.crc32(self.number.encode())


# ---- reading -----------------------------------------------------------------------------------------------------


def tree_of(path: Path) -> dict[str, Any]:
    """Read one record as plain text values."""
    tree = read(path.read_bytes(), path.name).tree
    return tree if isinstance(tree, dict) else {}


def number_of(raw: Any, otherwise: float) -> float:
    """Give the number, or the middle of a range."""
    text = raw.get("value") if isinstance(raw, dict) else raw
    if not text:
        return otherwise
    parts = [float(part) for part in str(text).split("-")]
    return sum(parts) / len(parts)


def smooth(points: Array, steps: int = 24) -> Array:
    """Run a cubic through the points of one curve, its pace by the square root of the chord."""
    pace = np.concatenate([[0.0], np.cumsum(np.sqrt(np.hypot(*np.diff(points, axis=0).T)))])
    tangent = np.zeros_like(points)
    before, behind = np.diff(pace)[:-1, None], np.diff(pace)[1:, None]
    rise = np.diff(points, axis=0) / np.diff(pace)[:, None]
    tangent[1:-1] = (rise[:-1] * behind + rise[1:] * before) / (before + behind)
    tangent[0], tangent[-1] = 2 * rise[0] - tangent[1], 2 * rise[-1] - tangent[-2]
    t = np.linspace(0, 1, steps, endpoint=False)[:, None]
    pieces = []
    for at, step in enumerate(np.diff(pace)):
        start, end = points[at], points[at + 1]
        pieces.append(
            (2 * t**3 - 3 * t**2 + 1) * start + (t**3 - 2 * t**2 + t) * step * tangent[at]
            + (3 * t**2 - 2 * t**3) * end + (t**3 - t**2) * step * tangent[at + 1]
        )  # fmt: skip
    return np.vstack([*pieces, points[-1:]])


def build_of(number: str, record: dict[str, Any]) -> Build:
    """Gather what the drawing needs from the record and its model."""
    kind = record["kind"]
    model = tree_of(RECORDS / "models" / f"{record.get('model') or STAND_IN[kind]}.yml")
    outline = [np.array(model["outline"][part], dtype=float) for part in ("upper", "middle", "lower")]
    curves = tuple(smooth(points) for points in outline)
    targets = model["targets"]
    body = float(outline[0][0, 0])
    stop = number_of(targets["body_stop"]["bass"], body * 0.55)
    neck = number_of(targets["neck_stop"], body * 0.366)
    board = targets["fingerboard"]
    length = number_of(targets["string_length"], stop + neck)
    spans = SPANS[kind]
    fraction = body / {"violin": 355, "viola": 405, "cello": 755, "bass": 1110}[kind]
    widths = {"violin": (24.0, 42.0), "viola": (25.0, 46.0), "cello": (32.0, 64.0), "bass": (43.0, 90.0)}[kind]
    strings = record.get("strings") or [{}] * 4
    parts = record.get("parts") or {}
    back = parts.get("back") or {}
    wider = 1.15 if len(strings) > 4 else 1.0  # noqa: PLR2004 - a fifth string
    return Build(
        number=number, kind=kind, half=np.vstack(curves), curves=curves, body=body, bridge=body - stop, nut=body + neck,
        board=number_of(board["length"], 0.76 * body),
        board_widths=(widths[0] * wider * fraction**0.6, widths[1] * wider * fraction**0.7),
        eyes=spans[0] * fraction, f_length=spans[1] * fraction, foot_span=spans[0] * fraction, after=length / 6,
        string_span=spans[2] * fraction**0.7 * wider, tail_width=spans[3] * fraction**0.8 * wider**0.5,
        strings=len(strings), pieces=int(back.get("pieces") or 2), slab=back.get("cut") == "slab" and kind != "bass",
        flat_back=back.get("build") == "flat", white="varnish" not in record and record.get("origin") == "made_here",
        left=record.get("handed") == "left", extension=any("length" in string for string in strings),
        rising="rising" in str(back.get("figure", "")),
    )  # fmt: skip


# ---- the sheet ---------------------------------------------------------------------------------------------------


@dataclass
class Sheet:
    """A sheet of paper on which millimetres of an instrument have a place."""

    image: Image.Image
    scale: float
    middle: float
    bottom: float

    def at(self, x: float, height: float) -> Point:
        """Give the place of a point, x to the viewer's right of the centre line."""
        return self.middle + x * self.scale, self.bottom - height * self.scale

    def path(self, points: Iterable[Sequence[float]]) -> list[Point]:
        """Give the places of points."""
        return [self.at(float(x), float(height)) for x, height in points]

    def mask(self, points: Iterable[Sequence[float]]) -> Image.Image:
        """Give the area inside a closed line."""
        mask = Image.new("L", self.image.size)
        ImageDraw.Draw(mask).polygon(self.path(points), fill=255)
        return mask

    def lay(self, colour: Colour | Image.Image, mask: Image.Image) -> None:
        """Lay a colour or a texture on an area."""
        self.image.paste(colour, (0, 0) if isinstance(colour, Image.Image) else None, mask)

    def shade(self, mask: Image.Image, *, shift: Point, blur: float, strength: float) -> None:
        """Let an area throw a soft shadow."""
        moved = ImageChops.offset(mask, round(shift[0] * self.scale), round(shift[1] * self.scale))
        soft = moved.filter(ImageFilter.GaussianBlur(blur * self.scale)).point(lambda value: int(value * strength))
        self.lay((60, 40, 24), soft)

    def line(self, points: Iterable[Sequence[float]], colour: Colour, width: float) -> None:
        """Draw a line of a width in mm, with round joints."""
        path, pixels = self.path(points), max(1, round(width * self.scale))
        pen = ImageDraw.Draw(self.image)
        pen.line(path, fill=colour, width=pixels, joint="curve")
        if pixels > 3:  # noqa: PLR2004 - thin lines need no round ends
            for x, y in (path[0], path[-1]):
                pen.ellipse([x - pixels / 2, y - pixels / 2, x + pixels / 2, y + pixels / 2], fill=colour)


def sheet_for(build: Build) -> Sheet:
    """Give an empty sheet on which the whole instrument stands well."""
    width, height = SIZE[0] * FINER, SIZE[1] * FINER
    below = {"cello": 0.1, "bass": 0.09}.get(build.kind, 0.015) * build.body
    tall = build.top_of_scroll + below
    widest = 2 * float(build.half[:, 1].max())
    scale = min(height * 0.865 / tall, width * 0.8 / widest)
    random = np.random.default_rng(build.seed)
    tooth = random.normal(0, 1, (height // 2, width // 2))
    fibre = blurred(tooth, 3) * 9 + tooth * 0.9
    paper = np.array(PAPER, float)[None, None] + np.kron(fibre, np.ones((2, 2)))[..., None]
    image = Image.fromarray(np.clip(paper, 0, 255).astype(np.uint8))
    return Sheet(image, scale, width / 2, height * 0.915 - below * scale)


def blurred(values: Array, radius: float) -> Array:
    """Blur an array along both axes."""
    reach = max(1, round(3 * radius))
    kernel = np.exp(-(np.arange(-reach, reach + 1) ** 2) / (2 * radius**2))
    kernel /= kernel.sum()
    for axis in (0, 1):
        padded = np.pad(values, [(reach, reach) if axis == side else (0, 0) for side in (0, 1)], mode="reflect")
        values = np.apply_along_axis(lambda row: np.convolve(row, kernel, "valid"), axis, padded)
    return values


# ---- wood --------------------------------------------------------------------------------------------------------


def field(sheet: Sheet) -> tuple[Array, Array]:
    """Give for every dot of the sheet how far it lies from the centre line and above the bottom edge, in mm."""
    width, height = sheet.image.size
    x = (np.arange(width) - sheet.middle) / sheet.scale
    y = (sheet.bottom - np.arange(height)) / sheet.scale
    return np.meshgrid(x, y)


def waves(along: Array, random: np.random.Generator, lengths: Sequence[float]) -> Array:
    """Give an uneven wave along a coordinate, about -1 to 1."""
    total = np.zeros_like(along)
    for length in lengths:
        turn, wander = random.uniform(0, 2 * math.pi, 2)
        bend = 0.9 * np.sin(along / (length * random.uniform(4.3, 6.1)) + wander)
        total += np.sin(2 * math.pi * along / length + turn + bend)
    return total / len(lengths)


def spruce(x: Array, y: Array, size: float, random: np.random.Generator, *, white: bool) -> Array:
    """Give the light and dark of a bookmatched spruce plate: fine rings at the joint, wider to the flanks."""
    drift = 0.5 * size * (np.sin(y / (97 * size) + 1.3) + 0.6 * np.sin(y / (41 * size)))
    far = np.abs(x + 0.12 * drift) + 0.02 * size * np.sin(y / (23 * size))
    ring = (
        far / size / (1.05 + 0.011 * far / size) + 0.8 * np.sin(far / (9 * size)) + 0.5 * np.sin(far / (3.7 * size) + 2)
    )
    late = np.clip(np.cos(2 * math.pi * ring) * 0.5 + 0.5, 0, 1) ** 4
    broad = 0.5 * np.sin(far / (6.1 * size)) + 0.5 * np.sin(far / (14.7 * size) + 1)
    fleck = blurred_noise(x.shape, random, (7, 1.2))
    return (-0.085 if white else -0.105) * late + 0.018 * broad + 0.02 * fleck


def blurred_noise(shape: tuple[int, ...], random: np.random.Generator, radii: Point) -> Array:
    """Give soft noise, about -1 to 1, with one radius down and one across."""
    small = Image.fromarray((random.uniform(0, 255, (shape[0] // 2, shape[1] // 2))).astype(np.uint8))
    wide = small.resize(
        (max(1, int(small.width / radii[1])), max(1, int(small.height / radii[0]))), Image.Resampling.BOX
    ).convert("F")
    values = np.asarray(wide.resize((shape[1], shape[0]), Image.Resampling.BICUBIC), float)
    return np.asarray((values - values.mean()) / (3 * values.std() + 1e-9), float)


def maple(x: Array, y: Array, build: Build, random: np.random.Generator) -> Array:
    """Give the light and dark of flamed maple: bands across the grain that lean, or wander on the slab."""
    size = build.body / 355
    size = size**0.8
    lean = 0.22 if build.rising else -0.2
    across = np.abs(x) if build.pieces > 1 else x
    if build.slab:
        across = 9 * size * np.sin(x / (19 * size)) + 6 * size * np.sin(x / (43 * size) + y / (120 * size))
        lean = 0.9
    stray = blurred_noise(x.shape, random, (40, 34)) + 0.45 * blurred_noise(x.shape, random, (26, 15))
    along = y + lean * across + 0.8 * size * np.sin(across / (17 * size)) + 1.5 * size * stray
    bands = waves(along, random, (9.3 * size, 12.7 * size, 7.1 * size))
    bands = np.tanh(1.9 * bands)
    depth = 0.62 + 0.38 * blurred_noise(x.shape, random, (60, 60))
    pores = blurred_noise(x.shape, random, (14, 1))
    if build.kind == "bass":  # poplar, plain
        return 0.03 * bands * depth + 0.035 * pores + 0.03 * np.sin(np.abs(x) / 17 + 0.4 * np.sin(y / 90))
    return 0.125 * bands * depth + 0.02 * pores


def arched(sheet: Sheet, mask: Image.Image, build: Build, *, flat: bool) -> Array:
    """Give the light that falls on an arched plate from the upper left, with the hollow along the edge."""
    quarter = mask.resize((mask.width // 4, mask.height // 4), Image.Resampling.BOX)
    pixels = sheet.scale / 4
    inside = np.asarray(quarter, float) / 255
    half = build.body * 0.29 * pixels
    rise = 0.6 * blurred(inside, half * 0.26) + 0.4 * blurred(inside, half * 0.11)
    hollow = blurred(inside, half * 0.05)
    down, across = np.gradient(rise * half)
    light = 0.105 * across + 0.09 * down
    edge = 0.16 * (1 - np.clip((hollow - 0.5) * 2.4, 0, 1))
    value = (0.0 if flat else 1.0) * light - edge + (0.05 * (rise - 0.6))
    soft = Image.fromarray(value.astype(np.float32)).resize(mask.size, Image.Resampling.BICUBIC)
    return np.asarray(soft, float)


def tinted(base: Colour, light: Array, worn: Array | None = None) -> Image.Image:
    """Turn light and dark around a colour into an image; dark grows redder, light more golden, as varnish does."""
    colour = np.array(base, float) / 255
    power = np.array([0.72, 1.0, 1.22]) if max(base) > 100 else np.ones(3)  # noqa: PLR2004 - ebony stays grey
    value = colour * np.exp(light[..., None] * power * 1.7)
    if worn is not None:
        value = value * (1 - worn[..., None]) + np.array([0.86, 0.66, 0.36]) * worn[..., None]
    return Image.fromarray((np.clip(value, 0, 1) * 255).astype(np.uint8))


# ---- outline, purfling, f-holes ----------------------------------------------------------------------------------


def closed(half: Array) -> list[Point]:
    """Close the half outline, height and half width, to the whole body, x and height."""
    right = [(float(x), float(height)) for height, x in half]
    return [*right, *((-x, height) for x, height in reversed(right))]


def inset(build: Build, by: float) -> list[Point]:
    """Draw each curve in by a distance and let the three meet again, as purfling does in the corners."""
    moved = []
    for curve in build.curves:
        step = np.gradient(curve, axis=0)
        step /= np.hypot(step[:, 0], step[:, 1])[:, None] + 1e-9
        moved.append(curve + by * np.column_stack([-step[:, 1], step[:, 0]]))
    upper, middle, lower = moved
    upper, middle = met(upper, middle)
    middle, lower = met(middle, lower)
    half = np.vstack([upper, middle, lower])
    return closed(half[half[:, 1] > 0])


def met(first: Array, second: Array) -> tuple[Array, Array]:
    """Cut two curves off where they come nearest to each other."""
    gap = np.hypot(*(first[:, None] - second[None]).transpose(2, 0, 1))
    gap[: len(first) // 2] = np.inf
    gap[:, len(second) // 2 :] = np.inf
    end, start = np.unravel_index(int(np.argmin(gap)), gap.shape)
    return first[: end + 1], second[start:]


def bezier(*points: Point, steps: int = 40) -> Array:
    """Give points of a cubic."""
    t = np.linspace(0, 1, steps)[:, None]
    a, b, c, d = (np.array(point) for point in points)
    return np.asarray((1 - t) ** 3 * a + 3 * (1 - t) ** 2 * t * b + 3 * (1 - t) * t**2 * c + t**3 * d)


def f_hole(build: Build) -> tuple[list[Array], Array]:
    """Give the eyes and the slot of the f-hole on the viewer's right, x and height over the bridge line."""
    wide, tall = build.eyes / 42, build.f_length / 75
    spine = np.vstack([
        bezier((26.2, 33.5), (26.6, 41.5), (35.5, 43.0), (36.6, 29.5)),
        bezier((36.6, 29.5), (37.6, 17.0), (43.6, -7.0), (44.6, -19.5))[1:],
        bezier((44.6, -19.5), (45.6, -33.0), (56.6, -35.0), (58.4, -25.0))[1:],
    ])  # fmt: skip
    run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(spine, axis=0).T))])
    width = 0.75 + 2.35 * np.clip(np.sin(math.pi * run / run[-1]), 0, 1) ** 1.6
    step = np.gradient(spine, axis=0)
    normal = np.column_stack([-step[:, 1], step[:, 0]]) / np.hypot(step[:, 0], step[:, 1])[:, None]
    slot = np.vstack([spine + normal * width[:, None], (spine - normal * width[:, None])[::-1]])
    nicks = []
    middle = len(spine) // 2
    for side in (1, -1):
        tip = spine[middle] + side * normal[middle] * (width[middle] + 1.6)
        root = [spine[middle + off] + side * normal[middle + off] * (width[middle + off] - 0.2) for off in (-4, 4)]
        nicks.append(np.array([root[0], tip, root[1]]))
    turn = np.linspace(0, 2 * math.pi, 48)
    circles = [
        np.column_stack([x + r * np.cos(turn), h + r * np.sin(turn)])
        for x, h, r in ((24.2, 32.6, 3.1), (60.6, -25.4, 4.1))
    ]
    grown = [np.asarray(shape * np.array([wide, tall])) for shape in (*circles, slot, *nicks)]
    return grown[:2], np.array(grown[2:], dtype=object)


def cut_f_holes(sheet: Sheet, build: Build) -> None:
    """Cut both f-holes into the top."""
    eyes, slots = f_hole(build)
    mask = Image.new("L", sheet.image.size)
    pen = ImageDraw.Draw(mask)
    for side in (1, -1):
        for shape in (*eyes, *slots):
            pen.polygon(sheet.path((side * x, build.bridge + height) for x, height in shape), fill=255)
    rim = mask.filter(ImageFilter.GaussianBlur(0.9 * sheet.scale * build.scale)).point(lambda value: int(value * 0.55))
    sheet.lay((70, 36, 16), rim)
    sheet.lay((34, 22, 16), mask)
    inner = ImageChops.subtract(mask, ImageChops.offset(mask, round(0.9 * sheet.scale), round(1.1 * sheet.scale)))
    sheet.lay((14, 9, 7), inner)


def plate(sheet: Sheet, build: Build, *, top: bool) -> None:
    """Draw the body with its wood, arching, edge and purfling."""
    random = np.random.default_rng(build.seed + top)
    body = sheet.mask(closed(build.half))
    sheet.shade(body, shift=(5 * build.scale, 6 * build.scale), blur=5 * build.scale, strength=0.38)
    x, y = field(sheet)
    size = build.body / 355
    grain = spruce(x, y, size**0.75, random, white=build.white) if top else maple(x, y, build, random)
    light = grain + arched(sheet, body, build, flat=build.flat_back and not top) * (0.45 if build.white else 1.0)
    mottle = 0.04 * blurred_noise(x.shape, random, (110, 110))
    palette = SPRUCE_VARNISHED if top else MAPLE_VARNISHED
    base = palette[build.seed % len(palette)]
    if build.white:
        base = SPRUCE_WHITE if top else MAPLE_WHITE
    sheet.lay(tinted(base, light + mottle, None if build.white else wear(x, y, build, top=top)), body)
    if build.pieces > 1 or top:
        sheet.line(
            [(0, 1), (0, build.body - 1)], (110, 62, 28) if not build.white else (176, 144, 98), 0.25 * size**0.5
        )
    edges(sheet, build)


def wear(x: Array, y: Array, build: Build, *, top: bool) -> Array:
    """Give how far the varnish has worn: a little at the middle of the back and by the treble shoulder."""
    half = build.body * 0.29
    if top:
        spot = np.exp(-(((x - 0.62 * half) / (0.3 * half)) ** 2 + ((y - 0.93 * build.body) / (0.3 * half)) ** 2))
        return 0.3 * spot
    spot = np.exp(-((x / (0.62 * half)) ** 2 + ((y - 0.47 * build.body) / (1.0 * half)) ** 2))
    return 0.2 * spot


def edges(sheet: Sheet, build: Build) -> None:
    """Draw the rounded edge and the purfling."""
    size = build.body / 355
    thick = size**0.6
    whole = closed(build.half)
    sheet.line([*whole, whole[0]], (70, 34, 16) if not build.white else (150, 116, 74), 0.9 * thick)
    rim = inset(build, 1.5 * thick)
    sheet.line([*rim, rim[0]], (226, 164, 92) if not build.white else (244, 226, 186), 0.7 * thick)
    for by, colour, width in ((4.0, (40, 24, 16), 1.3), (4.0, (206, 160, 98), 0.5)):
        line = inset(build, by * thick)
        sheet.line([*line, line[0]], colour, width * thick)


# ---- neck, head, fittings ----------------------------------------------------------------------------------------


def shaped(
    sheet: Sheet,
    points: Iterable[Sequence[float]],
    colour: Colour,
    *,
    size: float,
    round_by: float = 0.35,
    shadow: float = 0.45,
) -> Image.Image:
    """Draw a solid piece: its shadow, its colour, and light from the left that makes it round."""
    mask = sheet.mask(points)
    if shadow:
        sheet.shade(mask, shift=(2.2 * size, 2.6 * size), blur=2.0 * size, strength=shadow)
    box = mask.getbbox() or (0, 0, 1, 1)
    reach = max(3, round(0.16 * min(box[2] - box[0], box[3] - box[1])))
    left, up, right, down = box[0] - 4 * reach, box[1] - 4 * reach, box[2] + 4 * reach, box[3] + 4 * reach
    part = mask.crop((left, up, right, down))
    soft = np.asarray(part.filter(ImageFilter.GaussianBlur(reach)), float) / 255
    slope = np.gradient(soft, axis=1) * reach * 2.2 + np.gradient(soft, axis=0) * reach * 1.4
    pale = 0.45 if min(colour) > 130 else 1.0  # noqa: PLR2004 - bare wood would burn out in full light
    piece = tinted(colour, round_by * pale * slope)
    sheet.image.paste(piece, (left, up), part)
    return mask


def ellipse(x: float, height: float, across: float, up: float) -> Array:
    """Give points of an ellipse."""
    turn = np.linspace(0, 2 * math.pi, 72)
    return np.column_stack([x + across * np.cos(turn), height + up * np.sin(turn)])


def both(points: Sequence[Point]) -> list[Point]:
    """Mirror the right half of a shape, given from top to bottom, to its left."""
    return [*points, *((-x, height) for x, height in reversed(points))]


def curve(*corners: Point) -> list[Point]:
    """Run a smooth line through points."""
    return [(float(x), float(height)) for x, height in smooth(np.array(corners, float), 12)]


def head_measures(build: Build) -> tuple[float, float, float, float]:
    """Give the nut height, the half width there, the unit of the head, and the height of the scroll's eye."""
    unit = (build.top_of_scroll - build.nut) / 108
    half = max(build.board_widths[0] / 2, 11.4 * unit)  # cellos and basses have cheeks wider than the neck
    return build.nut, half, unit, build.nut + 88 * unit


def maple_colour(build: Build) -> Colour:
    """Give the colour of the head."""
    return MAPLE_WHITE if build.white else MAPLE_VARNISHED[build.seed % len(MAPLE_VARNISHED)]


def pegs(sheet: Sheet, build: Build) -> None:
    """Draw the pegs, or the wheels and keys of machine heads."""
    nut, half, unit, _ = head_measures(build)
    colour = EBONY if build.seed % 3 else BOX
    places = (15.0, 25.0, 38.0, 51.0)
    sides = (-1, 1, -1, 1)
    if build.kind == "bass":
        machine_heads(sheet, build)
        return
    for place, side in zip(places, sides, strict=True):
        height, start = nut + place * unit, (half - place * unit * 0.035)
        end = start + 21 * unit
        shaft = [
            (start - 1, height + 3.1 * unit),
            (start + 11 * unit, height + 3.3 * unit),
            (start + 11 * unit, height - 3.3 * unit),
            (start - 1, height - 3.1 * unit),
        ]
        collar = ellipse(start + 11.5 * unit, height, 1.7 * unit, 4.6 * unit)
        grip = curve(
            (end - 9 * unit, height + 2.6 * unit),
            (end - 4 * unit, height + 7.4 * unit),
            (end + 5 * unit, height + 8.2 * unit),
            (end + 9.5 * unit, height + 3 * unit),
            (end + 9.5 * unit, height - 3 * unit),
            (end + 5 * unit, height - 8.2 * unit),
            (end - 4 * unit, height - 7.4 * unit),
            (end - 9 * unit, height - 2.6 * unit),
        )
        for piece in (shaft, collar, grip):
            shaped(sheet, [(side * x, h) for x, h in piece], colour, size=unit, shadow=0.3)
        x, y = sheet.at(side * (end + 10 * unit), height)
        dot = 1.3 * unit * sheet.scale
        ImageDraw.Draw(sheet.image).ellipse([x - dot, y - dot, x + dot, y + dot], fill=(206, 186, 150))


def machine_heads(sheet: Sheet, build: Build) -> None:
    """Draw brass plates, wheels and keys."""
    nut, half, unit, _ = head_measures(build)
    brass = (184, 148, 78)
    heights = (17.0, 31.0, 45.0, 59.0)
    places = [(height, side) for height, side in zip(heights, (-1, 1, -1, 1), strict=True)]
    if build.strings > len(places):
        places.append((66.0, -1))
    for place, side in places:
        height, start = nut + place * unit, half - place * unit * 0.03
        plate_shape = [
            (start, height + 7 * unit),
            (start + 2.4 * unit, height + 7 * unit),
            (start + 2.4 * unit, height - 7 * unit),
            (start, height - 7 * unit),
        ]
        wheel = ellipse(start + 3.6 * unit, height, 2.0 * unit, 5.4 * unit)
        stem = [
            (start + 4 * unit, height - 4.4 * unit),
            (start + 15 * unit, height - 4.4 * unit),
            (start + 15 * unit, height - 6.0 * unit),
            (start + 4 * unit, height - 6.0 * unit),
        ]
        key = curve(
            (start + 14 * unit, height - 3.6 * unit),
            (start + 19 * unit, height - 0.4 * unit),
            (start + 24 * unit, height - 1.6 * unit),
            (start + 24 * unit, height - 8.8 * unit),
            (start + 19 * unit, height - 10 * unit),
            (start + 14 * unit, height - 6.8 * unit),
        )
        for piece in (stem, plate_shape, wheel, key):
            shaped(sheet, [(side * x, h) for x, h in piece], brass, size=unit, shadow=0.25)


def scroll(sheet: Sheet, build: Build, *, front: bool) -> None:
    """Draw pegbox and scroll, from the front or from the back."""
    nut, half, unit, eye = head_measures(build)
    colour = maple_colour(build)
    for side in (1, -1):  # the eyes stand out on both sides
        ear = curve(
            (side * 6 * unit, eye + 11 * unit),
            (side * 14 * unit, eye + 10 * unit),
            (side * 20.5 * unit, eye + 3 * unit),
            (side * 20.8 * unit, eye - 3 * unit),
            (side * 15 * unit, eye - 9 * unit),
            (side * 8 * unit, eye - 11 * unit),
        )
        shaped(sheet, ear, colour, size=unit, round_by=0.5)
        button = ellipse(side * 20.6 * unit, eye, 1.9 * unit, 4.4 * unit)
        shaped(sheet, button, colour, size=unit, round_by=0.6, shadow=0.2)
    box = both(
        [
            (half - 3.6 * unit if front else half - 2.8 * unit, nut + 74 * unit),
            (half - 1.2 * unit, nut + 40 * unit),
            (half + 0.3 * unit, nut),
        ]
    )
    shaped(sheet, box, colour, size=unit, round_by=0.3)
    outer = both(
        curve(
            (0, nut + 108 * unit),
            (6.4 * unit, nut + 105.5 * unit),
            (8.8 * unit, nut + 97 * unit),
            (8.2 * unit, nut + 84 * unit),
            (8.4 * unit, nut + 72 * unit),
            (8.9 * unit, nut + 64 * unit),
        )
    )
    shaped(sheet, outer, colour, size=unit, round_by=0.55, shadow=0.3)
    if front:
        cavity = both(
            [
                (half - 6.4 * unit, nut + 63 * unit),
                (half - 4.8 * unit, nut + 38 * unit),
                (half - 3.4 * unit, nut + 2 * unit),
            ]
        )
        shaped(sheet, cavity, (54, 30, 16) if not build.white else (120, 90, 56), size=unit, shadow=0, round_by=-0.5)
        throat = curve((-5.6 * unit, nut + 68 * unit), (0, nut + 73 * unit), (5.6 * unit, nut + 68 * unit))
        sheet.line(throat, (84, 44, 20), 0.7 * unit)
        for height, width in ((99.0, 6.4), (90.0, 6.6), (81.0, 6.2)):
            bend = curve(
                (-width * unit, nut + (height + 2.4) * unit),
                (0, nut + height * unit),
                (width * unit, nut + (height + 2.4) * unit),
            )
            sheet.line(bend, (120, 64, 30) if not build.white else (168, 132, 84), 0.45 * unit)
    else:
        flutes(sheet, build)


def flutes(sheet: Sheet, build: Build) -> None:
    """Draw the two hollows and the ridge down the back of the head."""
    nut, half, unit, _ = head_measures(build)
    dark = (112, 56, 26) if not build.white else (170, 134, 88)
    light = (214, 142, 76) if not build.white else (246, 230, 194)
    sheet.line([(0, nut + 104 * unit), (0, nut + 14 * unit)], light, 0.9 * unit)
    for side in (1, -1):
        hollow = curve(
            (side * 1.6 * unit, nut + 104 * unit),
            (side * 5.4 * unit, nut + 92 * unit),
            (side * 5.2 * unit, nut + 70 * unit),
            (side * (half - 5 * unit), nut + 34 * unit),
            (side * (half - 6 * unit), nut + 16 * unit),
            (side * 1 * unit, nut + 9 * unit),
        )
        soft = sheet.mask([*hollow, (0, nut + 9 * unit), (0, nut + 104 * unit)]).filter(
            ImageFilter.GaussianBlur(1.3 * unit * sheet.scale)
        )
        sheet.lay(dark, soft.point(lambda value: int(value * 0.3)))
        sheet.line(hollow, dark, 0.4 * unit)


def board_and_strings(sheet: Sheet, build: Build) -> None:
    """Draw board, nut, strings, bridge, tailpiece and saddle."""
    size = build.scale
    narrow, wide = (width / 2 for width in build.board_widths)
    end = build.nut - build.board
    edge = curve(
        (wide, end + 1.4 * size),
        (wide * 0.55, end - 0.6 * size),
        (0, end - 1.2 * size),
        (-wide * 0.55, end - 0.6 * size),
        (-wide, end + 1.4 * size),
    )
    board = [(-narrow, build.nut), (narrow, build.nut), *edge]
    if not build.white:
        tailpiece(sheet, build)
    shaped(sheet, board, EBONY, size=size * 1.6, round_by=0.5, shadow=0.6)
    nut = [
        (-narrow - 0.4 * size, build.nut + 4 * size),
        (narrow + 0.4 * size, build.nut + 4 * size),
        (narrow, build.nut - 1.2 * size),
        (-narrow, build.nut - 1.2 * size),
    ]
    shaped(sheet, nut, (30, 25, 23), size=size, shadow=0.2)
    if not build.white:
        strings(sheet, build)


def spread(count: int, width: float) -> list[float]:
    """Give the places of strings across a width, low string first."""
    return [width * (at / (count - 1) - 0.5) for at in range(count)]


def strings(sheet: Sheet, build: Build) -> None:
    """Draw the strings with their shadow, and the bridge under them."""
    size, count = build.scale, build.strings
    nut, half, unit, _ = head_measures(build)
    at_nut, at_bridge, at_fret = (
        spread(count, width) for width in (build.board_widths[0] * 0.69, build.string_span, build.tail_width * 0.62)
    )
    feet = both([(build.foot_span / 2, build.bridge + 2.2 * size), (build.foot_span / 2, build.bridge - 2.2 * size)])
    shaped(sheet, feet, (188, 148, 92), size=size * 1.5, shadow=0.55)
    crown = both(
        curve(
            (build.foot_span * 0.26, build.bridge + 1.5 * size),
            (build.foot_span * 0.44, build.bridge + 1.0 * size),
            (build.foot_span * 0.455, build.bridge - 1.0 * size),
            (build.foot_span * 0.26, build.bridge - 1.5 * size),
        )
    )
    shaped(sheet, crown, BRIDGE, size=size, shadow=0.3)
    for at, (top, mid, low) in enumerate(zip(at_nut, at_bridge, at_fret, strict=True)):
        thick = (0.95 - 0.55 * at / (count - 1)) * size**0.45 * 1.0
        peg = nut + (18, 30, 46, 58, 64)[at if at < 2 else count - 1 - at + 1] * unit  # noqa: PLR2004 - low strings below
        into = (max(-0.3 * half, min(0.3 * half, top * 0.55)), peg)
        line = [into, (top, build.nut + 3 * size), (mid, build.bridge), (low, build.bridge - build.after + 2 * size)]
        shift = 1.7 * size
        sheet.line([(x + shift * 0.7, h - shift) for x, h in line[1:3]], (44, 26, 16), thick * 0.8)
        sheet.line(line, STEEL if at else (196, 188, 170), thick)
        sheet.line([(x - thick * 0.25, h) for x, h in line[1:]], (250, 247, 238), thick * 0.25)


def tailpiece(sheet: Sheet, build: Build) -> None:
    """Draw tailpiece, tailgut, saddle, and the button or the spike."""
    size = build.scale
    top = build.bridge - build.after + 5 * size
    foot = max(5.0 * size, top - {"violin": 110, "viola": 126, "cello": 236, "bass": 350}[build.kind] * build.head)
    saddle = both([(16.5 * size, 5.6 * size), (17.5 * size, -0.6 * size)])
    shaped(sheet, saddle, (30, 25, 23), size=size, shadow=0.2)
    for side in (1, -1):
        sheet.line([(side * 4.6 * size, foot + 6 * size), (side * 5.0 * size, -1.2 * size)], (40, 34, 30), 1.3 * size)
    wide, slim = build.tail_width * 0.5, build.tail_width * 0.25
    side_line = curve(
        (wide * 0.8, top + 1.4 * size),
        (wide, top - 3 * size),
        (wide * 0.96, top - 14 * size),
        ((wide + slim) / 2 * 0.98, (top + foot) / 2),
        (slim, foot + 4 * size),
        (slim * 0.72, foot),
    )
    shaped(
        sheet,
        both([(0, top + 2.4 * size), *side_line]),
        EBONY if build.seed % 3 else BOX,
        size=size * 1.4,
        round_by=0.6,
    )
    sheet.line([(-wide * 0.9, top - 6.5 * size), (wide * 0.9, top - 6.5 * size)], (206, 196, 176), 0.9 * size)
    if build.kind in ("cello", "bass"):
        rod = both([(2.6 * size, -2 * size), (2.4 * size, -0.085 * build.body)])
        shaped(sheet, rod, (120, 118, 116), size=size, shadow=0.3)
        shaped(
            sheet,
            both([(6.5 * size, 0), (7.5 * size, -4 * size), (5 * size, -13 * size)]),
            EBONY,
            size=size,
            shadow=0.3,
        )
    else:
        shaped(
            sheet,
            ellipse(0, -1.6 * size, 6.2 * size, 4.2 * size),
            EBONY if build.seed % 3 else BOX,
            size=size,
            shadow=0.3,
        )


def extension(sheet: Sheet, build: Build) -> None:
    """Draw the long board over the head that takes the lowest string down."""
    _, half, unit, _ = head_measures(build)
    left = -half + 1.0 * unit
    shape = [
        (left - 4.5 * unit, build.nut + 112 * unit),
        (left + 5 * unit, build.nut + 112 * unit),
        (left + 6.6 * unit, build.nut),
        (left - 0.6 * unit, build.nut),
    ]
    shaped(sheet, shape, EBONY, size=unit * 1.2, shadow=0.5)
    for gate in (28, 54, 82):
        bar = [
            (left - 5.6 * unit, build.nut + gate * unit),
            (left + 6.4 * unit, build.nut + gate * unit),
            (left + 6.4 * unit, build.nut + (gate - 3) * unit),
            (left - 5.6 * unit, build.nut + (gate - 3) * unit),
        ]
        shaped(sheet, bar, (184, 148, 78), size=unit, shadow=0.3)
    sheet.line([(left + 1 * unit, build.nut + 110 * unit), (left + 2.6 * unit, build.nut)], STEEL, 1.6)
    shaped(sheet, ellipse(left + 0.4 * unit, build.nut + 112 * unit, 5.6 * unit, 5.6 * unit), (184, 148, 78), size=unit)


def neck_from_behind(sheet: Sheet, build: Build) -> None:
    """Draw the neck, the heel and the button as seen on the back."""
    size = build.scale
    half = build.board_widths[0] / 2
    heel = build.body + (build.nut - build.body) * 0.2
    side_line = curve(
        (half - 0.2 * size, build.nut),
        (half + 0.6 * size, (build.nut + heel) / 2),
        (half + 1.4 * size, heel),
        (half - 0.6 * size, build.body + 12 * size),
        (11.2 * size, build.body + 4 * size),
    )
    board = both([(half + 0.5 * size, build.nut), (build.board_widths[0] / 2 + 3.6 * size, build.body)])
    shaped(sheet, board, EBONY, size=size)
    bare = tuple(
        min(255, round(part * 0.55 + light * 0.45))
        for part, light in zip(maple_colour(build), (236, 200, 140), strict=True)
    )
    shaped(
        sheet,
        both([*side_line, (10.6 * size, build.body - 4 * size)]),
        (bare[0], bare[1], bare[2]),
        size=size * 1.4,
        round_by=0.22,
    )


def button_of_back(sheet: Sheet, build: Build) -> None:
    """Draw the half round at the top of the back that holds the heel."""
    size = build.scale
    shape = [
        (x, height)
        for x, height in ellipse(0, build.body - 1.2 * size, 10.6 * size, 13.2 * size)
        if height > build.body - 2.4 * size
    ]
    shaped(sheet, shape, maple_colour(build), size=size, round_by=0.25, shadow=0.5)
    sheet.line(shape, (70, 34, 16) if not build.white else (150, 116, 74), 0.7 * size)


# ---- whole pictures ----------------------------------------------------------------------------------------------


def front(build: Build) -> Sheet:
    """Draw an instrument from the front."""
    sheet = sheet_for(build)
    scroll(sheet, build, front=True)
    if not build.white:
        pegs(sheet, build)
    plate(sheet, build, top=True)
    cut_f_holes(sheet, build)
    board_and_strings(sheet, build)
    if build.extension:
        extension(sheet, build)
    return sheet


def back(build: Build) -> Sheet:
    """Draw an instrument from the back."""
    sheet = sheet_for(build)
    pegs(sheet, build)
    scroll(sheet, build, front=False)
    neck_from_behind(sheet, build)
    plate(sheet, build, top=False)
    button_of_back(sheet, build)
    size = build.scale
    shaped(sheet, ellipse(0, -1.6 * size, 6.2 * size, 4.2 * size), EBONY, size=size, shadow=0.3)
    return sheet


def font(name: str, pixels: float) -> ImageFont.FreeTypeFont:
    """Load one of the shipped typefaces."""
    return ImageFont.truetype(str(FONTS / f"{name}.ttf"), round(pixels))


def finished(sheet: Sheet, build: Build, *, mirror: bool = False) -> Image.Image:
    """Bring the drawing down to size and write number and scale under it, as in a ledger."""
    image = sheet.image.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if mirror else sheet.image
    image = image.resize(SIZE, Image.Resampling.LANCZOS)
    pen = ImageDraw.Draw(image)
    baseline = SIZE[1] - 52
    pen.text((64, baseline), " ".join(build.number), font=font("PassportSans-Regular", 21), fill=INK, anchor="ls")
    bar = 100.0 * sheet.scale / FINER
    end = SIZE[0] - 64
    pen.line([(end - bar, baseline - 4), (end, baseline - 4)], fill=INK, width=1)
    for at in (end - bar, end):
        pen.line([(at, baseline - 9), (at, baseline + 1)], fill=INK, width=1)
    pen.text((end - bar - 12, baseline), "100 mm", font=font("PassportSans-Regular", 19), fill=INK, anchor="rs")
    pen.rectangle([28, 28, SIZE[0] - 29, SIZE[1] - 29], outline=(176, 160, 132), width=1)
    return image


def crack(build: Build) -> Image.Image:
    """Draw the top by the treble foot, cracked along the grain through the place of the post."""
    near = replace(sheet_for(build), scale=sheet_for(build).scale * 2.7)
    near.middle, near.bottom = SIZE[0] * FINER * 0.22, SIZE[1] * FINER * 0.5 + build.bridge * near.scale
    bare = replace(build, white=False)
    plate(near, bare, top=True)
    cut_f_holes(near, bare)
    foot = build.foot_span / 2
    start, end = build.bridge + 22.0, build.bridge - 40.0
    random = np.random.default_rng(build.seed)
    heights = np.linspace(start, end, 60)
    drift = np.cumsum(random.normal(0, 0.06, 60))
    line = [
        (foot - 6 + float(sway) + 0.01 * (height - build.bridge), float(height))
        for height, sway in zip(heights, drift, strict=True)
    ]
    near.line([(x + 0.35, height) for x, height in line], (244, 190, 116), 0.35)
    near.line(line, (40, 20, 10), 0.42)
    print_of_foot = ellipse(foot - 5, build.bridge, 5.2, 2.1)
    mask = (
        near.mask(print_of_foot)
        .filter(ImageFilter.GaussianBlur(0.4 * near.scale))
        .point(lambda value: int(value * 0.28))
    )
    near.lay((80, 44, 20), mask)
    image = near.image.resize(SIZE, Image.Resampling.LANCZOS).crop((0, 350, SIZE[0], 1250))
    ImageDraw.Draw(image).rectangle([0, 0, image.width - 1, image.height - 1], outline=(176, 160, 132), width=2)
    return image


def seam(build: Build) -> Image.Image:
    """Draw the lower bout from the side: the edge of the top, the rib, and the gap between them."""
    width, height = 1200 * FINER, 640 * FINER
    image = Image.new("RGB", (width, height), PAPER)
    sheet = Sheet(image, 17.0 * FINER, 0.0, height * 0.94)
    random = np.random.default_rng(build.seed)
    x, y = field(sheet)
    long = width / sheet.scale
    rib = [(0, 0), (long, 0), (long, 27), (0, 27)]
    flame = 0.11 * np.tanh(2 * waves(x + 0.12 * y, random, (7.3, 9.9, 5.7))) + 0.02 * blurred_noise(
        x.shape, random, (1, 12)
    )
    sheet.lay(tinted(MAPLE_VARNISHED[0], flame - 0.006 * np.abs(y - 12)), sheet.mask(rib))
    gap = [
        (12, 27.2),
        *((12 + 40 * t, 27.2 + 1.25 * math.sin(math.pi * t) ** 0.8) for t in np.linspace(0, 1, 60)),
        (52, 27.2),
    ]
    upper = [(0, 33), (long, 33), (long, 27.2), (52, 27.2), *reversed(gap[1:-1]), (12, 27.2), (0, 27.2)]
    rings = 0.05 * np.cos(2 * math.pi * (x / 1.1 + 0.4 * np.sin(x / 9))) ** 5 - 0.02 * np.abs(y - 31)
    sheet.shade(sheet.mask(upper), shift=(0, 1.5), blur=0.8, strength=0.75)
    sheet.lay(tinted(SPRUCE_VARNISHED[0], rings), sheet.mask(upper))
    sheet.lay((22, 13, 9), sheet.mask(gap))
    sheet.line([(12, 27.2), (0, 27.2)], (92, 50, 24), 0.16)
    sheet.line([(52, 27.2), (long, 27.2)], (92, 50, 24), 0.16)
    sheet.line([(0, 33), (long, 33)], (70, 34, 16), 0.25)
    small = image.resize((1200, 640), Image.Resampling.LANCZOS)
    pen = ImageDraw.Draw(small)
    left, right, line = 12 * 17, 52 * 17, 22
    pen.line([(left, line), (right, line)], fill=INK, width=1)
    for at in (left, right):
        pen.line([(at, line - 6), (at, line + 6)], fill=INK, width=1)
    pen.rectangle([(left + right) / 2 - 40, line - 12, (left + right) / 2 + 40, line + 12], fill=PAPER)
    pen.text(((left + right) / 2, line), "40 mm", font=font("PassportSans-Regular", 20), fill=INK, anchor="mm")
    return small


def label(build: Build, text: str) -> Image.Image:
    """Draw the label as one sees it on bare maple through the f-hole."""
    width, height = 1200 * FINER, 760 * FINER
    image = Image.new("RGB", (width, height), MAPLE_WHITE)
    sheet = Sheet(image, 12.0 * FINER, width / 2, height)
    x, y = field(sheet)
    random = np.random.default_rng(build.seed)
    wood = maple(x, y, replace(build, kind="violin", body=600.0, pieces=1), random)
    sheet.lay(tinted((206, 172, 122), wood * 0.7 - 0.004 * np.abs(x)), Image.new("L", image.size, 255))
    corners = [(-36, 46.5), (36.4, 46.0), (36, 14.6), (-36.3, 15)]
    mask = sheet.mask(corners)
    sheet.shade(mask, shift=(0.4, 0.5), blur=0.5, strength=0.6)
    tone = 0.05 * blurred_noise(x.shape, random, (40, 40)) + 0.015 * blurred_noise(x.shape, random, (2, 2))
    sheet.lay(tinted((236, 224, 194), tone), mask)
    frame = [(-34, 44.6), (34.2, 44.2), (34, 16.6), (-34.2, 17), (-34, 44.6)]
    sheet.line(frame, (92, 70, 50), 0.18)
    small = image.resize((1200, 760), Image.Resampling.LANCZOS)
    lines = [part.strip() for part in text.split(",")]
    pen = ImageDraw.Draw(small)
    faces = ["PassportSerif-Medium", *["PassportSerif-Italic"] * len(lines)]
    step = 290 / (len(lines) + 0.4)
    for at, line in enumerate(lines):
        pixels = min(62 if at == 0 else 50, step * 0.7)
        pen.text((600, 242 + step * (at + 0.55)), line, font=font(faces[at], pixels), fill=(64, 46, 36), anchor="mm")
    return small


def picture(view: str, file: str, build: Build, record: dict[str, Any]) -> Image.Image:
    """Draw one of the pictures a record lists."""
    if view == "label":
        return label(build, record["label"]["text"])
    if view == "damage":
        return seam(build) if file.startswith("seam") else crack(build)
    return finished(front(build) if view == "front" else back(build), build, mirror=build.left)


def main(wanted: Sequence[str]) -> None:
    """Draw every picture that the records list."""
    for path in sorted((RECORDS / "instruments").glob("*.yml")):
        number = path.stem
        record = tree_of(path)
        if wanted and number not in wanted:
            continue
        for photo in record.get("photos") or []:
            build = build_of(number, record)
            folder = RECORDS / "photos" / number
            folder.mkdir(exist_ok=True)
            image = picture(photo["view"], photo["file"], build, record)
            image.save(folder / photo["file"], quality=JPEG_QUALITY, optimize=True, subsampling="4:2:0")


if __name__ == "__main__":
    main(sys.argv[1:])
