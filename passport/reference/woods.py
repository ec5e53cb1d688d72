"""The woods the trade meets, by scientific name: what they are called, weigh, and how they move and sound.

Look-up only. Densities in kg/m3 air-dry, speeds in m/s, moduli in GPa. Names are common practice, no source; a record
may give its own common name instead. A number that is only remembered says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from passport.physics.wood import change_coefficient
from passport.reference.tables import rows_of

COEFFICIENTS = "Wood Handbook, FPL-GTR-190 (2010), table 13-5"
SHRINKAGES = {"found": "Wood Handbook, FPL-GTR-190 (2010), table 4-3", "memory": "tables of shrinkage, from memory"}


@dataclass(frozen=True)
class Movement:
    """How wood moves across the grain, as a share for each percent of moisture.

    Where the table gives no coefficient it follows from the total shrinkage in percent, which stands beside it then.
    """

    coefficient: float
    shrinkage_pct: float | None
    source: str


@dataclass(frozen=True)
class Wood:
    """One wood. None where no number is known; `source` is of density, stiffness, speed of sound and damping.

    `speed_*` is that of a bar, `block_*` that which an ultrasonic meter finds in a block.
    """

    common: str
    density_low: float | None
    density: float | None
    density_high: float | None
    e_along: float | None
    e_across: float | None
    speed_along: float | None
    speed_across: float | None
    block_along: float | None
    block_across: float | None
    q_along: float | None
    q_across: float | None
    source: str
    radial: Movement | None
    tangential: Movement | None


NUMBERS = (
    "density_low", "density", "density_high", "e_along", "e_across", "speed_along", "speed_across", "block_along",
    "block_across", "q_along", "q_across",
)  # fmt: skip


def _read() -> Iterator[tuple[str, Wood]]:
    for row in rows_of("woods.csv"):
        numbers = {name: float(row[name]) if row[name] else None for name in NUMBERS}
        radial, tangential = (_movement(row, end) for end in "rt")
        wood = Wood(common=row["common"], source=row["source"], radial=radial, tangential=tangential, **numbers)
        yield row["scientific"], wood


def _movement(row: Mapping[str, str], end: str) -> Movement | None:
    shrinkage = row[f"shrink_{end}"]
    if row[f"c{end}"]:
        return Movement(float(row[f"c{end}"]), None, COEFFICIENTS)
    if shrinkage:
        total_pct = float(shrinkage)
        return Movement(change_coefficient(total_pct), total_pct, SHRINKAGES[row["shrink_class"]])
    return None


WOODS: Mapping[str, Wood] = MappingProxyType(dict(_read()))


def common_name(scientific: str | None) -> str:
    """Give the common name; nothing where the wood is not in the list."""
    wood = WOODS.get(scientific or "")
    return wood.common if wood else ""
