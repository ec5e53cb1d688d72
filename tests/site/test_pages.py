"""Pages, data, search and sitemap against the views they are made from, and against independent readers."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from itertools import pairwise
from pathlib import Path
from typing import TypeVar
from urllib.parse import unquote, urljoin, urlsplit
from xml.etree import ElementTree as ET

import html5lib
import pytest
import rdflib

from passport.errors import PassportError
from passport.site import catalogue_data, data, linked_data, pages, search, shell, sitemap, templates
from passport.views.site_tree import SiteView
from tests.site import sample

BARE = shell.Shell.cut(
    f"<!doctype html><html lang=en><head><title>{shell.TITLE}</title>"
    f"<meta name=description content='{shell.DESCRIPTION}'>{shell.HEAD}</head>"
    f"<body><main>{shell.CONTENT}</main></body></html>"
)
SHELLS = {1: BARE, 2: BARE}
XHTML = "{http://www.w3.org/1999/xhtml}"
SCHEMA = rdflib.Namespace("https://schema.org/")
HOSTILE = '<script>alert(\'&amp;\')</script>" onload="x" </title> {{ 7*7 }} '
# What leads somewhere, names a kind of thing or is a drawing made by us, and so is no maker's words.
NOT_WORDS = {
    "path", "link", "id", "drawing", "data_path", "large", "small",
    "audience", "section", "site_url", "iso", "changed", "severity",
}  # fmt: skip


def parsed(page: bytes) -> ET.Element:
    """The page as the HTML standard's own algorithm reads it; any parse error fails."""
    tree: ET.Element = html5lib.HTMLParser(strict=True).parse(page, transport_encoding="utf-8")
    return tree


def elements(tree: ET.Element, name: str) -> list[ET.Element]:
    return list(tree.iter(XHTML + name))


def text_of(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())


def html_files(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.html"))


T = TypeVar("T")


def all_pages(site: SiteView, archive: Path | None = None) -> Iterator[tuple[str, bytes]]:
    press = pages.Press(SHELLS, site.workshop, site.audience, archive)
    yield from (pages.instrument_page(press, view) for view in site.instruments.values())
    yield from pages.pages(press, site)


def hostile(value: T) -> T:
    """The view with every word in it replaced by an attack."""
    if isinstance(value, tuple):
        return tuple(hostile(item) for item in value)  # type: ignore[return-value] # a tuple stays one
    if isinstance(value, dict):
        return {name: hostile(item) for name, item in value.items()}  # type: ignore[return-value] # a mapping stays one
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {
        field.name: HOSTILE + field.name
        if isinstance(getattr(value, field.name), str)
        else hostile(getattr(value, field.name))
        for field in fields(value)
        if field.name not in NOT_WORDS
    }
    return replace(value, **changed)


@pytest.mark.parametrize("site", [sample.PUBLIC, sample.SHOP], ids=["public", "shop"])
def test_every_view_becomes_a_page_that_parses_strictly(site: SiteView) -> None:
    made = dict(all_pages(site))
    wanted = {f"{view.path}index.html" for view in site.instruments.values()}
    wanted |= {f"{supply.path}index.html" for supply in site.supplies}
    wanted |= {f"{each.path}index.html" for each in (*site.unread, *site.across.values())}
    lists = [
        "catalogue",
        "wood",
        "varnish",
        "models",
        "side-by-side",
        *(["work-lists", "findings"] if site.audience == "shop" else []),
    ]
    assert wanted | {f"{name}/index.html" for name in lists} == set(made)
    for page in made.values():
        tree = parsed(page)
        assert len(elements(tree, "h1")) == 1


def test_an_empty_archive_still_has_its_lists() -> None:
    empty = replace(sample.PUBLIC, instruments={}, cards=(), supplies=(), catalogue=(), wood=(), varnish=(), models=())
    empty = replace(empty, side_by_side=(), across={}, across_from={})
    made = dict(all_pages(empty))
    assert "Nothing is recorded yet" in made["side-by-side/index.html"].decode()
    assert "No instrument is listed yet" in made["catalogue/index.html"].decode()
    assert "No lot is recorded yet" in made["wood/index.html"].decode()
    assert '"ids":""' in catalogue_data.listed_js(empty).decode()
    assert '"of":[]' in catalogue_data.facets_js(empty).decode()


def test_whole_pages_parse_strictly_and_are_in_order(public_site: Path, shop_site: Path) -> None:
    for path in html_files(public_site) + html_files(shop_site):
        tree = parsed(path.read_bytes())
        assert tree.get("lang") == "en"
        levels = [int(e.tag[-1]) for e in tree.iter() if isinstance(e.tag, str) and re.fullmatch(r".*\}h[1-6]", e.tag)]
        assert levels[0] == 1, path
        assert levels.count(1) == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels)), path
        for landmark in ("header", "main", "footer", "nav"):
            assert elements(tree, landmark), (path, landmark)
        for table in elements(tree, "table"):
            assert elements(table, "caption")
            assert all(cell.get("scope") for cell in elements(table, "th"))
        ids = [e.get("id") for e in tree.iter() if e.get("id")]
        assert len(ids) == len(set(ids)), path
        assert all(image.get("alt") for image in elements(tree, "img"))


