"""The row of keys: each follows from the one before it, and a thief cannot go on with it."""

from __future__ import annotations

from typing import Any

import pytest

from passport.credentials.statements import Statement, chain, extended, statement_of
from passport.credentials.words import RefusedError
from tests.credentials.cases import without_context
from tests.credentials.signing import FIRST, SECOND, THIRD, did, key, sign, stated


def test_a_row_of_keys_is_put_in_order() -> None:
    assert chain([THIRD, FIRST, SECOND]) == (FIRST, SECOND, THIRD)
    assert [statement.next_fingerprint for statement in (FIRST, SECOND)] == [SECOND.fingerprint, THIRD.fingerprint]


def test_a_key_that_was_named_speaks_for_itself() -> None:
    assert (SECOND.signer, THIRD.signer) == (SECOND.did, THIRD.did)
    assert chain([FIRST, SECOND, THIRD])[-1] is THIRD


WITHOUT_NEXT = statement_of(stated(1, by=1, of=1))
BREAKS = {
    "a thief who has the present key names another": [FIRST, statement_of(stated(2, by=1, of=9, before=FIRST))],
    "a thief who has the key before names his own to follow the true one": [
        FIRST, statement_of(stated(2, by=1, of=2, named=9, before=FIRST))],
    "a key nobody named speaks for itself": [
        WITHOUT_NEXT, statement_of(stated(2, by=9, of=9, before=WITHOUT_NEXT))],
    "somebody else signs": [FIRST, statement_of(stated(2, by=9, of=2, before=FIRST))],
    "another statement is named before it": [FIRST, statement_of(stated(2, by=2, of=2, before=SECOND))],
    "an earlier day": [FIRST, statement_of(stated(2, by=2, of=2, before=FIRST, day="2020-12-31"))],
    "one is missing": [FIRST, THIRD],
    "two of one number": [FIRST, SECOND, SECOND],
    "the first is missing": [SECOND, THIRD],
}  # fmt: skip


@pytest.mark.parametrize("statements", BREAKS.values(), ids=BREAKS)
def test_a_break_in_the_row_is_found(statements: list[Statement]) -> None:
    with pytest.raises(RefusedError) as refused:
        chain(statements)
    assert refused.value.said.text


def test_a_key_that_begins_afresh_stands_in_the_workshops_own_row() -> None:
    afresh = statement_of(stated(2, by=9, of=9))
    assert chain([FIRST, afresh]) == (FIRST, afresh)


def test_what_somebody_hands_in_extends_what_is_known_only_where_it_follows() -> None:
    afresh = statement_of(stated(2, by=9, of=9))
    assert extended((FIRST,), [THIRD, SECOND]) == (FIRST, SECOND, THIRD)
    assert extended((FIRST,), [afresh]) == (FIRST,)
    assert extended((FIRST,), [THIRD]) == (FIRST,)
    assert extended((), [FIRST]) == ()


def test_a_false_statement_does_not_hide_the_true_one_of_its_number() -> None:
    false = statement_of(stated(2, by=9, of=9, before=FIRST))
    assert extended((FIRST,), [false, SECOND, THIRD]) == (FIRST, SECOND, THIRD)
    assert extended((FIRST,), [THIRD, SECOND, false]) == (FIRST, SECOND, THIRD)


def altered(**changes: Any) -> dict[str, Any]:
    document = {name: value for name, value in FIRST.document.items() if name != "proof"}
    return sign({**document, **changes}, key(1), "2021-01-01T00:00:00Z")


@pytest.mark.parametrize(
    "document",
    [
        {**FIRST.document, "validFrom": "2020-01-01T00:00:00Z"},
        altered(type=["VerifiableCredential", "InstrumentPassport"]),
        altered(issuer={"id": did(9), "name": "Tamm & Penn"}),
        altered(**{"@context": ["https://www.w3.org/ns/credentials/v2"]}),
        altered(credentialSubject={"id": "did:web:elsewhere.example", "keyNumber": 1}),
        altered(credentialSubject={"id": did(1), "keyNumber": 1, "nextKey": {"digestMultibase": "z1"}}),
        altered(statementBefore={"digestMultibase": "uEiA"}),
        altered(credentialSubject=[]),
        altered(validFrom="~~~~"),
        altered(validFrom="2021-01-01"),
        without_context(FIRST.document, 1),
    ],
)
def test_a_statement_that_is_altered_or_of_another_form_is_refused(document: dict[str, Any]) -> None:
    with pytest.raises(RefusedError):
        statement_of(document)
