"""A set-up sheet, worked out: what the strings pull, how they run, what presses on the top, how they are spaced.

Gives plain numbers and how each was come by; what cannot be worked out is told with what is missing, never guessed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from passport.analysis.course import Body, Course, seen_from_the_side
from passport.analysis.gathered import Gathered, gathered, known_of
from passport.analysis.known import Known
from passport.analysis.lacking import Lacking
from passport.analysis.pull import Pull, clearance_of, pitch_of, pulls_of
from passport.analysis.side import Load, body_of, course_of, load_of, tail_of
from passport.analysis.spacing import After, Gaps, after_of, gaps_of, steps_of, underside
from passport.physics.setup import SideView
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.reference.measures import Measure, measure


@dataclass(frozen=True)
class Strung:
    """One sheet, worked out. What has no figure is None or empty, and `lacking` says why."""

    day: Gathered
    known: Mapping[str, Known]
    names: tuple[str, ...]
    pitch: Known
    pulls: tuple[Pull, ...]
    clearances: tuple[Known | None, ...]
    heights: tuple[Known | None, ...]
    steps: tuple[Known, ...]
    course: Course | None
    body: Body | None
    views: tuple[SideView, ...]
    tail_deg: float | None
    load: Load | None
    gaps: Gaps | None
    after: tuple[After, ...]
    ratio: tuple[float, Measure] | None
    lacking: tuple[str, ...]

    @property
    def sheet(self) -> SetupSheet:
        """Give the sheet."""
        return self.day.sheet

    @property
    def is_whole_crown(self) -> bool:
        """Tell whether every string's own place on crown and board is known, and not the middle ones' alone."""
        return self.course is not None and self.course.crown_radius_mm is not None

    @property
    def length_worked_mm(self) -> float | None:
        """Give the string length that the side view asks for: the mean of the strings."""
        return sum(view.string_length_mm for view in self.views) / len(self.views) if self.views else None

    @property
    def angle_deg(self) -> float | None:
        """Give the angle of the strings over the bridge, the mean of the strings."""
        if not self.views or self.tail_deg is None:
            return None
        return 180 - self.tail_deg - sum(view.neck_side_deg for view in self.views) / len(self.views)


def strung(record: Instrument) -> tuple[Strung, ...]:
    """Work every set-up sheet of an instrument out, oldest first; no record makes it fail."""
    return tuple(map(_worked, gathered(record)))


def _worked(day: Gathered) -> Strung:
    lacking = Lacking()
    names, known = day.record.string_names, known_of(day)
    heights = tuple(underside(day, name) for name in names)
    clearances = tuple(clearance_of(day, name) for name in names)
    steps, pitch, pulls = steps_of(day, names), pitch_of(day), pulls_of(day, known, lacking)
    side = "The side view"
    course = lacking.tried(side, lambda: course_of(known, names, clearances, heights, steps, lacking))
    body = lacking.tried(side, lambda: body_of(known, lacking)) if course else None
    views = lacking.tried(side, lambda: seen_from_the_side(course, body)) if course and body else None
    tail_deg = tail_of(course, body, pulls) if views and course and body else None
    load = None
    if views and course and tail_deg is not None and len(views) == len(pulls):
        load = lacking.tried(
            "The load on the bridge", lambda: load_of(course.places_mm, views, pulls, tail_deg, known, lacking)
        )
    gaps = lacking.tried("Equal gaps", lambda: gaps_of(day, known.get("spacing at the bridge"), steps, names, lacking))
    after = lacking.tried("The afterlengths", lambda: after_of(day, known.get("string length"), pulls, pitch.value))
    return Strung(
        day=day, known=known, names=names, pitch=pitch, pulls=pulls,
        clearances=clearances, heights=heights, steps=steps, course=course, body=body, views=views or (),
        tail_deg=tail_deg, load=load,
        gaps=gaps, after=after or (),
        ratio=_ratio(day.record, known), lacking=lacking.sentences,
    )  # fmt: skip


def _ratio(record: Instrument, known: Mapping[str, Known]) -> tuple[float, Measure] | None:
    """Give neck to stop, and what the trade asks of it; a bass is asked for none."""
    asked = measure(record.kind or "", record.size or "", "neck_to_body_stop_ratio")
    neck, stop = known.get("neck stop"), known.get("body stop")
    return (neck.value / stop.value, asked) if asked and neck and stop and stop.value > 0 else None
