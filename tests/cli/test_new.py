"""`passport init`, `new` and `page`: records to start from."""

from __future__ import annotations

import json
import re
import sys
from pathlib import Path

import pytest

from passport.checks import check
from passport.findings import Code, Severity
from passport.records.catalogue import load
from passport.records.identity import is_valid
from tests import archives
from tests.archives import LISTED, SHOP_ONLY, UNLISTED, contents
from tests.cli.running import Run


def numbers(folder: Path) -> set[str]:
    return {path.stem for path in (folder / "records" / "instruments").glob("*.yml")}


def errors(folder: Path) -> list[str]:
    return [found.what for found in check(load(folder / "records")) if found.severity is Severity.ERROR]


def test_an_empty_folder_becomes_an_archive_a_record_and_a_site(empty: Path, run: Run) -> None:
    assert run("init").code == 0
    made = run("new", "violin", "--size", "4/4")
    assert made.code == 0
    (number,) = numbers(empty)
    assert made.out.strip() == f"records/instruments/{number}.yml"
    assert run("check").code == 0
    # All there is to say is that the workshop has no name of its own yet.
    assert [found.code for found in check(load(empty / "records"))] == [Code.LEFT_BLANK]
    built = run("build")
    assert (built.code, built.out.strip()) == (0, "site/index.html")
    assert (empty / "site" / number / "index.html").is_file()


@pytest.mark.parametrize("field", ["site_address", "label_address"])
def test_the_example_of_an_address_is_not_taken_for_one(empty: Path, run: Run, field: str) -> None:
    run("init")
    workshop = empty / "records" / "workshop.yml"
    text = workshop.read_text(encoding="utf-8").replace("Our workshop", "Plumb & Reed")
    example = re.search(r"https?://\S+", text)
    assert example is not None
    workshop.write_text(re.sub(f"(?m)^{field}:", f"{field}: {example[0]}", text), encoding="utf-8")
    assert [(found.code, found.path) for found in check(load(empty / "records"))] == [(Code.LEFT_BLANK, (field,))]


def test_a_started_archive_has_its_folders_schemas_and_keeps_private_out_of_git(empty: Path, run: Run) -> None:
    run("init", "mine")
    assert {path.name for path in (empty / "mine").iterdir()} == {
        "workshop.yml", "gauges.yml", ".gitignore", "schema", "instruments", "wood", "varnish", "models", "private",
    }  # fmt: skip
    assert "private/" in (empty / "mine" / ".gitignore").read_text(encoding="utf-8").splitlines()
    for path in (empty / "mine").glob("*.yml"):
        head = path.read_text(encoding="utf-8").splitlines()[0]
        json.loads((path.parent / head.split("$schema=")[1]).read_text(encoding="utf-8"))


def test_an_archive_is_not_started_over_another(shop: Path, run: Run) -> None:
    before = contents(shop)
    done = run("init")
    assert done.code == 1
    assert "is an archive already" in done.err
    assert contents(shop) == before


def test_a_folder_in_which_one_of_the_files_lies_is_left_as_it_is(empty: Path, run: Run) -> None:
    (empty / "records").mkdir()
    (empty / "records" / ".gitignore").write_text("mine\n", encoding="utf-8")
    done = run("init")
    assert done.code == 1
    assert ".gitignore" in done.err
    assert contents(empty) == {"records/.gitignore": b"mine\n"}


def test_thirty_alike_are_thirty_numbers_without_fault(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {"wood/SP09B.yml": archives.LOT.replace("pieces: 9", "pieces: 40")})
    before = numbers(shop)
    done = run("new", "violin", "--like", LISTED, "--count", "30")
    made = numbers(shop) - before
    assert done.code == 0
    assert len(made) == 30
    assert all(is_valid(number) for number in made)
    assert {Path(line).stem for line in done.out.splitlines()} == made
    assert errors(shop) == []


