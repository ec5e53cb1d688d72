"""Nothing of the shop's in any file of the public site: looked for by the tool, and by words planted in every field."""

from __future__ import annotations

import dataclasses
import io
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfWriter

from passport import mkdocs_plugin
from passport.errors import PassportError
from passport.kept import Notebook
from passport.pdf import pdf_from_typst
from passport.publish import LeakError, edition
from passport.records.catalogue import load
from passport.scan import Sought, normal, own_words, sought, texts_of
from passport.views.project import project
from tests import archives
from tests.archives import LISTED, OTHER, SECRET, SHOP_ONLY, build, contents
from tests.canaries import planted_archive
from tests.site.building import built

OWNER = "Marguerite Quell-Ostrander"
PRIVATE = f"schema: 1\nid: {LISTED}\nowners:\n  - {{name: {OWNER}, since: 2021-11-25}}\n"


def with_owner(text: str = "seam closed") -> dict[str, str]:
    """An owner in the private record, and words in a public field."""
    violin = archives.VIOLIN.replace("did: seam closed", f"did: {text}")
    return {f"private/{LISTED}.yml": PRIVATE, f"instruments/{LISTED}.yml": violin}


def test_planted_words_are_in_no_file_of_the_public_site(tmp_path: Path) -> None:
    archive, canaries = planted_archive()
    photo = tmp_path / "ZVSPYJH" / "plain"
    photo.parent.mkdir()
    notes = Image.Exif()
    notes[0x010E] = canaries[0]  # Exif 2.32, tag ImageDescription
    Image.new("RGB", (60, 40), "saddlebrown").save(photo, "JPEG", exif=notes, comment=canaries[1])
    files = contents(built(project(archive, (), "public"), tmp_path / "site"))
    texts = {name: texts_of(name, content) or () for name, content in files.items()}
    assert len(canaries) > 40
    assert any(name.endswith(".jpg") for name in files)
    assert {"sitemap.xml", "search/search_index.json", "ZVSPYJH/record.json"} <= files.keys()
    found = [(name, canary) for name, parts in texts.items() for canary in canaries if canary in " ".join(parts)]
    assert found == []


def test_the_same_words_are_found_where_they_stand(tmp_path: Path) -> None:
    archive, canaries = planted_archive()
    shop = contents(built(project(dataclasses.replace(archive, photos={}), (), "shop"), tmp_path / "site"))
    text = " ".join(part for name, content in shop.items() for part in texts_of(name, content) or ())
    assert sum(canary in text for canary in canaries) > 20


