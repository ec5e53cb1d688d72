"""The place of the post at full size, looked at from the front: the treble foot, the post behind it, the nick."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from passport.figures.fullsize import (
    LINE_MM,
    TEXT_MM,
    TICK_MM,
    FullSize,
    across,
    check_lines,
    full_size,
    n,
    path,
    segment,
    words_at,
)

FOOT_LENGTH = 0.28
ROOM_MM = 20.0


@dataclass(frozen=True)
class PostLines:
    """What is drawn, in mm from the joint and from the line of the inner nicks; each measure with its words."""

    centre_x: float
    centre_y: float
    diameter: float
    foot_span: float
    foot_thickness: float
    nick_x: float | None
    diameter_words: str
    behind_words: str
    inset_words: str
    from_joint_words: str
    to_nick_words: str

    @property
    def outer(self) -> float:
        """Give where the foot ends."""
        return self.foot_span / 2

    @property
    def radius(self) -> float:
        """Give half the post's thickness."""
        return self.diameter / 2


def post_plan(title: str, lines: PostLines) -> FullSize:
    """Draw the plan with its check lines."""
    bottom = max(lines.centre_y + lines.radius, lines.foot_thickness / 2) + 12
    right = max(lines.outer, lines.nick_x or 0) + 16
    foot = bottom + 9
    top = min(-lines.foot_thickness / 2 - 18, foot - 104)
    inside = (*_axes(lines, right, bottom), *_foot(lines), *_post(lines), *_nick(lines), check_lines(-ROOM_MM, foot))
    said = (
        f"The post, {lines.diameter_words} mm thick, {lines.behind_words} mm behind the treble foot and "
        f"{lines.inset_words} mm inside its outer edge; its middle {lines.from_joint_words} mm from the joint."
    )
    return full_size(title, said, inside, (-ROOM_MM - 5, top, max(right, 85.0), foot + 6))


def _axes(lines: PostLines, right: float, bottom: float) -> tuple[str, ...]:
    top = -lines.foot_thickness / 2 - 8
    return (
        segment("line-broken", 0, top, 0, bottom - 2),
        segment("line-broken", -4, 0, right - 10, 0),
        words_at("joint", -1, top + 3, "end"),
        words_at("neck end", 0, top - 1.5),
    )


def _foot(lines: PostLines) -> tuple[str, ...]:
    half, inner = lines.foot_thickness / 2, lines.outer - FOOT_LENGTH * lines.foot_span
    y = -half - 5
    return (
        path("line-strong foot", f"M{n(inner)},{n(-half)}H{n(lines.outer)}V{n(half)}H{n(inner)}"),
        words_at("treble foot", (inner + lines.outer) / 2, -half - 1),
        across(0, lines.outer, y - 1, f"{lines.outer:.1f}"),
    )


def _post(lines: PostLines) -> tuple[str, ...]:
    x, y, r = lines.centre_x, lines.centre_y, lines.radius
    back = lines.foot_thickness / 2
    low, beside = y + r + 5, x - r - 2.5
    ends = "".join(f"M{n(at)},{n(max(back, y))}V{n(low + 2)}" for at in (x + r, lines.outer))
    circle = f'<circle class="line-strong post" cx="{n(x)}" cy="{n(y)}" r="{n(r)}"/>'
    return (
        circle,
        segment("line-fine", x - 1, y, x + 1, y),
        segment("line-fine", x, y - 1, x, low + 2),
        path("line-fine", ends),
        across(0, x, low, lines.from_joint_words),
        words_at(f"{lines.inset_words} inside", lines.outer + 1, low + 1, "start"),
        words_at(f"post {lines.diameter_words}", x - r - 1, y + r, "end"),
        path("line-fine", f"M{n(beside - TICK_MM)},{n(y - r)}H{n(x)}M{n(beside)},{n(back)}V{n(y - r)}"),
        words_at(lines.behind_words, beside - TICK_MM, (back + y - r + TEXT_MM) / 2, "end"),
    )


def _nick(lines: PostLines) -> tuple[str, ...]:
    """Draw the inner nick where the recorded distance puts it."""
    if lines.nick_x is None:
        return ()
    reach = hypot(lines.nick_x - lines.centre_x, lines.centre_y)
    from_x = lines.centre_x + (lines.nick_x - lines.centre_x) * lines.radius / reach
    from_y = lines.centre_y * (1 - lines.radius / reach)
    x = lines.nick_x
    return (
        segment("line-fine", from_x, from_y, x, 0),
        path("line-strong nick", f"M{n(x + 2)},-2L{n(x)},0L{n(x + 2)},2"),
        words_at("inner nick", x, -LINE_MM, "start"),
        words_at(lines.to_nick_words, (from_x + x) / 2 + 1.5, from_y / 2 + LINE_MM, "start"),
    )
