"""What the checks say: every fault that can be found in one list, and the small value that reports it.

A code is never reused. `explanations.toml` beside this file explains each with a bad and a good example.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Self


class Severity(Enum):
    """How bad it is: an error stops the build, a warning wants a look, a note is worth knowing."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Code(Enum):
    """Every fault, by family."""

    # Form: the file
    UNREADABLE = ("unreadable-file", Severity.ERROR)
    TOO_LARGE = ("file-too-large", Severity.ERROR)
    NOT_TEXT = ("not-text", Severity.ERROR)
    NOT_UTF8 = ("not-utf-8", Severity.ERROR)
    UNPRINTABLE = ("unprintable-character", Severity.ERROR)
    BROKEN_YAML = ("broken-yaml", Severity.ERROR)
    TOO_DEEP = ("too-deep", Severity.ERROR)
    SEVERAL_DOCUMENTS = ("several-documents", Severity.ERROR)
    ALIAS = ("anchor-or-alias", Severity.ERROR)
    TAG = ("tag", Severity.ERROR)
    MERGE_KEY = ("merge-key", Severity.ERROR)
    DUPLICATE_FIELD = ("duplicate-field", Severity.ERROR)
    EMPTY_RECORD = ("empty-record", Severity.ERROR)
    NOT_A_RECORD = ("not-a-record", Severity.ERROR)
    NEWER_SCHEMA = ("newer-schema", Severity.ERROR)
    STRAY_FILE = ("stray-file", Severity.WARNING)
    MISNAMED_RECORD = ("misnamed-record", Severity.ERROR)
    CONFLICT_COPY = ("conflict-copy", Severity.ERROR)
    # Form: traps of the notation
    COMMA_IN_BRACES = ("comma-in-braces", Severity.ERROR)
    COMMA_IN_BRACKETS = ("comma-in-brackets", Severity.ERROR)
    SWALLOWED = ("swallowed-by-hash", Severity.WARNING)
    # Form: the fields
    UNKNOWN_FIELD = ("unknown-field", Severity.ERROR)
    MISSING_FIELD = ("missing-field", Severity.ERROR)
    WRONG_SHAPE = ("wrong-shape", Severity.ERROR)
    NOT_A_KNOWN_WORD = ("not-a-known-word", Severity.ERROR)
    BAD_NUMBER = ("bad-number", Severity.ERROR)
    BAD_UNIT = ("bad-unit", Severity.ERROR)
    BAD_DATE = ("bad-date", Severity.ERROR)
    BAD_ID = ("bad-id", Severity.ERROR)
    BAD_SIZE = ("bad-size", Severity.ERROR)
    NAME_DIFFERS = ("name-differs-from-file", Severity.ERROR)
    BAD_NAME = ("bad-name", Severity.ERROR)
    UNKNOWN_STRING = ("unknown-string", Severity.ERROR)
    UNKNOWN_CONDITION = ("unknown-condition", Severity.ERROR)
    UNEVEN_ROW = ("uneven-row", Severity.ERROR)
    BAD_ADDRESS = ("bad-address", Severity.ERROR)
    UNREADABLE_ROW = ("unreadable-row", Severity.WARNING)
    LEFT_BLANK = ("left-as-the-blank", Severity.WARNING)
    IMPOSSIBLE_STOCK = ("impossible-stock", Severity.ERROR)
    STOCK_WITHOUT_CODE = ("stock-without-code", Severity.NOTE)
    IMPOSSIBLE_PRINTER = ("impossible-printer", Severity.ERROR)
    # References
    UNKNOWN_LOT = ("unknown-lot", Severity.ERROR)
    UNKNOWN_BATCH = ("unknown-batch", Severity.ERROR)
    UNKNOWN_MODEL = ("unknown-model", Severity.ERROR)
    UNKNOWN_GAUGE = ("unknown-gauge", Severity.ERROR)
    UNKNOWN_PERSON = ("unknown-person", Severity.WARNING)
    UNKNOWN_SHEET = ("unknown-sheet", Severity.ERROR)
    REPEATED_SHEET = ("repeated-sheet", Severity.ERROR)
    UNKNOWN_STOCK = ("unknown-stock", Severity.ERROR)
    MISSING_PHOTO = ("missing-photo", Severity.ERROR)
    BROKEN_PHOTO = ("broken-photo", Severity.ERROR)
    UNUSED_PHOTO = ("unused-photo", Severity.NOTE)
    REPEATED_ID = ("repeated-id", Severity.ERROR)
    REPEATED_SERIAL = ("repeated-serial", Severity.WARNING)
    OTHER_KIND = ("model-of-another-kind", Severity.ERROR)
    WEDGE_TWICE = ("wedge-twice", Severity.WARNING)
    WEDGE_BEYOND = ("wedge-beyond-the-lot", Severity.ERROR)
    LOT_OVERDRAWN = ("lot-overdrawn", Severity.WARNING)
    UNUSED_LOT = ("unused-lot", Severity.NOTE)
    UNUSED_BATCH = ("unused-batch", Severity.NOTE)
    LABEL_WITHOUT_PAGE = ("label-without-page", Severity.ERROR)
    LABEL_MOVED = ("label-moved", Severity.WARNING)
    ORPHAN_PRIVATE = ("private-without-instrument", Severity.ERROR)
    NO_PAGE = ("unlisted-without-page", Severity.ERROR)
    # Chronology
    IN_THE_FUTURE = ("in-the-future", Severity.ERROR)
    LOT_OUT_OF_ORDER = ("lot-out-of-order", Severity.ERROR)
    WOOD_TOO_EARLY = ("wood-used-too-early", Severity.ERROR)
    BATCH_TOO_EARLY = ("batch-used-too-early", Severity.ERROR)
    COATS_OUT_OF_ORDER = ("coats-out-of-order", Severity.ERROR)
    WORK_OUT_OF_ORDER = ("work-out-of-order", Severity.ERROR)
    BEFORE_MADE = ("before-it-was-made", Severity.ERROR)
    AFTER_ITS_END = ("after-its-end", Severity.ERROR)
    SHEETS_SWAPPED = ("sheets-swapped", Severity.ERROR)
    UNUSUAL_ORDER = ("unusual-order", Severity.WARNING)
    HISTORY_ORDER = ("history-out-of-order", Severity.WARNING)
    RECOATED_TOO_SOON = ("recoated-too-soon", Severity.WARNING)
    BATCH_EXPIRED = ("batch-expired", Severity.WARNING)
    PERSON_AWAY = ("person-not-here-then", Severity.WARNING)
    # Plausibility
    SLIP = ("slip-of-typing", Severity.ERROR)
    IMPOSSIBLE = ("impossible-value", Severity.ERROR)
    UNUSUAL = ("unusual-value", Severity.WARNING)
    ACCEPTED = ("accepted-value", Severity.NOTE)
    # Consistency
    SETUP_CANNOT_BE = ("set-up-cannot-be", Severity.ERROR)
    SETUP_OPEN = ("set-up-does-not-close", Severity.WARNING)
    LENGTH_DIFFERS = ("string-length-differs", Severity.WARNING)
    NECK_TO_STOP = ("neck-to-stop", Severity.WARNING)
    HEIGHTS_OUT_OF_ORDER = ("string-heights-out-of-order", Severity.WARNING)
    UNEVEN_GAPS = ("uneven-gaps", Severity.WARNING)
    STEPS_DIFFER = ("steps-differ-from-spacing", Severity.WARNING)
    CLOSING_MOISTURE = ("moisture-at-closing", Severity.WARNING)
    CLOSING_ROOM = ("closing-against-the-room", Severity.WARNING)
    LOT_NOT_AT_REST = ("lot-not-at-rest", Severity.WARNING)
    DOSE_DIFFERS = ("dose-differs", Severity.WARNING)
    MASSES_DIFFER = ("moisture-against-masses", Severity.ERROR)
    MASS_APART = ("plate-mass-differs", Severity.WARNING)
    TAP_RATIO = ("unusual-tap-ratio", Severity.WARNING)
    UNEVEN_PLATE = ("uneven-plate", Severity.WARNING)
    THIN_SPOT = ("thin-spot", Severity.WARNING)
    DENSITY_APART = ("density-unlike-its-lot", Severity.WARNING)
    # Completeness
    INCOMPLETE = ("incomplete", Severity.NOTE)
    # Materials
    UNKNOWN_SPECIES = ("unknown-species", Severity.WARNING)
    PAPERS_MISSING = ("papers-missing", Severity.WARNING)
    # Privacy
    PRIVATE_IN_TEXT = ("private-in-public-text", Severity.WARNING)
    PRIVATE_IN_GIT = ("private-in-git", Severity.WARNING)

    def __new__(cls, slug: str, severity: Severity) -> Self:
        """Make the slug the value, so that a code is found, and written down, by the name a report prints."""
        made = object.__new__(cls)
        made._value_ = slug
        made.severity = severity
        return made

    severity: Severity

    @property
    def slug(self) -> str:
        """Give the name a report prints."""
        return str(self.value)


Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Finding:
    """One fault in one record: what is, what to do, and where.

    `path` leads through the record's fields and list positions; `on_key` points at the field's name instead of its
    value. `line` and `column` count from 1 and are 0 until the place is known.
    """

    code: Code
    file: str
    what: str
    todo: str
    path: Path = ()
    on_key: bool = False
    line: int = 0
    column: int = 0

    @property
    def severity(self) -> Severity:
        """Give the severity of the code."""
        return self.code.severity

    @property
    def order(self) -> tuple[str, int, int, str, str]:
        """Give the key by which findings are listed: by file, then by place."""
        return (self.file, self.line, self.column, self.code.slug, self.what)


def code_named(slug: str) -> Code | None:
    """Find a code by the name a report prints, or None."""
    return next((code for code in Code if code.slug == slug), None)
