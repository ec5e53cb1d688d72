"""`passport build`: the site, or what keeps it from being built."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests import archives
from tests.archives import LISTED, contents
from tests.cli.running import Run, as_process
from tests.test_publish import BROKEN
from tests.test_scan import OWNER, with_owner


def test_each_audience_has_a_folder_of_its_own(shop: Path, run: Run) -> None:
    assert run("build").out.strip() == "site/index.html"
    assert run("build", "--audience", "shop").out.strip() == "site-shop/index.html"
    assert (shop / "site" / ".passport-site").read_text(encoding="utf-8") == "public"
    assert (shop / "site-shop" / ".passport-site").read_text(encoding="utf-8") == "shop"


@pytest.mark.usefixtures("shop")
def test_a_second_build_says_that_nothing_was_written(run: Run) -> None:
    run("build")
    assert "0 files written" in run("build").err


def test_an_error_stops_the_build_and_is_shown(shop: Path, run: Run) -> None:
    archives.write(shop / "records", BROKEN)
    done = run("build")
    assert (done.code, done.out) == (1, "")
    assert f"records/instruments/{LISTED}.yml:" in done.err
    assert "--with-errors" in done.err
    assert not (shop / "site").exists()
    assert run("build", "--with-errors").code == 0


def test_a_name_of_the_shops_on_a_public_page_fails_the_build_and_is_not_repeated(shop: Path, run: Run) -> None:
    archives.write(shop / "records", with_owner(f"handed to {OWNER}"))
    done = run("build")
    assert (done.code, done.out) == (1, "")
    assert f"private/{LISTED}.yml, owners.0.name, stands in {LISTED}/index.html" in done.err
    assert "Quell" not in done.err
    assert not (shop / "site" / LISTED / "index.html").exists()


@pytest.mark.parametrize(
    ("arguments", "says", "hint"),
    [
        (("--out", "records/site"), "lie in one another", "keep them apart"),
        (("--out", "records"), "lie in one another", "keep them apart"),
        (("--out", "taken"), "holds something else", "--out"),
        (("--audience", "shop", "--out", "site"), "holds the public site", "another folder"),
        (("--records", "nowhere"), "nowhere", "passport init"),
    ],
)
def test_a_refusal_is_one_sentence_with_what_to_do(
    shop: Path, run: Run, arguments: tuple[str, ...], says: str, hint: str
) -> None:
    run("build")
    (shop / "taken").mkdir()
    (shop / "taken" / "letter.txt").write_text("dear", encoding="utf-8")
    before = contents(shop)
    done = run("build", *arguments)
    assert (done.code, done.out) == (1, "")
    assert says in done.err
    assert hint in done.err
    assert contents(shop) == before


def test_a_build_as_a_process_prints_the_place_and_nothing_of_the_tools_beneath(shop: Path) -> None:
    done = as_process(shop, "build")
    assert done.returncode == 0
    assert done.stdout.decode().split() == ["site/index.html"]
    assert len(done.stderr.decode().splitlines()) == 3
    assert b"\x1b" not in done.stdout + done.stderr


@pytest.mark.usefixtures("shop")
def test_check_and_build_count_the_same(run: Run) -> None:
    said = run("check").err.splitlines()[0]
    assert said.startswith("11 records checked: ")
    assert run("build").err.splitlines()[0] == said
    assert run("build", "--audience", "shop").err.splitlines()[0] == said
