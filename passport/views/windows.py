"""The window beside a value, in words: from where to where, whose it is, and on which side the value lies.

Which window counts is decided in `analysis.windows`; here it is only worded.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from passport.analysis.windows import SHOWN_DECIMALS, Window
from passport.units import Amount
from passport.views.desk import Desk, facts
from passport.views.numbers import EN_DASH, figure
from passport.views.tree import Fact

OUR_OWN = "our own"


@dataclass(frozen=True)
class Beside:
    """What stands beside a value; all empty where it has no window."""

    window: str = ""
    whose: str = ""
    mark: str = ""


def beside(window: Window | None, amount: Amount) -> Beside:
    """Word a window with as many digits as it needs, and mark a value that lies outside."""
    if window is None:
        return Beside()
    return Beside(_from_to(window.low, window.high), window.whose, window.side(amount))


@cache
def _from_to(low: float, high: float) -> str:
    decimals = max(_decimals(low), _decimals(high))
    return f"{figure(low, decimals)}{EN_DASH}{figure(high, decimals)}"


def _decimals(number: float) -> int:
    return next(
        (count for count in range(SHOWN_DECIMALS) if round(number, count) == round(number, SHOWN_DECIMALS)),
        SHOWN_DECIMALS,
    )


def sources(desk: Desk, model: str | None, windows: Iterable[Window | None]) -> tuple[Fact, ...]:
    """Say once, for the foot of a table, what stands behind model, workshop and trade."""
    used = [window for window in windows if window is not None]
    whose = {window.whose for window in used}
    filed = desk.archive.models.get(model or "")
    return facts(
        ("Model", (filed and filed.record.title) or model if "model" in whose else ""),
        ("Workshop", OUR_OWN if "workshop" in whose else ""),
        ("Trade", "; ".join(dict.fromkeys(window.source for window in used if window.whose == "trade"))),
        ("Strings", "; ".join(dict.fromkeys(window.condition for window in used if window.condition))),
    )
