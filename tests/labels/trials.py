"""What finished labels stand: few pixels, blur, tilt, low contrast, dirt; `make label-trials` prints the table.

A camera in plain arithmetic. Every trial has its own seed, so that the table is the same on every run and machine.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import zxingcpp
from PIL import Image, ImageDraw, ImageFilter

from passport.labels import finished_png
from passport.labels.code import encode
from passport.labels.layout import PlacedCode, lay_out
from passport.stocks import find_stock
from passport.views.label import CaseLabel

from .cards import REAL_LOOKING, VIOLIN

STOCK, DPI = "60x30", 300
ADDRESSES = (
    REAL_LOOKING,
    "https://tp-strings.net/PB8ANDH/",
    "https://passports.tammpenn-harrowmere.net/HHK53U9-7K3M9QXW2B4HTRC6A/",
    "https://tammpenn-harrowmere.net/violins/ZVSPYJH/",
)
# Of our own choosing: how a phone is held, and what its sensor adds.
PIXELS_A_MODULE = 6.0
ROLL_DEG, NOISE_GREY = 12.0, 3.0
CAMERA_WIDTHS = 3.0  # the phone's distance, in widths of the label
WHITE, FULL = 255.0, 255.0

Grey = np.ndarray
Random = np.random.Generator


@dataclass(frozen=True)
class Shot:
    """One photograph to come: the label fine and flat, its code's place on it in pixels, and a module's size."""

    picture: Image.Image
    code_px: tuple[int, int, int, int]
    module_px: float


@dataclass(frozen=True)
class Trial:
    """One kind of harm in a few strengths; `known` is the strength up to which codes of level Q are said to be read."""

    name: str
    unit: str
    strengths: tuple[float, ...]
    harm: Callable[[Shot, float, Random], Image.Image]
    known: str


@cache
def shot_of(address: str) -> Shot:
    """A finished label for the 60x30 roll, as it comes from the tool."""
    label: CaseLabel = replace(VIOLIN, address=address)
    layout = lay_out(label, find_stock(STOCK), encode(address), DPI, proof=False)
    with Image.open(io.BytesIO(finished_png(label, find_stock(STOCK), DPI))) as image:
        return Shot(image.convert("L"), _code_px(layout.code), _px(layout.code.module_mm if layout.code else 0.0))


def _code_px(code: PlacedCode | None) -> tuple[int, int, int, int]:
    assert code is not None
    left, top, side = round(_px(code.x_mm)), round(_px(code.y_mm)), round(_px(code.side_mm))
    return left, top, left + side, top + side


def _px(length_mm: float) -> float:
    return length_mm / 25.4 * DPI


def few_pixels(shot: Shot, pixels: float, random: Random) -> Image.Image:
    """Far away: so many pixels of the camera to a module, the grid falling anywhere between them."""
    return _seen(shot.picture, pixels / shot.module_px, random)


def blurred(shot: Shot, modules: float, random: Random) -> Image.Image:
    """Out of focus: a Gaussian of this standard deviation."""
    seen = _seen(shot.picture, PIXELS_A_MODULE / shot.module_px, random)
    return seen.filter(ImageFilter.GaussianBlur(modules * PIXELS_A_MODULE))


def tilted(shot: Shot, degrees: float, random: Random) -> Image.Image:
    """Seen from the side, in perspective, about any axis in the label's plane."""
    seen = _seen(shot.picture, PIXELS_A_MODULE / shot.module_px, random)
    turned = seen.rotate(random.uniform(0, 360), Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    width, height = turned.size
    angle, distance = np.radians(degrees), CAMERA_WIDTHS * seen.width
    # A place x beside the axis moves to x cos a, and is seen smaller by its depth x sin a.
    far, near = (distance / (distance + sign * width / 2 * np.sin(angle)) for sign in (1.0, -1.0))
    left, right = width / 2 * (1 - near * np.cos(angle)), width / 2 * (1 + far * np.cos(angle))
    corners = [(left, near), (right, far)]
    to = [(x, height / 2 * (1 + way * scale)) for x, scale in corners for way in (-1, 1)]
    frm = [(x, y) for x in (0, width) for y in (0, height)]
    return turned.transform(
        turned.size, Image.Transform.PERSPECTIVE, _perspective(to, frm), Image.Resampling.BICUBIC, fillcolor=255
    )


def _perspective(to: Sequence[tuple[float, float]], frm: Sequence[tuple[float, float]]) -> list[float]:
    """The eight numbers by which Pillow finds where each new pixel was before."""
    rows, values = [], []
    for (x, y), (u, v) in zip(to, frm, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        values += [u, v]
    return [float(each) for each in np.linalg.solve(np.array(rows), np.array(values))]


def faded(shot: Shot, contrast: float, random: Random) -> Image.Image:
    """Faded ink on yellowed paper in uneven light: lightest less darkest, as a share of full scale."""
    seen = np.asarray(_seen(shot.picture, PIXELS_A_MODULE / shot.module_px, random), dtype=float) / FULL
    middle = random.uniform(contrast / 2, 1 - contrast / 2)
    return _grey((middle + (seen - 0.5) * contrast) * FULL)


def dirty(shot: Shot, percent: float, random: Random) -> Image.Image:
    """A round blot, black or white, that hides this share of the code, anywhere on it."""
    spoilt = shot.picture.copy()
    left, top, right, bottom = shot.code_px
    radius = (right - left) * np.sqrt(percent / 100 / np.pi)
    x, y = random.uniform(left + radius, right - radius), random.uniform(top + radius, bottom - radius)
    ImageDraw.Draw(spoilt).ellipse((x - radius, y - radius, x + radius, y + radius), fill=int(random.integers(2)) * 255)
    return _seen(spoilt, PIXELS_A_MODULE / shot.module_px, random)


def _seen(picture: Image.Image, scale: float, random: Random) -> Image.Image:
    """The label on a white table, a little askew, as the camera's pixels see it."""
    edge = round(8 / scale)
    table = Image.new("L", (picture.width + 2 * edge, picture.height + 2 * edge), 255)
    table.paste(picture, (edge + int(random.integers(edge // 2)), edge + int(random.integers(edge // 2))))
    askew = table.rotate(random.uniform(-ROLL_DEG, ROLL_DEG), Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    size = (round(askew.width * scale), round(askew.height * scale))
    return askew.resize(size, Image.Resampling.BOX)


def _grey(values: Grey) -> Image.Image:
    return Image.fromarray(np.clip(values, 0, FULL).astype(np.uint8))


TRIALS = (
    Trial("pixels a module", "", (1.0, 1.5, 2.0, 3.0, 4.0), few_pixels, "3 and more"),
    Trial("blur", "module", (0.2, 0.3, 0.4, 0.5, 0.6, 0.8), blurred, "up to 0.4"),
    Trial("tilt", "degrees", (15, 30, 45, 60, 70), tilted, "45: about 90 %"),
    # ISO/IEC 15415 grades a symbol contrast of 0.70 A, 0.55 B, 0.40 C (from memory).
    Trial("contrast", "", (0.70, 0.55, 0.40, 0.20, 0.05), faded, "0.40 is grade C"),
    Trial("blot", "% of the code", (4, 8, 12, 16, 24), dirty, "8: usually, 12: two in three"),
)


def share_read(trial: Trial, strength: float, shots: int) -> float:
    """The share of photographs in which an independent decoder finds the right address."""
    read = 0
    for number in range(shots):
        address = ADDRESSES[number % len(ADDRESSES)]
        random = np.random.default_rng([TRIALS.index(trial), round(strength * 100), number])
        seen = np.asarray(trial.harm(shot_of(address), strength, random), dtype=float)
        picture = _grey(seen + random.normal(0.0, NOISE_GREY, seen.shape))
        found = zxingcpp.read_barcodes(np.asarray(picture), formats=zxingcpp.BarcodeFormat.QRCode)
        read += [code.text.lower() for code in found] == [address.lower()]
    return read / shots


def table(shots: int) -> str:
    """All trials as lines of text."""
    lines = [f"{'harm':<18}{'strength':>22}{'read':>8}   known of level Q", "-" * 78]
    for trial in TRIALS:
        for strength in trial.strengths:
            amount = f"{strength:g} {trial.unit}".strip()
            share = share_read(trial, strength, shots)
            first = strength == trial.strengths[0]
            known = trial.known if first else ""
            lines.append(f"{trial.name if first else '':<18}{amount:>22}{share:>7.0%}   {known}".rstrip())
    return "\n".join(lines)


if __name__ == "__main__":
    sys.stdout.write(table(shots=100) + "\n")
