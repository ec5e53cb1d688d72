"""The copy that opens from a folder: its links, what it leaves out, what it says of itself."""

from __future__ import annotations

import re
import shutil
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit
from xml.etree import ElementTree as ET

import html5lib
import pytest
from click.testing import CliRunner

from passport import mkdocs_plugin
from passport.cli import passport
from passport.errors import PassportError
from passport.publish import MARKER, edition, offline_edition
from passport.records.model.marks import Audience
from passport.site import folder
from passport.views.site_tree import SiteView
from passport.views.tree import WorkshopView
from tests import archives
from tests.archives import DEMO, LISTED, SHOP_ONLY, TAIL, UNLISTED, contents
from tests.site import sample


def copied(root: Path, out: Path, audience: Audience = "public") -> dict[str, bytes]:
    mkdocs_plugin.build(offline_edition(edition(root, audience)), root, out)
    return contents(out)


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("offline")
    shutil.copytree(DEMO, made / "records")
    copied(made / "records", made / "copy")
    return made / "copy"


@pytest.mark.parametrize(
    ("link", "named"),
    [
        ("ZVSPYJH/", "ZVSPYJH/index.html"),
        ("../wood/SP09B/", "../wood/SP09B/index.html"),
        ("../", "../index.html"),
        ("..", "../index.html"),
        (".", "./index.html"),
        ("../catalogue/?year=2021&amp;size=4%2F4", "../catalogue/index.html?year=2021&amp;size=4%2F4"),
        ("../reading/#moved", "../reading/index.html#moved"),
        ("../ZVSPYJH/01.jpg", "../ZVSPYJH/01.jpg"),
        ("../ZVSPYJH/record.json", "../ZVSPYJH/record.json"),
        ("#content", "#content"),
        ("?year=2021", "?year=2021"),
        ("", ""),
        ("https://tamm-penn.example/", "https://tamm-penn.example/"),
        ("//tamm-penn.example/", "//tamm-penn.example/"),
        ("mailto:post@tamm-penn.example", "mailto:post@tamm-penn.example"),
    ],
)
def test_a_link_to_a_page_names_its_file_and_no_other_link_changes(link: str, named: str) -> None:
    assert folder.naming_its_file(link) == named


def test_words_that_look_like_a_link_stay_words() -> None:
    page = b'<p>&lt;a href=&#34;x/&#34;&gt;</p><script>{"a":"<a href=\\"x/\\">"}</script><link rel="canonical" href="https://a.example/x/">'
    assert folder.page(page) == page


def test_every_link_of_the_copy_is_a_file_in_it(copy: Path) -> None:
    seen = 0
    for path in sorted(copy.rglob("*.html")):
        tree: ET.Element = html5lib.parse(path.read_bytes(), namespaceHTMLElements=False, transport_encoding="utf-8")
        for element in tree.iter():
            for link in filter(None, (element.get("href"), element.get("src"), element.get("action"))):
                target = urlsplit(urljoin(path.as_uri(), link))
                if target.scheme != "file":
                    assert element.get("rel") == "canonical" or target.scheme == "mailto", (path, link)
                    continue
                assert Path(unquote(target.path)).is_file(), (path, link)
                seen += 1
    assert seen > 1500


def test_the_copy_has_the_addresses_of_the_site(copy: Path, tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "records")
    archives.build(tmp_path / "records", tmp_path / "site")
    site, here = contents(tmp_path / "site"), contents(copy)
    unlisted = {name for name in site if re.match(r"[A-Z0-9]{7}-", name)}
    assert unlisted
    assert set(site) - set(here) == {"404.html", "sitemap.xml", *unlisted}
    assert set(here) - set(site) == {"readme.txt"}
    assert here["ZVSPYJH/record.json"] == site["ZVSPYJH/record.json"]


def test_a_page_of_the_copy_still_says_which_address_is_its_own(copy: Path) -> None:
    page = (copy / "ZVSPYJH" / "index.html").read_text(encoding="utf-8")
    assert re.search(r'<link rel="canonical" href="https://[^"]*/ZVSPYJH/">', page)


