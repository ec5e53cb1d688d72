"""The wording of findings is pinned here, and nowhere else."""

from __future__ import annotations

import io
import json
from pathlib import Path

from rich.console import Console

from passport.checks import check
from passport.findings import Code, Finding
from passport.records.catalogue import load
from passport.report import LONGEST_LINE, as_json, print_findings, summary
from tests.checks.examples import changed


def printed(findings: list[Finding]) -> str:
    out = io.StringIO()
    print_findings(Console(file=out, width=40, color_system=None), findings)
    return out.getvalue()


def test_finding_is_printed_with_its_line_a_caret_and_what_to_do(archive: Path) -> None:
    changed(archive, "instruments/CZ6EP3J.yml", "string_length: 328", "sting_length: 328")
    file = (archive / "instruments/CZ6EP3J.yml").as_posix()
    assert printed(list(check(load(archive)))) == (
        f"{file}:45:5: error unknown-field\n"
        "  there is no field “sting_length” here\n"
        "   45 │     sting_length: 328\n"
        "            ^\n"
        "  → did you mean “string_length”?\n"
        "\n"
    )


def test_finding_is_given_as_json(archive: Path) -> None:
    changed(archive, "instruments/CZ6EP3J.yml", "all: rule}", "all: ruler}")
    (row,) = json.loads(as_json(check(load(archive))))
    assert row == {
        "code": "unknown-gauge",
        "severity": "error",
        "file": (archive / "instruments/CZ6EP3J.yml").as_posix(),
        "line": 43,
        "column": 19,
        "field": "setups.0.gauges.all",
        "what": "there is no gauge “ruler”",
        "todo": "did you mean “rule”?",
    }


def test_caret_stands_under_its_place_in_a_line_of_any_length(tmp_path: Path) -> None:
    line = "a: [" + ", ".join(f"word{number}" for number in range(200)) + "]"
    path = tmp_path / "r.yml"
    path.write_text(f"{line}\n", encoding="utf-8")
    for number in (0, 1, 50, 120, 199):
        column = line.index(f"word{number}") + 1
        finding = Finding(Code.BAD_NUMBER, path.as_posix(), "what", "", line=1, column=column)
        quoted, caret = printed([finding]).split("\n")[2:4]
        assert quoted[caret.index("^") :].startswith(f"word{number}"[:1])
        assert line[column - 1 :].startswith(quoted[caret.index("^") :].rstrip("…"))
        assert len(quoted) <= LONGEST_LINE + len("    1 │ …")


def test_tab_and_signs_of_the_printer_leave_the_caret_in_place(tmp_path: Path) -> None:
    path = tmp_path / "r.yml"
    path.write_bytes(b"\xef\xbb\xbfa: [bold]\tx [/] #y\r\n")
    quoted, caret = printed([Finding(Code.SWALLOWED, path.as_posix(), "[b]", "", line=1, column=17)]).split("\n")[2:4]
    assert quoted[caret.index("^")] == "#"
    assert "[bold] x [/] #y" in quoted


def test_finding_in_a_file_that_is_gone_or_shorter_is_printed_without_a_line(tmp_path: Path) -> None:
    (tmp_path / "r.yml").write_text("a: b\n", encoding="utf-8")
    for name, line in (("gone.yml", 1), ("r.yml", 9), ("r.yml", 0)):
        text = printed([Finding(Code.UNREADABLE, (tmp_path / name).as_posix(), "what", "do", line=line, column=1)])
        assert "^" not in text
        assert text.split("\n")[1:3] == ["  what", "  → do"]


def test_summary_counts_by_severity_worst_first() -> None:
    found = [Finding(code, "r.yml", "", "") for code in (Code.UNUSED_LOT, Code.TAG, Code.ALIAS, Code.STRAY_FILE)]
    assert summary(found, 3) == "3 records checked: 2 errors, 1 warning, 1 note."
    assert summary([], 1) == "1 record checked: nothing to mend."
