"""Figures, fractions and contrast."""

from __future__ import annotations

import re

import pytest

from passport.site.templates import shipped_root
from passport.site.typography import figures, fractions, is_number, run_in, with_unit

WCAG_AA_TEXT = 4.5


@pytest.mark.parametrize("text", ["26.8", "−0.2", "+0.5", "30.0–30.2", "195.5/195", "0", "1,5"])
def test_figures_and_ranges_are_numbers(text: str) -> None:
    assert is_number(text)


@pytest.mark.parametrize("text", ["cannot tell", "S4", "", "12 March", "a 440"])
def test_words_are_not_numbers(text: str) -> None:
    assert not is_number(text)


def test_decimals_stand_in_a_box_of_their_own() -> None:
    assert figures("26.8") == "26<i>.8</i>"
    assert figures("30.0–30.2") == "30.0–30<i>.2</i>"
    assert figures("328") == "328<i></i>"
    assert figures("<b>") == "&lt;b&gt;"


def test_fractions_are_marked_and_dates_are_not() -> None:
    assert fractions("Cello 3/4") == 'Cello <span class="frac">3/4</span>'
    assert fractions("1/8 & more") == '<span class="frac">1/8</span> &amp; more'
    assert fractions("1924/1926, 6/8/24") == "1924/1926, 6/8/24"


def test_a_unit_follows_a_thin_space() -> None:
    assert with_unit("328", "mm") == '<span class="q">328<span class="unit">\u202fmm</span></span>'
    assert with_unit("S<", "") == "S&lt;"


def test_a_name_inside_a_line_is_not_capitalised_unless_it_is_a_sign() -> None:
    assert [run_in(name) for name in ("Glue", "E1 string", "UV", "A", "")] == ["glue", "E1 string", "UV", "A", ""]


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour: WCAG 2.2, definition of relative luminance."""
    channels = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio: WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
def test_text_has_the_contrast_wcag_asks_for_in_both_schemes(scheme: int) -> None:
    css = (shipped_root() / "site_templates" / "theme" / "css" / "passport.css").read_text(encoding="utf-8")
    block = re.findall(r":root \{(.*?)\}", css, re.DOTALL)[scheme]
    colours = dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block))
    for ink in ("ink", "varnish", "grey"):
        for paper in ("paper", "leaf"):
            assert contrast(colours[ink], colours[paper]) >= WCAG_AA_TEXT, (ink, paper)
