"""Files are put in place whole, and a folder is brought up to date without touching what is right."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from passport.errors import PassportError
from passport.files import Synced, sync, write_atomic, write_new, write_new_folder, write_private


def names(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_a_file_is_written_with_its_folders_and_nothing_else_is_left(tmp_path: Path) -> None:
    write_atomic(tmp_path / "a" / "b.txt", b"one")
    write_atomic(tmp_path / "a" / "b.txt", b"two")
    assert names(tmp_path) == ["a", "a/b.txt"]
    assert (tmp_path / "a" / "b.txt").read_bytes() == b"two"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_a_file_can_be_read_by_a_web_server(tmp_path: Path) -> None:
    write_atomic(tmp_path / "a", b"")
    assert stat.S_IMODE((tmp_path / "a").stat().st_mode) == 0o644


def test_a_write_that_fails_leaves_the_old_file_and_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_atomic(tmp_path / "a", b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(PassportError, match="No space left") as caught:
        write_atomic(tmp_path / "a", b"new")
    assert caught.value.todo
    assert names(tmp_path) == ["a"]
    assert (tmp_path / "a").read_bytes() == b"old"


def test_an_interrupted_write_leaves_no_half_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_atomic(tmp_path / "a", b"new")
    assert names(tmp_path) == []


def test_a_place_that_cannot_be_written_is_said_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(PassportError, match="cannot be written") as caught:
        write_atomic(tmp_path / "file" / "below", b"")
    assert caught.value.todo


def test_a_new_file_is_never_written_over_an_old_one(tmp_path: Path) -> None:
    write_new(tmp_path / "a", b"one")
    with pytest.raises(PassportError, match="is there already"):
        write_new(tmp_path / "a", b"two")
    assert (tmp_path / "a").read_bytes() == b"one"


def test_a_folder_holds_what_it_is_given_and_nothing_else(tmp_path: Path) -> None:
    assert sync(tmp_path, [("a", b"1"), ("b/c", b"2"), ("b/d", b"3")]) == Synced(3, 0, 0)
    assert sync(tmp_path, [("a", b"1"), ("b/c", b"4")]) == Synced(1, 1, 1)
    assert names(tmp_path) == ["a", "b", "b/c"]
    assert sync(tmp_path, [("a", b"1")]) == Synced(0, 1, 1)
    assert names(tmp_path) == ["a"]


def test_a_file_that_is_as_it_should_be_is_not_touched(tmp_path: Path) -> None:
    sync(tmp_path, [("a", b"1"), ("b", b"2")])
    os.utime(tmp_path / "a", ns=(1_000_000_000, 1_000_000_000))
    os.utime(tmp_path / "b", ns=(1_000_000_000, 1_000_000_000))
    sync(tmp_path, [("a", b"1"), ("b", b"3")])
    assert (tmp_path / "a").stat().st_mtime_ns == 1_000_000_000
    assert (tmp_path / "b").stat().st_mtime_ns != 1_000_000_000


def test_a_file_of_the_same_length_is_still_compared(tmp_path: Path) -> None:
    sync(tmp_path, [("a", b"12")])
    assert sync(tmp_path, [("a", b"21")]).written == 1


def test_two_makers_of_one_file_are_a_fault(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="made twice"):
        sync(tmp_path, [("a", b"1"), ("a", b"2")])


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_a_private_file_is_its_owners_from_the_first_byte(tmp_path: Path) -> None:
    write_private(tmp_path / "keys" / "a", b"secret")
    assert stat.S_IMODE((tmp_path / "keys" / "a").stat().st_mode) == 0o600
    with pytest.raises(PassportError, match="there already"):
        write_private(tmp_path / "keys" / "a", b"other")
    assert (tmp_path / "keys" / "a").read_bytes() == b"secret"


def test_a_folder_is_put_in_place_with_all_its_files_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_new_folder(tmp_path / "out" / "001", {"a": b"one", "b": b"two"})
    assert names(tmp_path / "out") == ["001", "001/a", "001/b"]
    with pytest.raises(PassportError, match="there already"):
        write_new_folder(tmp_path / "out" / "001", {"a": b"three"})
    assert (tmp_path / "out" / "001" / "a").read_bytes() == b"one"

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "rename", full)
    with pytest.raises(PassportError, match="No space left"):
        write_new_folder(tmp_path / "out" / "002", {"a": b"one"})
    assert names(tmp_path / "out") == ["001", "001/a", "001/b"]
