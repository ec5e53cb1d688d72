"""What somebody gave to be checked: each file told apart as a passport, a key statement, a picture or none of these.

Reads what is in the files; judges signatures only as far as telling them apart needs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from passport.credentials.integrity import Checked, check
from passport.credentials.multibase import is_digest
from passport.credentials.statements import day_of, digest_in, digest_of
from passport.credentials.strict import Json, read
from passport.credentials.vocabulary import CONTEXT, PASSPORT_TYPE
from passport.credentials.words import RefusedError

PDF = b"%PDF"


@dataclass(frozen=True)
class File:
    """A file: its name without the folder, and what is in it."""

    name: str
    content: bytes


@dataclass(frozen=True)
class Passport:
    """What a passport says of itself; `pictures` are digests by file name, `before` a digest or empty."""

    stem: str
    name: str
    claim: str
    number: int
    day: str
    issuer: str
    issuer_name: str
    before: str
    pictures: Mapping[str, str]


@dataclass(frozen=True)
class GivenPassport:
    """A file in the form of a passport, with what the check of its signature found."""

    file: str
    digest: str
    checked: Checked
    says: Passport


def document_of(file: File) -> Json | None:
    """Read a file that seems to be a JSON text; None for a picture. RefusedError where it cannot be read."""
    if file.content.startswith(PDF):
        raise RefusedError("form.pdf")
    seems_text = file.name.lower().endswith(".json") or file.content[:64].lstrip().startswith(b"{")
    return read(file.content) if seems_text else None


def passport_in(file: str, secured: Json) -> GivenPassport:
    """Tell what a document says as a passport; RefusedError where it is none."""
    checked = check(secured)
    if checked.document is not None and checked.document.get("@context") != CONTEXT:
        raise RefusedError("form.other")
    return GivenPassport(file, digest_of(secured), checked, _says(checked.document or secured))


def _says(document: Json) -> Passport:
    try:
        subject, issuer = document["credentialSubject"], document["issuer"]
        listed = _listed(subject.get("pictures", []))
        pictures = {picture["name"]: picture["digestMultibase"] for picture in listed}
        said = Passport(
            subject["number"], document["name"], subject["claim"], document["issueNumber"], day_of(document),
            issuer["id"], issuer["name"], digest_in(document, "issueBefore"), pictures,
        )  # fmt: skip
    except (KeyError, TypeError, AttributeError) as error:
        raise RefusedError("form.other") from error
    texts = (said.stem, said.name, said.claim, said.issuer, said.issuer_name, *pictures)
    digests = (*pictures.values(), *filter(None, [said.before]))
    is_ours = document.get("type") == ["VerifiableCredential", PASSPORT_TYPE] and _is_count(said.number)
    if not is_ours or not all(map(_is_text, texts)) or not all(_is_text(each) and is_digest(each) for each in digests):
        raise RefusedError("form.other")
    if not said.day or len(pictures) < len(listed):
        raise RefusedError("form.other")
    return said


def _listed(found: Any) -> list[Any]:
    if not isinstance(found, list):
        raise TypeError("no list")
    return found


def _is_text(found: Any) -> bool:
    return isinstance(found, str)


def _is_count(found: Any) -> bool:
    return isinstance(found, int) and not isinstance(found, bool) and found > 0
