"""Whatever is handed out is plain: no record, no finding and no file can be reached from a view."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from passport.checks import check
from passport.records.catalogue import load
from passport.views import site_tree, tree
from passport.views.label import CaseLabel
from passport.views.project import case_label, project
from tests import archives

MADE_OF = (tree, site_tree)
VIEWS = {
    value
    for room in MADE_OF
    for value in vars(room).values()
    if isinstance(value, type) and value.__module__ == room.__name__
}
PLAIN = {str, int, float, bool, type(None)}
GOOD = Path(__file__).parents[1] / "examples" / "good"
ARCHIVES = [archives.DEMO, *([GOOD] if (GOOD / "workshop.yml").is_file() else [])]


def strange(value: Any, where: str) -> Iterator[str]:
    """The places below a view that hold anything but words, numbers, flags, tuples and other views."""
    if type(value) in PLAIN:
        return
    if type(value) is tuple:
        for index, item in enumerate(value):
            yield from strange(item, f"{where}[{index}]")
    elif type(value) in VIEWS | {CaseLabel}:
        for field in dataclasses.fields(value):
            yield from strange(getattr(value, field.name), f"{where}.{field.name}")
    else:
        yield f"{where} is a {type(value).__name__}"


def test_the_walk_tells_a_record_from_a_view() -> None:
    assert list(strange(tree.Link("text", Path("x")), "link")) == [f"link.path is a {type(Path()).__name__}"]  # type: ignore[arg-type]


@pytest.mark.parametrize("audience", ["public", "shop"])
@pytest.mark.parametrize("root", ARCHIVES, ids=lambda root: root.name)
def test_every_attribute_of_every_view_is_a_plain_value(root: Path, audience: Any) -> None:
    archive = load(root)
    site = project(archive, check(archive), audience)
    assert site.instruments
    assert site.supplies
    aside = {"instruments": (), "across": (), "across_from": ()}
    made = [*site.instruments.values(), *site.across.values(), dataclasses.replace(site, **aside)]
    assert {type(of) for of in site.across_from.values()} <= {str}
    assert site.across.keys() == site.across_from.keys()
    assert [place for view in made for place in strange(view, "site")] == []


@pytest.mark.parametrize("root", ARCHIVES, ids=lambda root: root.name)
def test_every_case_label_is_plain(root: Path) -> None:
    archive = load(root)
    labels = [case_label(archive, stem, proof=True) for stem in archive.instruments]
    assert labels
    assert [place for label in labels for place in strange(label, "label")] == []


def test_views_are_frozen() -> None:
    assert [view.__name__ for view in VIEWS | {CaseLabel} if not view.__dataclass_params__.frozen] == []