def test_every_address_inside_leads_somewhere(public_site: Path) -> None:
    photos = [photo for view in sample.PUBLIC.instruments.values() for photo in view.photos]
    pictures = {name for photo in photos for name in (photo.large, photo.small)}
    there = {path.relative_to(public_site).as_posix() for path in public_site.rglob("*") if path.is_file()} | pictures
    seen = 0
    for path in html_files(public_site):
        here = "https://host.example/passports/" + path.relative_to(public_site).as_posix()
        for element in parsed(path.read_bytes()).iter():
            for link in filter(None, (element.get("href"), element.get("src"), element.get("action"))):
                target = urlsplit(urljoin(here, link))
                if target.netloc != "host.example":
                    assert element.get("rel") == "canonical", (path, link)
                    continue
                wanted = unquote(target.path).removeprefix("/passports/")
                assert (wanted + "index.html" if wanted.endswith("/") or not wanted else wanted) in there, (path, link)
                seen += 1
    assert seen > 200


def test_an_unlisted_instrument_has_its_own_page_and_is_nowhere_else(public_site: Path) -> None:
    own = public_site / sample.UNLISTED.path
    page = (own / "index.html").read_text(encoding="utf-8")
    assert '<meta name="robots" content="noindex">' in page
    assert '<meta name="referrer" content="no-referrer">' in page
    assert 'rel="canonical"' not in page
    for path in public_site.rglob("*"):
        if path.is_file() and own not in path.parents:
            content = path.read_bytes()
            assert sample.UNLISTED.id.encode() not in content, path
            assert sample.UNLISTED.serial.encode() not in content, path


def test_a_listed_page_may_be_indexed(public_site: Path) -> None:
    page = (public_site / "ZVSPYJH" / "index.html").read_text(encoding="utf-8")
    assert 'name="robots"' not in page
    assert '<link rel="canonical" href="https://tamm-penn.example/passports/ZVSPYJH/">' in page


def test_hostile_words_stay_words_on_every_page() -> None:
    site = hostile(sample.SHOP)
    site = replace(site, workshop=replace(site.workshop, site_url=sample.WORKSHOP.site_url))
    for path, page in all_pages(site):
        tree = parsed(page)
        scripts = elements(tree, "script")
        assert all(script.get("type") == "application/ld+json" or script.get("src") for script in scripts), path
        assert not any(text_of(script) for script in scripts if script.get("src")), path
        assert not [e for e in tree.iter() if any(name.startswith("on") for name in e.attrib)], path
        assert "<script>alert" in text_of(tree), path
        assert "49" not in text_of(elements(tree, "title")[0]), path


def test_hostile_words_stay_words_in_linked_data_and_scripts() -> None:
    view = hostile(sample.SHOP_VIOLIN)
    element = linked_data.script(view, sample.WORKSHOP)
    inside = element.removeprefix('<script type="application/ld+json">').removesuffix("</script>")
    assert "<" not in inside
    assert json.loads(inside)["serialNumber"] == HOSTILE + "serial"
    for entry in search.entries(hostile(sample.PUBLIC)):
        assert "<" not in json.dumps(entry)


def test_linked_data_is_read_by_an_independent_reader_without_network() -> None:
    graph = rdflib.Graph()
    graph.parse(data=json.dumps(linked_data.product(sample.VIOLIN, sample.WORKSHOP)), format="json-ld")
    (thing,) = graph.subjects(rdflib.RDF.type, SCHEMA.IndividualProduct)
    assert str(graph.value(thing, SCHEMA.identifier)) == "ZVSPYJH"
    assert str(graph.value(thing, SCHEMA.serialNumber)) == "TP 88"
    assert {str(name) for name in graph.objects(thing, SCHEMA.material)} >= {"Picea abies", "Acer pseudoplatanus"}
    lengths = {
        str(graph.value(one, SCHEMA.value))
        for one in graph.objects(thing, SCHEMA.hasMeasurement)
        if str(graph.value(one, SCHEMA.name)) == "Body length, caliper"
    }
    assert lengths == {"355"}
    units = {str(code) for code in graph.objects(None, SCHEMA.unitCode)}
    # UN/CEFACT Recommendation 20: millimetre MMT, gram GRM, hertz HTZ.
    assert {"MMT", "GRM", "HTZ"} <= units


def test_linked_data_holds_no_measurement_that_the_reference_does_not_record() -> None:
    setup = sample.VIOLIN.setup
    assert setup is not None
    row = replace(setup.groups[0].rows[0], then="not recorded", now="61")
    view = replace(
        sample.VIOLIN, setup=replace(setup, groups=(replace(setup.groups[0], rows=(row,)),)), measurements=()
    )
    assert "hasMeasurement" not in linked_data.product(view, sample.WORKSHOP)


def test_linked_data_of_an_unlisted_instrument_names_no_address() -> None:
    assert sample.UNLISTED.path not in linked_data.script(sample.UNLISTED, sample.WORKSHOP)


