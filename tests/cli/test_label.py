"""`passport label`: labels that lead to a page of the built site, and those that are refused."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from urllib.parse import urlsplit

import pypdfium2  # type: ignore[import-untyped]
import pytest
import zxingcpp
from PIL import Image

from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, SITE, TAIL, UNLISTED
from tests.cli.running import Run

LOG = Path("records") / "printed-labels.csv"


def decoded(image: Image.Image) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(image)]


def pages(pdf: Path) -> list[Image.Image]:
    document = pypdfium2.PdfDocument(pdf.read_bytes())
    try:
        return [page.render(scale=300 / 72, grayscale=True).to_pil() for page in document]
    finally:
        document.close()


def logged(folder: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO((folder / LOG).read_text(encoding="utf-8"))))


def test_every_code_of_a_finished_sheet_leads_to_a_page_of_the_built_site(shop: Path, run: Run) -> None:
    done = run("label", LISTED, OTHER, UNLISTED, "--out", "labels.pdf")
    assert (done.code, done.out.strip()) == (0, "labels.pdf")
    found = [text for page in pages(shop / "labels.pdf") for text in decoded(page)]
    assert run("build").code == 0
    assert len(found) == 3
    for address in found:
        parts = urlsplit(address)
        assert f"{parts.scheme}://{parts.netloc}/".lower() == SITE
        assert (shop / "site" / parts.path.lstrip("/") / "index.html").is_file(), address
    assert any(TAIL in address for address in found)


def test_a_picture_for_a_label_printer_leads_there_too(shop: Path, run: Run) -> None:
    done = run("label", LISTED, "--dpi", "203")
    assert (done.code, done.out.strip()) == (0, f"label-{LISTED}.png")
    with Image.open(shop / f"label-{LISTED}.png") as image:
        assert round(image.info["dpi"][0]) == 203
        (address,) = decoded(image)
    assert urlsplit(address).path == f"/{LISTED}/"


def test_what_was_printed_is_written_down_and_added_to(shop: Path, run: Run) -> None:
    run("label", LISTED)
    run("label", OTHER, UNLISTED, "--out", "labels.pdf")
    rows = logged(shop)
    assert [(row["id"], row["stock"]) for row in rows] == [(LISTED, "60x30"), (OTHER, "70x36"), (UNLISTED, "70x36")]
    assert rows[2]["address"] == f"{SITE}{UNLISTED}-{TAIL}/"
    assert run("check", "--strict").code == 0


@pytest.mark.parametrize("address", ["https://passports.example/", ""])
def test_a_proof_is_not_written_down_and_needs_no_address(shop: Path, run: Run, address: str) -> None:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, address)})
    assert run("label", LISTED, "--proof", "--out", "proof.png").code == 0
    assert not (shop / LOG).exists()


@pytest.mark.parametrize(
    "host", ["https://passports.example/", "http://192.168.1.10/", "http://localhost:8000/", "http://shop.local/"]
)
def test_an_address_that_leads_nowhere_is_not_printed(shop: Path, run: Run, host: str) -> None:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, host)})
    done = run("label", LISTED, "--out", "a.png")
    assert (done.code, done.out) == (1, "")
    assert LISTED in done.err
    assert "--proof" in done.err
    assert not (shop / "a.png").exists()
    assert not (shop / LOG).exists()


def test_a_workshop_without_an_address_is_told_so(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, "")})
    done = run("label", LISTED)
    assert done.code == 1
    assert "workshop.yml" in done.err


@pytest.mark.usefixtures("shop")
def test_a_shop_only_instrument_gets_no_label(run: Run) -> None:
    done = run("label", SHOP_ONLY)
    assert done.code == 1
    assert "no public page" in done.err
    assert run("label", SHOP_ONLY, "--proof", "--out", "p.png").code == 0


def test_an_unlisted_instrument_without_a_page_is_told_how_to_make_one(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {f"private/{UNLISTED}.yml": f"id: {UNLISTED}\n"})
    done = run("label", UNLISTED)
    assert done.code == 1
    assert f"passport page {UNLISTED}" in done.err


def test_one_bad_number_among_good_ones_prints_nothing(shop: Path, run: Run) -> None:
    done = run("label", LISTED, SHOP_ONLY, "--out", "a.pdf")
    assert done.code == 1
    assert not (shop / "a.pdf").exists()
    assert not (shop / LOG).exists()


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize("typed", [LISTED.lower(), f"{LISTED[:3]}-{LISTED[3:]}", f" {LISTED[:4]} {LISTED[4:]} "])
def test_a_number_may_be_typed_as_it_is_read(run: Run, typed: str) -> None:
    assert run("label", typed, "--proof").out.strip() == f"label-{LISTED}.png"


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize("typed", ["ZVSPYJ", "VZSPYJH", "ZVSPYJX", "ZVSPYJHH", "ZV5PYJH", "ZVSPYIH"])
def test_a_number_mistyped_is_offered_the_near_one(run: Run, typed: str) -> None:
    done = run("label", typed)
    assert done.code == 1
    assert f"did you mean {LISTED}?" in done.err


@pytest.mark.usefixtures("shop")
def test_the_same_number_twice_is_one_label(run: Run) -> None:
    assert run("label", LISTED, LISTED.lower(), "--proof").out.split() == [f"label-{LISTED}.png"]


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        ((), 2, "ID"),
        ((LISTED, "--out", "a.gif"), 2, ".png or .pdf"),
        ((LISTED, OTHER, "--out", "a.png"), 2, "one .png holds one label"),
        ((LISTED, "--dpi", "150"), 2, "150"),
        ((LISTED, "--stock", "1x1"), 1, "There is no label stock “1x1”"),
        ((LISTED, "--stock", "60x30", "--out", "a.pdf"), 1, "comes on a roll"),
    ],
)
def test_what_cannot_be_printed_is_refused(run: Run, arguments: tuple[str, ...], code: int, says: str) -> None:
    done = run("label", *arguments)
    assert done.code == code
    assert says in done.err
    assert done.out == ""


def test_a_list_of_labels_that_cannot_be_read_stops_before_anything_is_printed(shop: Path, run: Run) -> None:
    (shop / LOG).write_bytes(b"date,id,address,stock\n2024,\xe9,x,y\n")
    done = run("label", LISTED, "--out", "a.png")
    assert done.code == 1
    assert "printed-labels.csv" in done.err
    assert not (shop / "a.png").exists()


def test_a_record_gone_from_behind_its_label_stops_the_check_and_the_build(shop: Path, run: Run) -> None:
    assert run("label", OTHER).code == 0
    (shop / "records" / "instruments" / f"{OTHER}.yml").unlink()
    assert "label-without-page" in run("check").out
    assert run("build").code == 1


PRINTERS = """\
stocks:
  64x34:
    width: 64
    height: 34
    sheet: {paper: a4, columns: 3, rows: 8, margin_left: 7, margin_top: 12, pitch_x: 66, pitch_y: 34}
