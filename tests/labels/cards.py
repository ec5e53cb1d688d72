"""Labels of an invented workshop that the tests of this folder share."""

from __future__ import annotations

from passport.views.label import CaseLabel

# No such host is known; it only has the shape of a real one.
REAL_LOOKING = "https://passports.tammpenn-harrowmere.net/ZVSPYJH/"
PLACEHOLDER = "https://tamm-penn.example/ZVSPYJH/"

VIOLIN = CaseLabel(
    id="ZVSPYJH",
    kind="violin",
    size="4/4",
    serial="TP 88",
    address=REAL_LOOKING,
    workshop="Tamm & Penn",
    place="Harrowmere",
    contact="Any weekday: +00 555 0142",
)
