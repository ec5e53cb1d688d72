"""The buyer's booklet: who made an instrument, of what, how it was set up, and how to prove that nothing was altered.

Sees views alone; the pictures, the code and what is attached are given to it as finished files.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from importlib import resources

from passport.documents.drawings import for_paper
from passport.documents.paper import TYPST_PAPERS
from passport.pdf import pdf_from_typst
from passport.stocks import Paper
from passport.views.tree import InstrumentView, PhotoView, WorkshopView

# More pictures are on the page; a booklet is read by turning leaves.
MOST_PICTURES = 9
# The files that its source reads.
SAID, CODE = "booklet.json", "code.svg"
NOT_SIGNED = (
    "No signed passport is attached to this booklet.",
    "Compare number, serial and label with the instrument, and ask the workshop.",
)


@dataclass(frozen=True)
class Attached:
    """A file that lies in the booklet: its name, what kind it is, what it is to the document, and its bytes."""

    name: str
    kind: str
    relationship: str
    words: str
    content: bytes


@dataclass(frozen=True)
class Proof:
    """What lets a reader verify: the fingerprint of the workshop's key, how to go about it, and the files for it."""

    fingerprint: str
    words: tuple[str, ...]
    files: tuple[Attached, ...]


@dataclass(frozen=True)
class Contents:
    """What goes into a booklet besides the view: pictures by the path of their large copy, the code of the address.

    `rules` are those that drawings are drawn by, `as_of` and `deference` what is to be said of listed species.
    """

    workshop: WorkshopView
    address: str
    code: bytes
    pictures: Mapping[str, bytes]
    rules: str
    as_of: str
    deference: str
    proof: Proof | None


def booklet(view: InstrumentView, contents: Contents, day: date, paper: Paper = "a4") -> bytes:
    """Set the booklet of an instrument; the document bears the day."""
    attached = _attached(view, contents.proof)
    files = {
        SAID: json.dumps(_said(view, contents, attached, paper), ensure_ascii=False).encode(),
        CODE: contents.code,
        **{_picture(photo): contents.pictures[photo.large] for photo in _photos(view, contents)},
        **{_plate(index): for_paper(each.drawing, contents.rules) for index, each in enumerate(view.plates)},
        **{file.name: file.content for file in attached},
    }
    source = (resources.files(__package__) / "booklet.typ").read_text(encoding="utf-8")
    return pdf_from_typst(source, {}, f"{view.title}, {view.id}", day, files)


def _attached(view: InstrumentView, proof: Proof | None) -> tuple[Attached, ...]:
    data = json.dumps(asdict(view), ensure_ascii=False).encode()
    plain = Attached(f"{view.id}.json", "application/json", "data", "All of this as plain data.", data)
    return plain, *(proof.files if proof else ())


def _said(view: InstrumentView, contents: Contents, attached: Sequence[Attached], paper: Paper) -> dict[str, object]:
    """Give all that the booklet says and where its files are, by the names that its source uses."""
    shown, proof = _photos(view, contents), contents.proof
    front = next((photo for photo in shown if photo.view == "front"), shown[0] if shown else None)
    inside = [photo for photo in shown if photo is not front][:MOST_PICTURES]
    return {
        "view": asdict(view),
        "workshop": asdict(contents.workshop),
        "paper": TYPST_PAPERS[paper],
        "address": contents.address,
        "as_of": contents.as_of,
        "deference": contents.deference,
        "code": CODE,
        "front": _shown(front) if front else None,
        "pictures": [_shown(photo) for photo in inside],
        "plates": [_plate(index) for index, _ in enumerate(view.plates)],
        "verification": proof.words if proof else NOT_SIGNED,
        "fingerprint": proof.fingerprint if proof else "",
        "attached": [
            {"name": file.name, "kind": file.kind, "relationship": file.relationship, "words": file.words}
            for file in attached
        ],
    }


def _photos(view: InstrumentView, contents: Contents) -> list[PhotoView]:
    return [photo for photo in view.photos if photo.large in contents.pictures]


def _plate(index: int) -> str:
    return f"plate-{index}.svg"


def _picture(photo: PhotoView) -> str:
    return photo.large.rpartition("/")[2]


def _shown(photo: PhotoView) -> dict[str, str]:
    caption = ", ".join(filter(None, (photo.caption or photo.view, photo.date)))
    return {"file": _picture(photo), "alt": photo.words, "caption": caption}
