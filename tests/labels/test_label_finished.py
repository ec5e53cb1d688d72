from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image, ImageOps

from passport.errors import PassportError
from passport.labels import finished_png, finished_sheet
from passport.records.identity import ALPHABET
from passport.stocks import PAPER_MM, PRINTER_DPI, STOCKS, Stock, find_stock, has_room_for_code

from .cards import PLACEHOLDER, REAL_LOOKING, VIOLIN

WITH_CODES = tuple(stock for stock in STOCKS if has_room_for_code(stock))
SHEETS = tuple(stock for stock in WITH_CODES if stock.sheet)
SHEET_STOCK = "70x36"
ADDRESSES = {
    "short": "https://tp-strings.net/ZVSPYJH/",
    "common": REAL_LOOKING,
    "unlisted": "https://passports.tammpenn-harrowmere.net/ZVSPYJH-7K3M9QXW2B4HTRC6A/",
    "byte": "https://tammpenn-harrowmere.net/violins/ZVSPYJH/",
}
# Read at this resolution one millimetre is 11.8 px.
READ_DPI = 300


def opened(png: bytes) -> Image.Image:
    return Image.open(io.BytesIO(png))


def codes_in(image: Image.Image) -> list[zxingcpp.Barcode]:
    grey = image.convert("L")
    return zxingcpp.read_barcodes(memoryview(grey.tobytes()).cast("B", (grey.height, grey.width)), try_invert=False)


