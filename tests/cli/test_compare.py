"""`passport compare`: what it asks for, what it prints, and how it ends."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests import archives
from tests.archives import LISTED, OTHER
from tests.cli.running import Run

CELLO = "YXSP8BQ"
NEW = """\
sheet: S12
taken: {date: 2026-11-02, when: as_received, by: Jory}
state: {strings: at_pitch, temperature: 20, humidity: 47, days: 10}
gauges: {all: rule_05, string_height: height_wedge, arch_height: arch_bridge}
projection: 78.0
string_height: {C: 10.3, G: 9.5, D: 8.8, A: 8.0, to: underside}
arch_height: {top: 27.1, back: 25.1}
"""


@pytest.fixture
def demo(empty: Path) -> Path:
    for part in ("instruments", "models", "wood", "varnish"):
        shutil.copytree(archives.DEMO / part, empty / "records" / part)
    for file in ("workshop.yml", "gauges.yml"):
        shutil.copy(archives.DEMO / file, empty / "records" / file)
    (empty / "new.yml").write_text(NEW)
    return empty


@pytest.mark.usefixtures("demo")
@pytest.mark.parametrize("typed", ["YXSP8BQ", "yxs-p8bq", " yxsp8bq "])
def test_the_reference_is_held_against_the_latest_sheet_however_the_number_is_typed(run: Run, typed: str) -> None:
    done = run("compare", typed)
    assert (done.code, done.err) == (0, "")
    assert "From S8, 8 October 2024 to S11, 22 September 2026" in done.out


@pytest.mark.usefixtures("demo")
def test_the_columns_of_the_table_stand_below_each_other(run: Run) -> None:
    lines = run("compare", CELLO).out.splitlines()
    head = next(line for line in lines if line.startswith("Quantity"))
    rows = lines[lines.index(head) + 1 : lines.index("", lines.index(head))]
    places = [head.index(column) for column in ("change", "verdict", "limit", "gauge")]
    assert len(rows) >= 8
    assert all(row[place - 1] == " " and row[place] != " " for row in rows for place in places)


@pytest.mark.usefixtures("demo")
def test_sheets_are_named_by_date_or_name_and_work_between_them_is_said(run: Run) -> None:
    by_date = run("compare", CELLO, "--from", "2022-03-18", "--to", "2024-09-10")
    assert by_date.out == run("compare", CELLO, "--from", "S1", "--to", "S7").out
    assert "The neck has sunk" in by_date.out
    assert "neck pulled back on 16 September 2024" in run("compare", CELLO, "--from", "S7", "--to", "S8").out


@pytest.mark.usefixtures("demo")
def test_the_data_hold_every_number_with_how_sure_it_is(run: Run) -> None:
    data = json.loads(run("compare", CELLO, "--from", "S1", "--to", "S7", "--format", "json").out)
    assert (data["id"], data["from"]["sheet"], data["to"]["date"]) == (CELLO, "S1", "2024-09-10")
    neck = next(each for each in data["changes"] if each["quantity"] == "neck")
    assert neck["change"] == pytest.approx(-3.1)
    assert neck["expanded_uncertainty"] == pytest.approx(2 * neck["standard_uncertainty"], abs=1e-3)
    assert (neck["verdict"], neck["beyond_act_limit"], neck["look_limit"], neck["act_limit"]) == (
        "moved", "cannot tell", 1.5, 4.0,
    )  # fmt: skip
    assert [each["gauge"] for each in neck["now"]["gauges"]] == ["rule_05", "arch_bridge"]
    assert data["readings"][0]["sure"] is True
    assert {each["name"] for each in data["trends"]} >= {"Neck", "Projection"}
    assert not any(each["meets_act_limit"] for each in data["trends"])
    assert data["board"]["share_of_stops"] == pytest.approx(580 / 680.5, abs=1e-4)
    apart = json.loads(run("compare", CELLO, "--from", "S7", "--to", "S8", "--format", "json").out)
    fallen = next(each for each in apart["changes"] if each["quantity"] == "neck")
    assert (fallen["change"], fallen["verdict"]) == (None, "cannot tell")
    assert "neck pulled back" in fallen["why_not_compared"]


@pytest.mark.usefixtures("demo")
def test_a_sheet_that_is_in_no_record_yet_is_held_against_the_reference(run: Run) -> None:
    done = run("compare", CELLO, "--sheet", "new.yml")
    assert done.code == 0
    assert "From S8, 8 October 2024 to S12, 2 November 2026" in done.out
    assert "The neck has sunk" in done.out
    assert "Assumed" not in done.out


def test_gauges_that_nobody_named_are_assumed_and_the_assumption_is_printed(demo: Path, run: Run) -> None:
    (demo / "new.yml").write_text(NEW.replace("gauges: {all: rule_05,", "gauges: {all: unheard_of,"))
    done = run("compare", CELLO, "--sheet", "new.yml")
    assert "Assumed on S12: a steel rule with half millimetres, 0.3 mm, since gauges.yml does not know unheard_of." in (
        done.out.replace("\n", " ")
    )
    data = json.loads(run("compare", CELLO, "--sheet", "new.yml", "--format", "json").out)
    assert [each["sheet"] for each in data["assumed"]] == ["S12"]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (NEW.replace("projection: 78.0", "projektion: 78.0"), "unknown-field"),
        (NEW.replace("projection: 78.0", "projection: 7,8,0"), "bad-number"),
        (NEW.replace("projection: 78.0", "projection: 820"), "slip-of-typing"),
        (NEW.replace("2026-11-02", "2096-11-02"), "in-the-future"),
        (NEW.replace("2026-11-02", "2026-02-30"), "bad-date"),
        (NEW.replace("taken: {date: 2026-11-02, when: as_received, by: Jory}\n", ""), "missing-field"),
        (NEW.replace("{C: 10.3", "{C: 10.3, X: 9"), "unknown-string"),
        ("- " + NEW.replace("\n", "\n  "), "not-a-record"),
        ("projection: [", "broken-yaml"),
        ("", "empty-record"),
    ],
)
def test_a_sheet_that_cannot_be_read_is_told_what_is_wrong_with_it(demo: Path, run: Run, text: str, code: str) -> None:
    (demo / "new.yml").write_text(text)
    done = run("compare", CELLO, "--sheet", "new.yml")
    assert (done.code, done.out) == (1, "")
    assert code in done.err
    assert "new.yml:" in done.err


@pytest.mark.usefixtures("demo")
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("YXSP8BR",), "YXSP8B"),
        ((CELLO, "--from", "2021-01-01"), "its sheets: S1 2022-03-18"),
        ((CELLO, "--from", "S8", "--to", "S1"), "S8 was not taken before S1"),
        ((CELLO, "--to", "S1"), "no set-up sheet before S1"),
        ((CELLO, "--sheet", "nowhere.yml"), "there is no file"),
    ],
)
def test_what_cannot_be_compared_is_refused_in_a_sentence(run: Run, arguments: tuple[str, ...], said: str) -> None:
    done = run("compare", *arguments)
    assert (done.code, done.out) == (1, "")
    assert said in done.err
    assert "fault in passport" not in done.err


@pytest.mark.usefixtures("demo")
def test_two_later_sheets_are_not_understood(run: Run) -> None:
    assert run("compare", CELLO, "--to", "S9", "--sheet", "new.yml").code == 2


@pytest.mark.usefixtures("shop")
def test_an_instrument_without_sheets_is_refused_and_one_with_two_is_compared(run: Run) -> None:
    assert "has no set-up sheet" in run("compare", OTHER).err
    assert run("compare", LISTED).code == 0
