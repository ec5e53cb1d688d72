"""An address as a QR code: modules, and how many printer dots each may have.

The one door to `qrcode`; knows nothing of what surrounds the code on a label.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import qrcode
from qrcode.exceptions import DataOverflowError
from qrcode.util import QRData

from passport.errors import PassportError
from passport.stocks import LEAST_MODULE_MM, QUIET_MODULES
from passport.web import host_and_path

Mode = Literal["alphanumeric", "byte"]

# ISO/IEC 18004: the alphanumeric character set.
ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")
# Its mode indicators.
MODES: dict[Mode, Literal[2, 4]] = {"alphanumeric": 2, "byte": 4}
MM_PER_INCH = 25.4
# Floating point must not cost a dot when a code fills its space exactly.
ROUNDING = 1e-9


@dataclass(frozen=True)
class Code:
    """A QR code without its quiet zone, row by row, dark is true; `note` says why it is large, if so."""

    text: str
    modules: tuple[tuple[bool, ...], ...]
    version: int
    mode: Mode
    note: str

    @property
    def across(self) -> int:
        """Modules from edge to edge, quiet zone not counted."""
        return len(self.modules)


def encode(address: str) -> Code:
    """The code for an address at error correction level Q, as small as the address allows."""
    if not address.strip():
        raise PassportError("There is no address to make a code of.", "Put it into workshop.yml.")
    text, mode, note = _smallest_form(address)
    maker = qrcode.QRCode(error_correction=qrcode.ERROR_CORRECT_Q, border=0)
    maker.add_data(QRData(text, mode=MODES[mode]), optimize=0)
    try:
        maker.make(fit=True)
    except (DataOverflowError, ValueError) as fault:
        raise PassportError(
            f"The address has {len(text)} characters, more than a code can hold.", "Use a shorter address."
        ) from fault
    modules = tuple(tuple(bool(dark) for dark in row) for row in maker.get_matrix())
    return Code(text, modules, int(maker.version), mode, note)


def note(address: str) -> str:
    """Empty, or why the code of this address is larger than it need be."""
    return _smallest_form(address)[2]


def _smallest_form(address: str) -> tuple[str, Mode, str]:
    host, path = host_and_path(address)
    if host and path == path.upper() and ALPHANUMERIC.issuperset(address.upper()):
        return address.upper(), "alphanumeric", ""
    return (
        address,
        "byte",
        (
            "After the host, the address has lower-case letters or signs that a small code cannot hold, "
            "so it is printed as it is and the code is larger."
        ),
    )


def module_dots(modules_across: int, space_mm: float, dpi: int) -> int:
    """Whole printer dots per module, as many as let the code and its quiet zone fit into `space_mm`.

    Raises `PassportError` where that leaves a module under 0.5 mm.
    """
    with_quiet = modules_across + 2 * QUIET_MODULES
    dots = int(space_mm / MM_PER_INCH * dpi / with_quiet + ROUNDING)
    if dots * MM_PER_INCH / dpi < LEAST_MODULE_MM:
        raise PassportError(
            f"The code needs {with_quiet * LEAST_MODULE_MM:.1f} mm or a little more at {dpi} dpi, "
            f"and this label has room for {space_mm:.1f} mm.",
            "Choose a larger label or shorten the address.",
        )
    return dots


def as_svg(code: Code) -> bytes:
    """Draw a code with its quiet zone, a unit a module, for a document."""
    side = code.across + 2 * QUIET_MODULES
    dark = "".join(
        f"M{x + QUIET_MODULES},{y + QUIET_MODULES}h1v1h-1z"
        for y, row in enumerate(code.modules)
        for x, is_dark in enumerate(row)
        if is_dark
    )
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" shape-rendering="crispEdges">'
    return f'{head}<path fill="#000" d="{dark}"/></svg>'.encode()