def pages_of(pdf: bytes, dpi: int = READ_DPI) -> list[Image.Image]:
    return [page.render(scale=dpi / 72, grayscale=True).to_pil() for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.parametrize("stock", WITH_CODES, ids=lambda stock: stock.name)
@pytest.mark.parametrize("dpi", PRINTER_DPI)
@pytest.mark.parametrize("address", ADDRESSES)
def test_every_label_leads_to_its_record_at_every_size(stock: Stock, dpi: int, address: str) -> None:
    label = replace(VIOLIN, address=ADDRESSES[address])
    [found] = codes_in(opened(finished_png(label, stock, dpi)))
    assert found.text.lower() == label.address.lower()
    assert found.text.endswith(label.address.partition(".net")[2])


@pytest.mark.parametrize("stock", SHEETS, ids=lambda stock: stock.name)
@pytest.mark.parametrize("address", ADDRESSES)
def test_every_sheet_label_leads_to_its_record(stock: Stock, address: str) -> None:
    [page] = pages_of(finished_sheet([replace(VIOLIN, address=ADDRESSES[address])], stock))
    [found] = codes_in(page)
    assert found.text.lower() == ADDRESSES[address].lower()


@pytest.mark.parametrize("dpi", PRINTER_DPI)
def test_a_picture_is_black_and_white_in_the_printers_own_dots(dpi: int) -> None:
    image = opened(finished_png(VIOLIN, find_stock("60x30"), dpi))
    assert image.mode == "1"
    # 60 x 30 mm; a PNG counts pixels per metre.
    assert image.size == (round(60 / 25.4 * dpi), round(30 / 25.4 * dpi))
    assert image.info["dpi"] == pytest.approx((dpi, dpi), abs=0.02)


@pytest.mark.parametrize("dpi", PRINTER_DPI)
def test_modules_are_whole_dots_and_half_a_millimetre_or_more(dpi: int) -> None:
    image = opened(finished_png(VIOLIN, find_stock("60x30"), dpi))
    [found] = codes_in(image)
    corner = found.position.top_left
    row = [image.getpixel((x, corner.y + 1)) for x in range(image.width)]
    dark = [x for x, value in enumerate(row) if not value and x < corner.x + image.width // 4]
    finder = next(length for length in range(1, len(dark) + 1) if dark[0] + length not in dark)
    # ISO/IEC 18004: the top edge of a finder pattern is seven dark modules.
    assert finder % 7 == 0
    assert finder / 7 * 25.4 / dpi >= 0.5


@pytest.mark.parametrize("stock", SHEETS, ids=lambda stock: stock.name)
def test_a_sheet_has_its_papers_true_size_and_its_labels_where_they_belong(stock: Stock) -> None:
    assert stock.sheet is not None
    cells = stock.sheet.cells
    ids = [f"ZVSPY{number:02d}" for number in range(cells)]
    labels = [replace(VIOLIN, id=one, address=f"https://tp-strings.net/{one}/") for one in ids]
    pdf = finished_sheet(labels, stock)
    page = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
    size_mm = (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)
    assert size_mm == pytest.approx(PAPER_MM[stock.sheet.paper], abs=0.01)
    # One picture, cut by plain arithmetic from the stock's measures: every cell holds its own code and no other.
    [picture] = pages_of(pdf)
    for number, one in enumerate(ids):
        row, column = divmod(number, stock.sheet.columns)
        x_mm = stock.sheet.margin_left_mm + column * stock.sheet.pitch_x_mm
        y_mm = stock.sheet.margin_top_mm + row * stock.sheet.pitch_y_mm
        edges_mm = (x_mm, y_mm, x_mm + stock.width_mm, y_mm + stock.height_mm)
        cell = picture.crop(tuple(round(edge / 25.4 * READ_DPI) for edge in edges_mm))
        [found] = codes_in(cell)
        assert found.text == f"HTTPS://TP-STRINGS.NET/{one}/"


def ink_mm(picture: Image.Image) -> tuple[float, float, float, float]:
    box = ImageOps.invert(picture).getbbox()
    assert box is not None
    left, top, right, bottom = (edge / READ_DPI * 25.4 for edge in box)
    return left, top, right, bottom


@pytest.mark.parametrize("stock", SHEETS, ids=lambda stock: stock.name)
def test_a_sheet_fits_its_paper_and_keeps_the_printers_bare_edge(stock: Stock) -> None:
    sheet = stock.sheet
    assert sheet is not None
    width_mm, height_mm = PAPER_MM[sheet.paper]
    # Within a hundredth of a millimetre a column: inch measures are rounded.
    assert sheet.corner_mm(sheet.columns - 1)[0] + stock.width_mm <= width_mm + 0.05
    assert sheet.corner_mm(sheet.cells - 1)[1] + stock.height_mm <= height_mm + 0.05
    left_mm, top_mm, right_mm, bottom_mm = ink_mm(pages_of(finished_sheet([VIOLIN] * sheet.cells, stock))[0])
    assert left_mm >= 3.8
    assert top_mm >= 4.5
    assert right_mm <= width_mm - 3.8
    assert bottom_mm <= height_mm - 4.5


def test_pitch_is_true_on_the_printed_page() -> None:
    stock = find_stock(SHEET_STOCK)
    assert stock.sheet is not None
    [page] = pages_of(finished_sheet([VIOLIN] * 5, stock))
    corners = sorted((code.position.top_left.y, code.position.top_left.x) for code in codes_in(page))
    px_per_mm = READ_DPI / 25.4
    assert corners[1][1] - corners[0][1] == pytest.approx(70.0 * px_per_mm, abs=1.5)
    assert corners[3][0] - corners[0][0] == pytest.approx(36.0 * px_per_mm, abs=1.5)


def test_more_labels_than_cells_go_on_to_the_next_sheet() -> None:
    labels = [replace(VIOLIN, address=f"https://tp-strings.net/A{number:04d}/") for number in range(26)]
    pages = pages_of(finished_sheet(labels, find_stock("70x36")))
    assert [len(codes_in(page)) for page in pages] == [24, 2]
    assert {code.text[-6:-1] for code in codes_in(pages[1])} == {"A0024", "A0025"}


def test_a_sheet_is_the_same_to_the_byte_every_time() -> None:
    labels = [VIOLIN, replace(VIOLIN, kind="cello", size="7/8")]
    assert finished_sheet(labels, find_stock("70x36")) == finished_sheet(labels, find_stock("70x36"))


def test_a_sheet_carries_its_words_as_text_in_our_own_typefaces() -> None:
    label = replace(VIOLIN, workshop="Överström & Söhne")
    page = pypdf.PdfReader(io.BytesIO(finished_sheet([label], find_stock("70x36")))).pages[0]
    text = page.extract_text()
    assert "ZVSPYJH" in text.replace(" ", "")  # letter-spaced, which the extraction takes for blanks
    for words in ("Överström & Söhne", "Harrowmere", "Check this number against", "TP\u00a088"):
        assert words in text
    fonts = {str(font.get_object()["/BaseFont"]) for font in page["/Resources"]["/Font"].values()}  # type: ignore[index]
    assert fonts
    assert all("Passport" in font for font in fonts)


def test_a_proof_says_so_and_is_the_only_way_to_print_a_placeholder() -> None:
    label, stock = replace(VIOLIN, address=PLACEHOLDER), find_stock("70x36")
    text = pypdf.PdfReader(io.BytesIO(finished_sheet([label], stock, proof=True))).pages[0].extract_text()
    assert "PROOF, NOT FOR A CASE" in text
    for make in (lambda: finished_sheet([label], stock), lambda: finished_png(label, stock, 300)):
        with pytest.raises(PassportError, match=r"ZVSPYJH: .*examples and tests"):
            make()


@pytest.mark.parametrize("stock", WITH_CODES, ids=lambda stock: stock.name)
def test_a_proof_bears_a_black_band_that_a_label_does_not(stock: Stock) -> None:
    def has_band(*, proof: bool) -> bool:
        """Black over a quarter of the label's width and half a millimetre of its height, which no rule is."""
        image = opened(finished_png(VIOLIN, stock, 203, proof=proof)).convert("L")
        band = bytes(image.width // 4)
        rows = [image.crop((0, y, image.width, y + 1)).tobytes() for y in range(image.height)]
        return any(all(band in row for row in rows[y : y + 4]) for y in range(image.height - 4))

    assert has_band(proof=True)
    assert not has_band(proof=False)


def test_proofs_are_read_back_too() -> None:
    label = replace(VIOLIN, address=PLACEHOLDER)
    [found] = codes_in(opened(finished_png(label, find_stock("60x30"), 300, proof=True)))
    assert found.text == PLACEHOLDER.upper()


def test_a_roll_is_no_sheet() -> None:
    with pytest.raises(PassportError, match="comes on a roll") as refused:
        finished_sheet([VIOLIN], find_stock("60x30"))
    assert all(stock.name in refused.value.todo for stock in SHEETS)


def test_what_cannot_be_asked_for_is_refused_in_words() -> None:
    with pytest.raises(PassportError, match="not drawn at 150 dpi"):
        finished_png(VIOLIN, find_stock("60x30"), 150)
    with pytest.raises(PassportError, match="no label to print"):
        finished_sheet([], find_stock("70x36"))
    with pytest.raises(PassportError, match="no label stock “70×36”"):
        find_stock("70×36")


def test_an_address_too_long_for_half_a_millimetre_is_refused() -> None:
    label = replace(VIOLIN, address="https://passports.tammpenn-harrowmere.net/" + "A" * 90 + "/")
    with pytest.raises(PassportError, match="ZVSPYJH: The code needs"):
        finished_png(label, find_stock("60x30"), 300)


@pytest.mark.parametrize("sign", ALPHABET)
def test_no_letter_at_the_head_of_a_number_reaches_into_the_white_border(sign: str) -> None:
    """The tail of a J once did."""
    number = sign + VIOLIN.id[1:]
    label = replace(VIOLIN, id=number, address=VIOLIN.address.replace(VIOLIN.id, number))
    for stock in ("60x30", "70x36"):
        assert finished_png(label, find_stock(stock), 300, proof=False)
