"""Keys and digests as text: base58btc, Multikey, did:key, digestMultibase, and the fingerprint that is printed.

Knows encodings only; neither signs nor reads files. Sources: W3C Controlled Identifiers 1.0, sections 2.2.2 (Multikey),
2.4 (Multibase) and 2.5 (Multihash); the did:key method; RFC 4648, section 6 (base32).
"""

from __future__ import annotations

import base64
import hashlib

ALPHABET = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
VALUES = {sign: value for value, sign in enumerate(ALPHABET)}
BASE58BTC = "z"
# Longer than any key, digest or signature; turning base 58 into bytes takes the square of the length.
LONGEST_TEXT = 128

ED25519_PUBLIC = bytes.fromhex("ed01")
SHA2_256 = bytes.fromhex("1220")
KEY_BYTES = 32
DID_KEY = "did:key:"

# 100 bits: nobody finds another key with the same one.
FINGERPRINT_SIGNS = 20
GROUP = 4


def base58(content: bytes) -> str:
    """Write bytes in base58btc; each leading zero byte is a leading 1."""
    number = int.from_bytes(content, "big")
    signs = ""
    while number:
        number, rest = divmod(number, len(ALPHABET))
        signs = ALPHABET[rest] + signs
    return ALPHABET[0] * (len(content) - len(content.lstrip(b"\0"))) + signs


def from_base58(text: str) -> bytes:
    """Read base58btc; ValueError for anything else."""
    if len(text) > LONGEST_TEXT:
        raise ValueError("too long")
    number = 0
    for sign in text:
        if sign not in VALUES:
            raise ValueError(f"{sign!r} is not in base 58")
        number = number * len(ALPHABET) + VALUES[sign]
    zeros = len(text) - len(text.lstrip(ALPHABET[0]))
    return bytes(zeros) + number.to_bytes((number.bit_length() + 7) // 8, "big")


def multibase(content: bytes) -> str:
    """Write bytes as multibase base58btc."""
    return BASE58BTC + base58(content)


def from_multibase(text: str) -> bytes:
    """Read multibase base58btc; ValueError for anything else."""
    if not text.startswith(BASE58BTC):
        raise ValueError("not base58btc")
    return from_base58(text[1:])


def digest(content: bytes) -> str:
    """Give the SHA-256 of bytes as `digestMultibase`."""
    return multibase(SHA2_256 + hashlib.sha256(content).digest())


def is_digest(text: str) -> bool:
    """Tell whether a text is a `digestMultibase` as this tool writes them."""
    try:
        content = from_multibase(text)
    except ValueError:
        return False
    return content.startswith(SHA2_256) and len(content) == len(SHA2_256) + hashlib.sha256().digest_size


def is_did(text: str) -> bool:
    """Tell whether a text is the did:key of an Ed25519 key."""
    try:
        return bool(public_of(text))
    except ValueError:
        return False


def did_of(public: bytes) -> str:
    """Give the did:key of a public Ed25519 key of 32 bytes."""
    return DID_KEY + multibase(ED25519_PUBLIC + public)


def public_of(did: str) -> bytes:
    """Give the public Ed25519 key in a did:key; ValueError for anything else."""
    content = from_multibase(did.removeprefix(DID_KEY))
    is_key = did.startswith(DID_KEY) and content.startswith(ED25519_PUBLIC)
    if not is_key or len(content) != len(ED25519_PUBLIC) + KEY_BYTES:
        raise ValueError("not a did:key of an Ed25519 key")
    return content.removeprefix(ED25519_PUBLIC)


def method_of(did: str) -> str:
    """Give the verification method of a did:key: its only key, by the key's own name."""
    return f"{did}#{did.removeprefix(DID_KEY)}"


def fingerprint(did: str) -> str:
    """Give what is printed of a key, "7QFM 2XKC …": 20 signs of A to Z and 2 to 7, so that 0 and 1 never occur."""
    return _in_groups(hashlib.sha256(did.encode()).digest())


def fingerprint_of_digest(named: str) -> str:
    """Give what is printed of a key that only its digest is known of; ValueError for what is no digest."""
    return _in_groups(from_multibase(named).removeprefix(SHA2_256))


def _in_groups(hashed: bytes) -> str:
    signs = base64.b32encode(hashed).decode()[:FINGERPRINT_SIGNS]
    return " ".join(signs[start : start + GROUP] for start in range(0, FINGERPRINT_SIGNS, GROUP))
