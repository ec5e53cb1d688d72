"""Uneven surfaces: soft noise, wandering waves, blur.

Computes arrays of light and dark; knows neither wood nor paper. Chance comes in as a generator, so it repeats.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from lines import Array, Point
from PIL import Image

KERNEL_REACH = 3  # radii to which a blur reaches


def blurred(values: Array, radius_dots: float) -> Array:
    """Blur an array along both axes."""
    reach = max(1, round(KERNEL_REACH * radius_dots))
    kernel = np.exp(-(np.arange(-reach, reach + 1) ** 2) / (2 * radius_dots**2))
    kernel /= kernel.sum()
    for axis in (0, 1):
        padded = np.pad(values, [(reach, reach) if axis == side else (0, 0) for side in (0, 1)], mode="reflect")
        values = np.apply_along_axis(lambda row: np.convolve(row, kernel, "valid"), axis, padded)
    return values


def soft_noise(shape: tuple[int, ...], random: np.random.Generator, radii_dots: Point) -> Array:
    """Give soft noise, about -1 to 1, with one radius down and one across."""
    down, across = radii_dots
    grains = Image.fromarray((random.uniform(0, 255, (shape[0] // 2, shape[1] // 2))).astype(np.uint8))
    size = max(1, int(grains.width / across)), max(1, int(grains.height / down))
    coarse = grains.resize(size, Image.Resampling.BOX).convert("F")
    values = np.asarray(coarse.resize((shape[1], shape[0]), Image.Resampling.BICUBIC), float)
    return np.asarray((values - values.mean()) / (3 * values.std() + 1e-9), float)


def waves(along_mm: Array, random: np.random.Generator, lengths_mm: Sequence[float]) -> Array:
    """Give an uneven wave along a coordinate, about -1 to 1."""
    total = np.zeros_like(along_mm)
    for length in lengths_mm:
        turn, wander = random.uniform(0, 2 * math.pi, 2)
        bend = 0.9 * np.sin(along_mm / (length * random.uniform(4.3, 6.1)) + wander)
        total += np.sin(2 * math.pi * along_mm / length + turn + bend)
    return total / len(lengths_mm)
