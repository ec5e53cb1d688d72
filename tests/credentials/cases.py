"""Files that somebody might give to be checked, good and bad; the command and the page must say the same of them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from passport.credentials.given import File
from passport.credentials.integrity import hashes, sign
from passport.credentials.issued import text_of
from passport.credentials.known import Known, Listed
from passport.credentials.multibase import digest, multibase
from passport.credentials.payload import moment
from passport.credentials.statements import digest_of
from passport.credentials.strict import Json
from passport.credentials.vocabulary import CONTEXT
from tests.credentials import w3c
from tests.credentials.signing import FIRST, SECOND, THIRD, did, key, stated

FRONT, BACK = b"\xff\xd8\xff front of the violin", b"\xff\xd8\xff back of the violin"
STRANGE = b"\xff\xd8\xff another violin"
BACK_BEFORE = b"\xff\xd8\xff back of the violin, before a crack was mended"


def unsigned(number: int, day: str, *, by: int, before: Json | None = None, **changes: Any) -> Json:
    """A passport as it is signed, smaller than a real one; changes that are None are left out."""
    document = {
        "@context": CONTEXT,
        "type": ["VerifiableCredential", "InstrumentPassport"],
        "issuer": {"id": did(by), "name": "Tamm & Penn"},
        "validFrom": moment(day),
        "name": "Passport of the violin 4/4, number ZVSPYJH",
        "issueNumber": number,
        **({"issueBefore": {"digestMultibase": digest_of(before)}} if before else {}),
        "credentialSubject": {
            "type": "Instrument",
            "number": "ZVSPYJH",
            "claim": "made, measured and serviced here",
            "setups": [{"sheet": "S1", "values": [{"name": "String length", "value": "328 mm"}]}],
            "pictures": [
                {"name": "ZVSPYJH-01.jpg", "digestMultibase": digest(FRONT)},
                {"name": "ZVSPYJH-02.jpg", "digestMultibase": digest(BACK)},
            ],
        },
        **changes,
    }
    return {name: value for name, value in document.items() if value is not None}


def issued(number: int, day: str, *, by: int, before: Json | None = None, **changes: Any) -> Json:
    return sign(unsigned(number, day, by=by, before=before, **changes), key(by), moment(day))


# Keys 1, 2 and 3 are the workshop's, in use from 2021, 2022 and 2023 on; 9 is somebody else's.
ONE = issued(1, "2021-06-01", by=1)
TWO = issued(2, "2022-06-01", by=2, before=ONE)
THREE = issued(3, "2023-06-01", by=3, before=TWO)
LATER = issued(4, "2026-01-01", by=3, before=THREE)
LIST_DAY = "2025-05-05"
KNOWN = Known(
    (FIRST, SECOND, THIRD),
    {
        digest_of(document): Listed(number, f"{2020 + number}-06-01", 3, "2023-06-01")
        for number, document in ((1, ONE), (2, TWO), (3, THREE))
    },
    LIST_DAY,
)
NOTHING_KNOWN = Known()
OLD_LIST = Known((FIRST, SECOND), {digest_of(ONE): Listed(1, "2021-06-01", 1, "2021-06-01")}, "2022-01-01")


SUBJECT = THREE["credentialSubject"]


def json_file(document: Json, name: str = "ZVSPYJH-003.json") -> File:
    return File(name, text_of(document))


def showing(stem: str, back: bytes) -> Json:
    """What is said of an instrument, with another picture of its back."""
    pictures = [SUBJECT["pictures"][0], {"name": "ZVSPYJH-02.jpg", "digestMultibase": digest(back)}]
    return {**SUBJECT, "number": stem, "pictures": pictures}


PICTURES = (File("ZVSPYJH-01.jpg", FRONT), File("ZVSPYJH-02.jpg", BACK))
SWAPPED = File("ZVSPYJH-02.jpg", STRANGE)
TEXT = text_of(THREE)
EARLIER = issued(1, "2023-05-01", by=3, credentialSubject=showing("ZVSPYJH", BACK_BEFORE))
HOSTILE = "Violin\u202e4/4\x1b[31m <script>alert(1)</script> & “quoted” {day} " + "x" * 300


def raw(text: bytes) -> tuple[File, ...]:
    return (File("ZVSPYJH-003.json", text),)


def with_proof(document: Json, **changes: Any) -> Json:
    return {**document, "proof": {**document["proof"], **changes}}


def without_context(document: Json, by: int) -> Json:
    """A signed document that never had a context; the suite does not ask for one."""
    bare = {name: value for name, value in document.items() if name not in ("@context", "proof")}
    options = {name: value for name, value in document["proof"].items() if name not in ("@context", "proofValue")}
    return {**bare, "proof": {**options, "proofValue": multibase(key(by).sign(b"".join(hashes(bare, options))))}}


def _statement(**changes: Any) -> Json:
    bare = {name: value for name, value in THIRD.document.items() if name != "proof"}
    return sign({**bare, **changes}, key(3), moment("2023-01-01"))


def _nested(depth: int) -> bytes:
    return b'{"a":' * depth + b"1" + b"}" * depth


# Name: what is known, the files, and for each report in turn what each of its steps says.
Case = tuple[Known, tuple[File, ...], list[list[str]]]
HOLDS = ["form.holds", "signature.holds"]
ALTERED = ["key.unchecked", "issues.unchecked", "pictures.unchecked", "newest.unchecked"]
STATEMENT = ["form.statement", "signature.holds"]
CASES: Mapping[str, Case] = {
    "a good passport with all its pictures": (
        KNOWN, (json_file(THREE), *PICTURES),
        [[*HOLDS, "key.holds", "issues.listed", "pictures.all", "newest.holds"]],
    ),
    "the first issue by itself, superseded since": (
        KNOWN, (json_file(ONE),), [[*HOLDS, "key.first", "issues.first", "pictures.missing", "newest.later"]],
    ),
    "all issues together": (
        KNOWN, (json_file(THREE), json_file(TWO, "2.json"), json_file(ONE, "1.json"), PICTURES[1]),
        [
            [*HOLDS, "key.holds", "issues.all", "pictures.some", "newest.holds"],
            [*HOLDS, "key.holds", "issues.all", "pictures.some", "newest.given"],
            [*HOLDS, "key.first", "issues.first", "pictures.some", "newest.given"],
        ],
    ),
    "younger than the list": (
        KNOWN, (json_file(LATER),), [[*HOLDS, "key.holds", "issues.listed", "pictures.missing", "newest.since"]],
    ),
    "where nothing is known": (
        NOTHING_KNOWN, (json_file(THREE), *PICTURES),
        [[*HOLDS, "key.unknown", "issues.missing", "pictures.all", "newest.unknown"]],
    ),
    "where nothing is known, with the statements": (
        NOTHING_KNOWN,
        (json_file(THREE), *(json_file(each.document, f"{each.number}.json") for each in (FIRST, SECOND, THIRD))),
        [
            [*HOLDS, "key.given", "issues.missing", "pictures.missing", "newest.unknown"],
            *([*STATEMENT, "key.given"],) * 3,
        ],
    ),
    "statements with a gap prove nothing": (
        NOTHING_KNOWN, (json_file(THREE), json_file(THIRD.document, "3.json")),
        [
            [*HOLDS, "key.unknown", "issues.missing", "pictures.missing", "newest.unknown"],
            [*STATEMENT, "key.given"],
        ],
    ),
    "a list that is older than the key, with the statement that follows": (
        OLD_LIST, (json_file(THREE), json_file(THIRD.document, "3.json")),
        [
            [*HOLDS, "key.holds", "issues.missing", "pictures.missing", "newest.since"],
            [*STATEMENT, "key.holds"],
        ],
    ),
    "a list that is older than the key": (
        OLD_LIST, (json_file(THREE),),
        [[*HOLDS, "key.foreign", "issues.missing", "pictures.missing", "newest.unknown"]],
    ),
    "somebody else's passport": (
        KNOWN, (json_file(issued(1, "2023-06-01", by=9)),),
        [[*HOLDS, "key.foreign", "issues.first", "pictures.missing", "newest.unknown"]],
    ),
    "a false statement of the same number, given after the true one": (
        OLD_LIST,
        (
            json_file(THREE), json_file(THIRD.document, "3.json"),
            json_file(stated(3, by=9, of=9, before=SECOND), "false.json"),
        ),
        [
            [*HOLDS, "key.holds", "issues.missing", "pictures.missing", "newest.since"],
            [*STATEMENT, "key.holds"], [*STATEMENT, "key.foreign"],
        ],
    ),
    "somebody else's statement": (
        KNOWN, (json_file(stated(4, by=9, of=9, day="2024-01-01"), "4.json"),), [[*STATEMENT, "key.foreign"]],
    ),
    "signed before the key was in use": (
        KNOWN, (json_file(issued(1, "2022-06-01", by=3)),),
        [[*HOLDS, "key.early", "issues.first", "pictures.missing", "newest.unknown"]],
    ),
    "signed after the key was followed, as with a stolen one": (
        KNOWN, (json_file(issued(1, "2023-06-01", by=1)),),
        [[*HOLDS, "key.late", "issues.first", "pictures.missing", "newest.unknown"]],
    ),
    "signed with the workshop's key, and not in its list": (
        KNOWN, (json_file(issued(1, "2024-06-01", by=3)),),
        [[*HOLDS, "key.holds", "issues.first", "pictures.missing", "newest.unlisted"]],
    ),
    "naming another signer than signed it": (
        KNOWN, (json_file(sign(unsigned(1, "2023-06-01", by=1), key(3), moment("2023-06-01"))),),
        [[*HOLDS, "key.issuer", "issues.first", "pictures.missing", "newest.unknown"]],
    ),
    "an altered value": (
        KNOWN, (*raw(TEXT.replace(b"328 mm", b"329 mm")), *PICTURES),
        [["form.holds", "signature.wrong", *ALTERED]],
    ),
    "without its signature": (
        KNOWN, (json_file({name: value for name, value in THREE.items() if name != "proof"}),),
        [["form.holds", "signature.none", *ALTERED]],
    ),
    "another algorithm named": (
        KNOWN, (json_file(with_proof(THREE, cryptosuite="ecdsa-jcs-2019")),),
        [["form.holds", "signature.suite", *ALTERED]],
    ),
    "two proofs": (
        KNOWN, (json_file({**THREE, "proof": [THREE["proof"], THREE["proof"]]}),),
        [["form.holds", "signature.shape", *ALTERED]],
    ),
    "another key named": (
        KNOWN, (json_file(with_proof(THREE, verificationMethod="did:web:elsewhere.example#key")),),
        [["form.holds", "signature.key", *ALTERED]],
    ),
    "a broken signature": (
        KNOWN, (json_file(with_proof(THREE, proofValue="z0OIl")),), [["form.holds", "signature.shape", *ALTERED]],
    ),
    "a context added after signing": (
        KNOWN, (json_file({**THREE, "@context": [*CONTEXT, {"claim": "https://elsewhere.example/"}]}),),
        [["form.holds", "signature.added", "key.holds", "issues.listed", "pictures.missing", "newest.unlisted"]],
    ),
    "a context put first": (
        KNOWN, (json_file({**THREE, "@context": ["https://elsewhere.example/", *CONTEXT]}),),
        [["form.holds", "signature.context", *ALTERED]],
    ),
    "another context signed": (
        KNOWN, (json_file(issued(1, "2023-06-01", by=3, **{"@context": [CONTEXT[0], "https://elsewhere.example/"]})),),
        [["form.other", "signature.unchecked"]],
    ),
    "an altered picture": (
        KNOWN, (json_file(THREE), PICTURES[0], SWAPPED),
        [[*HOLDS, "key.holds", "issues.listed", "pictures.wrong", "newest.holds"]],
    ),
    "a picture under another name": (
        KNOWN, (json_file(THREE), PICTURES[0], File("photo (1).jpg", BACK)),
        [[*HOLDS, "key.holds", "issues.listed", "pictures.all", "newest.holds"]],
    ),
    "a picture of an earlier issue beside the newest": (
        NOTHING_KNOWN,
        (
            json_file(issued(2, "2023-06-01", by=3, before=EARLIER)), json_file(EARLIER, "1.json"),
            PICTURES[0], File("ZVSPYJH-02.jpg", BACK_BEFORE),
        ),
        [
            [*HOLDS, "key.unknown", "issues.all", "pictures.some", "newest.unknown"],
            [*HOLDS, "key.unknown", "issues.first", "pictures.all", "newest.given"],
        ],
    ),
    "a swapped picture that somebody else vouches for": (
        KNOWN,
        (
            json_file(THREE), PICTURES[0], SWAPPED,
            json_file(issued(1, "2023-06-01", by=9, credentialSubject=showing("ZVSPYJH", STRANGE)), "1.json"),
        ),
        [
            [*HOLDS, "key.holds", "issues.listed", "pictures.wrong", "newest.holds"],
            [*HOLDS, "key.foreign", "issues.first", "pictures.all", "newest.given"],
        ],
    ),
    "a swapped picture that is another instrument's": (
        KNOWN,
        (
            json_file(THREE), PICTURES[0], SWAPPED,
            json_file(issued(1, "2024-06-01", by=3, credentialSubject=showing("PB8ANDH", STRANGE)), "1.json"),
        ),
        [
            [*HOLDS, "key.holds", "issues.listed", "pictures.wrong", "newest.holds"],
            [*HOLDS, "key.holds", "issues.first", "pictures.all", "newest.unlisted"],
        ],
    ),
    "a picture of something else": (
        KNOWN, (json_file(THREE), File("photo.jpg", STRANGE)),
        [
            [*HOLDS, "key.holds", "issues.listed", "pictures.missing", "newest.holds"],
            ["form.picture", "pictures.stray"],
        ],
    ),
    "a passport without pictures": (
        NOTHING_KNOWN, (json_file(issued(1, "2023-06-01", by=3, credentialSubject={**SUBJECT, "pictures": []})),),
        [[*HOLDS, "key.unknown", "issues.first", "pictures.none", "newest.unknown"]],
    ),
    "an issue before that is not the one named": (
        NOTHING_KNOWN, (json_file(THREE), json_file(issued(2, "2022-06-02", by=2, before=ONE), "2.json")),
        [
            [*HOLDS, "key.unknown", "issues.other", "pictures.missing", "newest.unknown"],
            [*HOLDS, "key.unknown", "issues.missing", "pictures.missing", "newest.given"],
        ],
    ),
    "an issue before that somebody else signed": (
        KNOWN,
        (
            json_file(issued(2, "2023-06-01", by=3, before=issued(1, "2022-06-01", by=9))),
            json_file(issued(1, "2022-06-01", by=9), "1.json"),
        ),
        [
            [*HOLDS, "key.holds", "issues.foreign", "pictures.missing", "newest.unlisted"],
            [*HOLDS, "key.foreign", "issues.first", "pictures.missing", "newest.given"],
        ],
    ),
    "a later issue that names none before": (
        NOTHING_KNOWN, (json_file(issued(2, "2023-06-01", by=3)),),
        [[*HOLDS, "key.unknown", "issues.odd", "pictures.missing", "newest.unknown"]],
    ),
    "an issue that skips one of the list": (
        KNOWN, (json_file(issued(3, "2023-06-01", by=3, before=ONE)),),
        [[*HOLDS, "key.holds", "issues.odd", "pictures.missing", "newest.unlisted"]],
    ),
    "words that would steer a terminal or a page": (
        NOTHING_KNOWN,
        (
            json_file(
                issued(1, "2023-06-01", by=3, name=HOSTILE, issuer={"id": did(3), "name": HOSTILE}),
                "pass\u202eport.json",
            ),
        ),
        [[*HOLDS, "key.unknown", "issues.first", "pictures.missing", "newest.unknown"]],
    ),
    "the standard's own example": (KNOWN, (json_file(w3c.SIGNED),), [["form.other", "signature.unchecked"]]),
    "an altered statement": (
        KNOWN, (json_file({**THIRD.document, "validFrom": moment("2020-01-01")}, "3.json"),),
        [["form.statement", "signature.wrong"]],
    ),
    "statements that are not of the workshop's form": (
        KNOWN,
        (
            json_file(without_context(THIRD.document, 3), "0.json"),
            json_file(_statement(**{"@context": None}), "1.json"),
            json_file(_statement(validFrom="~~~~"), "2.json"), json_file(_statement(validFrom=None), "3.json"),
            json_file(_statement(validFrom="2023-01-01T00:00:00+00:00"), "4.json"),
            json_file(_statement(validFrom="٢٠٢٣-٠١-٠١T00:00:00Z"), "5.json"),
        ),
        [["form.statement", "key.form"]] * 6,
    ),
    "whole numbers written with a point or an exponent": (
        KNOWN,
        (
            *raw(TEXT.replace(b'"issueNumber": 3', b'"issueNumber": 3.0')),
            *raw(TEXT.replace(b'"issueNumber": 3', b'"issueNumber": 3e0')),
            File("3.json", text_of(THIRD.document).replace(b'"keyNumber": 3', b'"keyNumber": 0.3E+1')),
        ),
        [
            *([*HOLDS, "key.holds", "issues.listed", "pictures.missing", "newest.holds"],) * 2,
            [*STATEMENT, "key.holds"],
        ],
    ),
    "cut short": (KNOWN, raw(TEXT[:-40]), [["form.json", "signature.unchecked"]]),
    "cut short within a text": (KNOWN, raw(b'{"a": "' + b"[" * 100), [["form.json", "signature.unchecked"]]),
    # Read in the square of its length, this would take hours.
    "quotes without an end": (KNOWN, raw(b'{"a": "' + b'\\"' * 490_000), [["form.json", "signature.unchecked"]]),
    "empty": (KNOWN, raw(b""), [["form.json", "signature.unchecked"]]),
    "a list": (KNOWN, raw(b"[]"), [["form.json", "signature.unchecked"]]),
    "with a byte order mark": (KNOWN, raw(b"\xef\xbb\xbf" + TEXT), [["form.json", "signature.unchecked"]]),
    "a name twice": (
        KNOWN, raw(TEXT.replace(b'"issueNumber": 3', b'"issueNumber": 3, "issueNumber": 3')),
        [["form.twice", "signature.unchecked"]],
    ),
    "a name twice, once written otherwise": (
        KNOWN, raw(b'{"n\\u0061me": 1, "name": 1}'), [["form.twice", "signature.unchecked"]],
    ),
    "not a number": (KNOWN, raw(b'{"a": NaN}'), [["form.json", "signature.unchecked"]]),
    "a number too large": (KNOWN, raw(b'{"a": 9007199254740993}'), [["form.number", "signature.unchecked"]]),
    "a number beyond all bounds": (KNOWN, raw(b'{"a": 1e999}'), [["form.number", "signature.unchecked"]]),
    "a number of a thousand figures": (
        KNOWN, raw(b'{"a": ' + b"1" * 1000 + b"}"), [["form.number", "signature.unchecked"]],
    ),
    "half a letter": (KNOWN, raw(b'{"a": "\\ud83d"}'), [["form.letters", "signature.unchecked"]]),
    "halves in the wrong order": (KNOWN, raw(b'{"a": "\\ude02\\ud83d"}'), [["form.letters", "signature.unchecked"]]),
    "no letters": (KNOWN, raw(b'{"a": "\xc3"}'), [["form.letters", "signature.unchecked"]]),
    "a line break in a text": (KNOWN, raw(b'{"a": "\n"}'), [["form.json", "signature.unchecked"]]),
    "too deep": (KNOWN, raw(_nested(21)), [["form.deep", "signature.unchecked"]]),
    "much too deep": (KNOWN, raw(b'{"a":' + b"[" * 900_000), [["form.deep", "signature.unchecked"]]),
    "too large": (KNOWN, raw(b'{"a": "' + b" " * 1_000_000 + b'"}'), [["form.large", "signature.unchecked"]]),
    "a PDF": (KNOWN, (File("booklet.pdf", b"%PDF-1.7 ..."),), [["form.pdf", "signature.unchecked"]]),
    "a name that scripts treat as special": (
        KNOWN, raw(json.dumps({**THREE, "__proto__": {"proof": 1}}).encode()),
        [["form.holds", "signature.wrong", *ALTERED]],
    ),
    "shapes that are not a passport's": (
        KNOWN,
        tuple(
            json_file(issued(1, "2023-06-01", by=3, **changes), f"{index}.json")
            for index, changes in enumerate(
                (
                    {"issueNumber": 0}, {"issueNumber": True}, {"issueNumber": 1.5}, {"validFrom": "yesterday"},
                    {"credentialSubject": []}, {"credentialSubject": {**SUBJECT, "pictures": [1]}},
                    {"credentialSubject": {**SUBJECT, "pictures": [{"name": "a", "digestMultibase": "z1"}]}},
                    {"credentialSubject": {**SUBJECT, "pictures": {}}},
                    {"credentialSubject": {**SUBJECT, "pictures": SUBJECT["pictures"][:1] * 2}},
                    {"validFrom": "٢٠٢٣-٠٦-٠١T00:00:00Z"},
                    {"credentialSubject": {**SUBJECT, "claim": None}}, {"issuer": did(3)}, {"name": ["x"]},
                    {"issueBefore": {"digestMultibase": "u1"}}, {"type": ["VerifiableCredential"]},
                )
            )
        ),
        [["form.other", "signature.unchecked"]] * 15,
    ),
}  # fmt: skip
