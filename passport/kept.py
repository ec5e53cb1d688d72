"""What was worked out before, kept so that only what changed is worked out again.

The only door to SQLite. The file may be thrown away at any time: without it everything is worked out anew.
"""

from __future__ import annotations

import hashlib
import os
import sqlite3
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from importlib.metadata import version
from pathlib import Path
from typing import Any, Generic, TypeVar

from pydantic import TypeAdapter
from pydantic_core import to_json

T = TypeVar("T")

FOLDER = ".passport-cache"
FILE = "results.sqlite"
# Another of these reads or sets a record in another way, so that nothing kept under it is good any more.
PARTS = ("pydantic", "PyYAML", "Jinja2", "Pillow")
TABLE = (
    "CREATE TABLE IF NOT EXISTS kept (chapter TEXT, name TEXT, inputs TEXT, result BLOB, PRIMARY KEY (chapter, name))"
)


class Notebook:
    """Results by chapter and name. Without a folder, or where its file cannot be used, it keeps nothing."""

    def __init__(self, folder: Path | None = None) -> None:
        self._file = folder / FOLDER / FILE if folder else None
        self.tool = tool_digest() if folder else ""
        self._chapters: list[Chapter[Any]] = []

    def chapter(self, title: str, kind: Any) -> Chapter[Any]:
        """Give the results of one kind that were kept last time."""
        made: Chapter[Any] = Chapter(title, TypeAdapter(kind), self._rows(title))
        self._chapters.append(made)
        return made

    def _rows(self, title: str) -> dict[str, tuple[str, bytes]]:
        if self._file is None or not self._file.is_file():
            return {}
        with suppress(sqlite3.Error), _opened(self._file) as book:
            found = book.execute("SELECT name, inputs, result FROM kept WHERE chapter = ?", (f"{title} {self.tool}",))
            return {name: (inputs, result) for name, inputs, result in found}
        return {}

    def save(self) -> None:
        """Write down what is new, and forget what nobody asked for; a file that cannot be written is left alone."""
        if self._file is None or not any(chapter.is_changed for chapter in self._chapters):
            return
        with suppress(OSError):
            _make_folder(self._file.parent)
            try:
                self._write(self._file)
            except sqlite3.OperationalError:
                return  # another build is at it, or the disk is full; what that one kept is as good
            except sqlite3.DatabaseError:
                self._file.unlink()

    def _write(self, file: Path) -> None:
        with _opened(file) as book, book:
            book.execute(TABLE)
            book.execute("DELETE FROM kept WHERE chapter NOT LIKE ?", (f"% {self.tool}",))
            for chapter in self._chapters:
                title = f"{chapter.title} {self.tool}"
                book.executemany(
                    "DELETE FROM kept WHERE chapter = ? AND name = ?", ((title, name) for name in chapter.idle)
                )
                rows = ((title, name, inputs, result) for name, (inputs, result) in chapter.new.items())
                book.executemany("INSERT OR REPLACE INTO kept VALUES (?, ?, ?, ?)", rows)


class Chapter(Generic[T]):
    """The results of one kind, each by a name and with a digest of all that it was worked out from."""

    def __init__(self, title: str, form: TypeAdapter[T], rows: dict[str, tuple[str, bytes]]) -> None:
        self.title = title
        self.new: dict[str, tuple[str, bytes]] = {}
        self._form = form
        self._rows = rows
        self._wanted: set[str] = set()

    def get(self, name: str, inputs: str) -> T | None:
        """Give what was kept under a name, if it came from the same inputs."""
        self._wanted.add(name)
        kept = self._rows.get(name)
        if kept is None or kept[0] != inputs:
            return None
        try:
            return self._form.validate_json(kept[1])
        except ValueError:
            return None

    def put(self, name: str, inputs: str, result: T) -> None:
        """Keep a result."""
        self._wanted.add(name)
        self.new[name] = (inputs, self._form.dump_json(result))

    def fill(self, inputs: Mapping[str, str], make: Callable[[list[str]], Iterable[T]]) -> dict[str, T]:
        """Give the result of each name, in their order; what came from other inputs is made anew by `make`."""
        found = {name: self.get(name, known) for name, known in inputs.items()}
        new = [name for name, kept in found.items() if kept is None]
        for name, made in zip(new, make(new), strict=True):
            found[name] = made
            self.put(name, inputs[name], made)
        return {name: result for name, result in found.items() if result is not None}

    @property
    def idle(self) -> set[str]:
        """Give the names that were kept and that nobody asked for this time: their records are gone."""
        return self._rows.keys() - self._wanted

    @property
    def is_changed(self) -> bool:
        """Tell whether there is anything to write down."""
        return bool(self.new or self.idle)


def digest(parts: Iterable[object]) -> str:
    """Give a short name for everything a result comes from."""
    return hashlib.sha256("\0".join(map(str, parts)).encode()).hexdigest()[:32]


def form_of(value: object) -> bytes:
    """Give a value as it would be kept, which is the same for the same value in every run."""
    return to_json(value)


def tool_digest() -> str:
    """Name this very version of the tool, a file changed by hand included."""
    package = Path(__file__).parent
    own = (found for found in states(package) if "__pycache__" not in found[0])
    return digest([sys.version_info[:3], *map(version, PARTS), *own])


def states(folder: Path, inside: str = "") -> Iterator[tuple[str, str]]:
    """Give every file below a folder, by its name there, with its size and the moment it was changed."""
    with suppress(FileNotFoundError), os.scandir(folder) as found:
        for entry in sorted(found, key=lambda entry: entry.name):
            if entry.is_dir(follow_symlinks=False):
                yield from states(Path(entry.path), f"{inside}{entry.name}/")
            else:
                yield inside + entry.name, state(entry.stat(follow_symlinks=False))


def state(stat: os.stat_result) -> str:
    """Give what tells that a file is still the one that was looked at."""
    return f"{stat.st_size}:{stat.st_mtime_ns}"


@contextmanager
def _opened(file: Path) -> Iterator[sqlite3.Connection]:
    book = sqlite3.connect(file, timeout=1)
    try:
        yield book
    finally:
        book.close()


def _make_folder(folder: Path) -> None:
    """Make the folder, and keep it out of version control."""
    folder.mkdir(parents=True, exist_ok=True)
    note = folder / ".gitignore"
    if not note.exists():
        note.write_text("*\n", encoding="utf-8")
