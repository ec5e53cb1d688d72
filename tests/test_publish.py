"""The one build: when it stops, what it writes, and that nothing of the shop is anywhere in what the public gets."""

from __future__ import annotations

import functools
import os
import re
import shutil
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin, urlsplit
from xml.etree import ElementTree as ET

import html5lib
import pytest

from passport import publish
from passport.checks import check
from passport.errors import PassportError
from passport.findings import Severity
from passport.kept import FOLDER
from passport.publish import MARKER, BuildStoppedError, Staged, claim, edition, hand_out
from passport.records.catalogue import load
from passport.records.walk import walked
from tests import archives
from tests.archives import DEMO, LISTED, OTHER, SECRET, SHOP_ONLY, TAIL, UNLISTED, build, contents

BROKEN = {f"instruments/{LISTED}.yml": archives.VIOLIN.replace("string_length: 328\n", "string_length: 32o8\n")}
EARLY_NS = 1_000_000_000


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return archives.write(tmp_path_factory.mktemp("small") / "records")


@pytest.fixture(scope="module")
def public(small: Path) -> Path:
    build(small, small.parent / "site")
    return small.parent / "site"


@pytest.fixture(scope="module")
def shop(small: Path) -> Path:
    build(small, small.parent / "site-shop", "shop")
    return small.parent / "site-shop"


