"""The grain of wood: rings of spruce, flame of maple, the plain back of a bass.

Computes light and dark for places in mm; the colour is laid on elsewhere.
"""

from __future__ import annotations

import math

import numpy as np
from instrument import Back
from lines import Array
from texture import soft_noise, waves

RING_MM = 1.05  # distance of the rings at the joint of a violin
RING_GROWTH = 0.011  # by how much that grows for each mm outwards
LATE_WOOD, LATE_WOOD_WHITE = -0.105, -0.085  # how dark it is
FLAME_MM = (9.3, 12.7, 7.1)  # lengths of the waves that make up the flame
FLAME = 0.125  # how strong it is
LEAN, LEAN_RISING, LEAN_SLAB = -0.2, 0.22, 0.9  # mm up for each mm across


def spruce(x: Array, y: Array, size: float, random: np.random.Generator, *, white: bool) -> Array:
    """Give the light and dark of a bookmatched spruce plate: fine rings at the joint, wider to the flanks."""
    drift = 0.5 * size * (np.sin(y / (97 * size) + 1.3) + 0.6 * np.sin(y / (41 * size)))
    far = np.abs(x + 0.12 * drift) + 0.02 * size * np.sin(y / (23 * size))
    even = far / size / (RING_MM + RING_GROWTH * far / size)
    ring = even + 0.8 * np.sin(far / (9 * size)) + 0.5 * np.sin(far / (3.7 * size) + 2)
    late = np.clip(np.cos(2 * math.pi * ring) * 0.5 + 0.5, 0, 1) ** 4
    broad = 0.5 * np.sin(far / (6.1 * size)) + 0.5 * np.sin(far / (14.7 * size) + 1)
    fleck = soft_noise(x.shape, random, (7, 1.2))
    return np.asarray((LATE_WOOD_WHITE if white else LATE_WOOD) * late + 0.018 * broad + 0.02 * fleck)


def maple(x: Array, y: Array, size: float, back: Back, random: np.random.Generator) -> Array:
    """Give the light and dark of flamed maple."""
    bands, pores = flame(x, y, size, back, random)
    return FLAME * bands + 0.02 * pores


def poplar(x: Array, y: Array, size: float, back: Back, random: np.random.Generator) -> Array:
    """Give the light and dark of plain poplar, as on basses."""
    bands, pores = flame(x, y, size, back, random)
    return 0.03 * bands + 0.035 * pores + 0.03 * np.sin(np.abs(x) / 17 + 0.4 * np.sin(y / 90))


def flame(x: Array, y: Array, size: float, back: Back, random: np.random.Generator) -> tuple[Array, Array]:
    """Give the bands across the grain, that lean or wander on the slab, and the pores."""
    across, lean = run_of_flame(x, y, size, back)
    stray = soft_noise(x.shape, random, (40, 34)) + 0.45 * soft_noise(x.shape, random, (26, 15))
    along = y + lean * across + 0.8 * size * np.sin(across / (17 * size)) + 1.5 * size * stray
    bands = np.tanh(1.9 * waves(along, random, [length * size for length in FLAME_MM]))
    depth = 0.62 + 0.38 * soft_noise(x.shape, random, (60, 60))
    return bands * depth, soft_noise(x.shape, random, (14, 1))


def run_of_flame(x: Array, y: Array, size: float, back: Back) -> tuple[Array, float]:
    """Give how far across the flame has run at each place, and how much it leans."""
    if back.slab:
        return 9 * size * np.sin(x / (19 * size)) + 6 * size * np.sin(x / (43 * size) + y / (120 * size)), LEAN_SLAB
    return np.abs(x) if back.pieces > 1 else x, LEAN_RISING if back.rising else LEAN
