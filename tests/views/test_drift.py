"""What has moved, as a page says it."""

from __future__ import annotations

import re
import shutil
from math import sqrt
from pathlib import Path

import pytest

from passport.analysis.trends import drift_of
from passport.records.catalogue import load
from passport.records.model.marks import Audience
from passport.views.drift import over_the_years
from passport.views.numbers import MINUS
from passport.views.project import project
from passport.views.tree import InstrumentView, WorkedTable, Workings
from tests import archives

CELLO = "YXSP8BQ"


@pytest.fixture(scope="module")
def told() -> dict[str, tuple[Workings, ...]]:
    archive = archives.demo()
    audiences: tuple[Audience, ...] = ("public", "shop")
    return {audience: project(archive, (), audience).instruments[CELLO].drift for audience in audiences}


def words(workings: tuple[Workings, ...]) -> str:
    return repr(workings)


def changes(told: Workings) -> WorkedTable:
    return told.tables[-1]


def test_the_latest_epoch_comes_first_then_the_older_then_the_years(told: dict[str, tuple[Workings, ...]]) -> None:
    titles = [each.title for each in told["shop"]]
    assert [re.findall(r"S\d+", title) for title in titles] == [["S8", "S11"], ["S1", "S7"], []]
    assert told["shop"][-1].drawings


def test_the_public_sees_only_what_public_sheets_tell(told: dict[str, tuple[Workings, ...]]) -> None:
    hidden = {"S3", "S5", "S6", "S7", "S10"}
    assert hidden <= set(re.findall(r"\bS\d+\b", words(told["shop"])))
    assert not hidden & set(re.findall(r"\bS\d+\b", words(told["public"])))
    assert not any(each.tables[0].columns[0] == "Reading" for each in told["public"] if each.tables)


def test_every_change_can_be_worked_out_again_from_its_row(told: dict[str, tuple[Workings, ...]]) -> None:
    rows = [row for each in told["shop"][:2] for row in changes(each).rows]
    assert len(rows) > 10
    for _, change, verdict, then, now, limit, sure in rows:
        moved, expanded = (float(part.replace(MINUS, "-")) for part in change.split(" ± "))
        assert moved == pytest.approx(float(now) - float(then), abs=0.11)
        gauge_then, gauge_now, method = map(float, re.findall(r"[\d.]+", sure))
        assert expanded == pytest.approx(2 * sqrt(gauge_then**2 + gauge_now**2 + 2 * method**2), abs=0.06)
        look = float(limit.split(" / ")[0])
        # Rounded figures may stand on either side of a limit.
        if abs(abs(moved) - look) - expanded > 0.1:
            assert verdict.startswith("moved" if abs(moved) > look else "not moved")
        if expanded - abs(abs(moved) - look) > 0.1:
            assert verdict == "cannot tell"


def test_the_cello_tells_of_its_sunken_neck_and_that_nothing_has_moved_since(
    told: dict[str, tuple[Workings, ...]],
) -> None:
    _, before, years = told["shop"]
    verdicts = {row[0]: row[2] for row in changes(before).rows}
    assert verdicts["Neck"].startswith("moved")
    assert (verdicts["Bridge, by the strings"], verdicts["Arch height, top"]) == ("not moved", "not moved")
    assert "neck has sunk" in before.tables[0].rows[0][0]
    assert all(not row[2].startswith("moved") for row in changes(told["shop"][0]).rows)
    assert len(years.tables[0].rows) == 11


def test_gauges_are_assumed_only_where_none_is_named() -> None:
    site = project(archives.demo(), (), "shop").instruments
    assert not any("Assumed" in line for each in site["ZVSPYJH"].drift for line in each.lacking)


def test_an_instrument_without_a_second_sheet_says_nothing(tmp_path: Path) -> None:
    archive = load(archives.write(tmp_path))
    site = project(archive, (), "shop").instruments
    assert site[archives.OTHER].drift == ()
    (one,) = site[archives.LISTED].drift
    assert "no gauge is named" in words((one,))


def test_the_rule_of_the_verdicts_is_cited_by_the_edition_whose_bands_they_are(
    told: dict[str, tuple[Workings, ...]],
) -> None:
    """The edition of 2017 is content with k = 1.65 (from memory); here k is 2."""
    assert "ISO 14253-1:1998" in changes(told["shop"][0]).source
    assert "2017" not in changes(told["shop"][0]).source


def test_what_a_trend_meets_is_said_of_no_epoch_that_has_ended() -> None:
    archive = archives.demo()
    record, gauges = archive.instruments[CELLO].record, archive.gauges.record.gauges or {}
    before, _ = drift_of(record, gauges)
    assert "act limit about" not in words(tuple(over_the_years((before,), record.string_names)))
    unended = record.model_copy(update={"setups": (record.setups or ())[:7], "history": None})
    (alone,) = drift_of(unended, gauges)
    assert "act limit about" in words(tuple(over_the_years((alone,), record.string_names)))


