"""The tones of the thickness map, as the pages' style has them, seen with every kind of colour vision."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from colorspacious import cspace_convert, deltaE

from passport.figures.thickness import TONES

STYLE = Path(__file__).parents[2] / "site_templates/theme/css/passport.css"
# Two colours this far apart in CAM02-UCS lie side by side without being taken for one another; about 1 is just
# noticeable (M. R. Luo, G. Cui and C. Li 2006; the factor of five is common practice).
TELLABLE = 5.0


def tones(scheme: str) -> list[tuple[float, ...]]:
    """The ramp of the light or the dark scheme, palest first; print has that of the light one."""
    style = STYLE.read_text(encoding="utf-8")
    light, dark = style.split("prefers-color-scheme: dark", 1)
    found = dict(re.findall(r"--wood-(\d): (#[0-9a-f]{6})", light if scheme == "light" else dark))
    return [tuple(int(found[str(n)][i : i + 2], 16) / 255 for i in (1, 3, 5)) for n in range(1, TONES + 1)]


SIGHTS = [None, "deuteranomaly", "protanomaly", "tritanomaly"]


@pytest.mark.parametrize("sight", SIGHTS)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_neighbouring_tones_can_be_told_apart_and_only_darken(scheme: str, sight: str | None) -> None:
    """Machado, Oliveira and Fernandes 2009, at full severity; CAM02-UCS by colorspacious."""
    seen = np.array(tones(scheme))
    if sight is not None:
        space = {"name": "sRGB1+CVD", "cvd_type": sight, "severity": 100}
        seen = np.clip(cspace_convert(seen, space, "sRGB1"), 0, 1)
    lightness = cspace_convert(seen, "sRGB1", "CIELab")[:, 0]
    assert (np.diff(lightness) < -2).all()
    assert min(deltaE(one, other, input_space="sRGB1") for one, other in pairwise(seen)) > TELLABLE


def test_every_tone_has_its_class() -> None:
    style = STYLE.read_text(encoding="utf-8")
    assert [style.count(f".band-{n} {{ fill: var(--wood-{n + 1}); }}") for n in range(TONES)] == [1] * TONES