def test_a_public_copy_holds_nothing_unlisted_and_a_shop_copy_everything(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    public = copied(root, tmp_path / "public")
    assert f"{LISTED}/index.html" in public
    for word in (UNLISTED, TAIL, SHOP_ONLY, archives.SECRET):
        assert [name for name, content in public.items() if word in name or word.encode() in content] == [], word
    shop = copied(root, tmp_path / "shop", "shop")
    assert f"{UNLISTED}-{TAIL}/index.html" in shop
    assert f"{UNLISTED}-{TAIL}/01.jpg" in shop
    assert f"{SHOP_ONLY}/index.html" in shop
    assert b"not for publication" in shop["readme.txt"]
    assert b"not for publication" not in public["readme.txt"]


def test_the_same_records_give_the_same_bytes(copy: Path, tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "records")
    assert copied(tmp_path / "records", tmp_path / "again") == contents(copy)


def test_the_copy_tells_the_day_of_its_last_entry_on_every_page_and_to_a_stranger(copy: Path) -> None:
    public = offline_edition(edition(copy.parent / "records", "public")).site
    day = folder.last_entry(public)
    assert day == max(
        [view.changed for view in public.instruments.values()] + [view.changed for view in public.supplies]
    )
    # The page that checks passports shows no record; it says of what day its own list is.
    pages = [page for page in sorted(copy.rglob("*.html")) if page.parent.name != "verify"]
    assert len(pages) > 50
    assert all(
        f'its last dated entry is of <time datetime="{day}">' in page.read_text(encoding="utf-8") for page in pages
    )
    assert day in (copy / "readme.txt").read_text(encoding="utf-8")


def test_a_stranger_is_told_what_to_open_and_who_kept_it() -> None:
    told = folder.readme(sample.PUBLIC)
    assert told.startswith("Open index.html.")
    for word in (
        sample.WORKSHOP.name,
        sample.WORKSHOP.contact,
        f"{len(sample.PUBLIC.instruments)} instruments",
        "record.json",
    ):
        assert word in told, word


def test_an_archive_without_anything_has_a_readme_too() -> None:
    empty = SiteView("public", WorkshopView("", "", "", ""), {}, (), (), (), (), (), ())
    assert "0 instruments" in folder.readme(empty)
    assert folder.last_entry(empty) == ""


@pytest.mark.parametrize("audience", ["public", "shop"])
def test_a_copy_and_a_site_are_never_built_into_one_another(tmp_path: Path, audience: Audience) -> None:
    root = archives.write(tmp_path / "records")
    archives.build(root, tmp_path / "site", audience)
    copied(root, tmp_path / "copy", audience)
    site, copy = contents(tmp_path / "site"), contents(tmp_path / "copy")
    with pytest.raises(PassportError, match=f"holds the {audience} site"):
        copied(root, tmp_path / "site", audience)
    with pytest.raises(PassportError, match=f"holds the {audience} offline site"):
        archives.build(root, tmp_path / "copy", audience)
    with pytest.raises(PassportError, match=f"holds the {audience} offline site"):
        copied(root, tmp_path / "copy", "shop" if audience == "public" else "public")
    assert (contents(tmp_path / "site"), contents(tmp_path / "copy")) == (site, copy)
    assert copy[MARKER] == f"{audience} offline".encode()


def test_the_command_builds_a_copy_beside_the_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    archives.write(tmp_path / "records")
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(passport, ["build", "--offline"])
    assert done.exit_code == 0, done.output
    assert "site-offline/index.html" in done.stdout
    done = CliRunner().invoke(passport, ["build", "--offline", "--audience", "shop"])
    assert "site-shop-offline/index.html" in done.stdout
    assert {path.name for path in tmp_path.iterdir()} >= {"site-offline", "site-shop-offline"}
    assert not (tmp_path / "site").exists()
