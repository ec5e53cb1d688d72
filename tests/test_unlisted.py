"""Who is not listed leaves no trace: every byte of the public output is read, and compared with a site without them."""

from __future__ import annotations

import html
import json
import re
import shutil
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest

from passport.records.catalogue import Archive, load
from passport.records.model.instrument import PUBLISH
from passport.records.walk import walked
from tests import archives
from tests.archives import DEMO, SHOP_ONLY, TAIL, UNLISTED, build, contents

PLANTED = "planted"
# Words of the unlisted instrument, which only its own page may say, and of the shop-only one, which nothing may.
OWN = f"""\
marks: {PLANTED}unlistedmarks
label: {{text: {PLANTED}unlistedlabel}}
attribution: {{wording: {PLANTED}unlistedwording}}
history:
  - {{date: 2023-11-09, event: setup_complete, note: {PLANTED}unlistednote}}
"""
HIDDEN = archives.HIDDEN.replace("2023-11-02}", f"2023-11-02, hands: {{body: {PLANTED}unlistedhand}}}}") + OWN
KEPT = f"""\
schema: 1
id: {SHOP_ONLY}
kind: violin
size: 4/4
model: {PLANTED}model
serial: {PLANTED} 77
origin: customer
publish: shop_only
made: {{finished: 2020-06, hands: {{body: {PLANTED}keptbody, scroll: Jory}}}}
attribution: {{wording: {PLANTED}keptwording}}
label: {{text: {PLANTED}keptlabel}}
parts:
  top: {{lot: {PLANTED}LOT, note: {PLANTED}keptpart}}
  back: {{lot: SP09B, wedge: 7}}
varnish:
  - {{date: 2020-04-21, coat: 1, batch: {PLANTED}BATCH}}
  - {{date: 2020-04-28, coat: 2, batch: OV20-3}}
history:
  - {{date: 2020-06-18, event: setup_complete, note: {PLANTED}keptnote}}
photos:
  - {{file: {PLANTED}kept.jpg, view: front, caption: {PLANTED}keptcaption}}
"""
ONLY_IT_USES: dict[str, str | bytes | None] = {
    f"models/{PLANTED}model.yml": archives.MODEL.replace("harrow-1", f"{PLANTED}model").replace(
        "title: Harrow", f"title: {PLANTED}title"
    ),
    f"wood/{PLANTED}LOT.yml": archives.LOT.replace("SP09B", f"{PLANTED}LOT"),
    f"varnish/{PLANTED}BATCH.yml": archives.BATCH.replace("OV20-3", f"{PLANTED}BATCH"),
}
CHANGES: dict[str, str | bytes | None] = {
    f"instruments/{UNLISTED}.yml": HIDDEN,
    f"instruments/{SHOP_ONLY}.yml": KEPT,
    f"photos/{SHOP_ONLY}/{PLANTED}kept.jpg": archives.picture(colour="gold"),
    **ONLY_IT_USES,
}
# What becomes of the archive when nobody is hidden in it.
WITHOUT: dict[str, str | bytes | None] = {
    f"instruments/{UNLISTED}.yml": None, f"instruments/{SHOP_ONLY}.yml": None, f"private/{UNLISTED}.yml": None,
    f"photos/{UNLISTED}/front.png": None,
}  # fmt: skip


def bare(text: str) -> str:
    """A text as somebody would look for a number in it: no case, no dashes, dots or blanks, every escape undone."""
    undone = re.sub(r"\\u([0-9a-f]{4})", lambda code: chr(int(code[1], 16)), unquote(html.unescape(text)))
    return re.sub(r"[\s.\u00ad\u2010-\u2015\u2212-]", "", undone).casefold()


def traces(words: Iterable[str], files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, str]]:
    wanted = {bare(word) for word in words}
    for name, content in files:
        text = bare(name) + "\n" + bare(content.decode("utf-8", errors="replace"))
        yield from ((name, word) for word in wanted if word in text)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("planted")
    build(archives.write(folder / "records", CHANGES), folder / "site")
    return contents(folder / "site")


OWN_FOLDER = f"{UNLISTED}-{TAIL}/"


def elsewhere(site: dict[str, bytes], own: str = OWN_FOLDER) -> dict[str, bytes]:
    return {name: content for name, content in site.items() if not name.startswith(own)}


def test_the_search_for_traces_finds_them(site: dict[str, bytes]) -> None:
    own = {name: content for name, content in site.items() if name.startswith(OWN_FOLDER)}
    found = {word for _, word in traces([UNLISTED, TAIL, "TP 95", *re.findall(rf"{PLANTED}\w+", OWN)], own.items())}
    assert found == {bare(word) for word in (UNLISTED, TAIL, "TP 95", *re.findall(rf"{PLANTED}\w+", OWN))}
    assert list(traces(["ABC-1"], [("x", b"a&#98;c 1")])) == [("x", "abc1")]
    assert list(traces(["é1"], [("x", json.dumps("É1").encode())])) == [("x", "é1")]


def test_an_unlisted_instrument_is_nowhere_but_in_its_own_folder(site: dict[str, bytes]) -> None:
    assert len(elsewhere(site)) > 20
    words = [UNLISTED, TAIL, "TP 95", f"{PLANTED}unlisted"]
    assert list(traces(words, elsewhere(site).items())) == []