def test_made_like_another_it_shares_wood_and_model_and_drops_what_is_its_own(shop: Path, run: Run) -> None:
    before = numbers(shop)
    run("new", "violin", "--like", LISTED.lower())
    (number,) = numbers(shop) - before
    record = load(shop / "records").instruments[number].record
    assert (record.model, record.size, record.serial, record.setups, record.history) == (
        "harrow-1",
        "4/4",
        None,
        None,
        None,
    )
    assert record.parts is not None
    assert record.parts.top is not None
    assert (record.parts.top.lot, record.parts.top.wedge, record.parts.top.density) == ("SP09B", None, None)
    assert (record.photos, record.note, record.varnish) == (None, None, None)


def test_a_model_gives_its_size(shop: Path, run: Run) -> None:
    before = numbers(shop)
    assert run("new", "violin", "--model", "harrow-1").code == 0
    (number,) = numbers(shop) - before
    record = load(shop / "records").instruments[number].record
    assert (record.model, record.size) == ("harrow-1", "4/4")
    assert errors(shop) == []


@pytest.mark.parametrize(
    ("arguments", "code", "says", "hint"),
    [
        (("harp", "--size", "4/4"), 2, "harp", "violin"),
        (("violin",), 1, "the size is missing", "--size"),
        (("violin", "--size", "5/4"), 1, "“5/4” is not a size of a violin", "4/4, 7/8"),
        (("viola", "--size", "4/4"), 1, "“4/4” is not a size of a viola", "405"),
        (("violin", "--model", "harow-1"), 1, "there is no model “harow-1”", "harrow-1"),
        (("cello", "--model", "harrow-1"), 1, "is that of a violin", "passport new violin --model harrow-1"),
        (("cello", "--like", LISTED), 1, "is a violin, not a cello", f"passport new violin --like {LISTED}"),
        (("violin", "--like", "ZVSPYJJ"), 1, "ZVSPYJJ", LISTED),
        (("violin", "--size", "4/4", "--count", "0"), 2, "--count", ""),
        (("violin", "--size", "4/4", "--records", "nowhere"), 1, "nowhere", "passport init"),
    ],
)
def test_what_cannot_be_made_is_refused_with_a_hint(
    shop: Path, run: Run, arguments: tuple[str, ...], code: int, says: str, hint: str
) -> None:
    before = contents(shop)
    done = run("new", *arguments)
    assert done.code == code
    assert says in done.err
    assert hint in done.err
    assert contents(shop) == before


SUPPLIES = {
    "wood/SP24.yml": ("lot", "SP24", "--species", "Picea abies"),
    "varnish/OV24-1.yml": ("batch", "OV24-1"),
    "models/harrow-405.yml": ("model", "harrow-405", "--kind", "viola", "--size", "405"),
}


@pytest.mark.parametrize("file", SUPPLIES)
def test_a_lot_a_batch_and_a_model_are_begun_without_fault(shop: Path, run: Run, file: str) -> None:
    before = {(found.code, found.file) for found in check(load(shop / "records"))}
    done = run("new", *SUPPLIES[file])
    assert (done.code, done.out.strip()) == (0, f"records/{file}")
    added = [found for found in check(load(shop / "records")) if (found.code, found.file) not in before]
    assert {found.severity for found in added} <= {Severity.NOTE}
    assert run("build").code == 0


