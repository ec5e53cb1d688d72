"""What has become of printed labels, for each way in which an archive can change under them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from passport.analysis.printed import Fate, judged, unlabelled
from passport.checks import check
from passport.findings import Code
from passport.records.catalogue import Archive, load
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, SITE, TAIL, UNLISTED

OLD = "https://labels.nether-poole.net/"
HEAD = "date,id,address,stock,kind"
ABOUT_LABELS = (Code.LABEL_WITHOUT_PAGE, Code.LABEL_MOVED)


def archive(root: Path, *rows: str, changes: Mapping[str, str | None] = {}) -> Archive:
    """The small archive with these rows of `id,address`, a day apart, and changes as in `archives.write`.

    A row may go on with a stock and a kind; else it is a label for a case.
    """
    whole = (row if row.count(",") > 1 else f"{row},60x30,case" for row in rows)
    lines = [HEAD, *(f"2024-03-0{day},{row}" for day, row in enumerate(whole, start=1))]
    return load(archives.write(root, {"printed-labels.csv": "\n".join([*lines, ""]), **changes}))


def fates(found: Archive) -> list[Fate]:
    return [each.fate for each in judged(found)]


def reported(found: Archive) -> list[tuple[Code, int]]:
    return [(finding.code, finding.line) for finding in check(found) if finding.code in ABOUT_LABELS]


def test_labels_of_every_page_lead_there(tmp_path: Path) -> None:
    found = archive(
        tmp_path, f"{LISTED},{SITE}{LISTED}/", f"{UNLISTED},{SITE}{UNLISTED}-{TAIL}/", f"{OTHER},{SITE.upper()}{OTHER}/"
    )
    assert fates(found) == [Fate.LEADS] * 3
    assert reported(found) == []


@pytest.mark.parametrize(
    ("row", "changes", "fate"),
    [
        (f"{LISTED},{OLD}{LISTED}/", {}, Fate.MOVED),
        (f"{LISTED},{SITE.replace('https', 'http')}{LISTED}/", {}, Fate.MOVED),
        (f"{LISTED},{SITE}{LISTED.lower()}/", {}, Fate.MOVED),
        (f"{UNLISTED},{SITE}{UNLISTED}-{TAIL[::-1]}/", {}, Fate.MOVED),
        (f"{SHOP_ONLY},{SITE}{SHOP_ONLY}/", {}, Fate.SHOP_ONLY),
        (f"{UNLISTED},{SITE}{UNLISTED}/", {}, Fate.NOW_UNLISTED),
        (f"{UNLISTED},{OLD}{UNLISTED}/", {}, Fate.NOW_UNLISTED),
        (f"{LISTED},https://tamm-penn.example/{LISTED}/", {}, Fate.UNREACHABLE),
        (f"{LISTED},http://192.168.1.10/{LISTED}/", {}, Fate.UNREACHABLE),
        (f"{OTHER},{SITE}{OTHER}/", {f"instruments/{OTHER}.yml": None}, Fate.NO_RECORD),
        (f"{OTHER},{SITE}{OTHER}/", {f"instruments/{OTHER}.yml": "id: ["}, Fate.UNREAD),
        (f"{UNLISTED},{SITE}{UNLISTED}-{TAIL}/", {f"private/{UNLISTED}.yml": None}, Fate.NO_ADDRESS),
    ],
)
def test_a_label_whose_page_is_not_there_says_why(
    tmp_path: Path, row: str, changes: dict[str, str | None], fate: Fate
) -> None:
    assert fates(archive(tmp_path, row, changes=changes)) == [fate]


@pytest.mark.parametrize(
    ("row", "code"),
    [
        (f"{LISTED},{OLD}{LISTED}/", Code.LABEL_MOVED),
        (f"{UNLISTED},{SITE}{UNLISTED}-{TAIL[::-1]}/", Code.LABEL_MOVED),
        (f"{SHOP_ONLY},{SITE}{SHOP_ONLY}/", Code.LABEL_WITHOUT_PAGE),
        (f"{UNLISTED},{SITE}{UNLISTED}/", Code.LABEL_WITHOUT_PAGE),
        (f"{LISTED},https://tamm-penn.example/{LISTED}/", Code.LABEL_WITHOUT_PAGE),
    ],
)
def test_the_check_points_at_the_line_of_the_list(tmp_path: Path, row: str, code: Code) -> None:
    assert reported(archive(tmp_path, f"{OTHER},{SITE}{OTHER}/", row)) == [(code, 3)]


def test_a_hundred_labels_of_a_former_host_are_one_warning(tmp_path: Path) -> None:
    rows = [f"{LISTED},{OLD}{LISTED}/", f"{OTHER},{OLD}{OTHER}/", f"{UNLISTED},{OLD}{UNLISTED}-{TAIL}/"]
    assert reported(archive(tmp_path, *rows)) == [(Code.LABEL_MOVED, 2)]


def test_a_former_address_that_sends_visitors_on_is_at_rest(tmp_path: Path) -> None:
    workshop = f"{archives.WORKSHOP}former_addresses: [{OLD}]\n"
    found = archive(tmp_path, f"{LISTED},{OLD}{LISTED}/", changes={"workshop.yml": workshop})
    assert fates(found) == [Fate.REDIRECTED]
    assert reported(found) == []


def test_a_label_printed_anew_puts_the_old_one_to_rest_and_an_older_one_does_not(tmp_path: Path) -> None:
    old, new = f"{LISTED},{OLD}{LISTED}/", f"{LISTED},{SITE}{LISTED}/"
    anew = judged(archive(tmp_path / "anew", old, new))[0]
    back = judged(archive(tmp_path / "back", new, old))[1]
    assert (anew.has_moved, anew.replaced) == (False, "2024-03-02")
    assert (back.has_moved, back.replaced) == (True, "")


@pytest.mark.parametrize("kind", ["hang-tag", "card"])
def test_a_label_of_another_kind_puts_none_to_rest(tmp_path: Path, kind: str) -> None:
    old, new = f"{LISTED},{OLD}{LISTED}/", f"{LISTED},{SITE}{LISTED}/"
    case_first = judged(archive(tmp_path / "case", old, f"{new},100x60,{kind}"))[0]
    other_first = judged(archive(tmp_path / "other", f"{old},100x60,{kind}", new))[0]
    same = judged(archive(tmp_path / "same", f"{old},100x60,{kind}", f"{new},100x60,{kind}"))[0]
    assert (case_first.has_moved, other_first.has_moved, same.has_moved) == (True, True, False)


def test_the_check_names_the_command_that_prints_the_same_kind(tmp_path: Path) -> None:
    lost = f"{LISTED},https://tamm-penn.example/{LISTED}/,100x60,hang-tag"
    moved = f"{UNLISTED},{SITE}{UNLISTED}-{TAIL[::-1]}/,100x140,card"
    found = [each for each in check(archive(tmp_path, lost, moved)) if each.code in ABOUT_LABELS]
    commands = (f"passport label {LISTED} --kind hang-tag", f"passport label {UNLISTED} --kind card")
    assert len(found) == 2
    assert all(command in each.todo for command, each in zip(commands, found, strict=True))


def test_without_an_address_of_the_workshop_only_the_instruments_own_part_is_compared(tmp_path: Path) -> None:
    workshop = archives.WORKSHOP.replace(SITE, "")
    found = archive(
        tmp_path, f"{LISTED},{OLD}{LISTED}/", f"{UNLISTED},{OLD}{UNLISTED}/", changes={"workshop.yml": workshop}
    )
    assert fates(found) == [Fate.LEADS, Fate.NOW_UNLISTED]


def test_labels_lead_to_the_label_address_where_there_is_one(tmp_path: Path) -> None:
    workshop = f"{archives.WORKSHOP}label_address: {OLD}\n"
    found = archive(tmp_path, f"{LISTED},{OLD}{LISTED}/", f"{OTHER},{SITE}{OTHER}/", changes={"workshop.yml": workshop})
    assert fates(found) == [Fate.LEADS, Fate.MOVED]


@pytest.mark.parametrize(
    ("rows", "wanted"),
    [
        ((), {LISTED, OTHER, UNLISTED}),
        ((f"{LISTED},{SITE}{LISTED}/",), {OTHER, UNLISTED}),
        ((f"{LISTED},{OLD}{LISTED}/",), {LISTED, OTHER, UNLISTED}),
        ((f"{UNLISTED},{SITE}{UNLISTED}/",), {LISTED, OTHER, UNLISTED}),
        ((f"{LISTED},{SITE}{LISTED}/,100x60,hang-tag", f"{OTHER},{SITE}{OTHER}/,100x140,card"),
         {LISTED, OTHER, UNLISTED}),
        ((f"{LISTED},{SITE}{LISTED}/", f"{LISTED},{SITE}{LISTED}/,100x140,card"), {OTHER, UNLISTED}),
    ],
)  # fmt: skip
def test_a_label_is_wanted_by_what_has_a_page_and_none_in_its_case_that_says_its_address(
    tmp_path: Path, rows: tuple[str, ...], wanted: set[str]
) -> None:
    assert set(unlabelled(archive(tmp_path, *rows))) == wanted


@pytest.mark.parametrize(
    ("now", "wants_one"), [("in_use", True), ("withdrawn", False), ("missing", False), ("destroyed", False)]
)
def test_nothing_is_there_to_label_once_an_instrument_is_out_of_use(
    tmp_path: Path,
    now: str,
    wants_one: bool,  # noqa: FBT001 - a column of the table
) -> None:
    changed = f"{archives.SECOND}status: {{now: {now}, since: 2024}}\n"
    found = archive(tmp_path, changes={f"instruments/{OTHER}.yml": changed})
    assert (OTHER in unlabelled(found)) is wants_one
