"""Key statements: which key signs the workshop's passports from which day, each tied to the one before.

Public and only ever added to. A statement is signed by the key before it, or, where that one named the digest of the
key to follow, by that key itself: so a lost key can be followed, and a stolen one cannot.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from passport.credentials.integrity import check
from passport.credentials.multibase import digest, fingerprint, fingerprint_of_digest, is_did, is_digest
from passport.credentials.strict import Json, canonical
from passport.credentials.vocabulary import CONTEXT, KEY_STATEMENT_TYPE
from passport.credentials.words import RefusedError

MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T00:00:00Z")


@dataclass(frozen=True)
class Statement:
    """One statement whose signature holds; `next_key` and `before` are digests, or empty."""

    number: int
    did: str
    signer: str
    workshop: str
    day: str
    next_key: str
    before: str
    digest: str
    document: Json

    @property
    def fingerprint(self) -> str:
        """Give what is printed of its key."""
        return fingerprint(self.did)

    @property
    def next_fingerprint(self) -> str:
        """Give what is printed of the key to follow; nothing where none was named."""
        return fingerprint_of_digest(self.next_key) if self.next_key else ""

    @property
    def begins(self) -> bool:
        """Tell whether nothing but the print ties this key to any before it."""
        return not self.before and self.signer == self.did


def digest_of(document: Json) -> str:
    """Give the digest by which a signed document is named in the next one."""
    return digest(canonical(document))


def digest_of_key(did: str) -> str:
    """Give the digest by which a key is named before it is known."""
    return digest(did.encode())


def is_statement(document: Json) -> bool:
    """Tell whether a document says that it is a key statement."""
    return document.get("type") == ["VerifiableCredential", KEY_STATEMENT_TYPE]


def statement_of(secured: Json) -> Statement:
    """Read a statement; RefusedError where its signature or its form does not hold."""
    found = check(secured)
    if found.document is None:
        raise RefusedError(found.fault.code if found.fault else "signature.wrong")
    document = found.document
    subject, issuer = _group(document, "credentialSubject"), _group(document, "issuer")
    made = Statement(
        number=_whole(subject.get("keyNumber")),
        did=_text(subject.get("id")),
        signer=found.did,
        workshop=_text(issuer.get("name")),
        day=day_of(document),
        next_key=digest_in(subject, "nextKey"),
        before=digest_in(document, "statementBefore"),
        digest=digest_of(secured),
        document=secured,
    )
    is_ours = is_statement(document) and document.get("@context") == CONTEXT and issuer.get("id") == found.did
    is_whole = is_did(made.did) and bool(made.day)
    if not is_ours or not is_whole or not all(map(is_digest, filter(None, (made.next_key, made.before)))):
        raise RefusedError("key.form")
    return made


def chain(statements: Iterable[Statement]) -> tuple[Statement, ...]:
    """Give statements in their order; RefusedError where one does not follow from the one before it."""
    ordered = tuple(sorted(statements, key=lambda statement: statement.number))
    for number, statement in enumerate(ordered, start=1):
        earlier = ordered[number - 2] if number > 1 else None
        if statement.number != number or not (statement.begins or (earlier and follows(earlier, statement))):
            raise RefusedError("key.chain", number=str(statement.number))
    return ordered


def extended(known: tuple[Statement, ...], given: Iterable[Statement]) -> tuple[Statement, ...]:
    """Give the known statements with those that follow from them; a new beginning follows from nothing."""
    later = [statement for statement in given if not statement.begins]
    while known and (found := next((each for each in later if follows(known[-1], each)), None)):
        known = (*known, found)
    return known


def follows(earlier: Statement, later: Statement) -> bool:
    """Tell whether a statement is the one after another.

    Where the earlier one names the key to follow, its signature speaks for that key, and only that key may speak next:
    whoever steals the earlier key cannot name another.
    """
    is_named = earlier.next_key == digest_of_key(later.did) and later.signer == later.did
    is_passed_on = not earlier.next_key and later.signer == earlier.did
    is_in_order = later.number == earlier.number + 1 and later.day >= earlier.day and later.before == earlier.digest
    return is_in_order and (is_named or is_passed_on)


def day_of(document: Json) -> str:
    """Give the day a document is valid from, 2026-11-25; nothing where it is not written as ours are."""
    found = _text(document.get("validFrom"))
    return found[:10] if MOMENT.fullmatch(found) else ""


def digest_in(group: Json, name: str) -> str:
    """Give the digest that stands under a name; nothing where none does."""
    found = group.get(name)
    return _text(found.get("digestMultibase")) if isinstance(found, dict) else ""


def _group(document: Json, name: str) -> Json:
    found = document.get(name)
    return found if isinstance(found, dict) else {}


def _text(found: Any) -> str:
    return found if isinstance(found, str) else ""


def _whole(found: Any) -> int:
    return found if isinstance(found, int) and not isinstance(found, bool) else 0
