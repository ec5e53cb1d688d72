"""What the public page says of a change when the work behind it is the shop's: that nothing can be said."""

from __future__ import annotations

from pathlib import Path

import pytest

from passport.records.catalogue import load
from passport.views.project import project
from passport.views.tree import InstrumentView
from tests import archives
from tests.archives import LISTED

SHEETS = """\
setups:
  - sheet: S1
    taken: {date: 2021-11-18, when: delivered, by: Jory}
    role: reference
    state: {strings: at_pitch}
    gauges: {all: rule_05}
    fitted: {bridge: B1}
    projection: 27.0
    string_height: {G: 5.0, D: 4.7, A: 4.2, E: 3.5, to: underside}
HIDDEN
  - sheet: S3
    taken: {date: 2025-08-06, when: settled, by: Ilse}
    state: {strings: at_pitch}
    gauges: {all: rule_05}
    projection: 27.0
    string_height: {G: 7.5, D: 7.2, A: 6.7, E: 6.0, to: underside}
history:
  - {date: 2021-11-18, event: setup_complete, sheet: S1}
"""
WORK = "  - {date: 2024-03-02, event: fingerboard_planed, audience: shop, did: quincunx}\n"
PIECE = """\
  - sheet: S2
    taken: {date: 2024-03-02, when: after_work, by: Ilse}
    audience: shop
    fitted: {bridge: quincunx}
"""
REFERENCE = PIECE.replace("fitted: {bridge: quincunx}", "role: reference\n    note: quincunx")


def page(tmp_path: Path, *, hidden: str = "", work: str = "", audience: str = "public") -> InstrumentView:
    violin = archives.VIOLIN[: archives.VIOLIN.index("setups:")] + SHEETS.replace("HIDDEN\n", hidden) + work
    root = archives.write(tmp_path / "records", {f"instruments/{LISTED}.yml": violin})
    return project(load(root), (), audience).instruments[LISTED]  # type: ignore[arg-type]


def moved(view: InstrumentView, name: str) -> str:
    assert view.setup is not None
    return next(row.moved for group in view.setup.groups for row in group.rows if row.name == name)


def test_without_hidden_work_the_change_is_told(tmp_path: Path) -> None:
    view = page(tmp_path)
    assert moved(view, "String height, G") == "+2.5"
    assert "moved" in repr(view.drift)


@pytest.mark.parametrize(("hidden", "work"), [("", WORK), (PIECE, ""), (REFERENCE, "")])
def test_after_hidden_work_nothing_is_judged_and_nothing_is_told_of_it(tmp_path: Path, hidden: str, work: str) -> None:
    view = page(tmp_path, hidden=hidden, work=work)
    assert moved(view, "String height, G") == "cannot tell"
    assert "worked on between" in repr(view)
    for word in ("quincunx", "2024", "S2", "planed"):
        assert word not in repr(view)


def test_the_shop_is_told_what_was_done(tmp_path: Path) -> None:
    view = page(tmp_path, work=WORK, audience="shop")
    assert moved(view, "String height, G") == "cannot tell"
    assert "planed" in repr(view.drift)


def test_what_a_hidden_piece_replaced_goes_into_no_sum(tmp_path: Path) -> None:
    sheets = SHEETS.replace("    fitted: {bridge: B1}\n", "    fitted: {bridge: B1}\n    bridge: {height: 32.3}\n")
    violin = archives.VIOLIN[: archives.VIOLIN.index("setups:")]
    told = {}
    for name, hidden in (("none", ""), ("piece", PIECE)):
        text = violin + sheets.replace("HIDDEN\n", hidden)
        root = archives.write(tmp_path / name / "records", {f"instruments/{LISTED}.yml": text})
        told[name] = repr(project(load(root), (), "public").instruments[LISTED].setup_worked)
    assert told["none"].count("height of the bridge H 32.3") == told["piece"].count("height of the bridge H 32.3") == 1
    assert told["none"] != told["piece"]
