"""`passport template`: what it writes, and how it refuses what it cannot draw."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest

from passport.cli.typed import typed_heights_mm
from passport.errors import PassportError
from tests import archives
from tests.cli.running import Done, Run

VIOLIN, OTHER = archives.LISTED, archives.OTHER


@pytest.fixture
def demo(run: Run) -> Run:
    def command(*arguments: str) -> Done:
        return run("template", *arguments, "--records", str(archives.DEMO))

    return command


def words(pdf: Path) -> str:
    return " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf.read_bytes())).pages)


@pytest.mark.parametrize("what", ["bridge", "post", "bar"])
@pytest.mark.parametrize("ending", ["pdf", "svg", "PDF"])
def test_a_template_is_written_where_it_is_wanted(demo: Run, empty: Path, what: str, ending: str) -> None:
    done = demo(VIOLIN.lower(), what, "--out", f"bench/{what}.{ending}")
    assert (done.code, done.out.strip(), done.err) == (0, f"bench/{what}.{ending}", "")
    made = (empty / "bench" / f"{what}.{ending}").read_bytes()
    assert made.startswith(b"<svg" if ending == "svg" else b"%PDF-")


def test_what_is_given_counts_and_is_said_to_be_given(demo: Run, empty: Path) -> None:
    done = demo(VIOLIN, "bridge", "--projection", "1 1/16 in", "--heights", "G 5,2; E: 3.6", "--out", "b.pdf")
    assert done.code == 0
    text = words(empty / "b.pdf")
    assert re.search(r"Projection\s+26\.99\s+given", text)
    assert re.search(r"String height wanted, G, E\s+5\.2, 3\.6\s+given", text)
    assert re.search(r"String height wanted, D, A\s+4\.7, 4\.2\s+measured", text)


def test_paper_can_be_letter(demo: Run, empty: Path) -> None:
    assert demo(VIOLIN, "post", "--paper", "letter", "--out", "p.pdf").code == 0
    box = pypdf.PdfReader(io.BytesIO((empty / "p.pdf").read_bytes())).pages[0].mediabox
    # ANSI/ASME Y14.1: 8.5 by 11 inches of 72 points.
    assert (float(box.width), float(box.height)) == pytest.approx((612, 792), abs=0.01)


@pytest.mark.parametrize(("arguments", "said"), [
    ((VIOLIN, "bridge", "--out", "b.png"), ".pdf or .svg"),
    ((VIOLIN, "bridge"), "--out"),
    ((VIOLIN, "neck", "--out", "b.pdf"), "neck"),
    ((VIOLIN, "post", "--projection", "27", "--out", "b.pdf"), "for a bridge"),
])  # fmt: skip
def test_a_command_that_is_not_understood_writes_nothing(
    demo: Run, empty: Path, arguments: tuple[str, ...], said: str
) -> None:
    done = demo(*arguments)
    assert done.code == 2
    assert said in done.err
    assert list(empty.iterdir()) == []


@pytest.mark.parametrize(("arguments", "said"), [
    (("ZVSPYJ9", "bridge"), "ZVSPYJ"),
    ((VIOLIN, "bridge", "--projection", "270"), "projection"),
    ((VIOLIN, "bridge", "--projection", "high"), "projection"),
    ((VIOLIN, "bridge", "--projection", "26-27"), "range"),
    ((VIOLIN, "bridge", "--projection", "nan"), "projection"),
    ((VIOLIN, "bridge", "--heights", "C 5.0"), "no string C"),
    ((VIOLIN, "bridge", "--heights", "5.0, 4.7"), "heights"),
    ((VIOLIN, "bridge", "--heights", "G 5.0, G 5.1"), "twice"),
    ((VIOLIN, "bridge", "--heights", "G 50"), "string height G"),
])  # fmt: skip
def test_what_cannot_be_is_refused_in_a_sentence(demo: Run, empty: Path, arguments: tuple[str, ...], said: str) -> None:
    done = demo(*arguments, "--out", "b.pdf")
    assert done.code == 1
    assert said in done.err
    assert "→" in done.err
    assert list(empty.iterdir()) == []


def test_what_is_not_recorded_is_named(shop: Path, run: Run) -> None:
    for what, wanted in (("bridge", ("projection", "neck stop", "fingerboard, length")), ("bar", ("outline",))):
        done = run("template", OTHER, what, "--out", "b.pdf")
        assert done.code == 1
        assert all(word in done.err for word in wanted)
    assert not (shop / "b.pdf").exists()


def test_a_folder_that_cannot_be_written_is_said_so(demo: Run, empty: Path) -> None:
    (empty / "bench").write_text("a file")
    done = demo(VIOLIN, "bridge", "--out", "bench/b.pdf")
    assert done.code == 1
    assert "bench" in done.err


@pytest.mark.parametrize(("typed", "read"), [
    ("G 5.0, D 4.7, A 4.2, E 3.5", {"G": 5.0, "D": 4.7, "A": 4.2, "E": 3.5}),
    ("E: 3,5 mm; G=5", {"E": 3.5, "G": 5.0}),
    ("F# 4", {"F#": 4.0}),
    ("", {}),
])  # fmt: skip
def test_heights_are_read_as_they_are_typed(typed: str, read: dict[str, float]) -> None:
    assert typed_heights_mm(typed) == pytest.approx(read)


@pytest.mark.parametrize("typed", ["high", "G", "G high", "4.2 G", "G 5 - 6", ",;"])
def test_heights_that_are_none_are_refused(typed: str) -> None:
    with pytest.raises(PassportError) as refusal:
        typed_heights_mm(typed)
    assert refusal.value.todo