printers:
  bench: {dpi: 203, stock: 60x30}
  office: {scale: 99.6, offset_x: -1.1, offset_y: 1.1, stock: 64x34}
"""


@pytest.fixture
def equipped(shop: Path) -> Path:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP + PRINTERS})
    return shop


def test_a_printer_brings_its_dots_and_its_labels(equipped: Path, run: Run) -> None:
    assert run("label", LISTED, "--printer", "bench").out.strip() == f"label-{LISTED}.png"
    with Image.open(equipped / f"label-{LISTED}.png") as image:
        assert round(image.info["dpi"][0]) == 203
    assert run("label", LISTED, OTHER, "--printer", "office").out.strip() == "labels.pdf"
    assert [row["stock"] for row in logged(equipped)] == ["60x30", "64x34", "64x34"]


def test_what_was_said_goes_before_what_the_printer_has(equipped: Path, run: Run) -> None:
    run("label", LISTED, "--printer", "bench", "--dpi", "600", "--stock", "100x50")
    with Image.open(equipped / f"label-{LISTED}.png") as image:
        assert round(image.info["dpi"][0]) == 600
    assert [row["stock"] for row in logged(equipped)] == ["100x50"]


@pytest.mark.parametrize(("kind", "stock"), [("hang-tag", "100x60"), ("card", "100x140")])
def test_other_kinds_go_onto_sheets_of_their_own_and_are_written_down(
    equipped: Path, run: Run, kind: str, stock: str
) -> None:
    assert run("label", LISTED, "--kind", kind, "--printer", "office").code == 0
    [address] = [text for page in pages(equipped / "labels.pdf") for text in decoded(page)]
    assert urlsplit(address).path == f"/{LISTED}/"
    assert [(row["kind"], row["stock"]) for row in logged(equipped)] == [(kind, stock)]


def test_numbers_for_the_inside_are_made_for_any_instrument_with_word_of_paper_and_glue(shop: Path, run: Run) -> None:
    done = run("label", LISTED, SHOP_ONLY, "--kind", "inside", "--out", "inside.pdf")
    assert done.code == 0
    assert "on varnish" in done.err
    assert pages(shop / "inside.pdf")
    assert not (shop / LOG).exists()


def test_a_card_is_of_the_public_reference_and_of_nothing_the_shop_keeps(shop: Path, run: Run) -> None:
    assert run("label", LISTED, "--kind", "card").code == 0
    document = pypdfium2.PdfDocument((shop / "labels.pdf").read_bytes())
    words = document[0].get_textpage().get_text_range()
    document.close()
    assert "18 November 2021" in words
    assert "328" in words
    assert "327.25" not in words  # as received: a condition, which stays in the shop
    assert archives.SECRET not in words


def test_used_cells_are_skipped(shop: Path, run: Run) -> None:
    assert run("label", LISTED, "--out", "labels.pdf", "--skip", "1-3, 5").code == 0
    [page] = pages(shop / "labels.pdf")
    [found] = zxingcpp.read_barcodes(page)
    # 70x36 on A4, three across: cell 4 is the first of the second row, which begins 4.5 + 36 mm from the top.
    corner = found.position.top_left
    assert corner.x / 300 * 25.4 < 70
    assert 40.5 < corner.y / 300 * 25.4 < 76.5


@pytest.mark.usefixtures("equipped")
@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (("--out", "a.pdf", "--skip", "0"), 1, "“0” names no cells"),
        (("--out", "a.pdf", "--skip", "25"), 1, "1 to 24"),
        (("--out", "a.pdf", "--skip", "7-3"), 1, "“7-3” names no cells"),
        (("--out", "a.pdf", "--skip", "first"), 1, "“first” names no cells"),
        (("--skip", "3"), 2, "only sheets have cells"),
        (("--printer", "ofice"), 1, "did you mean “office”?"),
        (("--kind", "gift"), 2, "gift"),
        (("--kind", "inside", "--out", "a.png"), 1, "stick and fade"),
        (("--kind", "card", "--stock", "66.7x25.4"), 1, "larger label"),
        (("--preview", "--stock", "60x30"), 1, "comes on a roll"),
        (("--preview", "--out", "a.pdf"), 2, "must end in .png"),
    ],
)
def test_what_no_sheet_or_printer_can_do_is_refused(run: Run, arguments: tuple[str, ...], code: int, says: str) -> None:
    done = run("label", LISTED, *arguments)
    assert (done.code, done.out) == (code, "")
    assert says in done.err


def test_a_stock_that_cannot_be_is_refused_where_it_is_used(shop: Path, run: Run) -> None:
    wrong = PRINTERS.replace("columns: 3", "columns: 0")
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP + wrong})
    done = run("label", LISTED, "--printer", "office")
    assert done.code == 1
    assert "64x34 cannot be" in done.err
    assert run("label", LISTED, "--proof").code == 0
    assert "impossible-stock" in run("check").out


def test_a_preview_prints_and_writes_down_nothing(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, "")})
    assert run("label", LISTED, OTHER, "--preview", "--skip", "1-23").out.split() == ["preview.png", "preview-2.png"]
    with Image.open(shop / "preview.png") as image:
        assert image.width < image.height
    assert not (shop / LOG).exists()


def test_a_calibration_page_is_made_for_a_printer(equipped: Path, run: Run) -> None:
    assert run("calibrate").out.strip() == "calibration.pdf"
    assert run("calibrate", "--printer", "office", "--out", "tried.pdf").code == 0
    assert (equipped / "calibration.pdf").read_bytes() != (equipped / "tried.pdf").read_bytes()
    assert not (equipped / LOG).exists()
    done = run("calibrate", "--printer", "bench")
    assert done.code == 1
    assert "comes on a roll" in done.err
