"""The course of the strings: over the nut, the board and the bridge to the saddle, from plain numbers.

Each string has its own place and its own seat: the crown of the bridge is an arc, leaning to the treble side as far as
the heights of the outer strings ask for; the board is round about its centre line. Millimetres and degrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate

from passport.physics.setup import SideView, crown_sagitta_mm, projection_mm, side_view


@dataclass(frozen=True)
class Course:
    """The strings over the board, low string first.

    Places are from the centre line, treble side plus; clearances and heights are those of the strings over the board
    at nut and board end, None where not measured. A radius of None is that of a board or bridge taken as flat, which
    holds for strings beside the centre line alone.
    """

    stop_mm: float
    neck_mm: float
    board_mm: float
    projection_mm: float
    bridge_mm: float
    clearances_mm: tuple[float, ...]
    heights_mm: tuple[float | None, ...]
    places_mm: tuple[float, ...]
    nut_places_mm: tuple[float, ...]
    crown_radius_mm: float | None = None
    board_radius_mm: float | None = None

    @property
    def stops_mm(self) -> float:
        """Give neck stop and body stop together."""
        return self.stop_mm + self.neck_mm

    @property
    def share(self) -> float:
        """Give how much of the way from nut to bridge the board goes."""
        return self.board_mm / self.stops_mm

    @cached_property
    def end_places_mm(self) -> tuple[float, ...]:
        """Give where the strings pass the end of the board."""
        return end_places(self.nut_places_mm, self.places_mm, self.share)

    @cached_property
    def at_nut_mm(self) -> tuple[float, ...]:
        """Give the strings' heights at the nut over the board's centre line; outer strings lie below it."""
        return tuple(
            clearance - drop_mm(self.board_radius_mm, place)
            for clearance, place in zip(self.clearances_mm, self.nut_places_mm, strict=True)
        )

    @cached_property
    def board_drops_mm(self) -> tuple[float, ...]:
        """Give how far the board lies below its centre line under each string at its end."""
        return tuple(drop_mm(self.board_radius_mm, place) for place in self.end_places_mm)

    @cached_property
    def level_seats_mm(self) -> tuple[float, ...]:
        """Give the strings' seats above the belly on a crown that does not lean."""
        return tuple(self.bridge_mm - drop_mm(self.crown_radius_mm, place) for place in self.places_mm)

    @cached_property
    def lean(self) -> float | None:
        """Give by how much the crown falls a mm toward the treble side; None where the outer heights do not tell."""
        width = self.places_mm[-1] - self.places_mm[0]
        first, last = self.heights_mm[0], self.heights_mm[-1]
        if not width or first is None or last is None:
            return None
        level = self._heights_on(self.level_seats_mm)
        return ((first - last) - (level[0] - level[-1])) / (self.share * width)

    @cached_property
    def seats_mm(self) -> tuple[float, ...]:
        """Give the strings' seats above the belly."""
        lean = self.lean or 0.0
        return tuple(seat - lean * place for seat, place in zip(self.level_seats_mm, self.places_mm, strict=True))

    def _heights_on(self, seats_mm: tuple[float, ...]) -> tuple[float, ...]:
        """Give the heights over the end of the board on these seats: h = z_n + (H - P - z_n) FB/(S + N) + s."""
        return tuple(
            nut + (seat - self.projection_mm - nut) * self.share + drop
            for seat, nut, drop in zip(seats_mm, self.at_nut_mm, self.board_drops_mm, strict=True)
        )

    @cached_property
    def heights_worked_mm(self) -> tuple[float, ...]:
        """Give the heights over the end of the board that bridge and projection ask for."""
        return self._heights_on(self.seats_mm)

    @cached_property
    def projections_mm(self) -> tuple[float | None, ...]:
        """Give the projection that each string's height asks for: P = H - z_n - (h - s - z_n)(S + N)/FB."""
        return tuple(
            None if height is None else projection_mm(seat, height - drop, nut, self.board_mm, self.stops_mm)
            for seat, height, drop, nut in zip(
                self.seats_mm, self.heights_mm, self.board_drops_mm, self.at_nut_mm, strict=True
            )
        )

    @cached_property
    def projection_worked_mm(self) -> float | None:
        """Give the projection that the strings' heights ask for, their mean; None where none was measured."""
        found = [each for each in self.projections_mm if each is not None]
        return sum(found) / len(found) if found else None

    @property
    def spread_mm(self) -> float:
        """Give by how much the strings differ in what they ask of the projection."""
        found = [each for each in self.projections_mm if each is not None]
        return max(found) - min(found) if found else 0.0


def evenly(width_mm: float, count: int) -> tuple[float, ...]:
    """Give places from centre to centre evenly about the middle."""
    return from_steps([width_mm / max(count - 1, 1)] * (count - 1))


def from_steps(steps_mm: Sequence[float]) -> tuple[float, ...]:
    """Give places from the steps between them, the outer two as far from the middle."""
    places = (0.0, *accumulate(steps_mm))
    return tuple(place - places[-1] / 2 for place in places)


def end_places(nut_mm: Sequence[float], bridge_mm: Sequence[float], share: float) -> tuple[float, ...]:
    """Give where strings pass the end of the board, which goes a share of their way from nut to bridge."""
    return tuple(nut + (bridge - nut) * share for nut, bridge in zip(nut_mm, bridge_mm, strict=True))


def drop_mm(radius_mm: float | None, place_mm: float) -> float:
    """Give how far a round board or bridge lies below its middle at a place; a flat one, of no radius, not at all."""
    return crown_sagitta_mm(radius_mm, 2 * abs(place_mm)) if radius_mm is not None else 0.0


@dataclass(frozen=True)
class Body:
    """The rest of the side view: what the strings' course over the body hangs on.

    `board_thickness_mm` is at the board's centre where the body begins, `arch_mm` the belly above the plane of the
    edge at the bridge.
    """

    length_mm: float
    overstand_mm: float
    board_thickness_mm: float
    arch_mm: float
    saddle_mm: float


def seen_from_the_side(course: Course, body: Body) -> tuple[SideView, ...]:
    """Work the side view out for every string on its own seat; OutsideRange."""
    return tuple(_view(course, body, seat, nut) for seat, nut in zip(course.seats_mm, course.at_nut_mm, strict=True))


def _view(course: Course, body: Body, seat_mm: float, nut_mm: float) -> SideView:
    return side_view(
        body_length_mm=body.length_mm,
        body_stop_mm=course.stop_mm,
        neck_stop_mm=course.neck_mm,
        overstand_mm=body.overstand_mm,
        board_thickness_mm=body.board_thickness_mm,
        board_length_mm=course.board_mm,
        arch_mm=body.arch_mm,
        projection_mm=course.projection_mm,
        bridge_height_mm=seat_mm,
        saddle_mm=body.saddle_mm,
        nut_clearance_mm=nut_mm,
    )
