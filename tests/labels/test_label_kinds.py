"""What each kind of label bears, and what it is never printed on."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest
import zxingcpp
from PIL import Image

from passport.errors import PassportError
from passport.labels import KINDS, finished_png, finished_sheet
from passport.labels.layout import Layout
from passport.stocks import STOCKS, Stock, find_stock, has_room_for_code
from passport.views.label import CaseLabel

from .cards import PLACEHOLDER, VIOLIN
from .test_label_finished import codes_in, pages_of

SETUP = (
    ("String length", "328 mm"),
    ("String height, G", "5.0 mm, to the underside"),
    ("Projection", "not measured"),
    ("Strings", "medium, steel E, synthetic A D G"),
)
BASS = replace(VIOLIN, kind="double bass", size="3/4", setup_date="18 November 2021", setup=SETUP)
HOLE_MM = 5.0


def words_on(pdf: bytes) -> str:
    return " ".join(pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().replace("\u00a0", " ").split())


def layout_of(kind: str, label: CaseLabel = BASS, stock: str = "") -> Layout:
    return KINDS[kind].lay_out(label, find_stock(stock or KINDS[kind].sheet), 300, proof=False)


@pytest.mark.parametrize("kind", [name for name, kind in KINDS.items() if kind.has_code])
def test_every_kind_with_a_code_leads_to_the_record_and_says_what_it_belongs_to(kind: str) -> None:
    made = finished_sheet([BASS], find_stock(KINDS[kind].sheet), kind=KINDS[kind])
    [page] = pages_of(made)
    [found] = codes_in(page)
    assert found.text == BASS.address.upper()
    text = words_on(made)
    assert "ZVSPYJH" in text.replace(" ", "")
    for words in ("Double bass ³⁄₄", "No. TP 88", "Check this number against the one inside", "Tamm & Penn"):
        assert words in text


def test_the_card_bears_the_print_that_a_passports_key_is_compared_with() -> None:
    signed = replace(BASS, fingerprint="FWP7 NXT6 NZRI 3UPJ 6BG6")
    assert "FWP7 NXT6 NZRI 3UPJ 6BG6" in words_on(finished_sheet([signed], find_stock("100x140"), kind=KINDS["card"]))
    assert "the key" not in words_on(finished_sheet([BASS], find_stock("100x140"), kind=KINDS["card"]))


def test_a_number_for_the_inside_is_the_number_alone() -> None:
    made = finished_sheet([BASS], find_stock("30x12"), kind=KINDS["inside"])
    assert words_on(made).replace(" ", "") == "ZVSPYJH"
    assert codes_in(pages_of(made)[0]) == []


def test_a_number_for_the_inside_leads_nowhere_and_so_needs_no_address() -> None:
    made = finished_sheet([replace(BASS, address=PLACEHOLDER)], find_stock("30x12"), kind=KINDS["inside"])
    assert words_on(made).replace(" ", "") == "ZVSPYJH"


def test_what_sticks_and_fades_is_not_made_for_the_inside() -> None:
    with pytest.raises(PassportError, match="stick and fade"):
        finished_png(BASS, find_stock("60x30"), 300, kind=KINDS["inside"])


def test_a_card_says_the_date_and_each_value_and_what_was_not_measured() -> None:
    text = words_on(finished_sheet([BASS], find_stock("100x140"), kind=KINDS["card"]))
    assert "Reference set-up, 18 November 2021" in text
    for row in SETUP:
        assert " ".join(row) in text


def test_a_hang_tag_has_a_ring_for_the_punch_well_away_from_code_and_words() -> None:
    layout = layout_of("hang-tag")
    [ring] = layout.rings
    far_mm = ring.x_mm + HOLE_MM / 2
    assert ring.diameter_mm == HOLE_MM
    assert ring.x_mm - HOLE_MM / 2 >= 5.0
    assert layout.code is not None
    assert layout.code.x_mm - 4 * layout.code.module_mm >= far_mm + 0.5
    assert min(line.x_mm for line in layout.lines) > layout.code.x_mm


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_a_hang_tag_comes_from_a_label_printer_too_with_its_ring(dpi: int) -> None:
    image = Image.open(io.BytesIO(finished_png(BASS, find_stock("100x50"), dpi, kind=KINDS["hang-tag"])))
    [found] = zxingcpp.read_barcodes(image.convert("L"))
    assert found.text == BASS.address.upper()
    [ring] = layout_of("hang-tag", stock="100x60").rings
    row = [image.getpixel((x, image.height // 2 + 2)) for x in range(round(14 / 25.4 * dpi))]
    dark_mm = [x / dpi * 25.4 for x, value in enumerate(row) if not value]
    # The first and last ink of the row through the middle are the ring's two sides.
    assert (dark_mm[0], dark_mm[-1]) == pytest.approx((ring.x_mm - 2.5, ring.x_mm + 2.5), abs=0.3)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("stock", [stock for stock in STOCKS if stock.sheet], ids=lambda stock: stock.name)
def test_a_kind_fits_a_stock_or_is_refused_in_words(kind: str, stock: Stock) -> None:
    try:
        layout = KINDS[kind].lay_out(BASS, stock, 300, proof=False)
    except PassportError as refused:
        assert "larger label" in refused.todo  # noqa: PT017 - what is refused is part of the table
        assert kind == "card" or not has_room_for_code(stock) or kind == "hang-tag"
        return
    right_mm = stock.width_mm - stock.inset_x_mm
    assert all(stock.inset_y_mm <= line.baseline_mm <= stock.height_mm for line in layout.lines)
    assert all(stock.inset_x_mm - 0.01 <= line.x_mm < right_mm for line in layout.lines)
    if layout.code:
        assert layout.code.module_mm >= 0.5


@pytest.mark.parametrize("kind", KINDS)
def test_no_kind_has_words_that_its_view_does_not_hold(kind: str) -> None:
    """Each word stands in the view, or in the fixed phrases that a test of the words pins."""
    marked = replace(
        BASS, kind="Akind", serial="Aserial", workshop="Aworkshop", place="Aplace", contact="Acontact",
        setup=(("Aname", "Avalue"),), setup_date="Adate",
    )  # fmt: skip
    lines = [line.text for line in layout_of(kind, marked).lines]
    fixed = ("Check this number against the one inside the instrument", "Reference set-up, Adate", "No.\u00a0Aserial")
    known = " ".join((*fixed, "ZVSPYJH Akind ³⁄₄ Aworkshop, Aplace Acontact Aname Avalue"))
    assert all(word in known for text in lines for word in text.split(" "))
