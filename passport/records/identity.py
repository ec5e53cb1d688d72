"""The number an instrument carries for life: drawing one, judging one typed in, offering the near ones.

May draw random characters through the chooser it is given, and nothing else: no files, no clock.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Callable, Collection, Iterable, Sequence

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""The characters of an id: those that are not taken for another on a small label."""

LOOK_ALIKES = "0O1IL"
"""The characters left out of `ALPHABET`, since each is read as another."""

BODY_LENGTH = 6
LENGTH = BODY_LENGTH + 1
TAIL_LENGTH = 17  # 31 ** 17 is more than 2 ** 84: an unlisted address cannot be found by trying

# ISO 7064 MOD 37-2, a pure system: modulus 37, radix 2, values 0 to 36 in this order. The last, "*",
# occurs as a check character only.
_SYMBOLS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
_MODULUS = 37
_RADIX = 2

# All digits, or an exponent: YAML or a spreadsheet reads a number and writes something else back.
_NUMBER = re.compile(r"[0-9]+(E[0-9]+)?")
# Spreadsheets turn names like MARCH1, SEPT2 and DEC1 into dates, which are numbers to them: Ziemann, Eren
# and El-Osta, "Gene name errors are widespread in the scientific literature", Genome Biology 17:177 (2016).
# Only the months that can be spelt with `ALPHABET`.
_DATE = re.compile(r"[0-9]*(JAN|FEB|MAR(CH)?|APR|MAY|JUNE?|AUG(UST)?|SEPT?|DEC)[0-9]*")

_SEPARATORS = re.compile(r"[\s\-‐‑‒–—−]+")
_MOST_OFFERED = 5
_MOST_UNREADABLE = 3  # with more characters unknown than this, too many ids would be near


def check_character(body: str) -> str | None:
    """Give the ISO 7064 MOD 37-2 check character of `body`: 0-9, A-Z or `*`.

    None where the body is empty or holds a character other than 0-9 and A-Z. Source: ISO/IEC 7064:2003,
    pure systems with one check character: each value is added and the sum multiplied by the radix in
    turn; sum and check value together leave 1 when divided by the modulus.
    """
    if not body:
        return None
    total = 0
    for character in body:
        value = _SYMBOLS.find(character, 0, _MODULUS - 1)
        if value < 0:
            return None
        total = (total + value) * _RADIX % _MODULUS
    return _SYMBOLS[(1 - total) % _MODULUS]


def is_valid(identifier: str) -> bool:
    """Say whether this is an id exactly as it is kept: large letters, no dash, check character right."""
    if len(identifier) != LENGTH or any(character not in ALPHABET for character in identifier):
        return False
    return check_character(identifier[:-1]) == identifier[-1]


def normalised(typed: str) -> str:
    """Bring what was typed into the form an id is kept in: large letters, no dashes, no spaces."""
    return _SEPARATORS.sub("", typed).upper()


def why_wrong(typed: str) -> str | None:
    """Say in one sentence what keeps this from being an id; None where nothing does."""
    identifier = normalised(typed)
    if not identifier:
        return f"nothing is written: an id is the {LENGTH} characters under the code on the label"
    if is_valid(identifier):
        return None
    misread = _listed(identifier, LOOK_ALIKES)
    if misread:
        return f"{identifier} holds {misread}, but 0, O, 1, I and L never occur: look at the label again"
    strange = _listed(identifier, "".join(set(identifier) - set(ALPHABET)))
    if strange:
        return f"{identifier} holds {strange}, but an id is made of letters A to Z and digits only"
    if len(identifier) != LENGTH:
        return f"an id has {LENGTH} characters, and {identifier} has {len(identifier)}"
    return f"{identifier} is mistyped: its last character does not fit the six before it"


def near(typed: str, known: Iterable[str]) -> tuple[str, ...]:
    """Give up to five of the known ids that this may have been meant for, nearest first.

    Near is one character mistyped, lost or added, or two neighbours swapped. A character that never
    occurs in an id (0, O, 1, I, L, or any sign) may stand for any one, up to three of them.
    """
    identifier = normalised(typed)
    if sum(character not in ALPHABET for character in identifier) > _MOST_UNREADABLE:
        return ()
    ranked = sorted(
        (slips, candidate)
        for candidate in set(known) - {identifier}
        if (slips := _slips(identifier, candidate)) is not None
    )
    return tuple(candidate for _, candidate in ranked[:_MOST_OFFERED])


def minted(taken: Collection[str], choose: Callable[[Sequence[str]], str] = secrets.choice) -> str:
    """Draw a new id that is not taken, does not read as a number, and ends in its check character.

    About 16 in 100 bodies are passed over, since their check character is not in `ALPHABET`.
    """
    while True:
        body = "".join(choose(ALPHABET) for _ in range(BODY_LENGTH))
        identifier = body + (check_character(body) or "")
        if is_valid(identifier) and identifier not in taken and not _reads_as_number(identifier):
            return identifier


def address_tail(choose: Callable[[Sequence[str]], str] = secrets.choice) -> str:
    """Draw the end of an address that nobody finds who was not told it; capitals keep the code on the label small."""
    return "".join(choose(ALPHABET) for _ in range(TAIL_LENGTH))


def is_address_tail(text: str) -> bool:
    """Tell whether this can be the end of an unlisted address, in capitals or in small letters."""
    return len(text) == TAIL_LENGTH and all(character in ALPHABET for character in text.upper()) and text.isascii()


def _reads_as_number(identifier: str) -> bool:
    return bool(_NUMBER.fullmatch(identifier) or _DATE.fullmatch(identifier))


def _listed(identifier: str, wanted: str) -> str:
    return " and ".join(dict.fromkeys(character for character in identifier if character in wanted))


def _slips(typed: str, candidate: str) -> int | None:
    """Count slips of the pen from one to the other: 0, 1, or None for more."""
    if len(typed) == len(candidate):
        return _slips_in_place(typed, candidate)
    longer, shorter = sorted((typed, candidate), key=len, reverse=True)
    if len(longer) - len(shorter) != 1:
        return None
    without_one = (longer[:at] + longer[at + 1 :] for at in range(len(longer)))
    return 1 if any(_fits(rest, shorter) for rest in without_one) else None


def _slips_in_place(typed: str, candidate: str) -> int | None:
    wrong = [at for at in range(len(typed)) if not _fits(typed[at], candidate[at])]
    if len(wrong) <= 1:
        return len(wrong)
    swapped = len(wrong) == 2 and wrong[1] == wrong[0] + 1  # noqa: PLR2004 - a pair of neighbours
    first = wrong[0]
    return 1 if swapped and typed[first : first + 2] == candidate[first : first + 2][::-1] else None


def _fits(one: str, other: str) -> bool:
    """Say whether the two read the same, a character that never occurs in an id standing for any."""
    return all(a == b or a not in ALPHABET or b not in ALPHABET for a, b in zip(one, other, strict=True))
