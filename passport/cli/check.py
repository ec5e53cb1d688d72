"""`passport check`: look through the records and say what is wrong."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from passport.checks import completeness, examined, judged
from passport.cli.console import err, out
from passport.findings import Finding, Severity
from passport.kept import Notebook
from passport.records.catalogue import Archive, find_root, load, located
from passport.report import as_json, print_findings, summary


@click.command(short_help="Say what to mend in the records.")
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print the findings."
)
@click.option("--strict", is_flag=True, help="Let warnings fail the check too.")
@click.option("--missing", is_flag=True, help="Say also what a buyer, an insurer or the next repairer would miss.")
def check(paths: tuple[Path, ...], form: str, strict: bool, missing: bool) -> None:  # noqa: FBT001 - click passes flags so
    """Check the records in PATH (a file or a folder; default: records) and say what to mend."""
    wanted = paths or (Path("records"),)
    findings: list[Finding] = []
    shares: list[str] = []
    records = 0
    for root in dict.fromkeys(find_root(path) for path in wanted):
        notebook = Notebook(root.parent)
        archive = load(root, notebook=notebook)
        instruments = examined(archive, notebook)
        notebook.save()
        found = judged(archive, instruments)
        notes = (note for each in instruments.values() for note in each.asked.notes if missing)
        findings += sorted(
            (each for each in (*found, *located(notes)) if _is_below(each.file, wanted)), key=lambda f: f.order
        )
        if all(path == root for path in wanted):
            shares.append(completeness.shares((each.asked for each in instruments.values()), with_way=not missing))
        records += _count(archive, wanted)
    if form == "json":
        click.echo(as_json(findings))
    else:
        print_findings(out, findings)
        err.print(summary(findings, records))
        for line in filter(None, shares):
            err.print(line)
    sys.exit(_status(findings, strict=strict))


def _is_below(file: str, wanted: tuple[Path, ...]) -> bool:
    return any(path == Path(file) or path in Path(file).parents for path in wanted)


def _count(archive: Archive, wanted: tuple[Path, ...]) -> int:
    return sum(_is_below(filed.file, wanted) for filed in archive.records())


def _status(findings: list[Finding], *, strict: bool) -> int:
    failing = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    return int(any(finding.severity in failing for finding in findings))
