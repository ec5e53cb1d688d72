"""Signing a document and checking its signature: W3C Data Integrity, cryptosuite eddsa-jcs-2022, keys as did:key.

A check returns a value; what may be shown of a document is only what that value holds. Section numbers are those of the
W3C Recommendation Data Integrity EdDSA Cryptosuites 1.0 of 15 May 2025.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

from passport.credentials.multibase import DID_KEY, did_of, from_multibase, method_of, multibase, public_of
from passport.credentials.strict import Json, canonical
from passport.credentials.words import RefusedError, Said

SUITE = "eddsa-jcs-2022"
PROOF_TYPE = "DataIntegrityProof"
PURPOSE = "assertionMethod"
SIGNATURE_BYTES = 64


@dataclass(frozen=True)
class Checked:
    """What a check found: the document that the signature covered, None where none did; who signed; or the fault.

    `has_additions` tells that the file names contexts that were put in after signing; `document` has none of them.
    """

    document: Json | None
    did: str = ""
    fault: Said | None = None
    has_additions: bool = False


def did_of_key(key: Ed25519PrivateKey) -> str:
    """Give the did:key of a private key's public half."""
    return did_of(key.public_key().public_bytes_raw())


def sign(document: Json, key: Ed25519PrivateKey, created: str) -> Json:
    """Give a document with its proof (3.3.1); `created` is an XML Schema dateTimeStamp."""
    options = {
        "type": PROOF_TYPE,
        "cryptosuite": SUITE,
        "created": created,
        "verificationMethod": method_of(did_of_key(key)),
        "proofPurpose": PURPOSE,
        "@context": document["@context"],
    }
    signature = key.sign(b"".join(hashes(document, options)))
    return {**document, "proof": {**options, "proofValue": multibase(signature)}}


def hashes(document: Json, options: Json) -> tuple[bytes, bytes]:
    """Give what is signed: the hash of the proof's options, then that of the document without its proof (3.3.4)."""
    bare = {name: value for name, value in document.items() if name != "proof"}
    return hashlib.sha256(canonical(options)).digest(), hashlib.sha256(canonical(bare)).digest()


def check(secured: Json) -> Checked:
    """Check the signature of a document read by the strict reader (3.3.2)."""
    try:
        proof = _proof(secured)
        did = _signer(proof)
        signature = _signature(proof)
        document, has_additions = _covered(secured, proof)
        options = {name: value for name, value in proof.items() if name != "proofValue"}
        Ed25519PublicKey.from_public_bytes(public_of(did)).verify(signature, b"".join(hashes(document, options)))
    except RefusedError as refused:
        return Checked(None, fault=refused.said)
    except InvalidSignature:
        return Checked(None, fault=RefusedError("signature.wrong").said)
    return Checked(document, did, has_additions=has_additions)


def _proof(secured: Json) -> Json:
    proof = secured.get("proof")
    if proof is None:
        raise RefusedError("signature.none")
    # Several proofs in a list are allowed by the standard; a passport has one.
    if not isinstance(proof, dict) or proof.get("type") != PROOF_TYPE or proof.get("proofPurpose") != PURPOSE:
        raise RefusedError("signature.shape")
    if proof.get("cryptosuite") != SUITE:
        raise RefusedError("signature.suite")
    return proof


def _signer(proof: Json) -> str:
    method = proof.get("verificationMethod")
    did = method.partition("#")[0] if isinstance(method, str) else ""
    try:
        public_of(did)
    except ValueError as error:
        raise RefusedError("signature.key") from error
    if method != method_of(did) or not did.startswith(DID_KEY):
        raise RefusedError("signature.key")
    return did


def _signature(proof: Json) -> bytes:
    value = proof.get("proofValue")
    try:
        signature = from_multibase(value) if isinstance(value, str) else b""
    except ValueError:
        signature = b""
    if len(signature) != SIGNATURE_BYTES:
        raise RefusedError("signature.shape")
    return signature


def _covered(secured: Json, proof: Json) -> tuple[Json, bool]:
    """Give the document with the contexts it was signed with; those that stand after them were added later."""
    document = {name: value for name, value in secured.items() if name != "proof"}
    if "@context" not in proof:
        return document, False
    signed, shown = _listed(proof["@context"]), _listed(document.get("@context"))
    if shown[: len(signed)] != signed:
        raise RefusedError("signature.context")
    return {**document, "@context": proof["@context"]}, len(shown) > len(signed)


def _listed(context: Any) -> list[Any]:
    return context if isinstance(context, list) else [context]
