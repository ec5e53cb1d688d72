"""MkDocs by itself builds the same site as our own command, and is stopped by the same faults."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from mkdocs.commands.build import build as mkdocs_build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort

from passport import mkdocs_plugin
from passport.errors import PassportError
from passport.mkdocs_plugin import PassportPlugin
from tests import archives
from tests.archives import LISTED, ROOT, contents
from tests.test_publish import BROKEN


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop's folder as the README has it: records, mkdocs.yml and the templates beside them."""
    folder = tmp_path_factory.mktemp("workshop")
    archives.write(folder / "records")
    shutil.copy(ROOT / "mkdocs.yml", folder)
    shutil.copytree(ROOT / "site_templates", folder / "site_templates")
    return folder


def mkdocs(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "mkdocs", *arguments]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False)  # noqa: S603 - our own arguments


@pytest.fixture(scope="module")
def plain(workshop: Path) -> Path:
    done = mkdocs(workshop, "build", "--quiet")
    assert (done.returncode, done.stderr) == (0, "")
    return workshop / "site"


@pytest.fixture
def here(workshop: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.chdir(workshop)
    yield workshop
    archives.write(workshop / "records")


def test_mkdocs_build_gives_the_bytes_of_passport_build(plain: Path, here: Path) -> None:
    archives.build(Path("records"), Path("by-passport"))
    assert contents(here / "by-passport") == contents(plain)
    assert f"{LISTED}/index.html" in contents(plain)


def test_the_shipped_settings_give_the_same_site_as_the_workshops_own_copy(plain: Path, tmp_path: Path) -> None:
    root = archives.write(tmp_path / "records")
    archives.build(root, tmp_path / "site")
    assert contents(tmp_path / "site") == contents(plain)


def test_records_with_errors_fail_mkdocs_and_leave_the_old_site(plain: Path, here: Path) -> None:
    before = contents(plain)
    archives.write(here / "records", BROKEN)
    done = mkdocs(here, "build")
    assert done.returncode != 0
    assert f"records/instruments/{LISTED}.yml:" in done.stderr
    assert "Traceback" not in done.stderr
    assert contents(plain) == before


def test_what_runs_after_the_build_finds_the_site_in_its_folder(here: Path, plain: Path) -> None:
    config = load_config(str(here / "mkdocs.yml"))
    mkdocs_build(config)
    assert Path(config.site_dir) == plain
    assert (Path(config.site_dir) / "catalogue" / "index.html").is_file()


def test_nothing_is_left_in_the_folder_for_passing_files(
    here: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    mkdocs_build(load_config(str(here / "mkdocs.yml"), site_dir=str(here / "by-passport")))
    archives.write(here / "records", BROKEN)
    with pytest.raises(Abort):
        mkdocs_build(load_config(str(here / "mkdocs.yml"), site_dir=str(here / "by-passport")))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("setting", ["docs_dir", "site_dir"])
@pytest.mark.parametrize("place", ["records", "records/instruments", "."])
def test_a_folder_that_would_publish_the_records_is_refused(here: Path, setting: str, place: str) -> None:
    config = load_config(str(here / "mkdocs.yml"))
    config[setting] = str((here / place).resolve())
    with pytest.raises(PassportError, match="lie in one another") as refused:
        mkdocs_plugin.refuse_overlap(config, here / "records")
    assert setting in refused.value.what
    assert refused.value.todo


def test_folders_beside_the_records_are_fine(here: Path) -> None:
    mkdocs_plugin.refuse_overlap(load_config(str(here / "mkdocs.yml")), here / "records")


def test_settings_without_the_plugin_are_refused_with_what_to_add(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = archives.write(tmp_path / "records")
    (tmp_path / "docs").mkdir()
    (tmp_path / "mkdocs.yml").write_text("site_name: x\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(PassportError, match="does not name the plugin") as refused:
        archives.build(root, tmp_path / "site")
    assert "passport" in refused.value.todo


def test_the_audience_is_what_the_settings_say(here: Path) -> None:
    inherited = {"INHERIT": str(here / "mkdocs.yml"), "docs_dir": str(here / "site_templates" / "pages"),
                 "plugins": {"passport": {"audience": "shop"}}}  # fmt: skip
    (here / "shop.yml").write_text(json.dumps(inherited), encoding="utf-8")
    config = load_config(str(here / "shop.yml"), site_dir=str(here / "site-shop"))
    plugin = config.plugins["passport"]
    assert isinstance(plugin, PassportPlugin)
    mkdocs_build(config)
    assert (here / "site-shop" / archives.SHOP_ONLY / "index.html").is_file()
