"""A check is worth what it refuses: each test here spoils a good label in one way."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from PIL import Image

from passport.errors import PassportError
from passport.labels import draw, finished, finished_png, finished_sheet, kinds, readback, sheet
from passport.labels.code import Code, encode
from passport.labels.layout import Layout, PlacedCode, lay_out
from passport.labels.sheet import Cell, Placed
from passport.stocks import TRUE_PRINTER, find_stock

from .cards import REAL_LOOKING, VIOLIN

DPI = 300
CODE = encode(REAL_LOOKING)


def layout(address: str = REAL_LOOKING) -> Layout:
    return lay_out(VIOLIN, find_stock("60x30"), encode(address), DPI, proof=False)


def placed_code() -> PlacedCode:
    placed = layout().code
    assert placed is not None
    return placed


def good_picture() -> Image.Image:
    return draw.picture(layout(), DPI).convert("L")


def code_box_px() -> tuple[int, int, int, int]:
    placed = placed_code()
    left, top = (round(edge / 25.4 * DPI) for edge in (placed.x_mm, placed.y_mm))
    side = round(placed.code.across * placed.module_mm / 25.4 * DPI)
    return left, top, left + side, top + side


def test_the_good_label_passes_and_is_measured_to_the_pixel() -> None:
    readback.check(good_picture(), REAL_LOOKING, CODE, DPI)
    found = readback.read(good_picture())
    assert (found.left_px, found.top_px, found.right_px, found.bottom_px) == code_box_px()
    assert found.across == CODE.across


@pytest.mark.parametrize(
    "address",
    [
        "https://passports.tammpenn-harrowmere.net/ZVSPYJG/",
        "https://passports.tammpenn-harrowmere.net/zvspyjh/",
        "https://tammpenn-harrowmere.net/ZVSPYJH/",
        "http://passports.tammpenn-harrowmere.net/ZVSPYJH/",
    ],
)
def test_a_code_for_another_address_is_refused(address: str) -> None:
    picture = draw.picture(layout(address), DPI)
    with pytest.raises(PassportError, match="its code leads to"):
        readback.check(picture, REAL_LOOKING, CODE, DPI)


@pytest.mark.parametrize("side", range(4))
def test_ink_in_the_quiet_zone_is_refused_on_every_side(side: int) -> None:
    picture, (left, top, right, bottom) = good_picture(), code_box_px()
    module = (right - left) // CODE.across
    middle_x, middle_y = (left + right) // 2, (top + bottom) // 2
    spot = [
        (left - 3 * module, middle_y),
        (right + 3 * module, middle_y),
        (middle_x, top - 3 * module),
        (middle_x, bottom + 3 * module),
    ][side]
    picture.paste(0, (*spot, spot[0] + 2, spot[1] + 2))
    with pytest.raises(PassportError, match="white border"):
        readback.check(picture, REAL_LOOKING, CODE, DPI)


def test_a_code_at_the_very_edge_of_the_label_is_refused() -> None:
    left, top, right, bottom = code_box_px()
    picture = good_picture().crop((left - 5, top - 40, right + 60, bottom + 40))
    with pytest.raises(PassportError, match="too near the edge"):
        readback.check(picture, REAL_LOOKING, CODE, DPI)


def test_pale_print_is_refused() -> None:
    # Dark at 110 on white: (255 - 110) / 255 = 57 %.
    pale = good_picture().point([max(110, grey) for grey in range(256)])
    with pytest.raises(PassportError, match="contrast of its code is 57%"):
        readback.check(pale, REAL_LOOKING, CODE, DPI)


def test_print_on_grey_is_refused() -> None:
    # White at 170: 170 / 255 = 67 %.
    grey = good_picture().point([min(170, grey) for grey in range(256)])
    with pytest.raises(PassportError, match="contrast of its code is 67%"):
        readback.check(grey, REAL_LOOKING, CODE, DPI)


def test_a_code_too_small_is_refused() -> None:
    # The same dots on a finer printer: 6 of them are 0.508 mm at 300 dpi, 0.42 mm at 360.
    small = replace(placed_code(), module_mm=6 * 25.4 / 300)
    picture = draw.picture(replace(layout(), code=small), 300)
    readback.check(picture, REAL_LOOKING, CODE, 300)
    with pytest.raises(PassportError, match=r"squares of its code are 0\.42 mm"):
        readback.check(picture, REAL_LOOKING, CODE, 360)


@pytest.mark.parametrize(
    "place",
    [
        (12, 15),  # data, which a decoder mends
        (-7, -7),  # the middle of the alignment pattern, which it hardly needs
        (10, 6),  # a timing module
    ],
)
def test_a_single_false_module_is_refused_though_decoders_mend_it(place: tuple[int, int]) -> None:
    picture, (left, top, _, _) = good_picture(), code_box_px()
    column, row = (at % CODE.across for at in place)
    module = round(placed_code().module_mm / 25.4 * DPI)
    corner = (left + column * module, top + row * module)
    picture.paste(255 if CODE.modules[row][column] else 0, (*corner, corner[0] + module, corner[1] + module))
    assert readback.read(picture).text == CODE.text
    with pytest.raises(PassportError, match="spoilt"):
        readback.check(picture, REAL_LOOKING, CODE, DPI)


def test_a_white_on_black_code_is_refused() -> None:
    with pytest.raises(PassportError, match="cannot be read"):
        readback.check(good_picture().point([255 - grey for grey in range(256)]), REAL_LOOKING, CODE, DPI)


def test_a_label_without_a_code_and_one_with_two_are_refused() -> None:
    with pytest.raises(PassportError, match="cannot be read"):
        readback.check(Image.new("1", (700, 350), 1), REAL_LOOKING, CODE, DPI)
    two = Image.new("L", (1500, 400), 255)
    two.paste(good_picture(), (0, 0))
    two.paste(good_picture(), (750, 0))
    with pytest.raises(PassportError, match="2 codes"):
        readback.check(two, REAL_LOOKING, CODE, DPI)


def always_the_same(_: str) -> Code:
    """A fault as it might creep in: every label gets one and the same code."""
    return encode("https://tammpenn-harrowmere.net/A/")


def test_no_wrong_picture_or_sheet_is_given_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kinds, "encode", always_the_same)
    with pytest.raises(PassportError, match=r"ZVSPYJH: .*its code leads to “HTTPS://TAMMPENN-HARROWMERE.NET/A/”"):
        finished_png(VIOLIN, find_stock("60x30"), DPI)
    with pytest.raises(PassportError, match=r"ZVSPYJH: .*its code leads to “HTTPS://TAMMPENN-HARROWMERE.NET/A/”"):
        finished_sheet([VIOLIN], find_stock("70x36"))


def test_a_sheet_with_two_labels_exchanged_or_one_missing_is_refused() -> None:
    stock = find_stock("70x36")
    labels = [replace(VIOLIN, id=name, address=f"https://tp-strings.net/{name}/") for name in ("AAA", "BBB")]
    made = finished_sheet(labels, stock)
    one, other = ((label, lay_out(label, stock, encode(label.address), 300, proof=False)) for label in labels)
    finished.check_sheet(made, [(*one, Cell(0, 0)), (*other, Cell(0, 1))], stock)
    with pytest.raises(PassportError, match=r"BBB: .*leads to"):
        finished.check_sheet(made, [(*other, Cell(0, 0))], stock)
    with pytest.raises(PassportError, match=r"BBB: .*cannot be read"):
        finished.check_sheet(made, [(*one, Cell(0, 0)), (*other, Cell(0, 2))], stock)
    with pytest.raises(PassportError, match="page is missing"):
        finished.check_sheet(made, [(*one, Cell(0, 0)), (*other, Cell(1, 0))], stock)


def test_a_sheet_with_another_number_beside_a_code_or_inside_is_refused() -> None:
    stock, other = find_stock("70x36"), replace(VIOLIN, id="PB8ANDH")
    made = finished_sheet([other], stock)
    with pytest.raises(PassportError, match=r"ZVSPYJH: .*does not bear its number"):
        finished.check_sheet(made, [(VIOLIN, layout(), Cell(0, 0))], stock)
    inside, small = kinds.KINDS["inside"], find_stock("30x12")
    made = finished_sheet([other, VIOLIN], small, kind=inside)
    placed = inside.lay_out(VIOLIN, small, 300, proof=False)
    finished.check_sheet(made, [(VIOLIN, placed, Cell(0, 1))], small)
    with pytest.raises(PassportError, match=r"ZVSPYJH: .*does not bear its number"):
        finished.check_sheet(made, [(VIOLIN, placed, Cell(0, 0))], small)


def test_a_sheet_printed_out_of_place_is_refused() -> None:
    stock = find_stock("70x36")
    placed = lay_out(VIOLIN, stock, encode(REAL_LOOKING), finished.SHEET_DPI, proof=False)
    made = sheet.pdf([[Placed(placed, -3.0, 4.5)]], "a4", TRUE_PRINTER)
    with pytest.raises(PassportError, match=r"too near the edge|cannot be read"):
        finished.check_sheet(made, [(VIOLIN, placed, Cell(0, 0))], stock)


def test_a_picture_is_checked_as_it_was_saved() -> None:
    saved = finished_png(VIOLIN, find_stock("60x30"), DPI)
    with Image.open(io.BytesIO(saved)) as image:
        readback.check(image, REAL_LOOKING, CODE, DPI)
