"""`passport compare`: what has really moved between two set-up sheets of an instrument."""

from __future__ import annotations

import json
import sys
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

import click

from passport.analysis.alike import in_order, name_of, place_of
from passport.analysis.setup import reference_of
from passport.analysis.trends import drift_between, drift_of
from passport.checks import chronology, plausibility
from passport.cli.console import aligned, err, out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_instrument
from passport.errors import PassportError
from passport.findings import Severity
from passport.records.catalogue import Archive, find_root, load, located
from passport.records.filed import Filed, load_file
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet
from passport.report import print_findings
from passport.views.drift import READING, comparison_workings, over_the_years
from passport.views.drift_data import comparison_data
from passport.views.instrument import kind_and_size
from passport.views.tree import Workings

WIDTH = 100


@click.command(short_help="Say what has really moved since the reference set-up.")
@click.argument("number", metavar="ID")
@click.option("--from", "then", metavar="DATE", default="",
              help="The earlier sheet: its date or name; the reference unless given.")  # fmt: skip
@click.option("--to", "now", metavar="DATE", default="",
              help="The later sheet: its date or name; the latest unless given.")  # fmt: skip
@click.option("--sheet", "file", metavar="FILE", type=click.Path(path_type=Path),
              help="A sheet not yet in the record, written like one entry of setups.")  # fmt: skip
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print it.")
@RECORDS
def compare(number: str, then: str, now: str, file: Path | None, form: str, records: Path) -> None:
    """Hold two set-up sheets of instrument ID against each other: what moved, how sure that is, what it may mean."""
    if now and file:
        raise click.UsageError("the later sheet is the one of --to or the one of --sheet, not both")
    archive = load(find_root(records))
    stem = typed_instrument(archive, number)
    record, gauges = archive.instruments[stem].record, archive.gauges.record.gauges or {}
    new = _sheet_in(file) if file else None
    if file is not None and new is not None:
        record = record.model_copy(update={"setups": (*(record.setups or ()), new)})
        _refuse_impossible(archive, stem, record, file)
    one, other = _two_sheets(stem, record, then, now, new)
    found = drift_between(record, gauges, one, other)
    epochs = [epoch for epoch in drift_of(record, gauges) if epoch.latest.then is one and epoch.latest.now is other]
    strings = record.string_names
    if form == "json":
        data = {"id": stem, "kind": record.kind, "size": record.size, **comparison_data(found, epochs, strings)}
        click.echo(json.dumps(data, ensure_ascii=False, indent=2))
        return
    out.print(f"{stem}, {kind_and_size(record.kind, record.size)}", markup=False)
    for each in (comparison_workings(found, strings), *over_the_years(epochs, strings)):
        out.print("\n".join(("", *_lines(each))), markup=False)


def _sheet_in(file: Path) -> SetupSheet:
    """Read a sheet that stands in no record yet; ends with 1 where it has errors, after saying all of them."""
    if not file.is_file():
        raise PassportError(f"there is no file “{file}”", "write the sheet like one entry of setups, without the dash")
    sheet, _, findings = load_file(file, SetupSheet)
    print_findings(err, located(findings))
    if sheet is None or any(finding.severity is Severity.ERROR for finding in findings):
        sys.exit(1)
    return sheet


def _refuse_impossible(archive: Archive, stem: str, record: Instrument, file: Path) -> None:
    """Say of the sheet what a check of the record would; ends with 1 where it holds what cannot be."""
    *before, new = record.setups or ()
    at = ("setups", len(before))
    # A record keeps what is unusual as it came in; here numbers are made of it, so that it is held like any other.
    taken = new.taken.model_copy(update={"when": "settled"}) if new.taken else None
    like = record.model_copy(update={"setups": (*before, new.model_copy(update={"taken": taken}))})
    tried = replace(archive, instruments={**archive.instruments, stem: Filed(file.as_posix(), like)})
    found = [each for family in (chronology, plausibility) for each in family.of_instrument(tried, stem)]
    of_sheet = [replace(each, path=each.path[len(at) :]) for each in found if each.path[: len(at)] == at]
    print_findings(err, located(of_sheet))
    if any(each.severity is Severity.ERROR for each in of_sheet):
        sys.exit(1)


def _two_sheets(
    stem: str, record: Instrument, then: str, now: str, new: SetupSheet | None
) -> tuple[SetupSheet, SetupSheet]:
    sheets = in_order(record.setups or ())
    if new is None and not sheets:
        raise PassportError(f"{stem} has no set-up sheet", "write one under setups, or compare with --sheet FILE")
    other = new or (_meant(stem, sheets, now) if now else sheets[-1])
    before = sheets[: place_of(sheets, other)]
    one = _meant(stem, sheets, then) if then else reference_of(before)
    if one is None:
        raise PassportError(
            f"{stem} has no set-up sheet before {name_of(other)} to compare it with", f"its sheets: {_listed(sheets)}"
        )
    if not any(sheet is one for sheet in before):
        todo = "name the earlier sheet with --from and the later one with --to"
        raise PassportError(f"{name_of(one)} was not taken before {name_of(other)}", todo)
    return one, other


def _meant(stem: str, sheets: Sequence[SetupSheet], typed: str) -> SetupSheet:
    """Give the sheet of a date or a name; of several on one day the last."""
    found = [sheet for sheet in sheets if typed in (sheet.sheet, _date(sheet))]
    if not found:
        raise PassportError(f"{stem} has no set-up sheet of {typed}", f"its sheets: {_listed(sheets)}")
    return found[-1]


def _date(sheet: SetupSheet) -> str:
    return sheet.taken.date.text if sheet.taken and sheet.taken.date else ""


def _listed(sheets: Sequence[SetupSheet]) -> str:
    return ", ".join(f"{name_of(sheet)} {_date(sheet)}".strip() for sheet in sheets)


def _lines(told: Workings) -> Iterator[str]:
    """Set a piece of work as lines for a terminal: tables aligned, a reading over two lines."""
    yield told.title
    for table in told.tables:
        yield ""
        if table.columns == READING:
            yield f"{table.caption}:"
            for says, since, measure in table.rows:
                yield f"- {says}{f' ({since})' if since else ''}"
                yield f"  → {measure}"
        else:
            yield from aligned((table.columns, *table.rows))
            yield from ("", _filled(table.rule)) if table.rule else ()
    for words in (told.notes, told.lacking):
        yield from ("", *map(_filled, words)) if words else ()


def _filled(words: str) -> str:
    return textwrap.fill(words, WIDTH, break_on_hyphens=False, break_long_words=False)
