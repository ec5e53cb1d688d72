"""The words a passport is written in: the context of Verifiable Credentials 2.0, and a name for our own plain words.

Contexts are never fetched. The standard's is pinned by its digest, ours stands in each passport.
"""

from __future__ import annotations

from passport.credentials.strict import Json

CREDENTIALS_V2 = "https://www.w3.org/ns/credentials/v2"
# SHA-256 of the context published at that address, as multihash in base58btc (W3C VC Data Model 2.0, appendix B.1).
CREDENTIALS_V2_SHA256 = "59955ced6697d61e03f2b2556febe5308ab16842846f5b586d7f1f7adec92734"

PASSPORT_TYPE = "InstrumentPassport"
KEY_STATEMENT_TYPE = "KeyStatement"
# A name for our terms, not an address: there is nothing to fetch. Each is a plain word below it.
TERMS = "urn:x-instrument-passport:"
# Rows of rows: linked data would lose their order, so that they pass as plain JSON.
TABLE = "rows"

OWN_CONTEXT: Json = {"@vocab": TERMS, TABLE: {"@id": f"{TERMS}{TABLE}", "@type": "@json"}}
CONTEXT = [CREDENTIALS_V2, OWN_CONTEXT]
