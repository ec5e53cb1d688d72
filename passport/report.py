"""Findings on paper: as lines with the place underlined, or as JSON.

With `cli`, the only room that knows a terminal. It decides nothing; what is said stands in the findings.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path

from rich.console import Console
from rich.text import Text

from passport.findings import Code, Finding, Severity

STYLES = {Severity.ERROR: "bold red", Severity.WARNING: "yellow", Severity.NOTE: "dim"}
# A quoted line longer than this is cut around the caret.
LONGEST_LINE = 100
# Of these files no line can be shown, or none says anything.
UNQUOTABLE = (Code.NOT_TEXT, Code.STRAY_FILE, Code.MISNAMED_RECORD, Code.TOO_LARGE, Code.UNREADABLE)
# What a terminal would obey instead of showing.
CONTROL = re.compile("[\x00-\x1f\x7f-\x9f]")


def as_json(findings: Iterable[Finding]) -> str:
    """Give the findings as a JSON list, one object each, in their order."""
    rows = [
        {
            "code": finding.code.slug,
            "severity": finding.severity.value,
            "file": finding.file,
            "line": finding.line,
            "column": finding.column,
            "field": ".".join(map(str, finding.path)),
            "what": finding.what,
            "todo": finding.todo,
        }
        for finding in findings
    ]
    return json.dumps(rows, ensure_ascii=False, indent=2)


def print_findings(console: Console, findings: Sequence[Finding]) -> None:
    """Print each finding with its line and a caret under the place."""
    for file, group in groupby(findings, key=lambda finding: finding.file):
        found = list(group)
        lines = _lines_of(file) if any(finding.code not in UNQUOTABLE for finding in found) else []
        for finding in found:
            console.print(_finding_text(finding, lines), soft_wrap=True)


def _finding_text(finding: Finding, lines: Sequence[str]) -> Text:
    style = STYLES[finding.severity]
    text = Text()
    text.append(f"{finding.file}:{finding.line}:{finding.column}: ", style="bold")
    text.append(finding.severity.value, style=style)
    text.append(f" {finding.code.slug}\n", style="dim")
    text.append(f"  {finding.what}\n")
    text.append_text(_quoted(finding, lines, style))
    if finding.todo:
        text.append("  → ", style="bold")
        text.append(f"{finding.todo}\n")
    return text


def _quoted(finding: Finding, lines: Sequence[str], style: str) -> Text:
    quoted = Text()
    if finding.code in UNQUOTABLE or not 0 < finding.line <= len(lines) or not lines[finding.line - 1].strip():
        return quoted
    line = CONTROL.sub("\N{REPLACEMENT CHARACTER}", lines[finding.line - 1].replace("\t", " "))
    start = max(0, finding.column - LONGEST_LINE // 2) if len(line) > LONGEST_LINE else 0
    number = f"{finding.line:>5} │ "
    quoted.append(number, style="dim")
    cut = "…" if len(line) > start + LONGEST_LINE else ""
    quoted.append(f"{line[start : start + LONGEST_LINE].rstrip()}{cut}\n")
    quoted.append(" " * (len(number) + finding.column - 1 - start) + "^\n", style=style)
    return quoted


def _lines_of(file: str) -> list[str]:
    try:
        return Path(file).read_text(encoding="utf-8-sig", errors="replace").split("\n")
    except OSError:
        return []


def summary(findings: Iterable[Finding], records: int) -> str:
    """Say in one line how much was looked at and what was found."""
    counts = Counter(finding.severity for finding in findings)
    found = ", ".join(_counted(counts[severity], severity.value) for severity in Severity if counts[severity])
    return f"{_counted(records, 'record')} checked: {found or 'nothing to mend'}."


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
