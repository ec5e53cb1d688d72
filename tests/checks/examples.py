"""The example archives beside the tests: one without faults, and what is laid over it to make each fault."""

from __future__ import annotations

import shutil
from pathlib import Path

from passport.checks import check
from passport.records.catalogue import load

EXAMPLES = Path(__file__).parent.parent / "examples"
GOOD = EXAMPLES / "good"
BAD = EXAMPLES / "bad"
EXPECTED = "expected.txt"


def copied(root: Path, *overlays: Path) -> Path:
    """Copy the good archive, and lay other folders over it."""
    for folder in (GOOD, *overlays):
        shutil.copytree(folder, root, dirs_exist_ok=True, ignore=shutil.ignore_patterns(EXPECTED))
    return root


def found(root: Path) -> list[str]:
    """Give all findings as `file:line:column code`, files below the archive."""
    below = len(root.as_posix()) + 1
    return [
        f"{finding.file[below:]}:{finding.line}:{finding.column} {finding.code.slug}" for finding in check(load(root))
    ]


def expected(folder: Path) -> list[str]:
    """Give the findings that stand beside an example."""
    return (folder / EXPECTED).read_text(encoding="utf-8").splitlines()


def changed(root: Path, file: str, old: str, new: str) -> None:
    """Exchange one piece of a record."""
    text = (root / file).read_text(encoding="utf-8")
    assert text.count(old) == 1, f"{old!r} does not stand once in {file}"
    (root / file).write_text(text.replace(old, new), encoding="utf-8")
