"""`passport verify`: what is issued by one command holds for the other, and whatever was done to it is said."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from passport.credentials.known import known
from passport.credentials.words import say, words
from passport.kept import Notebook
from tests.archives import LISTED, OTHER
from tests.cli.running import Run
from tests.cli.secrets import signing
from tests.cli.test_issue import changed
from tests.credentials.cases import CASES

ISSUED = Path("records") / "issued"


@pytest.fixture
def issued(keyed: Path, run: Run) -> Path:
    """The folder of an issue."""
    return (keyed / signing(run, "issue", LISTED).out.strip()).parent


def said(code: str) -> str:
    """The beginning of a sentence, as far as nothing is filled in."""
    return words()[code].partition("{")[0]


def test_what_was_issued_holds(issued: Path, run: Run) -> None:
    done = run("verify", str(issued))
    assert done.code == 0
    assert done.out.count(say("result.holds").text) == 6
    assert f"number {LISTED}" in done.out
    assert say("covered.proof").text in done.out
    assert "“records”" in done.err


def test_everything_ever_issued_holds_or_is_superseded(issued: Path, run: Run) -> None:
    signing(run, "issue", OTHER)
    assert run("verify", str(ISSUED)).code == 0
    changed(issued.parents[3], old="328", new="328.0")
    signing(run, "issue", LISTED)
    done = run("verify", str(ISSUED))
    assert done.code == 1
    assert done.out.count(said("verdict.superseded")) >= 1
    assert said("verdict.fails") not in done.out


def test_away_from_the_records_the_key_is_for_the_reader_to_compare(
    issued: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    elsewhere = issued.parents[3].parent / "elsewhere"
    shutil.copytree(issued, elsewhere / "handed over")
    monkeypatch.chdir(elsewhere)
    done = run("verify", "handed over")
    assert done.code == 0
    assert done.out.count(say("result.unchecked").text) == 2
    assert said("verdict.unchecked") in done.out


def test_a_workshop_tells_its_own_passports_from_anothers(issued: Path, run: Run) -> None:
    shop = issued.parents[3]
    away = Path(shutil.copytree(issued, shop / "handed over"))
    shutil.rmtree(shop / ISSUED)
    signing(run, "key", "new", keys=shop / "other keys")
    done = run("verify", str(away))
    assert done.code == 1
    assert "is none of the keys" in done.out


@pytest.mark.parametrize(("old", "new"), [(b"328 mm", b"327 mm"), (b"eddsa-jcs-2022", b"ecdsa-jcs-2019")])
def test_an_altered_passport_does_not_hold(issued: Path, run: Run, old: bytes, new: bytes) -> None:
    path = issued.parents[3] / "altered.json"
    path.write_bytes((issued / f"{LISTED}-001.json").read_bytes().replace(old, new))
    done = run("verify", str(path))
    assert done.code == 1
    assert said("verdict.fails") in done.out
    assert "327 mm" not in done.out


def test_malicious_files_are_answered(issued: Path, run: Run) -> None:
    folder = issued.parents[3] / "malicious"
    folder.mkdir()
    files = [file for _, files, _ in CASES.values() for file in files]
    for number, file in enumerate(files):
        (folder / f"{number}.json").write_bytes(file.content)
    done = run("verify", str(folder))
    assert done.code == 1
    assert len(done.err.splitlines()) == 1
    assert "\x1b[31m" not in done.out


def test_what_cannot_be_checked_is_said_in_a_sentence(issued: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("verify").code == 2
    assert run("verify", "nowhere.json").code == 2
    (issued.parents[3] / "empty").mkdir()
    assert "no file" in run("verify", "empty").err
    monkeypatch.setattr("passport.cli.verify.MOST_BYTES", 10)
    done = run("verify", str(issued))
    assert (done.code, done.out) == (1, "")
    assert "larger" in done.err


def test_the_list_of_what_is_known_is_never_one_of_altered_passports(issued: Path, run: Run) -> None:
    root = issued.parents[2]
    what = known(root, Notebook(root.parent))
    assert len(what.issues) == 1
    path = issued / f"{LISTED}-001.json"
    path.write_bytes(path.read_bytes().replace(b"328 mm", b"327 mm"))
    done = run("verify", str(issued))
    assert done.code == 1
    assert "altered" in done.err


def test_no_number_of_an_instrument_stands_in_the_list(issued: Path) -> None:
    root = issued.parents[2]
    what = known(root, Notebook())
    assert all(LISTED not in digest for digest in what.issues)
    assert not any(LISTED in str(statement.document) for statement in what.statements)
