"""A bridge at full size: the feet it stands on, the crown it is cut to, and where every string rests.

Strong lines are to be cut, fine ones only show what belongs where. Legs are indicated, no pattern is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from passport.figures.fullsize import LINE_MM, FullSize, across, check_lines, full_size, n, path, segment, words_at

# Shares of the foot span or of the height, for what is only indicated (common practice, no source).
FOOT_LENGTH, TOE, ANKLE = 0.28, 0.03, 0.085
WAIST, ARCH, WAIST_AT = 0.37, 0.28, 0.5
# How far the crown goes on beyond the outer strings, as a share of the spacing.
BEYOND = 0.11
ROOM_MM = 9.0


@dataclass(frozen=True)
class BridgeLines:
    """What is drawn, in mm: seats are name, place from the middle, height above the belly and that height in words.

    The crown is an arc of `radius` about a point; heights count from the belly in the middle, `drop` lower stand the
    feet.
    """

    seats: Sequence[tuple[str, float, float, str]]
    radius: float
    centre_x: float
    centre_height: float
    foot_span: float
    drop: float
    span_words: str
    drop_words: str
    spacing_words: str

    @property
    def crown_half(self) -> float:
        """Give how far the crown goes to either side."""
        outer = max(abs(x) for _, x, _, _ in self.seats)
        return min(outer * (1 + 2 * BEYOND), self.radius - abs(self.centre_x))

    @property
    def half(self) -> float:
        """Give how far the bridge goes to either side."""
        return max(self.foot_span / 2, self.crown_half)

    @property
    def highest(self) -> float:
        """Give how high the crown stands over the belly."""
        return self.centre_height + self.radius

    def crown_y(self, x: float) -> float:
        """Give where the crown runs."""
        return -(self.centre_height + sqrt(max(self.radius**2 - (x - self.centre_x) ** 2, 0.0)))


def bridge_front(title: str, lines: BridgeLines) -> FullSize:
    """Draw the bridge as seen from the tailpiece, with its check lines."""
    left = -lines.half - ROOM_MM
    foot = lines.drop + 18
    top = min(-lines.highest - 15, foot - 104)
    heights = ", ".join(f"{name} {said}" for name, _, _, said in lines.seats)
    said = (
        f"Seats above the belly in millimetres: {heights}. Foot span {lines.span_words}. Bass side first. "
        "Two lines of 100 mm, across and along, to measure before cutting."
    )
    inside = (*_feet(lines), _legs(lines), _crown(lines), *_seats(lines), *_levels(lines), check_lines(left, foot))
    return full_size(title, said, inside, (left - 5, top, max(lines.half + ROOM_MM, left + 104), foot + 6))


def _feet(lines: BridgeLines) -> tuple[str, ...]:
    s, y = lines.foot_span, lines.drop
    feet = [
        f"M{n(side * s / 2)},{n(y - TOE * s)}V{n(y)}H{n(side * (s / 2 - FOOT_LENGTH * s))}v{n(-TOE * s)}"
        for side in (-1, 1)
    ]
    return path("line-strong", "".join(feet)), across(-s / 2, s / 2, y + 8, lines.span_words)


def _legs(lines: BridgeLines) -> str:
    """Indicate legs and flanks with fine curves from the feet to the ends of the crown."""
    s, y = lines.foot_span, lines.drop
    height = lines.highest + y
    inner, waist_y = s / 2 - FOOT_LENGTH * s, y - WAIST_AT * height
    flanks = [
        f"M{n(side * s / 2)},{n(y - TOE * s)}"
        f"Q{n(side * WAIST * s)},{n(y - ANKLE * s)} {n(side * WAIST * s)},{n(waist_y)}"
        f"Q{n(side * WAIST * s)},{n((waist_y + crown) / 2)} {n(side * lines.crown_half)},{n(crown)}"
        for side in (-1, 1)
        for crown in (lines.crown_y(side * lines.crown_half),)
    ]
    low, apex = n(y - TOE * s), n(y - 2 * ARCH * height + TOE * s)
    arch = f"M{n(-inner)},{low}Q0,{apex} {n(inner)},{low}"
    return path("line-fine", "".join(flanks) + arch)


def _crown(lines: BridgeLines) -> str:
    first, last = -lines.crown_half, lines.crown_half
    r = n(lines.radius)
    start, end = f"{n(first)},{n(lines.crown_y(first))}", f"{n(last)},{n(lines.crown_y(last))}"
    return path("line-strong crown", f"M{start}A{r} {r} 0 0 1 {end}")


def _seats(lines: BridgeLines) -> list[str]:
    """Mark every seat by a line that ends on it, its string above, its height below."""
    drawn, outer = [], max(abs(x) for _, x, _, _ in lines.seats)
    for name, x, height, said in lines.seats:
        above = min(-height, lines.crown_y(x)) - 2.5
        drawn.append(segment("seat", x, above, x, -height))
        drawn.append(words_at(name, x, above - 1, "middle name"))
        # The outermost figures run inwards, clear of the flanks.
        kind, place = ("middle", x) if abs(x) < outer else ("start", x - 1) if x < 0 else ("end", x + 1)
        drawn.append(words_at(said, place, -height + LINE_MM, kind))
    drawn.append(across(lines.seats[0][1], lines.seats[-1][1], -lines.highest - 9, lines.spacing_words))
    return drawn


def _levels(lines: BridgeLines) -> tuple[str, ...]:
    """Show the middle line, the belly and the level of the feet."""
    middle = lines.foot_span / 2 * (1 - FOOT_LENGTH)
    round_by = (middle**2 + lines.drop**2) / (2 * lines.drop)
    end = lines.foot_span / 2 - FOOT_LENGTH * lines.foot_span
    low = round_by - sqrt(round_by**2 - end**2)
    belly = f"M{n(-end)},{n(low)}A{n(round_by)} {n(round_by)} 0 0 1 {n(end)},{n(low)}"
    return (
        segment("line-broken", 0, -lines.highest - 4, 0, lines.drop + 0.5),
        path("line-broken", belly),
        segment("level", -4, 0, 4, 0),
        words_at("belly", 1.5, -1.2, "start"),
        words_at(f"feet {lines.drop_words} lower", 0, lines.drop + 3.4),
        words_at("bass side", -lines.half, lines.drop + 8 + LINE_MM, "start"),
        words_at("treble side", lines.half, lines.drop + 8 + LINE_MM, "end"),
    )


def bridge_side(title: str, height: float, foot: float, top: float, words: tuple[str, str]) -> FullSize:
    """Draw the bridge's thickness from the side, from foot to crown; the side toward the tailpiece is straight."""
    shape = f"M0,0V{n(-height)}H{n(-top)}L{n(-foot)},0Z"
    inside = (
        path("line-strong", shape),
        words_at(words[0], -foot / 2, LINE_MM + 0.5),
        words_at(words[1], -top / 2, -height - 1.5),
        words_at("toward the tailpiece", LINE_MM, -height / 2, turned=True),
    )
    said = f"Thickness {words[0]} mm at the feet and {words[1]} mm at the crown, measured along the strings."
    return full_size(title, said, inside, (-max(foot, 6) - 3, -height - 5, 7, 7))
