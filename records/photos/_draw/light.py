"""Light and shade: what makes a plate look arched and a piece look round.

Turns areas and light into colour; the light falls from the upper left.
"""

from __future__ import annotations

import numpy as np
from colours import Colour
from lines import Array, Points
from paper import Sheet
from PIL import Image, ImageFilter
from texture import blurred

VARNISH_POWER = (0.72, 1.0, 1.22)  # red, green, blue: dark grows redder, light more golden
EBONY_BELOW = 100  # a colour with no more than this stays grey
PALE_ABOVE = 130  # a colour with more than this everywhere would burn out in full light
BARE_GROUND = (0.86, 0.66, 0.36)  # worn varnish, red, green, blue
COARSER = 4  # the arching is computed on every fourth dot
BOUT = 0.29  # half the widest bout as a share of the body


def tinted(base: Colour, light: Array, worn: Array | None = None) -> Image.Image:
    """Turn light and dark around a colour into an image, and lay the ground bare where the varnish is worn."""
    colour = np.array(base, float) / 255
    power = np.array(VARNISH_POWER) if max(base) > EBONY_BELOW else np.ones(3)
    value = colour * np.exp(light[..., None] * power * 1.7)
    if worn is not None:
        value = value * (1 - worn[..., None]) + np.array(BARE_GROUND) * worn[..., None]
    return Image.fromarray((np.clip(value, 0, 1) * 255).astype(np.uint8))


def arched(sheet: Sheet, mask: Image.Image, body_mm: float, *, flat: bool) -> Array:
    """Give the light that falls on an arched plate, with the hollow along the edge."""
    coarse = mask.resize((mask.width // COARSER, mask.height // COARSER), Image.Resampling.BOX)
    inside = np.asarray(coarse, float) / 255
    half_dots = body_mm * BOUT * (sheet.dots_per_mm / COARSER)
    rise = 0.6 * blurred(inside, half_dots * 0.26) + 0.4 * blurred(inside, half_dots * 0.11)
    hollow = blurred(inside, half_dots * 0.05)
    down, across = np.gradient(rise * half_dots)
    light = 0.105 * across + 0.09 * down
    edge = 0.16 * (1 - np.clip((hollow - 0.5) * 2.4, 0, 1))
    value = (0.0 if flat else 1.0) * light - edge + (0.05 * (rise - 0.6))
    soft = Image.fromarray(value.astype(np.float32)).resize(mask.size, Image.Resampling.BICUBIC)
    return np.asarray(soft, float)


def solid(
    sheet: Sheet, points: Points, colour: Colour, *, size: float, round_by: float = 0.35, shadow: float = 0.45
) -> None:
    """Draw a solid piece: its shadow, its colour, and the light that makes it round."""
    mask = sheet.mask(points)
    if shadow:
        sheet.shade(mask, shift_mm=(2.2 * size, 2.6 * size), blur_mm=2.0 * size, strength=shadow)
    left, up, right, down = mask.getbbox() or (0, 0, 1, 1)
    reach = max(3, round(0.16 * min(right - left, down - up)))
    corner = left - 4 * reach, up - 4 * reach
    part = mask.crop((*corner, right + 4 * reach, down + 4 * reach))
    pale = 0.45 if min(colour) > PALE_ABOVE else 1.0
    sheet.image.paste(tinted(colour, round_by * pale * slope(part, reach)), corner, part)


def slope(part: Image.Image, reach_dots: int) -> Array:
    """Give how the rounded edge of a piece turns to the light."""
    soft = np.asarray(part.filter(ImageFilter.GaussianBlur(reach_dots)), float) / 255
    return np.asarray(np.gradient(soft, axis=1) * reach_dots * 2.2 + np.gradient(soft, axis=0) * reach_dots * 1.4)