@pytest.mark.parametrize("file", SUPPLIES)
def test_what_is_there_already_is_not_written_over(shop: Path, run: Run, file: str) -> None:
    run("new", *SUPPLIES[file])
    before = contents(shop)
    again = run("new", *SUPPLIES[file])
    assert again.code == 1
    assert "is there already" in again.err
    assert contents(shop) == before


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (("lot",), 2, "NAME"),
        (("lot", "SP24"), 2, "--species"),
        (("lot", "SP 24", "--species", "Picea abies"), 1, "cannot be part of an address"),
        (("lot", "../SP24", "--species", "Picea abies"), 1, "cannot be part of an address"),
        (("lot", "SP24", "--species", "spruce: best"), 1, "species: spruce: best cannot be added"),
        (("batch", "-"), 1, "cannot be part of an address"),
        (("model", "harrow-2"), 2, "--kind"),
        (("model", "harrow-2", "--kind", "viola"), 1, "the size is missing"),
        (("model", "harrow-2", "--kind", "bass", "--size", "405"), 1, "“405” is not a size of a double bass"),
    ],
)
def test_what_cannot_be_begun_is_refused(
    shop: Path, run: Run, arguments: tuple[str, ...], code: int, says: str
) -> None:
    before = contents(shop)
    done = run("new", *arguments)
    assert done.code == code
    assert says in done.err
    assert contents(shop) == before


def test_an_unlisted_instrument_gets_its_page_once(shop: Path, run: Run) -> None:
    archives.write(shop / "records", {f"private/{UNLISTED}.yml": f"# ours\nid: {UNLISTED}\n"})
    assert run("check").code == 1
    done = run("page", f"{UNLISTED[:3].lower()}-{UNLISTED[3:].lower()}")
    assert (done.code, done.out.strip()) == (0, f"records/private/{UNLISTED}.yml")
    text = (shop / "records" / "private" / f"{UNLISTED}.yml").read_text(encoding="utf-8")
    assert text.startswith(f"# ours\nid: {UNLISTED}\npage: ")
    assert len(text.split("page: ")[1].strip()) == 17
    assert run("check").code == 0
    again = run("page", UNLISTED)
    assert again.code == 1
    assert "already has its page address" in again.err
    assert (shop / "records" / "private" / f"{UNLISTED}.yml").read_text(encoding="utf-8") == text


def test_an_unlisted_instrument_without_a_private_record_gets_one(shop: Path, run: Run) -> None:
    (shop / "records" / "private" / f"{UNLISTED}.yml").unlink()
    assert run("page", UNLISTED).code == 0
    assert errors(shop) == []


def test_a_listed_instrument_keeps_the_address_its_label_may_have(shop: Path, run: Run) -> None:
    before = contents(shop)
    done = run("page", LISTED)
    assert done.code == 1
    assert "is listed at its number" in done.err
    assert contents(shop) == before


@pytest.mark.usefixtures("shop")
def test_a_shop_only_instrument_may_have_its_page_beforehand(run: Run) -> None:
    assert run("page", SHOP_ONLY).code == 0


@pytest.mark.usefixtures("shop")
@pytest.mark.parametrize(
    ("typed", "says"),
    [("ZVSPYJ", LISTED), ("ZVSPJYH", LISTED), ("0VSPYJH", LISTED), ("", "nothing is written"), ("[/]", "[/]")],
)
def test_a_number_mistyped_is_offered_the_near_one(run: Run, typed: str, says: str) -> None:
    done = run("page", typed)
    assert done.code == 1
    assert says in done.err


def test_the_schemas_are_written_where_the_editor_looks(shop: Path, run: Run) -> None:
    done = run("schema")
    assert done.code == 0
    assert {Path(line).name for line in done.out.splitlines()} == {
        p.name for p in (shop / "records" / "schema").iterdir()
    }
    assert run("check").code == 0


def test_a_number_that_is_on_a_label_or_in_an_unread_record_is_never_given_again(
    shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    (shop / "records" / "instruments" / "PB8ANDH.yml").write_text("a: [", encoding="utf-8")
    (shop / "records" / "printed-labels.csv").write_text("2024-03-01,H455KQD,https://x.net/,60x30\n", encoding="utf-8")
    taken: set[str] = set()
    # The package has a command of the same name, so the module is asked for by its full name.
    module = sys.modules["passport.cli.new"]
    monkeypatch.setattr(module, "minted", lambda given: taken.update(given) or "YXSP8BQ")
    assert run("new", "violin", "--size", "4/4").code == 0
    assert {"PB8ANDH", "H455KQD", "ZVSPYJH"} <= taken
