"""Signing and checking, value by value against what the W3C and RFC 8032 publish."""

from __future__ import annotations

from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from passport.credentials.integrity import check, hashes, sign
from passport.credentials.multibase import did_of, method_of
from tests.credentials import w3c
from tests.credentials.published import published

KEY = Ed25519PrivateKey.from_private_bytes(w3c.SEED)
OTHER = Ed25519PrivateKey.from_private_bytes(bytes(range(32)))


def with_proof(**changes: Any) -> dict[str, Any]:
    proof = {**w3c.OPTIONS, "proofValue": w3c.PROOF_VALUE, **changes}
    return {**w3c.DOCUMENT, "proof": {name: value for name, value in proof.items() if value is not None}}


def test_the_hashes_are_those_of_the_standard() -> None:
    proof_hash, document_hash = hashes(w3c.DOCUMENT, w3c.OPTIONS)
    assert (proof_hash.hex(), document_hash.hex()) == (w3c.PROOF_HASH, w3c.DOCUMENT_HASH)


def test_the_signed_document_is_that_of_the_standard() -> None:
    assert sign(w3c.DOCUMENT, KEY, w3c.CREATED) == w3c.SIGNED


def test_the_standards_document_is_unaltered() -> None:
    found = check(w3c.SIGNED)
    assert (found.document, found.did, found.fault) == (w3c.DOCUMENT, w3c.METHOD.partition("#")[0], None)
    assert not found.has_additions


@pytest.mark.parametrize(
    ("altered", "code"),
    [
        ({**w3c.SIGNED, "name": "Alumni credential"}, "signature.wrong"),
        ({**w3c.SIGNED, "validFrom": "2023-01-01T00:00:01Z"}, "signature.wrong"),
        ({name: value for name, value in w3c.SIGNED.items() if name != "description"}, "signature.wrong"),
        ({**w3c.SIGNED, "added": None}, "signature.wrong"),
        (with_proof(created="2023-02-24T23:36:39Z"), "signature.wrong"),
        (with_proof(expires="2033-02-24T23:36:39Z"), "signature.wrong"),
        (with_proof(proofValue=w3c.PROOF_VALUE[:-1] + "Y"), "signature.wrong"),
    ],
)
def test_an_altered_document_does_not_hold_and_nothing_of_it_is_given(altered: dict[str, Any], code: str) -> None:
    found = check(altered)
    assert found.fault is not None
    assert (found.document, found.fault.code) == (None, code)


FOREIGN = method_of(did_of(OTHER.public_key().public_bytes_raw()))


@pytest.mark.parametrize(
    ("altered", "code"),
    [
        (w3c.DOCUMENT, "signature.none"),
        ({**w3c.DOCUMENT, "proof": [with_proof()["proof"]]}, "signature.shape"),
        ({**w3c.DOCUMENT, "proof": "z"}, "signature.shape"),
        (with_proof(type="Ed25519Signature2020"), "signature.shape"),
        (with_proof(proofPurpose="authentication"), "signature.shape"),
        (with_proof(cryptosuite="eddsa-rdfc-2022"), "signature.suite"),
        (with_proof(cryptosuite="none"), "signature.suite"),
        (with_proof(cryptosuite=None), "signature.suite"),
        (with_proof(verificationMethod=FOREIGN), "signature.wrong"),
        (with_proof(verificationMethod="did:web:vc.example#key"), "signature.key"),
        (with_proof(verificationMethod=w3c.METHOD[:-1]), "signature.key"),
        (with_proof(verificationMethod=None), "signature.key"),
        (with_proof(verificationMethod={"id": w3c.METHOD}), "signature.key"),
        (with_proof(proofValue="u" + w3c.PROOF_VALUE[1:]), "signature.shape"),
        (with_proof(proofValue="z" + "2" * 100_000), "signature.shape"),
        (with_proof(proofValue=None), "signature.shape"),
        ({**w3c.SIGNED, "@context": w3c.CONTEXT[:1]}, "signature.context"),
        ({**w3c.SIGNED, "@context": ["https://elsewhere.example/", *w3c.CONTEXT]}, "signature.context"),
    ],
)
def test_a_proof_that_is_not_a_passports_is_refused(altered: dict[str, Any], code: str) -> None:
    found = check(altered)
    assert found.fault is not None
    assert (found.document, found.fault.code) == (None, code)


def test_a_context_added_after_signing_is_told_and_not_given() -> None:
    added = {**w3c.SIGNED, "@context": [*w3c.CONTEXT, {"name": "https://elsewhere.example/other"}]}
    found = check(added)
    assert found.has_additions
    assert found.document == w3c.DOCUMENT


def test_signatures_are_those_of_rfc_8032() -> None:
    # RFC 8032, section 7.1, TEST 2.
    key = Ed25519PrivateKey.from_private_bytes(
        bytes.fromhex("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb")
    )
    assert key.sign(b"\x72").hex() == (
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
        "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
    )


def test_the_published_vector_value_by_value() -> None:
    vector = published("eddsa-jcs-2022.json")
    assert vector["secretSeedHex"] == w3c.SEED.hex()
    proof_hash, document_hash = hashes(vector["unsigned"], vector["proofConfig"])
    assert document_hash.hex() == vector["docHash"]
    assert proof_hash.hex() == vector["proofHash"]
    assert (proof_hash + document_hash).hex() == vector["combinedHash"]
    assert KEY.sign(proof_hash + document_hash).hex() == vector["sigHex"]
    assert sign(vector["unsigned"], KEY, vector["proofConfig"]["created"]) == vector["signed"]
    assert check(vector["signed"]).document == vector["unsigned"]


def test_the_published_signatures_of_rfc_8032() -> None:
    cases = published("rfc8032-ed25519.json")["cases"]
    assert len(cases) >= 4
    for case in cases:
        key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(case["seed"]))
        assert key.public_key().public_bytes_raw().hex() == case["public"]
        assert key.sign(bytes.fromhex(case["message"])).hex() == case["signature"]
