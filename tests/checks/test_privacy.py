"""Private things in public words, and in version control."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from passport.checks import check
from passport.findings import Code, Finding
from passport.git import tracked
from passport.records.catalogue import load
from tests import archives
from tests.archives import LISTED

PRIVATE = f"schema: 1\nid: {LISTED}\nowners:\n  - {{name: Marguerite Quell, since: 2021-11-25}}\n"


def told(root: Path) -> list[Finding]:
    return [finding for finding in check(load(root)) if finding.code is Code.PRIVATE_IN_TEXT]


def with_words(root: Path, words: str) -> Path:
    violin = archives.VIOLIN.replace("did: seam closed", f'did: "{words}"')
    return archives.write(root, {f"instruments/{LISTED}.yml": violin, f"private/{LISTED}.yml": PRIVATE})


@pytest.mark.parametrize(
    "words",
    [
        "for Marguerite Quell", "collected by Ms Quell", "MARGUERITE QUELL", "write to m.quell@quell.example",
        "ring +49 30 1234 5678", "ring 030/12345678", "paid 120 EUR", "paid €120", "GBP 85 on account",
    ],
)  # fmt: skip
def test_a_name_a_contact_or_a_price_in_public_words_warns_at_its_place(tmp_path: Path, words: str) -> None:
    (finding,) = told(with_words(tmp_path / "records", words))
    assert finding.path == ("history", 2, "did")
    assert finding.line > 1
    assert "Quell" not in finding.what + finding.todo


@pytest.mark.parametrize(
    "words",
    ["seam closed", "by 0.5 on 2024-08-09", "between 30.0-30.2 and 355", "quelled the rattle",
     "lot SP09B, wedge 4, 120 g", "Europe 2024", "004411"],
)  # fmt: skip
def test_the_usual_words_of_the_bench_do_not(tmp_path: Path, words: str) -> None:
    assert told(with_words(tmp_path / "records", words)) == []


def test_words_that_stay_in_the_shop_may_hold_names(tmp_path: Path) -> None:
    violin = archives.VIOLIN.replace("event: sold, note:", "event: sold, note: to Marguerite Quell, did:")
    root = archives.write(tmp_path / "records", {f"instruments/{LISTED}.yml": violin, f"private/{LISTED}.yml": PRIVATE})
    assert told(root) == []


def git(root: Path, *words: str) -> None:
    subprocess.run(["git", "-C", str(root), *words], check=True)  # noqa: S603, S607 - the git of this machine


def test_private_files_in_git_are_told_unless_they_are_meant_to_be_there(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    assert tracked(root, "private") == ()
    git(root, "init", "-q")
    assert tracked(root, "private") == ()
    git(root, "add", ".")
    assert len(tracked(root, "private")) == 2
    codes = [finding.code for finding in check(load(root))]
    assert codes.count(Code.PRIVATE_IN_GIT) == 1
    meant = archives.WORKSHOP + "private_in_git: a test, nothing in it is true\n"
    archives.write(root, {"workshop.yml": meant})
    assert Code.PRIVATE_IN_GIT not in [finding.code for finding in check(load(root))]


def test_a_folder_that_is_not_there_is_kept_by_nobody(tmp_path: Path) -> None:
    assert tracked(tmp_path / "nowhere", "private") == ()
