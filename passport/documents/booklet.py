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


def booklet(
    view: InstrumentView,
    workshop: WorkshopView,
    day: date,
    *,
    address: str,
    as_of: str,
    deference: str,
    pictures: Mapping[str, bytes],
    code: bytes,
    rules: str,
    proof: Proof | None,
    paper: Paper = "a4",
) -> bytes:
    """Set the booklet of an instrument; `pictures` by the path of their large copy, `code` an SVG of `address`.

    `rules` are those that its drawings are drawn by.
    """
    shown = [photo for photo in view.photos if photo.large in pictures]
    front = next((photo for photo in shown if photo.view == "front"), shown[0] if shown else None)
    inside = [photo for photo in shown if photo is not front][:MOST_PICTURES]
    data = json.dumps(asdict(view), ensure_ascii=False, default=str).encode()
    plain = Attached(f"{view.id}.json", "application/json", "data", "All of this as plain data.", data)
    attached = (plain, *(proof.files if proof else ()))
    files = {
        "booklet.json": b"",
        **{_picture(photo): pictures[photo.large] for photo in shown},
        **{
            f"plate-{index}.svg": for_paper(plate.drawing, rules)
            for index, plate in enumerate(view.plates)
            if plate.drawing
        },
        **{file.name: file.content for file in attached},
        **({"code.svg": code} if code else {}),
    }
    says = {
        "view": asdict(view),
        "workshop": asdict(workshop),
        "paper": TYPST_PAPERS[paper],
        "address": address,
        "as_of": as_of,
        "deference": deference,
        "code": "code.svg" if code else "",
        "front": _shown(front) if front else None,
        "pictures": [_shown(photo) for photo in inside],
        "plates": [_plate(index) for index, _ in enumerate(view.plates)],
        "verification": proof.words if proof else NOT_SIGNED,
        "fingerprint": proof.fingerprint if proof else "",
        "attached": _listed(attached),
    }
    files["booklet.json"] = json.dumps(says, ensure_ascii=False).encode()
    source = (resources.files(__package__) / "booklet.typ").read_text(encoding="utf-8")
    return pdf_from_typst(source, {}, f"{view.title}, {view.id}", day, files)


def _plate(index: int) -> str:
    return f"plate-{index}.svg"


def _picture(photo: PhotoView) -> str:
    return photo.large.rpartition("/")[2]


def _shown(photo: PhotoView) -> dict[str, str]:
    caption = ", ".join(filter(None, (photo.caption or photo.view, photo.date)))
    return {"file": _picture(photo), "alt": photo.words, "caption": caption}


def _listed(attached: Sequence[Attached]) -> list[dict[str, str]]:
    return [
        {"name": file.name, "kind": file.kind, "relationship": file.relationship, "words": file.words}
        for file in attached
    ]
