"""A plate with its measured thicknesses where they were measured, and a model with its main dimensions.

Numbers stand at their place on the plate; bass side left, as seen from the front. Sizes are millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

from passport.figures.outline import Curve, body_path, half_width_mm, length_mm, svg

# The outermost column of a thickness row is measured this far inside the outline.
EDGE_COLUMN_INSET_MM = 15.0
# Sizes of letters and margins as shares of the body's length, so that a bass reads like a violin.
TEXT_SHARE = 0.033
MARGIN_SHARE = 0.05
TICK_SHARE = 0.008
# Lowers a figure so that its middle, not its foot, stands at the place it was measured.
HALF_X_HEIGHT = 0.35


def plate_drawing(title: str, curves: Sequence[Curve], rows: Mapping[float, Sequence[str]]) -> str:
    """Draw a plate: its outline, its joint line and every thickness at its place."""
    length = length_mm(curves)
    text_size = length * TEXT_SHARE
    marks = [
        _text(value, x, length - height + text_size * HALF_X_HEIGHT, text_size)
        for height, values in rows.items()
        for x, value in zip(_columns(half_width_mm(curves, height), len(values)), values, strict=True)
    ]
    body = [f'<path class="line-strong" d="{body_path(curves)}"/>', _side_words(curves, text_size), *marks]
    places = sum(map(len, rows.values()))
    words = (
        f"Thickness in millimetres at {places} places, bass side left, as seen from the front. "
        "The table beside it has the same numbers."
    )
    return svg(title, words, _box(curves), body, "plate")


def _columns(half_width: float, count: int) -> list[float]:
    """Give where the values of a row stand, from the bass edge to the treble edge."""
    outer = max(half_width - EDGE_COLUMN_INSET_MM, half_width * 0.5)
    if count == 1:
        return [0.0]
    return [-outer + 2 * outer * index / (count - 1) for index in range(count)]


def _box(curves: Sequence[Curve]) -> tuple[float, float, float, float]:
    length = length_mm(curves)
    margin = length * MARGIN_SHARE
    widest = max(width for curve in curves for _, width in curve)
    return (-widest - margin, -margin, 2 * (widest + margin), length + 2.4 * margin)


def _side_words(curves: Sequence[Curve], text_size: float) -> str:
    length = length_mm(curves)
    widest = max(width for curve in curves for _, width in curve)
    y = length + text_size * 1.4
    return _text("bass side", -widest, y, text_size, "side start") + _text(
        "treble side", widest, y, text_size, "side end"
    )


def _text(words: str, x: float, y: float, size: float, kind: str = "figure") -> str:
    return f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" font-size="{size:.1f}">{escape(words)}</text>'


def model_drawing(title: str, curves: Sequence[Curve]) -> str:
    """Draw a model's outline with its length and the widths of its three bouts, as on a plan."""
    length = length_mm(curves)
    text_size = length * TEXT_SHARE
    widths = _bouts(curves)
    lines = [_width_line(height, half, length, text_size) for height, half in widths]
    words = "Length {} mm; widths {} mm from the upper to the lower bout.".format(
        f"{length:g}", ", ".join(f"{2 * half:g}" for _, half in widths)
    )
    body = [f'<path class="line-strong" d="{body_path(curves)}"/>', _length_line(curves, text_size), *lines]
    left, top, width, height = _box(curves)
    return svg(title, words, (left, top, width + text_size * 3, height), body, "model")


def _bouts(curves: Sequence[Curve]) -> list[tuple[float, float]]:
    """Give height and half width of the widest upper, the narrowest middle and the widest lower bout."""
    upper, middle, lower = curves
    return [
        max(upper[:-1], key=lambda point: point[1]),
        min(middle, key=lambda point: point[1]),
        max(lower[1:], key=lambda point: point[1]),
    ]


def _width_line(height: float, half: float, length: float, text_size: float) -> str:
    y, tick = length - height, length * TICK_SHARE
    ends = "".join(f"M{x:.1f},{y - tick:.1f}v{2 * tick:.1f}" for x in (-half, half))
    line = f'<path class="line-fine" d="M{-half:.1f},{y:.1f}H{half:.1f}{ends}"/>'
    return line + _text(f"{2 * half:g}", 0, y - text_size * 0.4, text_size)


def _length_line(curves: Sequence[Curve], text_size: float) -> str:
    length = length_mm(curves)
    x = max(width for curve in curves for _, width in curve) + text_size * 1.2
    tick = length * TICK_SHARE
    ends = "".join(f"M{x - tick:.1f},{y:.1f}h{2 * tick:.1f}" for y in (0.0, length))
    line = f'<path class="line-fine" d="M{x:.1f},0V{length:.1f}{ends}"/>'
    return line + _text(f"{length:g}", x + text_size * 1.3, length / 2, text_size)
