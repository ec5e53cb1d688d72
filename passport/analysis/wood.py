"""How stiff a wood is and how light for its stiffness: from density and speed of sound, or from a bar that was tapped.

Works out and judges nothing. What an ultrasonic meter finds in a block and what a bar tells are kept apart.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import sqrt

from passport.physics.ranges import OutsideRange
from passport.physics.wood import bar_modulus_pa, modulus_pa, q_factor, radiation_ratio
from passport.records.model.supplies import TapTest, WoodLot
from passport.records.model.values import Value, middle_of

PA_PER_GPA = 1e9
MM_PER_M = 1000


@dataclass(frozen=True)
class Sound:
    """Stiffness and radiation ratio of a wood of this density; None where a number is missing or cannot be.

    `is_block` tells that the speeds are those of an ultrasonic meter, which lie above those of a bar.
    """

    density_kg_m3: float | None
    along_m_s: float | None
    across_m_s: float | None
    is_block: bool
    e_along_gpa: float | None
    e_across_gpa: float | None
    radiation: float | None
    lacking: tuple[str, ...] = ()

    @property
    def along_to_across(self) -> float | None:
        """Give how many times stiffer the wood is along the grain than across."""
        return self.e_along_gpa / self.e_across_gpa if self.e_along_gpa and self.e_across_gpa else None


@dataclass(frozen=True)
class Tapped:
    """What one tapped bar tells: its modulus, the speed of sound that belongs to it, and its damping."""

    test: TapTest
    density_kg_m3: float | None
    e_gpa: float | None
    speed_m_s: float | None
    q: float | None
    lacking: tuple[str, ...] = ()


def sound_of(lot: WoodLot, density: Value | None = None) -> Sound | None:
    """Give what density and speed of sound tell of a lot, or of a piece of it with a density of its own.

    None where the lot has no speed of sound.
    """
    speed = lot.sound_speed
    if speed is None or (speed.along is None and speed.across is None):
        return None
    lacking: list[str] = []
    rho, along, across = (middle_of(value) for value in (density or lot.density, speed.along, speed.across))
    if rho is None:
        lacking.append("The stiffness: the density is not recorded.")
    return Sound(
        density_kg_m3=rho,
        along_m_s=along,
        across_m_s=across,
        is_block=speed.method == "ultrasonic",
        e_along_gpa=_gpa("The stiffness along the grain", rho, along, lacking),
        e_across_gpa=_gpa("The stiffness across the grain", rho, across, lacking),
        radiation=_kept("The radiation ratio", radiation_ratio, (rho, along), lacking),
        lacking=tuple(lacking),
    )


def tapped(test: TapTest, lot: WoodLot) -> Tapped:
    """Give what one bar tells; its density is its own, else that of the lot."""
    lacking: list[str] = []
    rho, frequency_hz = middle_of(test.density or lot.density), middle_of(test.frequency)
    length_m, thickness_m = (_metres(value) for value in (test.length, test.thickness))
    missing = [name for name, value in _needed(test, rho) if value is None]
    if missing:
        lacking.append(f"The stiffness of the bar: {' and '.join(missing)} not recorded.")
    e_pa = _kept("The stiffness of the bar", bar_modulus_pa, (rho, frequency_hz, length_m, thickness_m), lacking)
    q = _kept("The damping", q_factor, (frequency_hz, middle_of(test.bandwidth)), lacking)
    speed_m_s = sqrt(e_pa / rho) if e_pa and rho else None
    return Tapped(test, rho, e_pa / PA_PER_GPA if e_pa else None, speed_m_s, q, tuple(lacking))


def _needed(test: TapTest, density_kg_m3: float | None) -> tuple[tuple[str, object], ...]:
    return (
        ("density", density_kg_m3), ("frequency", test.frequency), ("length", test.length),
        ("thickness", test.thickness),
    )  # fmt: skip


def _gpa(name: str, density: float | None, speed: float | None, lacking: list[str]) -> float | None:
    found = _kept(name, modulus_pa, (density, speed), lacking)
    return found / PA_PER_GPA if found is not None else None


def _kept(name: str, rule: Callable[..., float], numbers: tuple[float | None, ...], lacking: list[str]) -> float | None:
    """Give the sum where every number is there; where one lies outside, note why there is none."""
    if None in numbers:
        return None
    try:
        return rule(*numbers)
    except OutsideRange as error:
        lacking.append(f"{name} cannot be worked out: {error}.")
        return None


def _metres(value: Value | None) -> float | None:
    return value.value.middle / MM_PER_M if value is not None else None
