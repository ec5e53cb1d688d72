"""Drawings of plates and models: the numbers of the record at their place, and the same bytes every time."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from passport.figures.plate import model_drawing, plate_drawing
from passport.views.project import project
from passport.views.site_tree import SiteView
from passport.views.tree import InstrumentView
from tests import archives

SVG = "{http://www.w3.org/2000/svg}"
CURVES = (
    [(355.0, 14.0), (352.0, 40.0), (290.0, 84.0), (240.0, 76.0), (228.0, 79.0)],
    [(228.0, 79.0), (180.0, 56.0), (132.0, 92.0)],
    [(132.0, 92.0), (120.0, 91.0), (75.0, 103.0), (6.0, 50.0), (0.0, 0.0)],
)
ROWS = {285.0: ["2.6", "2.5", "2.4", "2.5", "2.6"], 60.0: ["<3>"]}


def measured(drawing: str) -> list[str]:
    """The figures at the places where they were measured, and not those on the lines."""
    root = ET.fromstring(drawing)  # noqa: S314 - our own drawing
    return [element.text or "" for element in root.iterfind(f"{SVG}g[@class='figure']/{SVG}text")]


@pytest.fixture(scope="module")
def demo() -> SiteView:
    return archives.whole(project(archives.demo(), (), "public"))


def texts(drawing: str) -> list[tuple[str, float, float]]:
    found = ET.fromstring(drawing).iter(f"{SVG}text")  # noqa: S314 - our own drawing
    return [(element.text or "", float(element.get("x", "")), float(element.get("y", ""))) for element in found]


def test_the_same_numbers_give_the_same_bytes() -> None:
    assert plate_drawing("Top", CURVES, ROWS) == plate_drawing("Top", CURVES, dict(ROWS))
    assert model_drawing("Model", CURVES) == model_drawing("Model", tuple(map(tuple, CURVES)))


def test_a_drawing_has_a_title_and_says_in_words_what_it_shows() -> None:
    for drawing in (plate_drawing("A & B", CURVES, ROWS), model_drawing("A & B", CURVES)):
        root = ET.fromstring(drawing)  # noqa: S314 - our own drawing
        assert root[0].tag == f"{SVG}title"
        assert root[0].text == "A & B"
        assert root[1].tag == f"{SVG}desc"
        assert "mm" in (root[1].text or "") or "millimetres" in (root[1].text or "")


def test_what_a_record_says_is_text_and_never_markup() -> None:
    drawing = plate_drawing("<script>", CURVES, ROWS)
    assert "<script>" not in drawing
    assert "<3>" in [words for words, _, _ in texts(drawing)]


def test_thicknesses_stand_from_bass_to_treble_at_their_height_inside_the_outline() -> None:
    row = [(words, x, y) for words, x, y in texts(plate_drawing("Top", CURVES, ROWS)) if words in ROWS[285.0]]
    assert [words for words, _, _ in row] == ROWS[285.0]
    across = [x for _, x, _ in row]
    # At 285 mm the half width is 83.2 mm (84 - 8 * 5/50), and the outer column lies 15 mm inside it.
    assert across == pytest.approx([-68.2, -34.1, 0, 34.1, 68.2], abs=0.11)
    assert [y for _, _, y in row] == pytest.approx([355 - 285 + 355 * 0.033 * 0.35] * 5, abs=0.11)
    words = ET.fromstring(plate_drawing("Top", CURVES, ROWS))[1].text or ""  # noqa: S314 - our own drawing
    assert "at 6 places" in words


def test_a_model_reports_its_own_length_and_widths() -> None:
    drawing = model_drawing("Harrow", CURVES)
    # Twice 84, 56 and 103; the corners at 79 and 92 are no bouts.
    assert "Length 355 mm; widths 168, 112, 206 mm" in drawing
    assert {"168", "112", "206", "355"} <= {words for words, _, _ in texts(drawing)}


def test_every_demo_model_is_as_wide_as_its_record_says() -> None:
    archive = archives.demo()
    drawn = {view.id: view.drawing for view in project(archive, (), "public").supplies if view.section == "models"}
    told = 0
    for name, filed in archive.models.items():
        outline = filed.record.outline
        if outline is None or not drawn[name]:
            continue
        lower = max(width.middle for _, width in outline.lower or ())
        upper = max(
            width.middle for height, width in outline.upper or () if height.middle > _waist(outline.upper or ())
        )
        middle = min(width.middle for _, width in outline.middle or ())
        found = re.search(r"Length ([\d.]+) mm; widths ([\d.]+), ([\d.]+), ([\d.]+) mm", drawn[name])
        assert found is not None
        length = max(height.middle for height, _ in outline.upper or ())
        assert [float(number) for number in found.groups()] == pytest.approx([length, 2 * upper, 2 * middle, 2 * lower])
        told += 1
    assert told > 3


def _waist(upper: tuple[tuple[object, ...], ...]) -> float:
    """The height of the narrowest place between the upper bout and its corner."""
    return min(upper[len(upper) // 2 :], key=lambda point: point[1].middle)[0].middle  # type: ignore[attr-defined,no-any-return]


def test_every_drawing_of_the_demo_is_sound_and_small(demo: SiteView) -> None:
    drawings = [plate.drawing for view in demo.instruments.values() for plate in view.plates if plate.drawing]
    drawings += [view.drawing for view in demo.supplies if view.drawing]
    assert len(drawings) > 5
    for drawing in drawings:
        root = ET.fromstring(drawing)  # noqa: S314 - our own drawing
        assert root.get("role") == "img"
        assert not {element.tag for element in root.iter()} & {f"{SVG}script", f"{SVG}foreignObject", f"{SVG}image"}
        assert "nan" not in drawing
        assert "-0.0" not in drawing


def test_every_thickness_of_the_table_stands_in_the_drawing(demo: SiteView) -> None:
    def cells(view: InstrumentView) -> list[tuple[list[str], list[str]]]:
        return [
            (sorted(cell for row in plate.rows for cell in row[1:]),
             sorted(measured(plate.drawing)))
            for plate in view.plates if plate.drawing
        ]  # fmt: skip

    pairs = [pair for view in demo.instruments.values() for pair in cells(view)]
    assert pairs
    assert all(table == drawing for table, drawing in pairs)


def test_a_drawing_loads_nothing() -> None:
    assert not re.search(r"(href|url\()", plate_drawing("Top", CURVES, ROWS) + model_drawing("M", CURVES))
