"""The scripts of the catalogue against the lines they are made from, and its pages without scripts."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from passport.site import catalogue_data, pages
from passport.views.site_tree import CatalogueGroup, SiteView
from tests.site import many, sample
from tests.site.test_pages import SHELLS

MANY = many.site()
# The pages are held to this everywhere; a line of the catalogue is some 300 bytes.
LARGEST_PAGE_BYTES = 60_000

PRESS = pages.Press(SHELLS, MANY.workshop, MANY.audience)


def read(script: bytes, name: str) -> Any:
    text = script.decode("ascii")
    assert text.startswith(f"var {name}=")
    return json.loads(text.removeprefix(f"var {name}=").removesuffix(";\n"))


def facets(site: SiteView) -> dict[str, Any]:
    return {facet["name"]: facet for facet in read(catalogue_data.facets_js(site), "passportFacets")["facets"]}


def of_line(facet: dict[str, Any], row: int) -> set[str]:
    places = facet["of"][row]
    places = facet["spans"][places] if "spans" in facet else places if isinstance(places, list) else [places]
    return {facet["values"][place] for place in places}


def test_listed_js_names_every_line_of_the_catalogue_and_nothing_else() -> None:
    listed = read(catalogue_data.listed_js(sample.PUBLIC), "passportListed")
    rows = zip(
        listed["ids"].split(" "), (listed["titles"][at] for at in listed["title"]), listed["serials"], strict=True
    )
    assert list(rows) == [(line.id, line.title, line.serial) for line in many.lines(sample.PUBLIC)]
    assert listed["paths"] == {}


def test_a_path_that_is_not_the_number_alone_is_told() -> None:
    group = sample.PUBLIC.catalogue[1]
    moved = replace(group, instruments=(replace(group.instruments[0], path="NHPM4NB-Q7WK2M9XTB4RZ5HNC/"),))
    listed = read(catalogue_data.listed_js(replace(sample.PUBLIC, catalogue=(moved,))), "passportListed")
    assert listed["paths"] == {"0": "NHPM4NB-Q7WK2M9XTB4RZ5HNC/"}


@pytest.mark.parametrize("name", ["kind", "size", "year", "model", "hand", "lot", "batch", "status"])
def test_a_facet_gives_every_line_its_values(name: str) -> None:
    facet = facets(MANY)[name]
    known = [year for line in many.lines(MANY) for year in (line.first_year, line.last_year) if year]
    for row, line in enumerate(many.lines(MANY)):
        assert of_line(facet, row) == many.values(line, name, min(known), max(known)), line


def test_values_stand_in_an_order_one_expects() -> None:
    made = facets(MANY)
    assert made["size"]["values"] == ["4/4", "3/4", "1/2", "420\u202fmm", "405\u202fmm"]
    assert made["lot"]["values"] == list(many.LOTS)
    assert made["year"]["values"][:3] == ["2020s", "2025", "2024"]
    assert made["year"]["values"][-1] == "1900"


def test_each_year_leads_to_its_decade_and_spans_are_in_order_of_time() -> None:
    facet = facets(MANY)["year"]
    under = {facet["values"][int(year)]: facet["values"][decade] for year, decade in facet["under"].items()}
    assert under["2013"] == "2010s"
    assert set(under) == {value for value in facet["values"] if not value.endswith("s")}
    starts = [min(int(facet["values"][at].rstrip("s")) for at in span) for span in facet["spans"] if span]
    assert starts == sorted(starts)


def test_the_public_is_not_told_what_is_published_and_how() -> None:
    assert facets(MANY)["publication"]["values"] == []


def test_pages_hold_every_line_once_in_order_and_stay_small() -> None:
    made = {path: page for path, page in pages.pages(PRESS, MANY) if path.startswith("catalogue/")}
    assert list(made) == ["catalogue/index.html", "catalogue/2/index.html"]
    whole = b"".join(made.values()).decode()
    places = [whole.index(f'<span class="id">{line.id}</span>') for line in many.lines(MANY)]
    assert places == sorted(places)
    assert whole.count('class="index-line"') == many.LINES
    assert max(map(len, made.values())) < LARGEST_PAGE_BYTES
    assert 'href="../catalogue/2/"' in made["catalogue/index.html"].decode()
    assert 'href="../../catalogue/"' in made["catalogue/2/index.html"].decode()
    assert 'href="../../catalogue/2/" aria-current="page"' in made["catalogue/2/index.html"].decode()


def test_the_first_page_names_all_the_others_and_they_still_stay_small() -> None:
    line = many.lines(MANY)[0]
    ten_thousand = tuple(replace(line, serial=f"TP {number}") for number in range(10_000))
    site = replace(MANY, catalogue=(CatalogueGroup("Violins", ten_thousand),))
    leaves = pages.catalogue_leaves(site.catalogue)
    assert sum(len(group.instruments) for leaf in leaves for group in leaf.groups) == 10_000
    sizes = [len(page) for path, page in pages.pages(PRESS, site) if path.startswith("catalogue/")]
    assert len(sizes) == len(leaves)
    assert max(sizes) < LARGEST_PAGE_BYTES


def test_only_the_first_page_of_the_catalogue_loads_its_scripts() -> None:
    made = dict(pages.pages(PRESS, MANY))
    assert [path for path, page in made.items() if b"catalogue.js" in page] == ["catalogue/index.html"]
