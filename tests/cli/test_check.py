"""`passport check`: what it prints, what it looks at, and how it ends."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path

import pytest

from passport.findings import code_named
from tests import archives
from tests.archives import LISTED, OTHER
from tests.cli.running import Run, as_process

ERROR = {f"instruments/{LISTED}.yml": archives.VIOLIN.replace("E: 3.5", "E: 3o5")}
STRANGER = "history: [{date: 2022-03-01, event: setup_complete, by: Nobody}]\n"
WARNING = {f"instruments/{OTHER}.yml": archives.SECOND + STRANGER}
FILE = f"records/instruments/{LISTED}.yml"


@pytest.mark.usefixtures("shop")
def test_an_archive_without_fault_ends_with_0(run: Run) -> None:
    done = run("check")
    assert (done.code, done.out) == (0, "")
    assert "nothing to mend" in done.err


def test_an_error_ends_with_1(shop: Path, run: Run) -> None:
    archives.write(shop / "records", ERROR)
    assert run("check").code == 1


def test_a_warning_fails_only_where_that_is_asked_for(shop: Path, run: Run) -> None:
    archives.write(shop / "records", WARNING)
    assert run("check").code == 0
    assert "unknown-person" in run("check").out
    assert run("check", "--strict").code == 1


def test_a_note_fails_nothing(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {"wood/SP01.yml": archives.LOT.replace("SP09B", "SP01")})
    done = run("check", "--strict")
    assert "unused-lot" in done.out
    assert done.code == 0


@pytest.mark.usefixtures("shop")
def test_what_is_missing_is_counted_and_said_only_when_it_is_asked_for(run: Run) -> None:
    plain, asked = run("check"), run("check", "--missing")
    assert "check --missing" in plain.err
    assert "incomplete" in asked.out
    assert asked.code == 0
    one = run("check", "--missing", "--format", "json", FILE)
    assert [(each["code"], each["file"]) for each in json.loads(one.out)] == [("incomplete", FILE)]
    assert "check --missing" not in run("check", FILE).err


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize("arguments", [("--format", "xml"), ("--nonsense",)])
def test_an_option_that_is_not_understood_ends_with_2(run: Run, arguments: tuple[str, ...]) -> None:
    done = run("check", *arguments)
    assert done.code == 2
    assert done.out == ""


@pytest.mark.usefixtures("shop")
def test_a_fault_of_our_own_ends_with_3_and_says_so(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("[bold]inside[/]")

    monkeypatch.setattr(sys.modules["passport.cli.check"], "load", broken)
    done = run("check")
    assert done.code == 3
    assert "not in your records" in done.err
    assert "[bold]inside[/]" in done.err


@pytest.mark.usefixtures("shop")
def test_a_fault_of_our_own_can_be_seen_whole(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise RuntimeError("inside")

    monkeypatch.setattr(sys.modules["passport.cli.check"], "load", broken)
    monkeypatch.setenv("PASSPORT_DEBUG", "1")
    with pytest.raises(RuntimeError, match="inside"):
        run("check")


@pytest.mark.parametrize(
    "text",
    [
        archives.VIOLIN.replace("E: 3.5", "E: 3o5"),
        archives.VIOLIN.replace("{G: 5.0, D: 4.7, A: 4.2, E: 3.5, to: underside}",
                                "{" + "G: 5.0," + " " * 130 + "E: 3o5, to: underside}"),
        archives.VIOLIN.replace("string_height: {G: 5.0", "string_height: {to: underside, note: 1, G: 5.0").replace(
            ", E: 3.5, to: underside}", ", E: 3o5}"),
    ],
    ids=["short line", "long line", "two faults"],
)  # fmt: skip
def test_the_caret_stands_under_the_fault(shop: Path, run: Run, text: str) -> None:
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": text})
    done = run("check")
    lines = done.out.splitlines()
    carets = [index for index, line in enumerate(lines) if line.strip() == "^"]
    pointed = [lines[index - 1][lines[index].index("^") :] for index in carets]
    assert any(words.startswith("3o5") for words in pointed), done.out
    places = re.findall(rf"^{re.escape(FILE)}:(\d+):(\d+): error", done.out, re.MULTILINE)
    source = text.splitlines()
    assert any(source[int(line) - 1][int(column) - 1 :].startswith("3o5") for line, column in places)


def test_json_holds_the_same_findings_as_the_text(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {**ERROR, **WARNING})
    told, data = run("check"), run("check", "--format", "json")
    rows = json.loads(data.out)
    assert data.code == told.code == 1
    assert data.err == ""
    heads = re.findall(r"^(\S+):(\d+):(\d+): (error|warning|note) (\S+)$", told.out, re.MULTILINE)
    assert heads == [(row["file"], str(row["line"]), str(row["column"]), row["severity"], row["code"]) for row in rows]
    assert {row["severity"] for row in rows} == {"error", "warning"}
    for row in rows:
        assert code_named(row["code"]) is not None
        assert row["what"] in told.out
        assert row["todo"] in told.out


@pytest.mark.usefixtures("shop")
def test_json_of_an_archive_without_fault_is_an_empty_list(run: Run) -> None:
    assert json.loads(run("check", "--format", "json").out) == []


@pytest.mark.parametrize(
    ("path", "files"),
    [
        (FILE, {FILE}),
        ("records/instruments", {FILE, f"records/instruments/{OTHER}.yml"}),
        ("records", {FILE, f"records/instruments/{OTHER}.yml"}),
        ("./records/", {FILE, f"records/instruments/{OTHER}.yml"}),
        ("records/wood", set()),
    ],
)
def test_only_what_lies_below_the_path_is_told(shop: Path, run: Run, path: str, files: set[str]) -> None:
    archives.write(shop / "records", {**ERROR, **WARNING})
    done = run("check", path, "--format", "json")
    assert {row["file"] for row in json.loads(done.out)} == files
    assert done.code == int(FILE in files)


def test_several_paths_are_told_once(shop: Path, run: Run) -> None:
    archives.write(shop / "records", ERROR)
    rows = json.loads(run("check", FILE, "records", FILE, "--format", "json").out)
    assert len(rows) == 1


def test_an_absolute_path_is_fine(shop: Path, run: Run) -> None:
    archives.write(shop / "records", ERROR)
    done = run("check", str(shop / FILE))
    assert done.code == 1
    assert "E: 3o5" in done.out


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize(
    ("path", "says"),
    [
        ("nowhere", "there is no file or folder"),
        ("[/]", "there is no file or folder “[/]”"),
        ("[bold]x", "there is no file or folder “[bold]x”"),
        (".", "does not lie in a folder of records"),
    ],
)
def test_a_path_that_leads_to_no_records_is_said_with_what_to_do(run: Run, path: str, says: str) -> None:
    done = run("check", path)
    assert (done.code, done.out) == (1, "")
    assert says in done.err
    assert "→" in done.err


def test_a_piped_check_is_plain_text(shop: Path) -> None:
    archives.write(shop / "records", {**ERROR, **WARNING})
    done = as_process(shop, "check")
    assert done.returncode == 1
    assert b"\x1b" not in done.stdout + done.stderr
    assert "→" in done.stdout.decode()


def test_a_terminal_that_lacks_the_letters_gets_utf_8(shop: Path) -> None:
    archives.write(shop / "records", ERROR)
    done = as_process(shop, "check", PYTHONIOENCODING="cp1252")
    assert done.returncode == 1
    assert "→" in done.stdout.decode("utf-8")
    assert b"Traceback" not in done.stderr