def test_a_build_says_what_was_looked_for_and_what_could_not_be(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records", with_owner())
    done = mkdocs_plugin.build(edition(root, "public"), root, tmp_path / "site").scanned
    assert done is not None
    assert done.hits == ()
    assert done.looked_for > 10
    assert done.too_short > 0
    assert done.files + done.unread == len(contents(tmp_path / "site"))
    assert mkdocs_plugin.build(edition(root, "shop"), root, tmp_path / "shop").scanned is None


@pytest.mark.parametrize(
    "text", [f"handed to {OWNER}", "handed to MARGUERITE  Quell Ostrander", "for Marguerite Quell–Ostrander; by post"]
)
def test_a_word_of_the_shops_in_a_public_field_fails_the_build_and_its_page_goes(tmp_path: Path, text: str) -> None:
    root = archives.write(tmp_path / "records", with_owner())
    build(root, tmp_path / "site")
    archives.write(root, with_owner(text))
    with pytest.raises(LeakError) as leak:
        build(root, tmp_path / "site")
    assert {hit.outgoing for hit in leak.value.scanned.hits} == {f"{LISTED}/index.html", f"{LISTED}/record.json"}
    assert {hit.record for hit in leak.value.scanned.hits} == {f"{root.as_posix()}/private/{LISTED}.yml"}
    assert {hit.field for hit in leak.value.scanned.hits} == {"owners.0.name"}
    assert "quell" not in f"{leak.value.what} {leak.value.todo}".casefold()
    assert OWNER not in " ".join(str(content) for content in contents(tmp_path / "site").values())
    assert f"{OTHER}/index.html" in contents(tmp_path / "site")
    archives.write(root, with_owner())
    build(root, tmp_path / "site")
    assert f"{LISTED}/index.html" in contents(tmp_path / "site")


def test_a_new_secret_is_looked_for_in_pages_that_are_as_they_were(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records", {**with_owner(f"handed to {OWNER}"), f"private/{LISTED}.yml": None})
    build(root, tmp_path / "site")
    archives.write(root, with_owner(f"handed to {OWNER}"))
    with pytest.raises(LeakError):
        build(root, tmp_path / "site")


def test_what_another_record_says_in_public_is_no_secret(tmp_path: Path) -> None:
    second = archives.SECOND.replace("serial: TP 90", f"serial: TP 90\nmarks: {OWNER}")
    root = archives.write(tmp_path / "records", {**with_owner(), f"instruments/{OTHER}.yml": second})
    build(root, tmp_path / "site")
    assert OWNER in str(contents(tmp_path / "site")[f"{OTHER}/index.html"])


def test_all_of_an_instrument_without_a_page_is_the_shops(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    found = sought(load(root), (), Notebook())
    assert {normal(SHOP_ONLY), normal(f"{SECRET}-14")} <= found.words.keys()


def test_words_of_the_pages_themselves_are_not_looked_for() -> None:
    assert {"bridge", "treble", "lower"} <= own_words(())
    assert "xylograph" in own_words(["a xylograph 1234"])
    assert "1234" not in own_words(["a xylograph 1234"])


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("a.html", b"<p>Marguerite <b>Quell&shy;</b></p><img alt='marguerite&#32;quell'>"),
        ("a.html", b'<meta content="Marguerite Quell">'),
        ("a.svg", b"<svg><title>Marguerite Quell</title></svg>"),
        ("a.json", b'["Marguerite\\u0020Quell"]'),
        ("sitemap.xml", b"<loc>https://x/marguerite-quell/</loc>"),
        ("marguerite-quell.woff2.txt", b""),
    ],
)
def test_words_are_found_in_every_kind_of_file(name: str, content: bytes) -> None:
    assert Sought({"marguerite quell": ("r", "f")}).found_in(name, content) == ("marguerite quell",)


def test_words_are_found_in_what_a_picture_and_a_pdf_say_beside_what_is_seen() -> None:
    looked_for = Sought({"marguerite quell": ("r", "f")})
    picture, pdf = io.BytesIO(), io.BytesIO()
    Image.new("RGB", (8, 8)).save(picture, "JPEG", comment="Marguerite Quell")
    assert looked_for.found_in("a.jpg", picture.getvalue()) == ("marguerite quell",)
    assert looked_for.found_in("a.pdf", pdf_from_typst("Marguerite Quell", {}, "a letter")) == ("marguerite quell",)
    writer = PdfWriter(clone_from=io.BytesIO(pdf_from_typst("nothing", {}, "a letter")))
    writer.add_attachment("letter.txt", b"dear Marguerite Quell")
    writer.write(pdf)
    assert looked_for.found_in("a.pdf", pdf.getvalue()) == ("marguerite quell",)
    assert looked_for.found_in("a.pdf", pdf_from_typst("nothing", {}, "a letter")) == ()
    assert looked_for.found_in("a.woff2", b"") is None


def test_a_number_is_found_with_spaces_between_its_thousands() -> None:
    assert Sought({normal("1250000"): ("r", "f")}).found_in("a.html", "1\u202f250\u202f000".encode()) == ("1250000",)


def test_a_leak_is_a_fault_that_stops_a_command() -> None:
    assert issubclass(LeakError, PassportError)
