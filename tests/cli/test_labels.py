"""`passport labels` and `passport label --all-new`: what was printed, and what still wants a label."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, SITE, UNLISTED
from tests.cli.running import Run

LOG = Path("records") / "printed-labels.csv"
NEW_SITE = "https://pages.upper-harrow.net/"


def numbered(folder: Path) -> list[str]:
    return [line.split(",")[1] for line in (folder / LOG).read_text(encoding="utf-8").splitlines()[1:]]


def moved(shop: Path) -> None:
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, NEW_SITE)})


def test_all_new_prints_what_has_no_label_in_the_order_of_the_shelf_and_then_nothing(shop: Path, run: Run) -> None:
    cello = archives.KEPT.replace(SHOP_ONLY, "YXSP8BQ").replace("customer", "made_here").replace("TP 95", "TP 9")
    ninth = archives.SECOND.replace(OTHER, "B2R2747").replace("TP 90", "TP 9")
    records = {"instruments/YXSP8BQ.yml": cello, "instruments/B2R2747.yml": ninth}
    archives.write(shop / "records", records)
    assert run("label", OTHER).code == 0
    assert run("label", "--all-new", "--out", "labels.pdf").code == 0
    # Violins before cellos, whole ones before 3/4, TP 9 before TP 88.
    assert numbered(shop) == [OTHER, LISTED, UNLISTED, "B2R2747", "YXSP8BQ"]
    before = (shop / LOG).read_bytes()
    again = run("label", "--all-new", "--out", "more.pdf")
    assert (again.code, again.out) == (0, "")
    assert "nothing was printed" in again.err
    assert not (shop / "more.pdf").exists()
    assert (shop / LOG).read_bytes() == before


def test_after_a_change_of_address_all_are_new(shop: Path, run: Run) -> None:
    run("label", "--all-new", "--out", "labels.pdf")
    moved(shop)
    assert run("label", "--all-new", "--out", "labels.pdf").code == 0
    assert sorted(numbered(shop)) == sorted([LISTED, OTHER, UNLISTED] * 2)
    assert run("labels").code == 0
    assert run("check", "--strict").code == 0


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize("arguments", [(), (LISTED, "--all-new"), ("--all-new", "--kind", "card")])
def test_either_numbers_or_all_new_and_that_for_cases_alone(run: Run, arguments: tuple[str, ...]) -> None:
    done = run("label", *arguments)
    assert (done.code, done.out) == (2, "")
    assert "ID" in done.err


@pytest.mark.usefixtures("shop")
def test_a_tag_on_the_bag_is_no_label_in_the_case(run: Run) -> None:
    run("label", LISTED, "--kind", "hang-tag")
    assert run("label", "--all-new", "--out", "labels.pdf").code == 0
    rows = json.loads(run("labels", "--format", "json").out)
    assert [(row["id"], row["kind"]) for row in rows] == [
        (LISTED, "hang-tag"), (LISTED, "case"), (UNLISTED, "case"), (OTHER, "case"),
    ]  # fmt: skip
    assert {row["fate"] for row in rows} == {"leads"}
    assert ["hang-tag" in line for line in run("labels").out.splitlines()] == [True, False, False, False]


def test_a_list_from_before_there_were_kinds_takes_other_kinds_and_forgets_nothing(shop: Path, run: Run) -> None:
    before = f"date,id,address,stock\n2024-03-01,{LISTED},{SITE}{LISTED}/,60x30\n".encode()
    (shop / LOG).write_bytes(before)
    run("label", OTHER, "--kind", "card")
    run("label", "--all-new", "--out", "labels.pdf")
    assert (shop / LOG).read_bytes().startswith(before)
    rows = json.loads(run("labels", "--format", "json").out)
    assert [(row["id"], row["kind"]) for row in rows] == [
        (LISTED, "case"), (OTHER, "card"), (UNLISTED, "case"), (OTHER, "case"),
    ]  # fmt: skip
    assert run("labels").code == run("check", "--strict").code == 0


def test_all_new_keeps_to_the_printer_and_the_cells_that_are_left(shop: Path, run: Run) -> None:
    office = "printers:\n  office: {scale: 99.6, offset_x: 1.1, stock: 63.5x38.1}\n"
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP + office})
    assert run("label", "--all-new", "--preview", "--printer", "office").out.split() == ["preview.png"]
    assert not (shop / LOG).exists()
    assert run("label", "--all-new", "--printer", "office", "--skip", "1-20").out.split() == ["labels.pdf"]
    rows = json.loads(run("labels", "--format", "json").out)
    assert [row["stock"] for row in rows] == ["63.5x38.1"] * 3


def test_a_list_that_a_spreadsheet_saved_is_added_to_and_not_written_over(shop: Path, run: Run) -> None:
    before = f"\ufeffid;date;address;stock;place\r\n{LISTED};01.03.2024;{SITE}{LISTED}/;60x30;drawer 3\r\n".encode()
    (shop / LOG).write_bytes(before)
    assert run("label", "--all-new", "--out", "labels.pdf").code == 0
    after = (shop / LOG).read_bytes()
    assert after.startswith(before)
    assert [line.split(";")[0] for line in after[len(before) :].decode().splitlines()] == [UNLISTED, OTHER]
    assert run("labels").code == 0


def test_the_table_names_each_label_and_the_status_is_one_when_one_leads_nowhere(shop: Path, run: Run) -> None:
    run("label", LISTED, OTHER, "--out", "labels.pdf")
    good = run("labels")
    assert good.code == 0
    first, second = good.out.splitlines()
    assert first.split()[:5] == [LISTED, "violin", "4/4", "TP", "88"]
    assert f"{SITE}{OTHER}/" in second
    (shop / "records" / "instruments" / f"{OTHER}.yml").unlink()
    bad = run("labels")
    assert bad.code == 1
    assert len(bad.out.splitlines()) == 3
    assert OTHER in bad.out


def test_as_data_it_says_the_same(shop: Path, run: Run) -> None:
    run("label", LISTED, UNLISTED, "--out", "labels.pdf")
    moved(shop)
    done = run("labels", "--format", "json")
    rows = json.loads(done.out)
    assert done.code == 0
    assert [(row["id"], row["line"], row["fate"], row["has_moved"]) for row in rows] == [
        (LISTED, 2, "moved", True), (UNLISTED, 3, "moved", True),
    ]  # fmt: skip
    assert rows[0]["now"] == f"{NEW_SITE}{LISTED}/"


@pytest.mark.usefixtures("shop")
def test_before_the_first_label_the_list_is_empty(run: Run) -> None:
    assert (run("labels").code, json.loads(run("labels", "--format", "json").out)) == (0, [])


@pytest.mark.parametrize(
    "content", [b"date,id,address,stock\n2024-03-01,ZVSPYJH,https://pass", "Zürich".encode("latin-1")]
)
def test_what_cannot_be_read_of_the_list_is_no_label_in_order(shop: Path, run: Run, content: bytes) -> None:
    (shop / LOG).write_bytes(content)
    done = run("labels")
    assert done.code == 1
    assert "printed-labels.csv" in done.err


def test_redirects_go_into_a_new_folder_and_say_what_is_private(shop: Path, run: Run) -> None:
    run("label", LISTED, UNLISTED, "--out", "labels.pdf")
    moved(shop)
    done = run("labels", "--redirects", "for-the-host")
    assert done.code == 0
    assert "PRIVATE" in done.err
    names = {path.name for path in (shop / "for-the-host" / "passports.tammpenn-harrowmere.net").iterdir()}
    assert names == {"apache.txt", "nginx.txt", "pages", "read-me.txt"}
    again = run("labels", "--redirects", "for-the-host")
    assert again.code == 1
    assert "holds something already" in again.err


def test_without_need_no_redirect_is_written(shop: Path, run: Run) -> None:
    run("label", LISTED)
    assert run("labels", "--redirects", "for-the-host").code == 0
    assert not (shop / "for-the-host").exists()


def test_nobody_is_sent_on_to_a_placeholder(shop: Path, run: Run) -> None:
    run("label", LISTED)
    archives.write(shop / "records", {"workshop.yml": archives.WORKSHOP.replace(SITE, "https://tamm-penn.example/")})
    done = run("labels", "--redirects", "for-the-host")
    assert done.code == 1
    assert "site_address" in done.err