def test_its_pictures_are_nowhere_else(site: dict[str, bytes]) -> None:
    own = {content for name, content in site.items() if name.startswith(OWN_FOLDER) and name.endswith(".jpg")}
    assert len(own) == 1
    assert not own & set(elsewhere(site).values())


def test_a_shop_only_instrument_and_what_only_it_uses_are_nowhere(site: dict[str, bytes]) -> None:
    words = [
        SHOP_ONLY,
        f"{PLANTED}77",
        f"{PLANTED}kept",
        *(f"{PLANTED}{what}" for what in ("model", "title", "LOT", "BATCH")),
    ]
    assert list(traces(words, site.items())) == []


def test_without_them_the_public_site_is_the_same_to_the_byte(site: dict[str, bytes], tmp_path: Path) -> None:
    changes = {**CHANGES, **dict.fromkeys(ONLY_IT_USES), **WITHOUT, f"photos/{SHOP_ONLY}/{PLANTED}kept.jpg": None}
    build(archives.write(tmp_path / "records", changes), tmp_path / "site")
    assert contents(tmp_path / "site") == elsewhere(site)


def test_a_lot_that_a_listed_instrument_uses_too_keeps_its_page(site: dict[str, bytes]) -> None:
    assert "wood/SP09B/index.html" in site
    assert "varnish/OV20-3/index.html" in site


def test_a_lot_that_nothing_is_made_of_yet_keeps_its_page(tmp_path: Path) -> None:
    changes = {**CHANGES, "wood/SP20X.yml": archives.LOT.replace("SP09B", "SP20X")}
    build(archives.write(tmp_path / "records", changes), tmp_path / "site")
    assert (tmp_path / "site" / "wood" / "SP20X" / "index.html").is_file()


def test_a_withdrawn_instrument_keeps_its_page_and_its_place_in_the_catalogue(tmp_path: Path) -> None:
    withdrawn = archives.SECOND + "status: {now: withdrawn, since: 2024-05, why: broken neck}\n"
    build(archives.write(tmp_path / "records", {f"instruments/{archives.OTHER}.yml": withdrawn}), tmp_path / "site")
    site = contents(tmp_path / "site")
    assert b"Withdrawn from use" in site[f"{archives.OTHER}/index.html"]
    assert archives.OTHER.encode() in site["catalogue/index.html"]
    assert archives.OTHER.encode() in site["data/listed.js"]
    assert b'name="robots"' not in site[f"{archives.OTHER}/index.html"]


# The demo


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    shutil.copytree(DEMO, folder / "records")
    build(folder / "records", folder / "site")
    return folder


def of_publication(archive: Archive, *published: str) -> list[str]:
    return [stem for stem, filed in archive.instruments.items() if filed.record.published in published]


def words_of(archive: Archive, stem: str) -> set[str]:
    """Everything a record says that no listed instrument, no lot, batch, model or the workshop says too."""
    others: list[Any] = [archive.instruments[number].record for number in of_publication(archive, "listed")]
    others += [filed.record for folder in (archive.wood, archive.varnish, archive.models) for filed in folder.values()]
    common = {bare(text) for record in (*others, archive.workshop.record) for text in said(record)}
    return {text for text in said(archive.instruments[stem].record) if bare(text) not in common}


def said(record: Any) -> set[str]:
    """The words of a record that are long enough to be told again; its vocabulary names fields everywhere."""
    values = (getattr(entry, name) for _, entry in walked(record) for name in type(entry).model_fields)
    return {value for value in values if isinstance(value, str) and len(bare(value)) > 5} - set(PUBLISH)


def test_nobody_hidden_in_the_demo_leaves_a_trace(demo: Path) -> None:
    archive, site = load(demo / "records"), contents(demo / "site")
    hidden = of_publication(archive, "unlisted", "shop_only")
    assert len(hidden) > 1
    for stem in hidden:
        tail = archive.address_tail(stem)
        serial = archive.instruments[stem].record.serial
        words = {stem, *([tail] if tail else []), *([serial] if serial else []), *words_of(archive, stem)}
        assert len(words) > 2, stem
        read = elsewhere(site, f"{stem}-")
        everything = bare(b"".join(read.values()).decode("utf-8", errors="replace"))
        assert [word for word in words if bare(word) in everything] == [], stem


def test_without_them_the_public_demo_is_the_same_to_the_byte(demo: Path, tmp_path: Path) -> None:
    archive, site = load(demo / "records"), contents(demo / "site")
    shutil.copytree(demo / "records", tmp_path / "records")
    unlisted = of_publication(archive, "unlisted")
    for stem in of_publication(archive, "unlisted", "shop_only"):
        (tmp_path / "records" / "instruments" / f"{stem}.yml").unlink()
        (tmp_path / "records" / "private" / f"{stem}.yml").unlink(missing_ok=True)
        shutil.rmtree(tmp_path / "records" / "photos" / stem, ignore_errors=True)
    build(tmp_path / "records", tmp_path / "site")
    (tail,) = {archive.address_tail(stem) for stem in unlisted}
    assert contents(tmp_path / "site") == elsewhere(site, f"{unlisted[0]}-{tail}/")
