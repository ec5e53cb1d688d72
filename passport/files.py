"""Writing to disk so that nothing is ever half there: whole files put in place at once, folders brought up to date.

Knows nothing of what is in the files.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from passport.errors import PassportError
from passport.kept import states


@dataclass(frozen=True)
class Synced:
    """How many files of a folder were written, were as they should be, and were taken away."""

    written: int
    kept: int
    removed: int


# A name in a folder, and what is to stand there; nothing, where it is known to stand there already.
File = tuple[str, bytes | None]


def write_atomic(path: Path, content: bytes) -> None:
    """Put a file in place whole; whoever reads it meanwhile sees the old one."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".tmp")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(name).chmod(0o644)
            Path(name).replace(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise _unwritable(path, error) from error


def write_new(path: Path, content: bytes) -> None:
    """Put a file in place that must not be there yet."""
    if path.exists():
        raise _there_already(path)
    write_atomic(path, content)


def write_private(path: Path, content: bytes) -> None:
    """Put a file in place that only its owner may read, and that must not be there yet."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
        except BaseException:
            path.unlink(missing_ok=True)
            raise
    except FileExistsError as error:
        raise _there_already(path) from error
    except OSError as error:
        raise _unwritable(path, error) from error


def write_new_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put a folder in place with all its files at once; it must not be there yet."""
    if folder.exists():
        raise _there_already(folder)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        aside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=".", suffix=".tmp"))
        try:
            for name, content in files.items():
                write_atomic(aside / name, content)
            aside.chmod(0o755)
            aside.rename(folder)
        except BaseException:
            shutil.rmtree(aside, ignore_errors=True)
            raise
    except OSError as error:
        raise _unwritable(folder, error) from error


def _there_already(path: Path) -> PassportError:
    return PassportError(f"“{path}” is there already", "nothing was written over it; move it away first")


def _unwritable(path: Path, error: OSError) -> PassportError:
    return PassportError(
        f"“{path}” cannot be written: {error.strerror}", "look at the folder's rights and the room on the disk"
    )


def sync(folder: Path, files: Iterable[File]) -> Synced:
    """Bring a folder to hold these files and no others; a file that is as it should be is not touched.

    A file without content is known to stand there as it should.
    """
    seen: set[str] = set()
    written = 0
    for name, content in files:
        if not _is_inside(name):
            raise ValueError(f"{name} would lie outside the folder")
        if name in seen:
            raise ValueError(f"{name} is made twice")
        seen.add(name)
        if content is not None and not _holds(folder / name, content):
            write_atomic(folder / name, content)
            written += 1
    removed = _remove_others(folder, seen)
    return Synced(written, len(seen) - written, removed)


def _is_inside(name: str) -> bool:
    """Tell whether a name stays in its folder on every system."""
    return not (set(name) & set("\\:") or name.startswith("/") or ".." in name.split("/"))


def _holds(path: Path, content: bytes) -> bool:
    try:
        return path.stat().st_size == len(content) and path.read_bytes() == content
    except OSError:
        return False


def _remove_others(folder: Path, seen: set[str]) -> int:
    try:
        others = [folder / name for name, _ in states(folder) if name not in seen]
        for path in others:
            path.unlink()
            _remove_empty(path.parent, folder)
    except OSError as error:
        todo = "close whatever has it open, then build again"
        raise PassportError(f"“{error.filename}” cannot be taken away: {error.strerror}", todo) from error
    return len(others)


def _remove_empty(inner: Path, folder: Path) -> None:
    while inner != folder and not any(inner.iterdir()):
        inner.rmdir()
        inner = inner.parent
