from __future__ import annotations

import io
import json

import pypdf
import pytest

from passport.errors import PassportError
from passport.fonts import FONTS
from passport.pdf import pdf_from_typst

SOURCE = """
#set page(width: 80mm, height: 50mm, margin: 5mm)
#set text(font: "Passport Serif", fallback: false)
#let data = json(bytes(sys.inputs.data))
#data.words
"""


def reader(made: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(made))


def made_with(words: str, title: str = "A test page") -> bytes:
    return pdf_from_typst(SOURCE, {"data": json.dumps({"words": words})}, title)


def test_a_page_has_its_true_size_its_words_and_its_title() -> None:
    pdf = reader(made_with("Über # $ * _ \\ \" ' @ words", title="Ä “quoted” title #1"))
    [page] = pdf.pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        (80 / 25.4 * 72, 50 / 25.4 * 72), abs=0.01
    )
    assert "Über # $ * _ \\ \" ' @ words" in page.extract_text()
    assert pdf.metadata is not None
    assert pdf.metadata.title == "Ä “quoted” title #1"


def test_the_same_input_gives_the_same_bytes_and_another_does_not() -> None:
    assert made_with("one") == made_with("one")
    assert made_with("one") != made_with("two")


def test_each_document_gets_its_own_data() -> None:
    first, second = made_with("first"), made_with("second")
    assert "first" in reader(first).pages[0].extract_text()
    assert "second" in reader(second).pages[0].extract_text()


def test_a_source_with_a_fault_is_an_error_in_words() -> None:
    with pytest.raises(PassportError, match="“A test page” could not be typeset"):
        pdf_from_typst("#nothing-of-that-name", {}, "A test page")


def test_no_typeface_but_ours_is_used() -> None:
    # The family is on many computers; it must not be found, nor any other be put in its place.
    made = pdf_from_typst('#set text(font: "DejaVu Sans", fallback: false)\nwords', {}, "A test page")
    assert "words" not in reader(made).pages[0].extract_text()


def test_every_typeface_comes_with_its_licence_and_is_small() -> None:
    faces = sorted(FONTS.glob("*.ttf"))
    assert faces
    for face in faces:
        licence = FONTS / f"{face.stem.partition('-')[0]}-OFL.txt"
        assert "SIL OPEN FONT LICENSE Version 1.1" in licence.read_text("utf-8")
        assert face.stat().st_size < 60_000
