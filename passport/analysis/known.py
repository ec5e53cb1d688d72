"""A figure that goes into a sum, and how it was come by.

Holds it; finds and judges none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from passport.findings import Path

How = Literal["measured", "worked out", "from a table", "assumed", "given"]


@dataclass(frozen=True)
class Known:
    """One figure and how it was come by; `low` and `high` differ for one that is known to a range only.

    `whence` names the sheet, the source or the sum in words; `path` leads to it in the record where a finding may have
    to.
    """

    value: float
    how: How
    whence: str
    unit: str = "mm"
    decimals: int = 2
    path: Path = ()
    low: float = 0.0
    high: float = 0.0
    is_accepted: bool = False
    is_of_the_day: bool = False

    @property
    def is_range(self) -> bool:
        """Tell whether the figure is known to a range only."""
        return self.low != self.high
