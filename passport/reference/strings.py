"""How heavy a string usually is: its mass by length, for the strings of each kind, with the spread from make to make.

Look-up only, in grams a metre. The figures are those of full-size strings; a string keeps its mass by length whatever
it is cut to, so that on a shorter instrument the same string is slacker. Nearly all are from memory, and say so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from passport.reference.measures import sources
from passport.reference.tables import rows_of

# The open strings as they are usually tuned, low string first. Common practice, no source.
TUNINGS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "violin": ("G3", "D4", "A4", "E5"),
        "viola": ("C3", "G3", "D4", "A4"),
        "cello": ("C2", "G2", "D3", "A3"),
        "bass": ("E1", "A1", "D2", "G2"),
    }
)


@dataclass(frozen=True)
class UsualString:
    """One row of the table: a string of a kind by its note, and what it is made of where that matters."""

    kind: str
    note: str
    material: str
    length_mm: float
    low_g_m: float
    typical_g_m: float
    high_g_m: float
    confidence: str
    source: str
    made: str

    @property
    def words(self) -> str:
        """Give what the figures are of and where they are from: "wound; charts of strings, from memory, no brand"."""
        rough = ", a rough figure" if self.confidence == "low" else ""
        return f"{self.made}; {self.source}{rough}"


@cache
def all_strings() -> tuple[UsualString, ...]:
    """Give the whole table."""
    return tuple(
        UsualString(
            kind=row["kind"],
            note=row["note"],
            material=row["material"],
            length_mm=float(row["length_mm"]),
            low_g_m=float(row["low_g_m"]),
            typical_g_m=float(row["typical_g_m"]),
            high_g_m=float(row["high_g_m"]),
            confidence=row["confidence"],
            source=sources()[row["source"]].words,
            made=row["made"],
        )
        for row in rows_of("strings.csv")
    )


@cache
def usual_string(kind: str, note: str, material: str = "") -> UsualString | None:
    """Give the usual string of a note, of gut where it is gut; None where the table has none."""
    by_material = {row.material: row for row in all_strings() if (row.kind, row.note) == (kind, note)}
    return by_material.get(material) or by_material.get("")
