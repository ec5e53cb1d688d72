"""A site brought up to date is, to the byte, the site that would have been built anew, whatever was changed."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from passport import publish
from passport.kept import FOLDER
from tests import archives
from tests.archives import LISTED, OTHER, SHOP_ONLY, UNLISTED, build, contents

Changes = dict[str, str | bytes | None]

# Two sheets that a gauge of the workshop's took, so that what it is worth decides a verdict on both sites.
VIOLIN = archives.VIOLIN.replace("    state:", "    gauges: {all: rule_05}\n    state:").replace(
    "when: as_received", "when: settled"
)
BASE: Changes = {f"instruments/{LISTED}.yml": VIOLIN}

CHANGES: dict[str, Changes] = {
    "a serial": {f"instruments/{LISTED}.yml": VIOLIN.replace("TP 88", "TP 89")},
    "the wood of a lot": {"wood/SP09B.yml": archives.LOT.replace("north slope", "south slope")},
    "a lot that was named and not there": {
        f"instruments/{LISTED}.yml": VIOLIN.replace("SP09B", "SP09C"),
        "wood/SP09C.yml": archives.LOT.replace("SP09B", "SP09C"),
    },
    "the outline of a model": {"models/harrow-1.yml": archives.MODEL.replace("[355, 14]", "[356, 14]")},
    "the name of a model": {"models/harrow-1.yml": archives.MODEL.replace("title: Harrow", "title: Fallow")},
    "the name of a batch's maker": {"workshop.yml": archives.WORKSHOP.replace("Ilse Tamm", "Ilse Tarn")},
    "the place of the workshop": {"workshop.yml": archives.WORKSHOP.replace("place: Harrowmere", "place: Fellwater")},
    "how sure a gauge is": {"gauges.yml": archives.GAUGES.replace("uncertainty: 0.25", "uncertainty: 2.5")},
    "a batch": {"varnish/OV20-3.yml": archives.BATCH.replace("base: oil", "base: spirit")},
    "an owner": {f"private/{LISTED}.yml": f"schema: 1\nid: {LISTED}\nowners: [{{name: Somebody Else}}]\n"},
    "a picture": {f"photos/{LISTED}/front.jpg": archives.picture(colour="teal")},
    "a picture taken away": {f"photos/{LISTED}/front.jpg": None},
    "an instrument taken from the public": {
        f"instruments/{OTHER}.yml": archives.SECOND.replace("publish: listed", "publish: shop_only")
    },
    "one that was hidden shown": {
        f"instruments/{SHOP_ONLY}.yml": archives.KEPT.replace("origin: customer", "origin: customer\npublish: listed")
    },
    "an unlisted one listed": {
        f"instruments/{UNLISTED}.yml": archives.HIDDEN.replace("publish: unlisted", "publish: listed")
    },
    "an instrument gone": {f"instruments/{OTHER}.yml": None},
    "a serial that another has": {f"instruments/{OTHER}.yml": archives.SECOND.replace("TP 90", "TP 88")},
    "a record with an error": {f"instruments/{LISTED}.yml": VIOLIN.replace("string_length: 328", "string_length: 3x")},
    "a record that cannot be read": {f"instruments/{LISTED}.yml": "id: [\n"},
    "a template of the workshop's own": {"../site_templates/passport/supply.html": "<h1>{{ view.title }}</h1>"},
}


def changed(root: Path, changes: Changes) -> None:
    """Bring an archive to the small one with these changes; what is None is taken away."""
    archives.write(root, {**BASE, **changes})
    for name in (name for name, content in changes.items() if content is None):
        (root / name).unlink(missing_ok=True)


def back(root: Path, changes: Changes) -> None:
    new = [name for name in changes if name not in archives.small_files()]
    changed(root, dict.fromkeys(new))


@pytest.fixture(scope="module", params=["public", "shop"])
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Any]:
    folder = tmp_path_factory.mktemp("grown")
    root = archives.write(folder / "records", BASE)
    build(root, folder / "site", request.param)
    # Once more, when nothing is young any longer and everything is known by its time.
    build(root, folder / "site", request.param)
    return folder, request.param


@pytest.mark.parametrize("changes", CHANGES.values(), ids=CHANGES)
def test_a_change_and_back_gives_what_a_build_from_nothing_gives(
    built: tuple[Path, Any], tmp_path: Path, changes: Changes
) -> None:
    folder, audience = built
    work = tmp_path / "work"
    shutil.copytree(folder, work)
    before = contents(work / "site")
    changed(work / "records", changes)
    build(work / "records", work / "site", audience, with_errors=True)
    shutil.rmtree(work / FOLDER)
    build(work / "records", work / "fresh", audience, with_errors=True)
    assert contents(work / "site") == contents(work / "fresh")
    back(work / "records", changes)
    build(work / "records", work / "site", audience)
    assert contents(work / "site") == before


def test_every_change_of_the_list_changes_something(tmp_path: Path) -> None:
    """Else the test above would compare a site with itself."""
    root = archives.write(tmp_path / "records", BASE)
    sites = {}
    for audience in ("public", "shop"):
        build(root, tmp_path / audience, audience)  # type: ignore[arg-type]
        sites[audience] = contents(tmp_path / audience)
    for name, changes in CHANGES.items():
        changed(root, changes)
        build(root, tmp_path / "shop", "shop", with_errors=True)
        build(root, tmp_path / "public", "public", with_errors=True)
        others = {audience for audience in sites if contents(tmp_path / audience) != sites[audience]}
        assert others, name
        back(root, changes)


TWO = {
    f"instruments/{OTHER}.yml": archives.SECOND.replace("3/4", "4/4\nmodel: harrow-1").replace("5}", "5, density: 400}")
    + "setups: [{sheet: S1, taken: {date: 2022}, role: reference, string_length: 327}]\n"
}
BESIDE: dict[str, tuple[str, str, str]] = {
    "a number": (f"instruments/{OTHER}.yml", "string_length: 327", "string_length: 329"),
    "a year": (f"instruments/{OTHER}.yml", "2022-02-01", "2020-02-01"),
    "an instrument hidden": (f"instruments/{OTHER}.yml", "publish: listed", "publish: shop_only"),
    "what the model asks": ("models/harrow-1.yml", "targets: {", "targets: {string_length: 320-321, "),
    "what the workshop asks": ("workshop.yml", "people:", "windows: [{kind: violin, string_length: 321-322}]\npeople:"),
    "a lot's density": ("wood/SP09B.yml", "pieces: 9", "pieces: 9\ndensity: 380-400"),
    "the density of a piece": (f"instruments/{OTHER}.yml", "density: 400", "density: 410"),
}


def beside(site: Path) -> dict[str, bytes]:
    return {name: content for name, content in contents(site).items() if name.startswith("side-by-side/")}


@pytest.mark.parametrize(("name", "old", "new"), BESIDE.values(), ids=BESIDE)
def test_what_stands_side_by_side_follows_every_change(tmp_path: Path, name: str, old: str, new: str) -> None:
    root = archives.write(tmp_path / "records", TWO)
    build(root, tmp_path / "site")
    before = beside(tmp_path / "site")
    assert len(before) > 5
    text = (root / name).read_text(encoding="utf-8")
    assert old in text
    (root / name).write_text(text.replace(old, new), encoding="utf-8")
    build(root, tmp_path / "site", with_errors=True)
    shutil.rmtree(tmp_path / FOLDER)
    build(root, tmp_path / "fresh", with_errors=True)
    assert beside(tmp_path / "site") != before
    assert contents(tmp_path / "site") == contents(tmp_path / "fresh")


def test_only_what_changed_is_made_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = archives.write(tmp_path / "records", BASE)
    build(root, tmp_path / "site")
    made: list[str] = []
    leaf = publish._leaf  # noqa: SLF001 - counted, not replaced
    monkeypatch.setattr(publish, "_leaf", lambda shared, stem: made.append(stem) or leaf(shared, stem))
    build(root, tmp_path / "site")
    assert made == []
    changed(root, CHANGES["a serial"])
    build(root, tmp_path / "site")
    assert made == [LISTED]


def test_a_page_changed_by_another_hand_is_set_right(tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    build(root, tmp_path / "site")
    before = contents(tmp_path / "site")
    (tmp_path / "site" / LISTED / "index.html").write_text("<h1>Another</h1>", encoding="utf-8")
    (tmp_path / "site" / OTHER / "index.html").unlink()
    assert build(root, tmp_path / "site").written == 2
    assert contents(tmp_path / "site") == before
