"""`passport export`: the same as the pages say, for a program and for a spreadsheet."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest

from tests import archives
from tests.archives import LISTED, OTHER, SECRET, SHOP_ONLY, SITE, TAIL, UNLISTED
from tests.cli.running import Run


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("form", ["jsonl", "csv"])
@pytest.mark.usefixtures("shop")
def test_what_is_in_no_list_is_in_no_export(run: Run, form: str) -> None:
    said = run("export", "--format", form).out
    assert LISTED in said
    assert OTHER in said
    assert [word for word in (UNLISTED, TAIL, SHOP_ONLY, SECRET) if word in said] == []


def test_a_line_is_the_data_of_the_page_with_its_address(shop: Path, run: Run) -> None:
    run("build")
    lines = {line["id"]: line for line in map(json.loads, run("export").out.splitlines())}
    assert lines.keys() == {LISTED, OTHER}
    page = json.loads((shop / "site" / LISTED / "record.json").read_text(encoding="utf-8"))
    assert lines[LISTED].pop("address") == f"{SITE}{LISTED}/"
    assert lines[LISTED] == page


@pytest.mark.usefixtures("shop")
def test_a_row_has_the_reference_set_up_with_units_in_the_heads(run: Run) -> None:
    found = {row["id"]: row for row in rows(run("export", "--format", "csv").out)}
    assert found[LISTED]["set-up: String length (mm)"] == "328"
    assert found[LISTED]["set-up: String height, E (mm)"] == "3.5"
    assert found[LISTED]["instrument"] == "Violin 4/4"
    assert found[OTHER]["set-up: String length (mm)"] == ""


def test_words_that_a_spreadsheet_would_run_are_words(shop: Path, run: Run) -> None:
    violin = archives.VIOLIN.replace("serial: TP 88", 'serial: "=1+1"')
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": violin})
    found = {row["id"]: row for row in rows(run("export", "--format", "csv").out)}
    assert found[LISTED]["serial"] == "'=1+1"


def test_a_file_is_written_whole_and_a_spreadsheet_reads_its_letters(shop: Path, run: Run) -> None:
    assert run("export", "--format", "csv", "--out", "all.csv").out.strip() == "all.csv"
    assert (shop / "all.csv").read_bytes().startswith(b"\xef\xbb\xbfid,")
    run("export", "--out", "all.jsonl")
    assert (shop / "all.jsonl").read_text(encoding="utf-8").startswith("{")


def test_an_archive_with_an_error_gives_the_rest(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {f"instruments/{OTHER}.yml": "id: [\n"})
    done = run("export")
    assert done.code == 0
    assert LISTED in done.out
