"""Keys and digests as text, against published values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passport.credentials.multibase import (
    base58,
    did_of,
    digest,
    fingerprint,
    from_base58,
    from_multibase,
    method_of,
    public_of,
)
from passport.credentials.vocabulary import CREDENTIALS_V2_SHA256
from tests.credentials.published import published

# The key pair of the test vectors of W3C Data Integrity EdDSA Cryptosuites 1.0.
W3C_PUBLIC = bytes.fromhex("b00d8d938e7f773d51565aad36a623f5344f7f5d1960f9cf3e8e12620ea2810f")
W3C_DID = "did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"


# draft-msporny-base58-03, section 5, test vectors.
@pytest.mark.parametrize(
    ("content", "text"),
    [
        (b"Hello World!", "2NEpo7TZRRrLZSi2U"),
        (
            b"The quick brown fox jumps over the lazy dog.",
            "USm3fpXnKG5EUBx2ndxBDMPVciP5hGey2Jh4NDv6gmeo1LkMeiKrLJUUBk6Z",
        ),
        (bytes.fromhex("0000287fb4cd"), "11233QC4"),
    ],
)
def test_base58_is_that_of_the_draft(content: bytes, text: str) -> None:
    assert base58(content) == text
    assert from_base58(text) == content


@given(st.binary(max_size=70))
def test_what_is_written_in_base_58_is_read_again(content: bytes) -> None:
    assert from_base58(base58(content)) == content


@pytest.mark.parametrize("text", ["0", "O", "I", "l", "2 3", "é", "2" * 200])
def test_what_is_not_base_58_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"base 58|long"):
        from_base58(text)


def test_a_public_key_has_the_did_of_the_standard() -> None:
    assert did_of(W3C_PUBLIC) == W3C_DID
    assert public_of(W3C_DID) == W3C_PUBLIC
    assert method_of(W3C_DID) == f"{W3C_DID}#z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"


@pytest.mark.parametrize(
    "did",
    [
        "did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ",  # a sign short
        "did:key:u7QGwDY2Tjn93PVFWWq02piP1NE9_XRlg-c8-jhJiDqKBDw",  # the same key in base64url
        "did:web:vc.example",
        "z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2",
        # The did:key method's example of a P-256 key.
        "did:key:zDnaerDaTF5BXEavCrfRZEk316dpbLsfPDZ3WJ5hRTPFU2169",
        "",
    ],
)
def test_another_kind_of_key_is_refused(did: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        public_of(did)


def test_a_digest_is_that_of_the_standard() -> None:
    # W3C Verifiable Credential Data Integrity 1.0, the digest of nothing.
    assert digest(b"") == "zQmdfTbBqBPQ7VNxZEYEj14VmRuZBkqFbiwReogJgS1zR1n"


def test_a_fingerprint_is_a_part_of_the_digest_of_the_key_in_groups() -> None:
    # By other programs: printf %s DID | openssl dgst -sha256 -binary | base32 | cut -c-20
    assert fingerprint(W3C_DID) == "FWP7 NXT6 NZRI 3UPJ 6BG6"
    assert fingerprint(did_of(bytes(32))) != fingerprint(W3C_DID)


def test_the_published_keys_and_digests() -> None:
    cases = published("did-key.json")["cases"]
    assert len(cases) == 3
    for case in cases:
        assert did_of(public_of(case["did"])) == case["did"]
    digests = published("digest-multibase.json")
    assert digests["vc-v2-context-sha256"] == CREDENTIALS_V2_SHA256
    for case in digests["cases"]:
        assert digest(bytes.fromhex(case["bytesHex"])) == case["digestMultibase"]
    pair = published("eddsa-jcs-2022.json")["keyPair"]
    # Multikey, secret half: 0x8026 before the 32 bytes.
    assert from_multibase(pair["privateKeyMultibase"])[:2].hex() == "8026"
