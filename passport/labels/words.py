"""The lines that a case label carries, from its view, with the sizes they may be set in.

Words only; does not know where on the label they will stand.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace

from passport.errors import PassportError
from passport.labels.faces import SANS, SANS_SEMIBOLD, SERIF, SERIF_ITALIC, SERIF_MEDIUM, Face, missing_signs
from passport.views.label import CaseLabel

CHECK_LINE = "Check this number against the one inside the instrument"
PROOF_LINE = "PROOF, NOT FOR A CASE"
CHECK_FIELD = "check line"

SUPERIOR = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
INFERIOR = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
FRACTION_SLASH = "\u2044"
NO_BREAK_SPACE = "\u00a0"
# A longer number may be broken at its blanks.
SHORT_SERIAL = 16


@dataclass(frozen=True)
class Words:
    """One piece of text, with the sizes in points that it is best and at least set in.

    `field` is what a message calls it, `breaks` lets it run over lines, `white` puts it on a black band.
    """

    field: str
    text: str
    face: Face
    size_pt: float
    least_pt: float
    tracking_em: float = 0.0
    breaks: bool = True
    white: bool = False


def identity(label: CaseLabel) -> Words:
    """The id in letter-spaced capitals."""
    return _words(Words("id", label.id, SERIF_MEDIUM, 17.0, 10.0, 0.11, breaks=False))


def description(label: CaseLabel) -> Words:
    """Kind and size, the size as a true fraction."""
    kind = _capitalised(label.kind)
    text = f"{kind} {fraction(label.size)}" if label.size.strip() else kind
    return _words(Words("line with kind and size", text, SERIF, 11.0, 8.0))


def serial(label: CaseLabel) -> Words | None:
    """The workshop's own number, where there is one."""
    number = label.serial.strip()
    if not number:
        return None
    if len(number) <= SHORT_SERIAL:
        number = number.replace(" ", NO_BREAK_SPACE)
    return _words(Words("serial number", f"No.{NO_BREAK_SPACE}{number}", SANS, 8.5, 6.5))


def check_line() -> Words:
    """The line that keeps a case and its instrument together."""
    return Words(CHECK_FIELD, CHECK_LINE, SERIF_ITALIC, 8.25, 7.0)


def proof_line() -> Words:
    """What stands in the check line's place on a label that no case may carry."""
    return Words(CHECK_FIELD, PROOF_LINE, SANS_SEMIBOLD, 7.25, 5.0, 0.06, breaks=False, white=True)


def setup(label: CaseLabel) -> tuple[tuple[Words, ...], ...]:
    """The reference set-up as rows: a heading with its date, then what was measured and its value."""
    date = f", {label.setup_date}" if label.setup_date else ""
    heading = Words("heading of the set-up", f"Reference set-up{date}", SERIF_ITALIC, 8.0, 7.0)
    rows = [
        (Words(f"row “{name}”", name, SERIF, 7.4, 6.5), Words(f"row “{name}”", value, SANS, 7.0, 6.5))
        for name, value in label.setup
    ]
    return ((_words(heading),), *(tuple(map(_words, row)) for row in rows))


def imprint(label: CaseLabel) -> tuple[Words, ...]:
    """Who to turn to when there is no web: workshop and place, and the contact line."""
    where = ", ".join(part.strip() for part in (label.workshop, label.place) if part.strip())
    lines = (
        Words("line with workshop and place", where, SERIF, 8.75, 6.5),
        Words("contact line", label.contact, SANS, 7.0, 6.0),
    )
    return tuple(_words(line) for line in lines if line.text.strip())


def signed_with(label: CaseLabel) -> tuple[Words, ...]:
    """The print that a passport's key is compared with; nothing where the workshop signs none."""
    if not label.fingerprint:
        return ()
    grouped = label.fingerprint.replace(" ", NO_BREAK_SPACE)
    told = Words("line with the key", "Passports are signed with the key", SERIF_ITALIC, 7.4, 6.5)
    return _words(told), _words(Words("key", grouped, SANS, 7.0, 6.0))


def fraction(size: str) -> str:
    """“3/4” as a typeset fraction; any other size as it stands."""
    parts = re.fullmatch(r"\s*(\d{1,2})/(\d{1,2})\s*", size, re.ASCII)
    if not parts:
        return size
    return parts[1].translate(SUPERIOR) + FRACTION_SLASH + parts[2].translate(INFERIOR)


def _capitalised(text: str) -> str:
    text = text.strip()
    return text[:1].upper() + text[1:]


def _words(words: Words) -> Words:
    """The same with blanks made even and letters composed; refused where a face lacks a sign."""
    text = re.sub(r"[ \t\r\n]+", " ", unicodedata.normalize("NFC", words.text)).strip()
    text = re.sub(r"(?<=\d) (?=\d)", NO_BREAK_SPACE, text)  # a telephone number stays on one line
    lacking = missing_signs(text, words.face)
    if lacking:
        raise PassportError(
            f"The {words.field} “{text}” has signs that the label's typeface does not hold: {lacking}",
            "Write it in Latin letters for the label.",
        )
    return replace(words, text=text)
