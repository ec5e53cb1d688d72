"""Full-size templates, measured in the finished file: check lines, seats, feet, post and bar lie where they should.

Measured twice: the paths a PDF reader finds in it, and the ink of the page at 600 dots per inch.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from itertools import pairwise
from math import dist
from pathlib import Path
from xml.etree import ElementTree as ET

import pypdf
import pypdfium2  # type: ignore[import-untyped]
import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from playwright.sync_api import Browser

from passport.documents.template import template_pdf, template_svg
from passport.fonts import FONTS
from passport.records.catalogue import Archive, load
from passport.stocks import PAPERS, Paper
from passport.views.bar_template import bar_template
from passport.views.bridge_template import bridge_template
from passport.views.post_template import post_template
from passport.views.tree import TemplateView
from tests import archives
from tests.documents.measured import MM_PER_POINT, Stretch, stretches

VIOLIN, CELLO, BASS = "ZVSPYJH", "YXSP8BQ", "8NG3NYF"
TRUE_MM = 0.1
DPI = 600
# By hand from the demo's violin: S + N = 195.25 + 130, FB 270, R 42, P 26.8; where each string's underside rests
# above the belly, and from the middle of the bridge.
VIOLIN_SEATS = {"G": (-16.75, 29.43), "D": (-5.45, 32.05), "A": (5.75, 31.42), "E": (16.75, 27.65)}
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def demo() -> Archive:
    return archives.demo()


def views(archive: Archive, stem: str) -> tuple[TemplateView, ...]:
    return bridge_template(archive, stem, None, {}), post_template(archive, stem), bar_template(archive, stem)


def flat(found: Iterable[Stretch], length_mm: float) -> list[Stretch]:
    return [one for one in found if abs(one.y1 - one.y2) < 0.01 and abs(abs(one.x1 - one.x2) - length_mm) < TRUE_MM]


def upright(found: Iterable[Stretch], length_mm: float) -> list[Stretch]:
    return [one for one in found if abs(one.x1 - one.x2) < 0.01 and abs(abs(one.y1 - one.y2) - length_mm) < TRUE_MM]


def corners(found: list[Stretch]) -> list[tuple[Stretch, Stretch]]:
    """Find every line of 100 mm across with the one along that begins in the same corner."""
    return [
        (across, along)
        for across in flat(found, 100)
        for along in upright(found, 100)
        if across.page == along.page and dist((across.x1, across.y1), (along.x1, along.y1)) < 0.01
    ]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("stem", [VIOLIN, CELLO, BASS])
def test_every_sheet_with_a_drawing_at_full_size_has_both_check_lines(demo: Archive, stem: str, paper: Paper) -> None:
    for view in views(demo, stem):
        found = stretches(template_pdf(view, paper))
        sheets = {across.page for across, _ in corners(found)}
        assert len(sheets) == (len(view.pieces) if view.overview else 1)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("stem", [VIOLIN, CELLO, BASS])
def test_nothing_drawn_lies_off_the_sheet(demo: Archive, stem: str, paper: Paper) -> None:
    for view in views(demo, stem):
        made = template_pdf(view, paper)
        pages = [tuple(map(float, page.mediabox[2:])) for page in pypdf.PdfReader(io.BytesIO(made)).pages]
        for one in stretches(made):
            width, height = (side * MM_PER_POINT for side in pages[one.page])
            assert min(one.x1, one.x2, one.y1, one.y2) > 8
            assert max(one.x1, one.x2) < width - 8
            assert max(one.y1, one.y2) < height - 8


def test_the_seats_stand_where_the_sum_by_hand_puts_them(demo: Archive) -> None:
    found = stretches(template_pdf(bridge_template(demo, VIOLIN, None, {}), "a4"))
    # The feet are 0.28 of the span of 41.5 mm long, and the middle of the span is the middle of the bridge.
    bass, treble = sorted(flat(found, 0.28 * 41.5), key=lambda one: one.x1)
    assert max(treble.x1, treble.x2) - min(bass.x1, bass.x2) == pytest.approx(41.5, abs=TRUE_MM)
    middle, feet = (bass.x1 + treble.x1) / 2, bass.y1
    for x_mm, above_belly_mm in VIOLIN_SEATS.values():
        # The belly is 1 mm higher in the middle than under the feet.
        want = (middle + x_mm, feet + 1.0 + above_belly_mm)
        assert any(dist((one.x2, one.y2), want) < TRUE_MM for one in found if abs(one.x1 - one.x2) < 0.01), x_mm


def test_a_projection_given_moves_every_seat_by_as_much(demo: Archive) -> None:
    low, high = ([float(row[7]) for row in bridge_template(demo, VIOLIN, mm, {}).tables[0].rows] for mm in (26.0, 27.0))
    assert [after - before for before, after in zip(low, high, strict=True)] == pytest.approx([1.0] * 4, abs=0.11)


def test_the_ink_of_the_check_lines_is_100_mm_long(demo: Archive) -> None:
    made = template_pdf(bridge_template(demo, CELLO, None, {}), "a4")
    document = pypdfium2.PdfDocument(made)
    page = document[0].render(scale=DPI / 72, grayscale=True).to_pil()
    document.close()
    [(across, along)] = corners(stretches(made))
    mm_per_dot, dark = 25.4 / DPI, 160
    y = page.height - round(across.y1 / mm_per_dot)
    row = max(longest(page.crop((0, y + off, page.width, y + off + 1)).tobytes(), dark) for off in (-1, 0, 1))
    x = round(along.x1 / mm_per_dot)
    column = max(longest(page.crop((x + off, 0, x + off + 1, page.height)).tobytes(), dark) for off in (-1, 0, 1))
    # The line of 0.25 mm that stands on its one end adds half its thickness, the one of 0.15 mm at its other end too.
    ink_mm = 100 + 0.125 + 0.075
    assert row * mm_per_dot == pytest.approx(ink_mm, abs=TRUE_MM)
    assert column * mm_per_dot == pytest.approx(ink_mm, abs=TRUE_MM)


def longest(dots: bytes, dark: int) -> int:
    """Count the longest run of dark dots."""
    return max(map(len, "".join("#" if dot < dark else " " for dot in dots).split()), default=0)


def test_the_bar_lies_as_far_from_the_joint_as_the_table_says(demo: Archive) -> None:
    view = bar_template(demo, CELLO)
    found = stretches(template_pdf(view, "a4"))
    # The ticks run from 3 mm before the joint to 3 mm beyond the outer edge; the table has that edge.
    table = {float(row[0].replace("\u2212", "-")): float(row[3]) for row in view.tables[0].rows[1:-1]}
    assert len(table) > 8
    for outer_mm in table.values():
        assert flat(found, outer_mm + 6)


def test_pieces_of_a_bar_meet_on_lines_that_both_have(demo: Archive) -> None:
    for stem, pieces in ((VIOLIN, 2), (CELLO, 3), (BASS, 5)):
        view = bar_template(demo, stem)
        assert len(view.pieces) == pieces
        joins = [set(re.findall(r'class="join" d="M[^,]*,([-\d.]+)', piece.inside)) for piece in view.pieces]
        assert [len(one & other) for one, other in pairwise(joins)] == [1] * (pieces - 1)


def elements(view: TemplateView, kind: str) -> list[ET.Element]:
    root = ET.fromstring(template_svg(view))  # noqa: S314 - our own drawing
    return [one for one in root.iter() if kind in (one.get("class") or "").split()]


@pytest.mark.parametrize("stem", [VIOLIN, CELLO, BASS])
def test_a_unit_of_the_svg_is_a_millimetre(demo: Archive, stem: str) -> None:
    for view in views(demo, stem):
        root = ET.fromstring(template_svg(view))  # noqa: S314
        _, _, width, height = (root.get("viewBox") or "").split()
        assert (root.get("width"), root.get("height")) == (f"{width}mm", f"{height}mm")
        assert not [one for one in root.iter() if "scale" in (one.get("transform") or "")]
        [across] = elements(view, "check-across")
        assert re.fullmatch(r"M(-?[\d.]+),-?[\d.]+H(-?[\d.]+)", across.get("d") or "")


def test_a_browser_measures_the_svg_as_it_is_meant(demo: Archive, browser: Browser, tmp_path: Path) -> None:
    file = tmp_path / "bridge.svg"
    file.write_bytes(template_svg(bridge_template(demo, VIOLIN, None, {})))
    page = browser.new_page()
    page.goto(file.as_uri())
    boxes = page.evaluate(
        "['.check-across', '.check-along', '.level', ...Array(4).keys()].map(w => (typeof w === 'string'"
        " ? document.querySelector(w) : document.querySelectorAll('.seat')[w]).getBoundingClientRect().toJSON())"
    )
    page.close()
    # A CSS pixel is 1/96 inch: CSS Values and Units, section 6.2.
    across, along, belly, *seats = [{side: px * 25.4 / 96 for side, px in box.items()} for box in boxes]
    assert across["width"] == pytest.approx(100, abs=TRUE_MM)
    assert along["height"] == pytest.approx(100, abs=TRUE_MM)
    middle = belly["x"] + belly["width"] / 2
    for seat, (x_mm, above_mm) in zip(seats, VIOLIN_SEATS.values(), strict=True):
        assert seat["x"] + seat["width"] / 2 - middle == pytest.approx(x_mm, abs=TRUE_MM)
        assert belly["bottom"] - seat["bottom"] == pytest.approx(above_mm, abs=TRUE_MM)


def test_the_same_view_gives_the_same_bytes(demo: Archive) -> None:
    for one, other in zip(views(demo, VIOLIN), views(load(archives.DEMO), VIOLIN), strict=True):
        assert template_pdf(one, "a4") == template_pdf(other, "a4")
        assert template_svg(one) == template_svg(other)


@pytest.mark.parametrize("stem", [VIOLIN, BASS])
def test_every_number_and_where_it_is_from_stands_in_both_files(demo: Archive, stem: str) -> None:
    for view in views(demo, stem):
        pdf = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(template_pdf(view, "a4"))).pages)
        svg = "".join(ET.fromstring(template_svg(view)).itertext())  # noqa: S314
        read = ["".join(text.split()) for text in (pdf, svg)]
        for worked in view.used:
            for word in (worked.name, worked.value, worked.how, worked.source):
                assert all("".join(word.split()) in text for text in read), word
        for caution in view.cautions:
            assert all("".join(caution.split()) in text for text in read)


def test_no_letter_is_missing_from_the_typeface(demo: Archive) -> None:
    known = set(TTFont(FONTS / "PassportSans-Regular.ttf").getBestCmap())
    for stem in (VIOLIN, CELLO, BASS):
        for view in views(demo, stem):
            said = "".join(ET.fromstring(template_svg(view)).itertext())  # noqa: S314
            assert [letter for letter in said if ord(letter) not in known] == [], view.title


def test_what_a_record_says_is_text_and_never_markup(tmp_path: Path) -> None:
    text = (archives.DEMO / "instruments" / f"{BASS}.yml").read_text("utf-8")
    assert "aluminium, in both legs" in text
    changed = text.replace("aluminium, in both legs", "<script> #panic() </svg>")
    files = {f"instruments/{BASS}.yml": changed}
    view = bridge_template(load(archives.write(tmp_path / "records", files)), BASS, None, {})
    assert "<script>" not in template_svg(view).decode()
    pdf = pypdf.PdfReader(io.BytesIO(template_pdf(view, "a4")))
    assert "<script> #panic() </svg>" in " ".join("".join(page.extract_text() for page in pdf.pages).split())
