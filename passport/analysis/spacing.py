"""The strings beside each other at the bridge, and what is left of them behind it.

Judges nothing: it gives the equal gap beside the measured ones, and the note behind the bridge beside the sixth.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from passport.analysis.gathered import Gathered
from passport.analysis.known import Known
from passport.analysis.lacking import Lacking
from passport.analysis.pull import Pull, diameter_of
from passport.analysis.windows import fitting_of
from passport.physics.setup import afterlength_semitones, equal_gaps
from passport.physics.strings import note_near

# Behind the bridge lies a sixth of the string, but on a bass, where nobody asks for it.
SIXTH = 6
CENTS = 100


@dataclass(frozen=True)
class Gaps:
    """The spacing at the bridge in mm, bass side first: equal gaps from edge to edge, and the gaps as measured."""

    spacing_mm: float
    equal_mm: float
    equal_steps_mm: tuple[float, ...]
    steps_mm: tuple[float, ...]
    gaps_mm: tuple[float, ...]
    diameters: tuple[Known, ...]


@dataclass(frozen=True)
class After:
    """The string behind the bridge: semitones above the open string, cents above a sixth, the note it sounds.

    `cents` is None for a bass, and for an E with an adjuster, which takes its part of the length.
    """

    name: str
    length: Known
    semitones: float
    cents: float | None
    sounds: str
    sounds_cents: float


def steps_of(day: Gathered, names: tuple[str, ...]) -> tuple[Known, ...]:
    """Give the steps from centre to centre at the bridge, bass side first; nothing where not all are recorded."""
    steps = [day.of(("string_spacing", "bridge_steps", index)) for index in range(len(names) - 1)]
    return tuple(step for step in steps if step is not None) if None not in steps else ()


def gaps_of(
    day: Gathered, spacing: Known | None, steps: tuple[Known, ...], names: tuple[str, ...], lacking: Lacking
) -> Gaps | None:
    """Give equal gaps, and the measured ones where the steps are recorded; OutsideRange."""
    by_name = {name: diameter_of(day, name) for name in names}
    thick = [each for each in by_name.values() if each is not None]
    width = sum(step.value for step in steps) if steps else (spacing.value if spacing else 0.0)
    missing = [f"thickness of the {name} string" for name, each in by_name.items() if each is None]
    if not width or missing:
        lacking.missing("Equal gaps at the bridge", missing or ["spacing at the bridge"])
        return None
    equal, equal_steps = equal_gaps(width, [each.value for each in thick])
    gaps = tuple(
        step.value - (one.value + other.value) / 2 for step, (one, other) in zip(steps, pairwise(thick), strict=False)
    )
    return Gaps(width, equal, equal_steps, tuple(step.value for step in steps), gaps, tuple(thick))


def after_of(day: Gathered, length: Known | None, pulls: tuple[Pull, ...], a4_hz: float) -> tuple[After, ...]:
    """Give the afterlengths measured on that very day; OutsideRange."""
    if length is None:
        return ()
    adjusters = fitting_of(day.record, day.sheet).adjusters
    asks = day.record.kind != "bass"
    pitches = {pull.name: pull.frequency_hz for pull in pulls}
    found = []
    for name in day.record.string_names:
        after = day.of(("afterlength", name))
        if after is None or not after.is_of_the_day:
            continue
        semitones = afterlength_semitones(length.value, after.value)
        is_exempt = name == "E" and name in adjusters
        cents = CENTS * (semitones - afterlength_semitones(SIXTH, 1)) if asks and not is_exempt else None
        sounds, off = note_near(pitches[name] * length.value / after.value, a4_hz) if name in pitches else ("", 0.0)
        found.append(After(name, after, semitones, cents, sounds, off))
    return tuple(found)


def underside(day: Gathered, name: str) -> Known | None:
    """Give the height of a string's underside over the end of the board."""
    height = day.of(("string_height", name))
    if height is None:
        return None
    heights = (day.record.setups or ())[int(height.path[1])].string_height
    thick = diameter_of(day, name)
    if heights is None or heights.to != "centre" or thick is None:
        return height
    under = height.value - thick.value / 2
    whence = f"{height.whence}, to the centre, less half a thickness of {thick.value:g} mm"
    return replace(height, value=under, low=under, high=under, decimals=2, how="worked out", whence=whence)
