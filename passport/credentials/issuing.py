"""Issuing a passport: what is to be signed beside what was issued before, then signed and frozen.

A passport names the digest of the one before it, and nothing that lies in `issued/` is ever changed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from passport.credentials.integrity import sign
from passport.credentials.issued import Issue, issue_at, issue_folder, passport_name, places_of, text_of
from passport.credentials.payload import moment, payload, picture_names
from passport.credentials.statements import Statement
from passport.credentials.strict import MOST_BYTES, Json
from passport.errors import PassportError
from passport.files import write_new_folder
from passport.views.tree import InstrumentView, WorkshopView


@dataclass(frozen=True)
class Draft:
    """A passport that is not signed yet, the folder it will lie in, and its pictures by file name.

    `unchanged` is the issue before, where that one says the same already.
    """

    document: Json
    day: str
    folder: Path
    pictures: Mapping[str, bytes]
    unchanged: Issue | None


def drafted(
    root: Path, view: InstrumentView, workshop: WorkshopView, pictures: Mapping[str, bytes], key: Statement, day: str
) -> Draft:
    """Make the next passport of an instrument; PassportError where the clock or the issue before cannot be right."""
    places = places_of(root, view.id)
    last = issue_at(places[-1]) if places else None
    for there, what in ((last.place.day if last else "", "the passport before is"), (key.day, "the present key is")):
        if day < there:
            todo = "set the computer's clock; nothing was written"
            raise PassportError(f"this computer says it is {day}, but {what} of {there}", todo)
    number = len(places) + 1
    before = last.digest if last else ""
    document = payload(
        view, workshop, issuer=key.did, day=day, number=number, before=before, pictures=pictures
    )  # fmt: skip
    by_name = {name: pictures[photo.large] for name, photo in zip(picture_names(view), view.photos, strict=True)}
    says_the_same = last is not None and all(document[part] == last.document[part] for part in SAYS)
    folder = issue_folder(root, view.id, number, day)
    return Draft(document, day, folder, by_name, last if says_the_same else None)


# What makes a new passport worth issuing: another claim, or another key or name under it.
SAYS = ("credentialSubject", "issuer")


def freeze(draft: Draft, key: Ed25519PrivateKey) -> Path:
    """Sign a passport and put it down with its pictures, all at once; gives its file."""
    subject = draft.document["credentialSubject"]
    name = passport_name(subject["number"], draft.document["issueNumber"])
    text = text_of(sign(draft.document, key, moment(draft.day)))
    if len(text) > MOST_BYTES:
        raise PassportError("this record is too long for a passport", "write us how it came to be")
    write_new_folder(draft.folder, {name: text, **draft.pictures})
    return draft.folder / name
