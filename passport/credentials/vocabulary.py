"""The words a passport is written in: the context of Verifiable Credentials 2.0, and our own terms written out.

Contexts are never fetched. The standard's is pinned by its digest, ours stands in each passport.
"""

from __future__ import annotations

from passport.credentials.strict import Json

CREDENTIALS_V2 = "https://www.w3.org/ns/credentials/v2"
# SHA-256 of the context published at that address, as multihash in base58btc (W3C VC Data Model 2.0, appendix B.1).
CREDENTIALS_V2_SHA256 = "59955ced6697d61e03f2b2556febe5308ab16842846f5b586d7f1f7adec92734"

PASSPORT_TYPE = "InstrumentPassport"
KEY_STATEMENT_TYPE = "KeyStatement"
# A name for our terms, not an address: there is nothing to fetch.
TERMS = "urn:x-instrument-passport:"
WORDS = (
    PASSPORT_TYPE, KEY_STATEMENT_TYPE, "Instrument", "SigningKey",
    "number", "kind", "size", "serial", "claim", "maker", "made", "madeOn", "model", "labelText", "status", "identity",
    "parts", "wood", "species", "origin", "lot", "facts", "value",
    "plates", "thickness", "stages", "bassBar", "unit", "columns",
    "varnish", "coat", "batch", "area", "light", "climate", "massGain", "note",
    "measurements", "setups", "sheet", "role", "takenOn", "taken", "takenBy", "state", "fitted", "heard", "values",
    "history", "date", "by", "outfit", "pictures", "shows", "caption",
    "issueNumber", "issueBefore", "keyNumber", "nextKey", "statementBefore",
)  # fmt: skip
# Rows of rows: linked data would lose their order, so that they pass as plain JSON.
TABLE = "rows"

OWN_CONTEXT: Json = {**{word: f"{TERMS}{word}" for word in WORDS}, TABLE: {"@id": f"{TERMS}{TABLE}", "@type": "@json"}}
CONTEXT = [CREDENTIALS_V2, OWN_CONTEXT]
