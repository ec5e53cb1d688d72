"""A plate with its measured thicknesses where they were measured, and a model with its main dimensions.

Numbers stand at their place on the plate; bass side left, as seen from the front. Sizes are millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from passport.figures.drawing import HALF_X_HEIGHT, svg, text, texts
from passport.figures.outline import Curve, body_path, length_mm, row_places_mm

# Sizes of letters and margins as shares of the body's length, so that a bass reads like a violin.
TEXT_SHARE = 0.033
MARGIN_SHARE = 0.05
TICK_SHARE = 0.008


@dataclass(frozen=True)
class Frame:
    """The sizes a drawing is set with, in mm."""

    curves: Sequence[Curve]
    length: float
    half_width: float

    @property
    def text(self) -> float:
        """Give the size of letters."""
        return self.length * TEXT_SHARE

    @property
    def tick(self) -> float:
        """Give half the length of a dimension line's end."""
        return self.length * TICK_SHARE

    @property
    def outline(self) -> str:
        """Give the outline drawn."""
        return f'<path class="line-strong" d="{body_path(self.curves)}"/>'

    def box(self, right: float = 0.0) -> tuple[float, float, float, float]:
        """Give the view box, with room for words below and, where asked for, at the side."""
        margin = self.length * MARGIN_SHARE
        width = 2 * (self.half_width + margin) + right
        return (-self.half_width - margin, -margin, width, self.length + 2.4 * margin)


def frame_of(curves: Sequence[Curve]) -> Frame:
    """Give the sizes that follow from a body's outline."""
    return Frame(curves, length_mm(curves), max(width for curve in curves for _, width in curve))


def plate_drawing(title: str, curves: Sequence[Curve], rows: Mapping[float, Sequence[str]]) -> str:
    """Draw a plate: its outline and every thickness at its place."""
    frame = frame_of(curves)
    figures = [
        text(value, x, frame.length - height + frame.text * HALF_X_HEIGHT)
        for height, values in rows.items()
        for x, value in zip(row_places_mm(curves, height, len(values)), values, strict=True)
    ]
    words = (
        f"Thickness in millimetres at {len(figures)} places, bass side left, as seen from the front. "
        "The table beside it has the same numbers."
    )
    body = (frame.outline, *sides(frame), texts("figure", frame.text, figures))
    return svg(title, words, frame.box(), body, "plate")


def sides(frame: Frame) -> tuple[str, str]:
    """Name both sides below the plate."""
    y = frame.length + frame.text * 1.4
    bass = texts("side start", frame.text, [text("bass side", -frame.half_width, y)])
    return bass, texts("side end", frame.text, [text("treble side", frame.half_width, y)])


def model_drawing(title: str, curves: Sequence[Curve]) -> str:
    """Draw a model's outline with its length and the widths of its three bouts, as on a plan."""
    frame = frame_of(curves)
    found = bouts(curves)
    x = frame.half_width + frame.text * 1.2
    widths = ", ".join(f"{2 * half:g}" for _, half in found)
    words = f"Length {frame.length:g} mm; widths {widths} mm from the upper to the lower bout."
    figures = [text(f"{2 * half:g}", 0, frame.length - height - frame.text * 0.4) for height, half in found]
    figures.append(text(f"{frame.length:g}", x + frame.text * 1.3, frame.length / 2))
    lines = [_across(frame, height, half) for height, half in found] + [_along(frame, x)]
    body = (frame.outline, f'<path class="line-fine" d="{"".join(lines)}"/>', texts("figure", frame.text, figures))
    return svg(title, words, frame.box(right=frame.text * 3), body, "model")


def bouts(curves: Sequence[Curve]) -> list[tuple[float, float]]:
    """Give height and half width of the widest upper, the narrowest middle and the widest lower bout.

    A corner may reach further out than its bout, so only what lies beyond the waist beside the corner counts.
    """
    upper, middle, lower = curves
    upper_waist = min(range(len(upper) // 2, len(upper)), key=lambda index: upper[index][1])
    lower_waist = min(range(len(lower) // 2), key=lambda index: lower[index][1])
    return [
        max(upper[: upper_waist + 1], key=lambda point: point[1]),
        min(middle, key=lambda point: point[1]),
        max(lower[lower_waist:], key=lambda point: point[1]),
    ]


def _across(frame: Frame, height: float, half: float) -> str:
    y = frame.length - height
    ends = "".join(f"M{x:.1f},{y - frame.tick:.1f}v{2 * frame.tick:.1f}" for x in (-half, half))
    return f"M{-half:.1f},{y:.1f}H{half:.1f}{ends}"


def _along(frame: Frame, x: float) -> str:
    ends = "".join(f"M{x - frame.tick:.1f},{y:.1f}h{2 * frame.tick:.1f}" for y in (0.0, frame.length))
    return f"M{x:.1f},0V{frame.length:.1f}{ends}"