DIAL = "dial: {uncertainty: 0.02, unit: mm}\n"
HIDDEN_SHEET = """\
  - sheet: S10b
    audience: shop
    taken: {date: 2025-07-01, when: after_work, by: Ilse}
    fitted: {post: P77}

"""
HIDDEN_WORK = "  - {date: 2025-06-11, event: fingerboard_planed, audience: shop, by: Ilse, did: a shaving taken off}\n"
SHOWN_WORK = "  - {date: 2025-06-12, event: nut_lowered, by: Jory}\n"


def after_hidden_work(root: Path, *, history: str = "", sheet: str = "") -> dict[Audience, InstrumentView]:
    """The cello of the demo, worked on between S8 and S11: its page for each audience."""
    shutil.copytree(archives.DEMO, root, ignore=shutil.ignore_patterns("photos"))
    file = root / "instruments" / f"{CELLO}.yml"
    text = file.read_text(encoding="utf-8").replace("C: 7.2, G: 6.4, D: 5.7", "C: 9.2, G: 8.4, D: 7.7")
    text = text.replace("  - sheet: S11\n", f"{sheet}  - sheet: S11\n").replace("\nphotos:", f"{history}\nphotos:")
    file.write_text(text, encoding="utf-8")
    archive = load(root)
    audiences: tuple[Audience, ...] = ("public", "shop")
    return {audience: project(archive, (), audience).instruments[CELLO] for audience in audiences}


def compared(view: InstrumentView) -> dict[str, str]:
    """Each quantity of the latest comparison with its verdict."""
    return {row[0]: row[2] for row in changes(view.drift[0]).rows}


def test_what_hidden_work_touched_is_compared_on_neither_page(tmp_path: Path) -> None:
    untouched = after_hidden_work(tmp_path / "untouched")
    worked = after_hidden_work(tmp_path / "worked", history=HIDDEN_WORK)
    assert compared(untouched["public"])["String height, C"].startswith("moved")
    for view in worked.values():
        assert compared(view)["String height, C"] == compared(view)["Neck"] == "cannot tell"
        assert compared(view)["Arch height, top"] == "not moved"
        assert view.setup is not None
        rows = {row.name: row for row in view.setup.headline}
        assert rows["String height, C"].moved == "cannot tell"
        assert rows["String length"].moved != "cannot tell"


def test_of_hidden_work_the_public_is_told_only_that_the_instrument_was_worked_on(tmp_path: Path) -> None:
    public, shop = after_hidden_work(tmp_path / "demo", history=HIDDEN_WORK + SHOWN_WORK, sheet=HIDDEN_SHEET).values()
    said = [line for line in public.drift[0].lacking if "cannot be compared" in line]
    assert "Neck cannot be compared: it was worked on between the two." in said
    assert "Arch height, back cannot be compared: it was worked on between the two." in said
    assert "String height, C cannot be compared: nut lowered on 12 June 2025." in said
    secrets = ("planed", "shaving", "11 June", "P77", "S10b", "July 2025")
    assert [secret for secret in secrets if secret not in repr(shop)] == []
    assert [secret for secret in (*secrets, "2025-06-11", "2025-07") if secret in repr(public)] == []


@pytest.mark.parametrize("end", ["history", "sheet"])
def test_hidden_work_or_a_hidden_reference_ends_what_the_public_sheets_foretell(tmp_path: Path, end: str) -> None:
    lines = (
        f"  - {{sheet: S{index}, role: {'check' if index else 'reference'}, taken: {{date: {2010 + 3 * index}-01-10}}, "
        f"state: {{temperature: 20, humidity: 45, days: 14}}, gauges: {{all: dial}}, "
        f"arch_height: {{top: {27 - index / 4}}}}}\n"
        for index in range(4)
    )
    sheets = "".join(lines)
    hidden = {
        "history": "history: [{date: 2021-06-01, event: soundpost_replaced, audience: shop}]\n",
        "sheet": "  - {sheet: S9, audience: shop, role: reference, taken: {date: 2021-06-01}}\n",
    }
    told = []
    for more in ("", hidden[end]):
        changed = archives.SECOND + f"setups:\n{sheets}{more}"
        files = {f"instruments/{archives.OTHER}.yml": changed, "gauges.yml": f"{archives.GAUGES}  {DIAL}"}
        archive = load(archives.write(tmp_path, files))
        told.append("act limit about" in words(project(archive, (), "public").instruments[archives.OTHER].drift))
    assert told == [True, False]