def test_record_json_is_the_view_and_always_the_same_bytes() -> None:
    first = data.record_json(sample.VIOLIN)
    assert first == data.record_json(sample.VIOLIN)
    tree = json.loads(first)
    assert tree["setup"]["headline"][1]["then"] == "27.0"
    assert tree["plates"][0]["rows"][0] == ["325", "2.9", "2.8", "2.9", "2.8", "2.9"]
    assert b"<svg" not in first


def test_search_entries_lead_with_number_and_serial() -> None:
    found = {str(entry["location"]): entry for entry in search.entries(sample.PUBLIC)}
    assert found["ZVSPYJH/"]["title"] == "ZVSPYJH · TP 88 · Violin 4/4"
    assert str(found["wood/SP09B/"]["title"]).startswith("SP09B")
    assert not any("98RHKVD" in location for location in found)
    assert len(found) == 8 + len(sample.PUBLIC.supplies)


def test_the_merged_index_keeps_the_hand_written_pages(public_site: Path) -> None:
    index = json.loads((public_site / "search" / "search_index.json").read_bytes())
    locations = {doc["location"] for doc in index["docs"]}
    assert {"ZVSPYJH/", "wood/SP09B/", "care/"} <= locations
    assert index["config"]["lang"] == ["en"]


def test_the_sitemap_names_listed_pages_with_the_day_of_their_record(public_site: Path) -> None:
    # Namespace and elements: sitemaps.org, protocol 0.9.
    space = "{http://www.sitemaps.org/schemas/sitemap/0.9}"
    tree = ET.fromstring((public_site / "sitemap.xml").read_bytes())  # noqa: S314 # our own file
    dated = {url.findtext(f"{space}loc"): url.findtext(f"{space}lastmod") for url in tree}
    root = "https://tamm-penn.example/passports/"
    assert dated[f"{root}ZVSPYJH/"] == "2024-08-19"
    assert {root, f"{root}care/", f"{root}catalogue/", f"{root}models/harrow-1/"} <= set(dated)
    assert not any("98RHKVD" in str(loc) for loc in dated)


def test_there_is_no_sitemap_without_an_address() -> None:
    assert sitemap.sitemap(replace(sample.PUBLIC, workshop=replace(sample.WORKSHOP, site_url=""))) == b""


def test_the_shop_copy_says_so_on_every_page_and_the_public_one_nowhere(public_site: Path, shop_site: Path) -> None:
    words = "Workshop copy. Not for publication."
    assert all(words in path.read_text(encoding="utf-8") for path in html_files(shop_site))
    assert not any(words in path.read_text(encoding="utf-8") for path in html_files(public_site))


def test_no_page_loads_anything_from_another_host(public_site: Path) -> None:
    for path in [*html_files(public_site), *(public_site / "css").iterdir(), *(public_site / "js").iterdir()]:
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"(?:src|href)=[\"']?(?:https?:)?//(?!tamm-penn\.example)", text), path
        assert not re.search(r"url\([\"']?(?:https?:)?//", text), path
    assert "stylesheets/main" not in (public_site / "index.html").read_text(encoding="utf-8")
    assert 'name="generator"' not in (public_site / "index.html").read_text(encoding="utf-8")


def test_a_shell_escapes_words_and_fills_each_mark_once() -> None:
    page = BARE.fill(
        title=f"A & {shell.HEAD}", description="'\"<", head="<meta name=a>", content=f"<p>{shell.TITLE}</p>"
    ).decode()
    assert f"<title>A &amp; {shell.HEAD}</title>" in page
    assert "content='&#x27;&quot;&lt;'" in page
    assert f"<p>{shell.TITLE}</p>" in page
    assert page.count("<meta name=a>") == 1


def test_a_theme_that_lost_a_mark_is_refused_by_name() -> None:
    with pytest.raises(PassportError, match=shell.CONTENT):
        shell.Shell.cut(f"{shell.TITLE}{shell.DESCRIPTION}{shell.HEAD}")


def test_the_workshops_own_template_replaces_ours(tmp_path: Path) -> None:
    own = tmp_path / "site_templates" / "passport"
    own.mkdir(parents=True)
    (own / "catalogue.html").write_text("<h1>Our own list</h1>", encoding="utf-8")
    made = dict(all_pages(sample.PUBLIC, tmp_path))
    assert b"Our own list" in made["catalogue/index.html"]
    assert b"title-id" in made["ZVSPYJH/index.html"]


def test_the_shipped_folder_holds_settings_and_templates() -> None:
    root = templates.shipped_root()
    assert (root / "mkdocs.yml").is_file()
    assert (root / "site_templates" / "theme" / "main.html").is_file()


def test_a_value_stands_beside_its_window_and_is_marked_in_words_where_it_lies_outside() -> None:
    told = {fact.value for sheet in sample.VIOLIN.measurements for fact in sheet.sources}
    page = text_of(parsed(dict(all_pages(sample.PUBLIC))["ZVSPYJH/index.html"]))
    assert "14–15.5 trade, above" in page
    assert "167–169 model" in page
    assert told
    assert all(words in page for words in told)
