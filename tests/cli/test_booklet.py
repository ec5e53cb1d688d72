"""`passport booklet`: a book that can be kept, read aloud, read back and checked."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from passport.credentials.integrity import check
from passport.credentials.strict import read
from passport.scan import texts_of
from tests import archives
from tests.archives import LISTED, SECRET, SHOP_ONLY, UNLISTED
from tests.cli.running import Run
from tests.cli.secrets import signing

POINTS = {"a4": (595, 842), "letter": (612, 792)}


def made(shop: Path, run: Run, *arguments: str) -> bytes:
    done = run("booklet", LISTED, *arguments)
    assert done.code == 0, done.err
    return (shop / done.out.strip()).read_bytes()


def text_of(reader: PdfReader) -> list[str]:
    return [page.extract_text() for page in reader.pages]


@pytest.mark.parametrize("paper", POINTS)
def test_it_is_archival_tagged_and_the_same_each_time(shop: Path, run: Run, paper: str) -> None:
    content = made(shop, run, "--paper", paper)
    assert made(shop, run, "--paper", paper) == content
    reader = PdfReader(io.BytesIO(content))
    assert tuple(round(float(side)) for side in reader.pages[0].mediabox[2:]) == POINTS[paper]
    assert b"pdfaid:part" in content
    assert b"pdfuaid:part" in content
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert root["/Lang"] == "en"  # type: ignore[index]
    assert reader.metadata is not None
    assert reader.metadata.title == f"Violin 4/4, {LISTED}"
    fonts = [
        font.get_object()
        for page in reader.pages
        for font in page["/Resources"].get("/Font", {}).values()  # type: ignore[attr-defined]
    ]
    assert fonts
    for font in fonts:
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"]
        assert "Passport" in font["/BaseFont"]
        assert {"/FontFile2", "/FontFile3"} & set(descriptor)


def test_a_set_up_person_finds_the_heights_on_the_first_page_inside(shop: Path, run: Run) -> None:
    cover, inside, *_ = text_of(PdfReader(io.BytesIO(made(shop, run))))
    assert LISTED in cover.replace(" ", "")
    assert "String height, G" in inside
    assert "5.0" in inside
    assert "How to restore it" in inside


def test_every_picture_and_drawing_is_told_in_words(shop: Path, run: Run) -> None:
    content = made(shop, run)
    reader = PdfReader(io.BytesIO(content))
    pictures = sum(len(page.images) for page in reader.pages)
    figures = [
        node
        for node in (o.get_object() for o in _structure(reader.trailer["/Root"]["/StructTreeRoot"]))  # type: ignore[index]
        if node.get("/S") == "/Figure"
    ]
    assert pictures >= 1
    assert len(figures) >= pictures
    assert all(figure.get("/Alt") for figure in figures)


def _structure(node: object) -> list:  # type: ignore[type-arg]
    """Every element below a node of the structure tree."""
    inner = node.get_object().get("/K", [])  # type: ignore[attr-defined]
    kids = inner if isinstance(inner, list) else [inner]
    named = [kid for kid in kids if hasattr(kid.get_object(), "get") and kid.get_object().get("/S")]
    return [each for kid in named for each in (kid, *_structure(kid))]


def test_nothing_of_the_shops_is_in_it_or_in_what_is_attached(shop: Path, run: Run) -> None:
    texts = texts_of("booklet.pdf", made(shop, run)) or []
    assert any("Norway spruce" in text or "Spruce" in text for text in texts)
    assert [text for text in texts if SECRET in text] == []


def test_what_is_attached_can_be_checked(keyed: Path, run: Run) -> None:
    signing(run, "issue", LISTED)
    content = made(keyed, run)
    attached = {name: files[0] for name, files in PdfReader(io.BytesIO(content)).attachments.items()}
    assert attached.keys() == {f"{LISTED}.json", f"{LISTED}-001.json", "verify.html"}
    issued = next((keyed / "records" / "issued" / LISTED).glob("001-*")) / f"{LISTED}-001.json"
    assert attached[f"{LISTED}-001.json"] == issued.read_bytes()
    assert check(read(attached[f"{LISTED}-001.json"])).fault is None
    assert b"<script" in attached["verify.html"]
    pages = " ".join(text_of(PdfReader(io.BytesIO(content))))
    assert "Fingerprint of the workshop" in pages
    assert f"{LISTED}-001.json" in pages


def test_it_says_where_there_is_no_passport_or_an_older_one(shop: Path, run: Run) -> None:
    assert "passport issue" in run("booklet", LISTED).err
    signing(run, "key", "new")
    signing(run, "issue", LISTED)
    assert run("booklet", LISTED).err == ""
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": archives.VIOLIN.replace("TP 88", "TP 89")})
    assert "has changed since issue 1" in run("booklet", LISTED).err


def test_a_passport_whose_key_is_in_no_statement_stops_it(keyed: Path, run: Run) -> None:
    signing(run, "issue", LISTED)
    (statement,) = (keyed / "records" / "issued" / "keys").glob("*.json")
    statement.unlink()
    done = run("booklet", LISTED)
    assert (done.code, done.out) == (1, "")
    assert f"{LISTED}-001.json" in done.err


def test_an_unlisted_instrument_has_a_booklet_and_one_kept_in_the_shop_has_none(shop: Path, run: Run) -> None:
    assert run("booklet", UNLISTED).code == 0
    done = run("booklet", SHOP_ONLY)
    assert (done.code, done.out) == (1, "")
    assert "publish: listed" in done.err
    assert not (shop / f"booklet-{SHOP_ONLY}.pdf").exists()


def test_a_record_with_an_error_gives_no_booklet(shop: Path, run: Run) -> None:
    broken = archives.VIOLIN.replace("string_length: 328\n", "string_length: 32o8\n")
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": broken})
    done = run("booklet", LISTED)
    assert done.code == 1
    assert f"{LISTED}.yml:" in done.err
    assert not (shop / f"booklet-{LISTED}.pdf").exists()


@pytest.mark.usefixtures("shop")
def test_another_ending_is_refused(run: Run) -> None:
    done = run("booklet", LISTED, "--out", "booklet.doc")
    assert done.code == 2
    assert ".pdf" in done.err