@pytest.fixture(scope="module", params=["public", "shop"])
def demo(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    shutil.copytree(DEMO, folder / "records")
    build(folder / "records", folder / "site", request.param)
    return folder / "site"


def test_a_build_stops_at_an_error_before_it_touches_the_old_site(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    build(root, tmp_path / "site")
    before = contents(tmp_path / "site")
    archives.write(root, BROKEN)
    with pytest.raises(BuildStoppedError) as stopped:
        build(root, tmp_path / "site")
    assert [found.code.slug for found in stopped.value.findings if found.severity is Severity.ERROR] == ["bad-unit"]
    assert contents(tmp_path / "site") == before


def test_a_build_that_stops_makes_no_folder(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records", BROKEN)
    with pytest.raises(BuildStoppedError):
        build(root, tmp_path / "site")
    assert not (tmp_path / "site").exists()


def test_with_errors_it_builds_and_the_page_says_so(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records", BROKEN)
    build(root, tmp_path / "site", with_errors=True)
    made = edition(root, "public", with_errors=True)
    notices = {view.id: view.notice for view in made.site.instruments.values()}
    assert [number for number, notice in notices.items() if notice] == [LISTED]
    assert notices[LISTED] in (tmp_path / "site" / LISTED / "index.html").read_text(encoding="utf-8")
    assert "bad-unit" not in (tmp_path / "site" / LISTED / "index.html").read_text(encoding="utf-8")


def test_a_second_build_writes_nothing_and_touches_no_file(small: Path, public: Path) -> None:
    files = [path for path in public.rglob("*") if path.is_file()]
    for path in files:
        os.utime(path, ns=(EARLY_NS, EARLY_NS))
    done = build(small, public)
    assert (done.written, done.removed, done.kept) == (0, 0, len(files))
    assert {path.stat().st_mtime_ns for path in files} == {EARLY_NS}


def test_a_change_and_back_gives_the_bytes_of_a_build_into_an_empty_folder(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    build(root, tmp_path / "grown")
    first = contents(tmp_path / "grown")
    archives.write(
        root,
        {
            f"instruments/{LISTED}.yml": archives.VIOLIN.replace("TP 88", "TP 89").replace("SP09B", "SP09C"),
            "wood/SP09C.yml": archives.LOT.replace("SP09B", "SP09C"),
            f"photos/{LISTED}/front.jpg": archives.picture(colour="teal"),
        },
    )
    done = build(root, tmp_path / "grown")
    assert 0 < done.written < len(first)
    build(root, tmp_path / "fresh")
    changed = contents(tmp_path / "grown")
    assert changed == contents(tmp_path / "fresh")
    assert "wood/SP09C/index.html" in changed
    assert changed[f"{LISTED}/01.jpg"] != first[f"{LISTED}/01.jpg"]
    archives.write(root)
    (root / "wood" / "SP09C.yml").unlink()
    assert build(root, tmp_path / "grown").removed == 1
    assert contents(tmp_path / "grown") == first


def test_the_page_of_an_instrument_that_is_withdrawn_from_the_public_goes_with_all_its_files(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    build(root, tmp_path / "site")
    assert (tmp_path / "site" / OTHER / "index.html").is_file()
    archives.write(root, {f"instruments/{OTHER}.yml": archives.SECOND.replace("publish: listed", "publish: shop_only")})
    build(root, tmp_path / "site")
    assert not (tmp_path / "site" / OTHER).exists()
    assert [name for name, data in contents(tmp_path / "site").items() if OTHER.encode() in data] == []


def test_no_half_written_file_is_left(public: Path, small: Path) -> None:
    assert [name for name in (*contents(public), *contents(small.parent / FOLDER)) if name.endswith(".tmp")] == []


def test_pictures_are_made_once_and_kept(
    small: Path, public: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def again(*_: object) -> bytes:
        raise AssertionError("a picture was made again")

    monkeypatch.setattr(publish, "published_copy", again)
    build(small, tmp_path / "site")
    assert contents(tmp_path / "site") == contents(public)


def test_pictures_made_anew_have_the_same_bytes(public: Path, tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    build(root, tmp_path / "site")
    pictures = {name: data for name, data in contents(tmp_path / "site").items() if name.endswith(".jpg")}
    assert len(pictures) == 4
    assert pictures.items() <= contents(public).items()


@pytest.mark.parametrize(("first", "then"), [("public", "shop"), ("shop", "public")])
def test_one_audiences_site_is_never_built_over_the_others(tmp_path: Path, first: str, then: str) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / MARKER).write_text(first, encoding="utf-8")
    claim(tmp_path / "site", first)
    with pytest.raises(PassportError, match=f"holds the {first} site") as refused:
        claim(tmp_path / "site", then)
    assert refused.value.todo


def test_a_folder_with_something_else_in_it_is_refused_and_left_alone(small: Path, tmp_path: Path) -> None:
    (tmp_path / "holiday.txt").write_text("photographs", encoding="utf-8")
    with pytest.raises((PassportError, SystemExit)):
        build(small, tmp_path)
    assert contents(tmp_path) == {"holiday.txt": b"photographs"}


def test_a_file_or_a_new_or_an_empty_folder_is_told_apart(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    (tmp_path / "empty").mkdir()
    claim(tmp_path / "new", "public")
    claim(tmp_path / "empty", "public")
    with pytest.raises(PassportError, match="something else"):
        claim(tmp_path / "file", "public")


@pytest.mark.parametrize("where", ["records/site", "records", "."])
def test_a_site_is_never_built_into_the_records_or_around_them(tmp_path: Path, where: str) -> None:
    root = archives.write(tmp_path / "records")
    before = contents(tmp_path)
    with pytest.raises((PassportError, SystemExit)):
        build(root, tmp_path / where)
    assert contents(tmp_path) == before


# An unlisted instrument and the shop's own words


def test_an_unlisted_instrument_is_nowhere_but_at_its_own_address(public: Path) -> None:
    own = f"{UNLISTED}-{TAIL}/"
    files = contents(public)
    assert f"{own}index.html" in files
    assert f"{own}record.json" in files
    others = {name: data for name, data in files.items() if not name.startswith(own)}
    for word in (UNLISTED, UNLISTED.lower(), TAIL, "TP 95", "TP&nbsp;95"):
        assert [name for name, data in others.items() if word in name or word.encode() in data] == [], word


def test_an_unlisted_page_asks_search_engines_to_stay_away(public: Path) -> None:
    page = (public / f"{UNLISTED}-{TAIL}" / "index.html").read_text(encoding="utf-8")
    assert '<meta name="robots" content="noindex">' in page
    assert '<meta name="referrer" content="no-referrer">' in page
    assert 'rel="canonical"' not in page


def test_the_unlisted_instrument_of_the_demo_is_nowhere_else(demo: Path) -> None:
    if (demo / MARKER).read_text(encoding="utf-8") == "shop":
        assert "HHK53U9" in (demo / "catalogue" / "index.html").read_text(encoding="utf-8")
        return
    archive = load(DEMO)
    (number,) = [stem for stem, filed in archive.instruments.items() if filed.record.published == "unlisted"]
    tail, serial = archive.private[number].record.page, archive.instruments[number].record.serial
    assert tail
    assert serial
    files = {name: data for name, data in contents(demo).items() if not name.startswith(f"{number}-{tail}/")}
    for word in (number, tail, serial):
        assert [name for name, data in files.items() if word in name or word.encode() in data] == [], word


def test_a_shop_only_instrument_and_the_shops_words_are_nowhere(public: Path, shop: Path) -> None:
    files = contents(public)
    for word in (SHOP_ONLY, SHOP_ONLY.lower(), SECRET, "4711", "2031"):
        assert [name for name, data in files.items() if word in name or word.encode() in data] == [], word
    everything = b"".join(contents(shop).values())
    for word in (SHOP_ONLY, f"{SECRET}-13", f"{SECRET}-17", "4711"):
        assert word.encode() in everything, word


def test_no_private_word_of_the_demo_is_in_its_public_site(demo: Path) -> None:
    if (demo / MARKER).read_text(encoding="utf-8") == "shop":
        assert b"Leontine" in b"".join(contents(demo).values())
        return
    archive = load(DEMO)
    words = {
        text
        for filed in archive.private.values()
        for _, entry in walked(filed.record)
        for name in ("name", "contact", "held_back", "note")
        if isinstance(text := getattr(entry, name, None), str) and len(text) > 5
    }
    words |= {filed.record.note for filed in archive.instruments.values() if filed.record.note}
    words |= {
        event.said for filed in archive.instruments.values() for event in filed.record.history or () if event.said
    }
    words |= {filed.record.supplier for filed in archive.wood.values() if filed.record.supplier}
    hidden = [stem for stem, filed in archive.instruments.items() if filed.record.published == "shop_only"]
    assert len(words) > 10
    assert hidden
    everything = b"".join(contents(demo).values()).decode("utf-8", errors="replace")
    assert [word for word in (*words, *hidden) if word in everything] == []


def test_the_shops_lists_are_on_its_own_site_only_and_nothing_leads_to_them_from_the_other(
    public: Path, shop: Path
) -> None:
    assert (shop / "work-lists" / "index.html").is_file()
    assert b'href="work-lists/"' in (shop / "index.html").read_bytes()
    assert not (public / "work-lists").exists()
    assert [
        name for name, data in contents(public).items() if b"work-lists" in data or b"What is missing" in data
    ] == []


def test_the_shops_pages_are_marked_as_the_shops(public: Path, shop: Path) -> None:
    def says(folder: Path) -> list[bool]:
        pages = sorted(folder.rglob("*.html"))
        assert len(pages) > 8
        return [b"shop" in page.read_bytes().lower() for page in pages]

    assert all(says(shop))
    assert not all(says(public))


# Links


@functools.cache
def parsed(page: Path) -> ET.Element:
    tree: ET.Element = html5lib.parse(page.read_bytes(), namespaceHTMLElements=False, transport_encoding="utf-8")
    return tree


def links(page: Path) -> list[str]:
    tree = parsed(page)
    found = [element.get(name) for element in tree.iter() for name in ("href", "src") if element.get(name) is not None]
    found += [
        part.strip().split(" ")[0]
        for element in tree.iter()
        for part in element.get("srcset", "").split(",")
        if part.strip()
    ]
    return found


def test_every_link_of_the_site_leads_somewhere(demo: Path) -> None:
    pages = sorted(demo.rglob("*.html"))
    checked, lost = 0, []
    for page in pages:
        if page.name == "404.html":
            continue
        here = f"http://site.invalid/deep/{page.relative_to(demo).as_posix()}"
        ids = None
        for link in links(page):
            if urlsplit(link).scheme in ("http", "https", "data", "mailto", "tel", "javascript"):
                continue
            whole, fragment = urldefrag(urljoin(here, link))
            path = unquote(urlsplit(whole).path).removeprefix("/deep/")
            target = demo / path / "index.html" if path.endswith("/") or not path else demo / path
            checked += 1
            if not target.is_file():
                lost.append(f"{page.relative_to(demo)}: {link}")
            elif fragment and target == page:
                ids = ids if ids is not None else page.read_text(encoding="utf-8")
                if f'id="{fragment}"' not in ids and f"id={fragment}" not in ids:
                    lost.append(f"{page.relative_to(demo)}: {link}")
    assert len(pages) > 50
    assert checked > 1000
    assert lost == []


def test_the_site_may_stand_below_any_address(demo: Path) -> None:
    rooted = [
        f"{page.relative_to(demo)}: {link}"
        for page in demo.rglob("*.html")
        if page.name != "404.html"
        for link in links(page)
        if link.startswith("/")
    ]
    assert rooted == []


def test_no_page_loads_anything_from_another_host(demo: Path) -> None:
    for page in demo.rglob("*.html"):
        tree = parsed(page)
        loaded = [
            element.get("src", "") for element in tree.iter() if element.tag in ("script", "img", "iframe", "source")
        ]
        loaded += [e.get("href", "") for e in tree.iter("link") if e.get("rel") != "canonical"]
        assert [link for link in loaded if urlsplit(link).netloc] == [], page


def test_only_fields_that_are_typed_into_ask_for_completion(demo: Path) -> None:
    """HTML, 4.10.5.1.15: a checkbox has no `autocomplete`; the theme's template gives it one."""
    pages = {name: data for name, data in contents(demo).items() if name.endswith(".html")}
    assert len(pages) > 40
    wrong = [name for name, data in pages.items() if re.search(rb'<input[^>]*type="checkbox"[^>]*autocomplete', data)]
    assert wrong == []


def test_the_demo_has_no_errors() -> None:
    assert [found for found in check(load(DEMO)) if found.severity is Severity.ERROR] == []


def test_nothing_is_handed_out_into_a_folder_with_something_else_in_it(small: Path, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "holiday.txt").write_text("photographs", encoding="utf-8")
    with pytest.raises(PassportError, match="something else"):
        hand_out(edition(small, "public"), Staged(tmp_path / "staged", {}, []), tmp_path / "out")
    assert contents(tmp_path / "out") == {"holiday.txt": b"photographs"}


@pytest.mark.parametrize(
    "private",
    [None, b"\xff\xfe", b"schema: 1\nid: HHK53U9\n", b"schema: 1\nid: HHK53U9\npage: x/..\n"],
    ids=["missing", "unreadable", "without page", "page that leads elsewhere"],
)
def test_an_unlisted_instrument_without_its_address_is_not_published_even_with_errors(
    tmp_path: Path, private: bytes | None
) -> None:
    changes: dict[str, str | bytes | None] = {f"private/{UNLISTED}.yml": private}
    root = archives.write(tmp_path / "records", changes)
    build(root, tmp_path / "site", "public", with_errors=True)
    found = [path for path, content in contents(tmp_path / "site").items() if UNLISTED.encode() in content]
    assert found == []
    assert not any(UNLISTED in path for path in contents(tmp_path / "site"))


def test_two_records_with_one_number_and_one_named_like_a_list_are_built_all_the_same(tmp_path: Path) -> None:
    text = f"schema: 1\nid: {LISTED}\nkind: violin\nsize: 4/4\norigin: made_here\n"
    changes: dict[str, str | bytes | None] = {
        f"instruments/{OTHER}.yml": text,
        "instruments/wood.yml": text,
        f"instruments/{SHOP_ONLY}.yml": text + "setups: [{taken: {date: 2021}, gauges: {cls: rule_05}}]\n",
    }
    root = archives.write(tmp_path / "records", changes)
    build(root, tmp_path / "site", "public", with_errors=True)
    assert (tmp_path / "site" / OTHER / "index.html").is_file()
    assert b"Wood" in (tmp_path / "site" / "wood" / "index.html").read_bytes()


def test_once_unlisted_an_instrument_keeps_its_address_and_the_number_box_knows_it(tmp_path: Path) -> None:
    record = archives.HIDDEN.replace("publish: unlisted", "publish: listed")
    root = archives.write(tmp_path / "records", {f"instruments/{UNLISTED}.yml": record})
    build(root, tmp_path / "site", "public")
    assert f'"{UNLISTED}-{TAIL}/"' in (tmp_path / "site" / "data" / "listed.js").read_text(encoding="utf-8")
    assert (tmp_path / "site" / f"{UNLISTED}-{TAIL}" / "index.html").is_file()


@pytest.mark.parametrize(
    "slip",
    ["publish: unlistd", "publish: shop only", "publish: [unlisted]", "publish:", "publsh: unlisted", "publish: *x"],
)
def test_a_slip_in_who_may_see_it_opens_no_instrument(tmp_path: Path, slip: str) -> None:
    hidden = archives.HIDDEN.replace("publish: unlisted", slip)
    root = archives.write(tmp_path / "records", {f"instruments/{UNLISTED}.yml": hidden})
    build(root, tmp_path / "site", with_errors=True)
    public = contents(tmp_path / "site")
    assert [name for name, data in public.items() if UNLISTED in name or UNLISTED.encode() in data] == []
    assert f"{LISTED}/index.html" in public


def test_a_slip_in_whose_work_it_is_opens_no_instrument(tmp_path: Path) -> None:
    kept = archives.KEPT.replace("origin: customer", "origin: custommer")
    root = archives.write(tmp_path / "records", {f"instruments/{SHOP_ONLY}.yml": kept})
    build(root, tmp_path / "site", with_errors=True)
    assert [name for name, data in contents(tmp_path / "site").items() if SHOP_ONLY.encode() in data] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("event: sold, note", "event: sold, audience: Shop only, note"),
        ("event: setup_complete, sheet: S1}", f"event: setup_complete, audience: Shop, note: {SECRET}-20}}"),
        ("event: setup_complete, sheet: S1}", f"event: setup_complete, audiense: shop, note: {SECRET}-20}}"),
        ("event: setup_complete, sheet: S1}", f"event: setup_complete, audience: , note: {SECRET}-20}}"),
        ("when: as_received, by: Ilse", "when: as_recieved, by: Ilse"),
        ("view: damage, caption", "view: damge, caption"),
    ],
)
def test_a_slip_in_who_may_see_it_opens_no_entry(tmp_path: Path, old: str, new: str) -> None:
    violin = archives.VIOLIN.replace(old, new)
    assert violin != archives.VIOLIN
    root = archives.write(tmp_path / "records", {f"instruments/{LISTED}.yml": violin})
    build(root, tmp_path / "site", with_errors=True)
    public = contents(tmp_path / "site")
    assert f"{LISTED}/index.html" in public
    assert [name for name, data in public.items() if SECRET in name or SECRET.encode() in data] == []
