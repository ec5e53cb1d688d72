"""A private key on paper: rows of figures that can be typed in again, each with signs that show a slip.

Gives the sheet and reads the rows; where the sheet is kept is the workshop's business, and the sheet says so.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Sequence
from dataclasses import dataclass

from passport.errors import PassportError
from passport.pdf import pdf_from_typst
from passport.stocks import Paper

ROWS = 8
BYTES_IN_ROW = 4
ROW = re.compile(rf"[0-9a-f]{{{2 * BYTES_IN_ROW + 2}}}")
HOW_TO_KEEP = """\
This sheet is the key itself. Whoever has it can sign in the workshop’s name; no passphrase guards it.
Print it on a printer of your own, then delete the file. Keep the sheet where you keep deeds: in a safe or with a \
notary, away from the computer that has the key. Do not photograph it and do not send it.
To bring the key back: passport key restore, then type the rows. The last two signs of a row show a slip."""
FOLLOWING = """\
This key signs nothing yet. It is made to follow the workshop’s present key, which names it already: with this sheet \
the workshop can go on when the present key is lost, and whoever steals that one cannot follow it with his own.
Keep it apart from the sheet of the present key. Then its file may be taken off the computer."""
SIGNING = """\
With this key the workshop signs its passports. Lost: follow it with the key made for that, passport key succeed. \
Stolen: do that at once, and tell those who hold passports. Nobody of the workshop left: burn the sheet; passports \
signed before stay as good as they are."""
SOURCE = """
#let data = json(bytes(sys.inputs.data))
#set page(paper: data.paper, margin: 22mm)
#set text(font: "Passport Serif", size: 11pt, fallback: false, lang: "en")
#set par(leading: 0.62em, spacing: 0.9em)
#for (index, sheet) in data.sheets.enumerate() {
  if index > 0 { pagebreak() }
  text(size: 20pt)[#sheet.title]
  v(1mm)
  text(size: 12pt, style: "italic")[#data.workshop]
  v(4mm)
  line(length: 100%, stroke: 0.5pt)
  v(3mm)
  [Fingerprint #h(4mm) #text(font: "Passport Sans", size: 14pt, tracking: 0.06em)[#sheet.fingerprint]]
  v(6mm)
  block(breakable: false, grid(columns: (12mm, auto, auto, auto), column-gutter: 7mm, row-gutter: 5mm,
    ..sheet.rows.enumerate().map(((number, row)) => (
      text(fill: luma(35%))[#(number + 1)],
      ..row.map(part => text(font: "Passport Sans", size: 17pt, tracking: 0.12em)[#part]),
    )).flatten()))
  v(6mm)
  line(length: 100%, stroke: 0.5pt)
  v(3mm)
  for words in sheet.words { par(words) }
}
"""


@dataclass(frozen=True)
class Sheet:
    """What one sheet bears: the key's fingerprint, its 32 secret bytes, and whether it only waits to follow."""

    fingerprint: str
    secret: bytes
    is_next: bool


def rows_of(secret: bytes) -> tuple[str, ...]:
    """Give a secret as rows of two groups of four figures and two signs that check them: "9d61 b19d e0"."""
    parts = [secret[start : start + BYTES_IN_ROW] for start in range(0, ROWS * BYTES_IN_ROW, BYTES_IN_ROW)]
    return tuple(
        f"{part.hex()[:4]} {part.hex()[4:]} {_check_signs(number, part)}" for number, part in enumerate(parts, start=1)
    )


def part_of(number: int, typed: str) -> bytes:
    """Read row `number` as somebody typed it; PassportError for a slip."""
    plain = re.sub(r"[\s-]", "", typed).lower().replace("o", "0").replace("l", "1").replace("i", "1")
    part = bytes.fromhex(plain[: 2 * BYTES_IN_ROW]) if ROW.fullmatch(plain) else b""
    if not part or plain[2 * BYTES_IN_ROW :] != _check_signs(number, part):
        raise PassportError(f"row {number} has a slip in it", "compare it sign by sign with the paper: 0 to 9, a to f")
    return part


def _check_signs(number: int, part: bytes) -> str:
    return hashlib.sha256(bytes([number]) + part).hexdigest()[:2]


def backup(sheets: Sequence[Sheet], workshop: str, paper: Paper) -> bytes:
    """Give the sheets as a PDF, one key on each."""
    data = {
        "paper": "a4" if paper == "a4" else "us-letter",
        "workshop": workshop,
        "sheets": [
            {
                "title": "Private key to follow" if sheet.is_next else "Private key",
                "fingerprint": sheet.fingerprint,
                "rows": [row.split() for row in rows_of(sheet.secret)],
                "words": f"{FOLLOWING if sheet.is_next else SIGNING}\n{HOW_TO_KEEP}".splitlines(),
            }
            for sheet in sheets
        ],
    }
    return pdf_from_typst(SOURCE, {"data": json.dumps(data)}, f"Private keys of {workshop}")
