"""Keys and statements made in a test, without passphrases and files."""

from __future__ import annotations

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from passport.credentials.integrity import did_of_key, sign
from passport.credentials.payload import key_statement, moment
from passport.credentials.statements import Statement, digest_of_key, statement_of
from passport.credentials.strict import Json


def key(number: int) -> Ed25519PrivateKey:
    return Ed25519PrivateKey.from_private_bytes(bytes([number]) * 32)


def did(number: int) -> str:
    return did_of_key(key(number))


def stated(
    number: int, *, by: int, of: int, named: int | None = None, before: Statement | None = None, day: str = ""
) -> Json:
    """The statement `number`: key `of`, signed by key `by`, naming key `named` to follow it."""
    unsigned = key_statement(
        issuer=did(by), workshop="Tamm & Penn", day=day or f"202{number}-01-01", did=did(of), number=number,
        next_key=digest_of_key(did(named)) if named is not None else "", before=before.digest if before else "",
    )  # fmt: skip
    return sign(unsigned, key(by), moment(day or f"202{number}-01-01"))


FIRST = statement_of(stated(1, by=1, of=1, named=2))
SECOND = statement_of(stated(2, by=2, of=2, named=3, before=FIRST))
THIRD = statement_of(stated(3, by=3, of=3, named=4, before=SECOND))
