"""How long things take, as ratios in one run: `make benchmark`, or `python -m tests.benchmark 2000` for another size.

Seconds differ from machine to machine; what is compared over time is each step beside MkDocs with the Material theme
setting the same records as plain Markdown pages. No test; it asserts nothing.
"""

from __future__ import annotations

import os
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from passport.records.identity import minted
from tests.archives import DEMO, ROOT

# One instrument in five has thickness maps, as in the demo's own mix; photographs are left out.
WITH_PLATES = 5
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"}


def archive(folder: Path, count: int) -> Path:
    """Write an archive of so many instruments, each like one of the demo's, with wood that nobody else has."""
    left_out = shutil.ignore_patterns("photos", "instruments", "private", "schema")
    records = Path(shutil.copytree(DEMO, folder / "records", ignore=left_out))
    (records / "instruments").mkdir()
    texts = [path.read_text(encoding="utf-8") for path in sorted((DEMO / "instruments").glob("*.yml"))]
    taken: set[str] = set()
    chosen = random.Random(1)  # noqa: S311 - the same archive every time
    for index in range(count):
        number = minted(taken, chosen.choice)
        taken.add(number)
        text = like(texts[index % len(texts)], number, index)
        (records / "instruments" / f"{number}.yml").write_text(text, encoding="utf-8")
    return records


def like(text: str, number: str, index: int) -> str:
    """Make another record of a demo's: its own number and serial, listed, without photographs."""
    for field in ("photos", *(["plates"] if index % WITH_PLATES else [])):
        text = re.sub(rf"^{field}:.*?(?=^\S|\Z)", "", text, flags=re.DOTALL | re.MULTILINE)
    text = re.sub(r"wedge: [^,}\n]*,? ?", "", text)
    text = re.sub(r"^id:.*$", f"id: {number}", text, flags=re.MULTILINE)
    text = re.sub(r"^serial:.*$", f"serial: BM {index}", text, flags=re.MULTILINE)
    return re.sub(r"^publish:.*$", "publish: listed", text, flags=re.MULTILINE)


def plain_site(folder: Path, records: Path) -> None:
    """Write the same records as Markdown, a list of their lines each, for MkDocs and the theme alone."""
    (folder / "docs").mkdir()
    (folder / "mkdocs.yml").write_text("site_name: plain\ntheme: {name: material, font: false}\n", encoding="utf-8")
    (folder / "docs" / "index.md").write_text("# Plain\n", encoding="utf-8")
    for path in (records / "instruments").glob("*.yml"):
        lines = [f"- {line.strip()}" for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
        (folder / "docs" / f"{path.stem}.md").write_text(f"# {path.stem}\n\n" + "\n".join(lines), encoding="utf-8")


def took_s(*command: str, folder: Path) -> float:
    """Run a command and give the seconds it took."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-m", *command], cwd=folder, env=ENVIRONMENT, check=False, capture_output=True)  # noqa: S603
    return time.perf_counter() - begun


def touched(records: Path) -> None:
    """Change one record."""
    path = min((records / "instruments").glob("*.yml"))
    path.write_text(path.read_text(encoding="utf-8").replace("serial: BM", "serial: BN", 1), encoding="utf-8")


def main(count: int) -> None:
    """Print each step in seconds and beside the plain site."""
    with tempfile.TemporaryDirectory(prefix="passport-") as name:
        folder = Path(name)
        records = archive(folder, count)
        plain_site(folder, records)
        plain = took_s("mkdocs", "build", "-q", "-f", "mkdocs.yml", "-d", str(folder / "plain"), folder=folder)
        (folder / "mkdocs.yml").unlink()
        steps: list[tuple[str, Callable[[], object] | None, tuple[str, ...]]] = [
            ("check, cold", None, ("passport", "check")),
            ("build, after a check", None, ("passport", "build", "--with-errors")),
            ("build, cold", lambda: shutil.rmtree(folder / ".passport-cache"), ("passport", "build", "--with-errors")),
            ("build, nothing changed", None, ("passport", "build", "--with-errors")),
            ("build, one record changed", lambda: touched(records), ("passport", "build", "--with-errors")),
            ("check, nothing changed", None, ("passport", "check")),
        ]
        print(f"{count} instruments; plain MkDocs with Material: {plain:.1f} s")  # noqa: T201 - its whole purpose
        for step, before, command in steps:
            if before is not None:
                before()
            seconds = took_s(*command, folder=folder)
            print(f"{step:<28}{seconds:7.2f} s {seconds / plain:7.3f} of plain")  # noqa: T201
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
        print(f"largest process: {peak} MB")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
