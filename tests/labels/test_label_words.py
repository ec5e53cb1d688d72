from __future__ import annotations

from dataclasses import replace

import pytest

from passport.errors import PassportError
from passport.labels.faces import SANS, SERIF, SERIF_ITALIC, SERIF_MEDIUM, missing_signs, width_em
from passport.labels.words import description, fraction, identity, imprint, serial

from .cards import VIOLIN


@pytest.mark.parametrize(
    ("size", "set_as"),
    [("4/4", "⁴⁄₄"), ("3/4", "³⁄₄"), ("1/16", "¹⁄₁₆"), ("7/8", "⁷⁄₈"), ("16 in", "16 in"), ("405 mm", "405 mm")],
)
def test_a_size_is_set_as_a_true_fraction(size: str, set_as: str) -> None:
    assert fraction(size) == set_as


def test_the_faces_hold_all_that_sizes_and_middle_european_names_need() -> None:
    needed = "⁰¹²³⁴⁵⁶⁷⁸⁹⁄₀₁₂₃₄₅₆₇₈₉¼½¾äöüßÄÖÜéèçñåøłőűšžčřğşțąęÁÍ–—−×°·’“”„&@\u00a0\u2009"
    for face in (SERIF, SERIF_MEDIUM, SERIF_ITALIC, SANS):
        assert missing_signs(needed, face) == ""
        assert missing_signs("aЖ漢b", face) == "Ж漢"


def test_figures_all_have_one_width() -> None:
    for face in (SERIF, SERIF_MEDIUM, SERIF_ITALIC, SANS):
        assert len({width_em(figure, face) for figure in "0123456789"}) == 1


def test_pairs_are_kerned() -> None:
    assert width_em("Ta", SERIF) < width_em("T", SERIF) + width_em("a", SERIF)


def test_letter_spacing_goes_between_signs_only() -> None:
    assert width_em("HHH", SERIF, 0.1) == pytest.approx(width_em("HHH", SERIF) + 0.2)


def test_words_are_worded_for_a_label() -> None:
    assert identity(VIOLIN).text == "ZVSPYJH"
    assert description(replace(VIOLIN, kind="double bass", size="")).text == "Double bass"
    number = serial(VIOLIN)
    assert number is not None
    assert number.text == "No.\u00a0TP\u00a088"
    assert serial(replace(VIOLIN, serial=" ")) is None
    assert [line.text for line in imprint(replace(VIOLIN, place="", contact=""))] == ["Tamm & Penn"]


def test_letters_in_two_parts_are_composed() -> None:
    assert imprint(replace(VIOLIN, workshop="Mu\u0308ller"))[0].text == "Müller, Harrowmere"


def test_signs_that_the_typeface_lacks_are_named_with_their_field() -> None:
    with pytest.raises(PassportError, match=r"workshop and place .* does not hold: Ж"):
        imprint(replace(VIOLIN, workshop="Ж & Penn"))
