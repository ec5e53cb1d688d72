from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from passport.findings import Code
from tests.checks.examples import BAD, EXAMPLES, copied, expected, found

WILLOW = "wood/WI01.yml"


def test_good_archive_has_no_findings(archive: Path) -> None:
    assert found(archive) == []


@pytest.mark.parametrize("slug", sorted(folder.name for folder in BAD.iterdir()))
def test_bad_example_has_exactly_its_findings(slug: str, tmp_path: Path) -> None:
    wanted = expected(BAD / slug)
    assert slug in {line.split()[-1] for line in wanted}
    assert found(copied(tmp_path / "records", BAD / slug)) == wanted


def _a_folder_with_the_name_of_a_record(root: Path) -> list[str]:
    (root / WILLOW).mkdir()
    return [f"{WILLOW}:1:1 unreadable-file"]


def _a_megabyte_and_a_byte(root: Path) -> list[str]:
    (root / WILLOW).write_bytes(b"#" * 1_000_001)
    return [f"{WILLOW}:1:1 file-too-large"]


def _utf_16(root: Path) -> list[str]:
    (root / WILLOW).write_text("lot: WI01\n", encoding="utf-16")
    return [f"{WILLOW}:1:1 not-text"]


def _latin_1(root: Path) -> list[str]:
    (root / WILLOW).write_bytes("lot: WI01\norigin: É, Forêt\n".encode() + "ê".encode("latin-1"))
    return [f"{WILLOW}:3:1 not-utf-8"]


def _a_bell(root: Path) -> list[str]:
    (root / WILLOW).write_bytes(b"lot: WI01\norigin: a\x07b\n")
    return [f"{WILLOW}:2:10 unprintable-character"]


def _a_picture_cut_short(root: Path) -> list[str]:
    picture = root / "photos/CZ6EP3J/front.png"
    picture.write_bytes(picture.read_bytes()[:45])
    lines = (root / "instruments/CZ6EP3J.yml").read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if "front.png" in text)
    return [f"instruments/CZ6EP3J.yml:{line}:12 broken-photo"]


def _private_records_in_git(root: Path) -> list[str]:
    for words in (["init", "-q"], ["add", "private"]):
        subprocess.run(["git", "-C", str(root), *words], check=True)  # noqa: S603, S607 - this machine's git
    return ["workshop.yml:1:1 private-in-git"]


# Files that an editor or a version control system would not carry unharmed.
MADE_HERE = {
    "unreadable-file": _a_folder_with_the_name_of_a_record,
    "file-too-large": _a_megabyte_and_a_byte,
    "not-text": _utf_16,
    "not-utf-8": _latin_1,
    "unprintable-character": _a_bell,
    "broken-photo": _a_picture_cut_short,
    "private-in-git": _private_records_in_git,
}


@pytest.mark.parametrize("slug", MADE_HERE)
def test_bad_file_has_exactly_its_finding(slug: str, archive: Path) -> None:
    wanted = MADE_HERE[slug](archive)
    assert found(archive) == wanted
    assert wanted[0].endswith(slug)


def test_every_code_has_a_bad_example() -> None:
    # Completeness is said only when it is asked for; its example stands in test_completeness.py.
    asked_for = {Code.INCOMPLETE.slug}
    assert {folder.name for folder in BAD.iterdir()} | MADE_HERE.keys() | asked_for == {code.slug for code in Code}


def test_record_broken_in_thirty_ways_gets_all_findings_and_hides_no_other_record(tmp_path: Path) -> None:
    wanted = expected(EXAMPLES / "broken")
    in_one_record = [line for line in wanted if line.startswith("instruments/CZ6EP3J.yml")]
    assert len(in_one_record) == 30
    assert any(line.startswith("wood/") for line in wanted)
    assert found(copied(tmp_path / "records", EXAMPLES / "broken")) == wanted
