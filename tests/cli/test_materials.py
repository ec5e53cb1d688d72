"""`passport materials`: as text, as data, on paper."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests import archives
from tests.archives import LISTED, SECRET, SHOP_ONLY
from tests.cli.running import Run

ROSEWOOD = archives.VIOLIN.replace("  ribs:", "  fittings: {species: Dalbergia nigra, wood: rosewood}\n  ribs:")


def with_rosewood(shop: Path) -> None:
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": ROSEWOOD})


def test_text_names_every_part_with_its_listing_and_defers(shop: Path, run: Run) -> None:
    with_rosewood(shop)
    said = run("materials", f"{LISTED[:3]}-{LISTED[3:]}".lower(), "--on", "2026-11-25").out
    assert "Top: Spruce, Picea abies" in said
    assert "Fittings: Rosewood, Dalbergia nigra" in said
    assert "CITES Appendix I since 11 June 1992" in said
    assert "Ask your management authority" in said
    assert "25 November 2026" in said
    assert "legal" not in said.lower()


def test_the_day_decides(shop: Path, run: Run) -> None:
    with_rosewood(shop)
    assert "Appendix" not in run("materials", LISTED, "--on", "1992-06-10").out.split("What an authority")[0]


def test_data_holds_the_same(shop: Path, run: Run) -> None:
    with_rosewood(shop)
    view = json.loads(run("materials", LISTED, "--on", "2026-11-25", "--format", "json").out)
    assert [line["part"] for line in view["lines"]] == ["Top", "Ribs", "Fittings"]
    assert [line["is_listed"] for line in view["lines"]] == [False, False, True]


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_paper_is_archival_tagged_and_the_same_each_time(
    shop: Path, run: Run, paper: str, points: tuple[int, int]
) -> None:
    with_rosewood(shop)
    arguments = ("materials", LISTED, "--on", "2026-11-25", "--format", "pdf", "--paper", paper, "--out", "m.pdf")
    assert run(*arguments).out.strip() == "m.pdf"
    made = (shop / "m.pdf").read_bytes()
    run(*arguments)
    assert (shop / "m.pdf").read_bytes() == made
    reader = PdfReader(io.BytesIO(made))
    assert tuple(round(float(side)) for side in reader.pages[0].mediabox[2:]) == points
    assert reader.metadata is not None
    assert reader.metadata.title == f"Declaration of materials, {LISTED}"
    assert b"pdfaid:part" in made
    assert b"pdfuaid:part" in made
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]  # type: ignore[index]
    text = " ".join(page.extract_text() for page in reader.pages)
    assert "Dalbergia nigra" in text
    fonts = {font["/BaseFont"] for page in reader.pages for font in map(_get, page["/Resources"]["/Font"].values())}  # type: ignore[index]
    assert all("Passport" in str(name) for name in fonts)


def _get(reference: object) -> dict[str, object]:
    return reference.get_object()  # type: ignore[attr-defined, no-any-return]


@pytest.mark.usefixtures("shop")
def test_an_instrument_without_a_page_has_a_declaration_too_and_nothing_of_the_shops_in_it(run: Run) -> None:
    for stem in (SHOP_ONLY, LISTED):
        done = run("materials", stem, "--format", "json")
        assert done.code == 0
        # The serial of the one is a word to look for, and a public field.
        assert SECRET not in done.out.replace(f"{SECRET}-14", "")
        assert "Papers" not in done.out


@pytest.mark.parametrize(("day", "says"), [("2026-13-01", "is not a day"), ("soon", "2026-03-05")])
def test_what_is_no_day_is_said(shop: Path, run: Run, day: str, says: str) -> None:
    done = run("materials", LISTED, "--on", day)
    assert done.code == 1
    assert says in done.err
    assert (shop / "records").is_dir()
