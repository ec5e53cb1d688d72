from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
import zxingcpp

from passport.errors import PassportError
from passport.labels.code import ALPHANUMERIC, Code, encode, module_dots, note
from passport.labels.draw import code_picture

from .cards import REAL_LOOKING

# ISO/IEC 18004, data capacity at level Q: version -> alphanumeric signs, bytes.
CAPACITY_Q = {
    1: (16, 11),
    2: (29, 20),
    3: (47, 32),
    4: (67, 46),
    5: (87, 60),
    6: (108, 74),
    7: (125, 86),
    10: (221, 151),
}
CAPITAL_HOST, SMALL_TAIL = "HTTPS://T.EE/", "https://t.ee/a"


def address_of(length: int, *, capitals: bool) -> str:
    start = CAPITAL_HOST if capitals else SMALL_TAIL
    return start + "A" * (length - len(start))


# No address is short enough for version 1 in byte mode.
@pytest.mark.parametrize(
    ("version", "capitals"),
    [(version, capitals) for version in CAPACITY_Q for capitals in (True, False) if version > 1 or capitals],
)
def test_versions_hold_what_the_standard_says(version: int, *, capitals: bool) -> None:
    capacity = CAPACITY_Q[version][0 if capitals else 1]
    assert encode(address_of(capacity, capitals=capitals)).version == version
    assert encode(address_of(capacity + 1, capitals=capitals)).version > version


def test_the_typed_capacities_are_those_of_the_published_table() -> None:
    folder = os.environ.get("PASSPORT_VECTORS")
    if not folder:
        pytest.skip("PASSPORT_VECTORS does not name the folder with the published tables")
    table = json.loads((Path(folder) / "qr-capacity.json").read_text("utf-8"))["capacity_num_alnum_byte"]
    assert {version: tuple(table[str(version)]["Q"][1:]) for version in CAPACITY_Q} == CAPACITY_Q


def test_a_code_is_four_modules_larger_with_each_version() -> None:
    # ISO/IEC 18004: 21 modules for version 1, four more for each further one.
    for length in (16, 47, 125, 221):
        code = encode(address_of(length, capitals=True))
        assert code.across == 17 + 4 * code.version
        assert all(len(row) == code.across for row in code.modules)


def test_an_address_without_small_letters_in_its_path_is_made_upper_case() -> None:
    code = encode(REAL_LOOKING)
    assert (code.text, code.mode, code.note) == (REAL_LOOKING.upper(), "alphanumeric", "")
    assert set(code.text) <= ALPHANUMERIC
    assert note(REAL_LOOKING) == ""


@pytest.mark.parametrize("tail", ["/violin/", "/ZVSPYJH?A=1", "/ZVSPYJH/#TOP", "/A_B/", "/%c3/", "/~TP/"])
def test_an_address_whose_capitals_matter_is_kept_to_the_letter_and_noted(tail: str) -> None:
    address = "https://tamm-penn.example" + tail
    code = encode(address)
    assert (code.text, code.mode) == (address, "byte")
    assert code.note == note(address) != ""


@pytest.mark.parametrize("address", [REAL_LOOKING, "https://tamm-penn.example/violin/"])
def test_level_q_and_the_mode_are_what_an_independent_decoder_finds(address: str) -> None:
    code = encode(address)
    found = decoded(code)
    assert found.text == code.text
    assert found.ec_level == "Q"


def decoded(code: Code) -> zxingcpp.Barcode:
    picture = code_picture(code, 4).convert("L")
    [found] = zxingcpp.read_barcodes(memoryview(picture.tobytes()).cast("B", (picture.height, picture.width)))
    return found


def test_an_address_no_code_can_hold_is_refused() -> None:
    # ISO/IEC 18004: version 40 at level Q holds 2420 alphanumeric signs.
    assert encode(address_of(2420, capitals=True)).version == 40
    with pytest.raises(PassportError, match="2421 characters"):
        encode(address_of(2421, capitals=True))


def test_no_address_makes_no_code() -> None:
    with pytest.raises(PassportError, match="no address"):
        encode(" ")


@pytest.mark.parametrize(
    ("across", "space_mm", "dpi", "dots"),
    [
        # By hand: 33 + 8 modules in 27 mm at 203 dpi: 27 / 25.4 * 203 / 41 = 5.26.
        (33, 27.0, 203, 5),
        (33, 27.0, 300, 7),
        (33, 27.0, 600, 15),
        # Exactly six dots of 1/300 in for each of 37 modules.
        (29, 37 * 6 * 25.4 / 300, 300, 6),
        # 4 dots at 203 dpi are 0.5005 mm.
        (33, 41 * 4 * 25.4 / 203, 203, 4),
    ],
)
def test_a_module_is_the_most_whole_dots_that_fit(across: int, space_mm: float, dpi: int, dots: int) -> None:
    assert module_dots(across, space_mm, dpi) == dots


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_a_module_under_half_a_millimetre_is_refused(dpi: int) -> None:
    with pytest.raises(PassportError, match=r"The code needs 20.5 mm") as refused:
        module_dots(33, 20.4, dpi)
    assert "larger label" in refused.value.todo
