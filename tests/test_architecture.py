"""The rooms of the package: imports run downwards only, and a contract that could not fail would prove nothing."""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.archives import ROOT

PACKAGE = ROOT / "passport"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST_MODULE = 400


RUN = "from importlinter.cli import lint_imports; import sys; sys.exit(lint_imports(no_cache=True))"


def contracts(folder: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", f"import sys; sys.path.insert(0, '.'); {RUN}"]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False)  # noqa: S603 - our own arguments


def test_imports_run_downwards_only() -> None:
    done = contracts(ROOT)
    assert "0 broken" in done.stdout, done.stdout
    assert done.returncode == 0


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> str:
    """What the contracts say of a copy in which each of them is broken once."""
    folder = tmp_path_factory.mktemp("copy")
    shutil.copy(ROOT / "pyproject.toml", folder)
    shutil.copytree(PACKAGE, folder / "passport", ignore=shutil.ignore_patterns("__pycache__"))
    for module, line in FORBIDDEN.items():
        path = folder / "passport" / module
        path.write_text(f"{path.read_text(encoding='utf-8')}\n{line}\n", encoding="utf-8")
    done = contracts(folder)
    assert done.returncode != 0
    return done.stdout


FORBIDDEN = {
    "units.py": "import passport.records.catalogue",
    "site/data.py": "import passport.records.catalogue",
    "views/tree.py": "import passport.records.model.instrument",
    "checks/form.py": "import yaml",
    "publish.py": "import mkdocs",
    "records/walk.py": "import rich",
    "views/numbers.py": "import PIL",
    "physics/wood.py": "import passport.near",
    "analysis/windows.py": "import numpy",
    "views/history.py": "import cryptography",
}


@pytest.mark.parametrize(
    "name",
    [
        "Rooms import downwards only",
        "What is handed out sees views, never records",
        "The view tree is plain: it imports nothing of ours",
        "One door to YAML: records.reader",
        "One door to MkDocs: mkdocs_plugin",
        "The terminal belongs to cli and report",
        "Pillow belongs to pictures and labels, typst to pdf, qrcode to labels",
        "The sums know numbers alone: physics imports nothing of ours",
        "numpy belongs to physics and figures, contourpy to figures",
        "cryptography and rfc8785 belong to credentials",
    ],
)
def test_a_forbidden_import_breaks_its_contract(broken: str, name: str) -> None:
    assert f"{name} BROKEN" in " ".join(broken.split())


def test_every_contract_is_tried(broken: str) -> None:
    assert "0 kept, 10 broken" in broken


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_module_says_what_it_is_for_and_stays_short(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    lines = (ast.get_docstring(ast.parse(text)) or "").splitlines()
    assert lines, "no docstring"
    assert lines[0].endswith("."), lines[0]
    assert len(text.splitlines()) <= LONGEST_MODULE


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    assert not {path.stem for path in MODULES} & {
        "utils",
        "util",
        "helpers",
        "helper",
        "manager",
        "base",
        "common",
        "misc",
    }
    assert len(MODULES) > 50
