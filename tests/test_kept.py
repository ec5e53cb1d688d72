"""A notebook gives back what was kept from the same inputs, and is never in the way."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from pathlib import Path

import pytest

from passport import kept
from passport.findings import Code, Finding
from passport.kept import FILE, FOLDER, Notebook, digest, states


@dataclass(frozen=True)
class Told:
    words: tuple[str, ...]
    findings: tuple[Finding, ...] = ()


TOLD = Told(("a", "ü"), (Finding(Code.BAD_UNIT, "f.yml", "what", "todo", ("setups", 0, "G"), line=3, column=4),))


def written(folder: Path, **results: Told) -> None:
    notebook = Notebook(folder)
    chapter = notebook.chapter("told", Told)
    for name, result in results.items():
        chapter.put(name, "inputs", result)
    notebook.save()


def test_what_was_kept_comes_back_as_it_was(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD)
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") == TOLD


def test_other_inputs_name_or_chapter_find_nothing(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD)
    notebook = Notebook(tmp_path)
    assert notebook.chapter("told", Told).get("one", "other inputs") is None
    assert notebook.chapter("told", Told).get("two", "inputs") is None
    assert notebook.chapter("heard", Told).get("one", "inputs") is None


def test_what_nobody_asks_for_is_forgotten(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD, two=TOLD)
    written(tmp_path, one=TOLD)
    chapter = Notebook(tmp_path).chapter("told", Told)
    assert chapter.get("one", "inputs") == TOLD
    assert chapter.get("two", "inputs") is None


def test_another_version_of_the_tool_finds_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written(tmp_path, one=TOLD)
    monkeypatch.setattr(kept, "tool_digest", lambda: "another")
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") is None


@pytest.mark.parametrize("content", [b"", b"no database", b"SQLite format 3\0" + b"\xff" * 3000])
def test_a_file_that_is_no_notebook_is_replaced(tmp_path: Path, content: bytes) -> None:
    (tmp_path / FOLDER).mkdir()
    (tmp_path / FOLDER / FILE).write_bytes(content)
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") is None
    written(tmp_path, one=TOLD)
    written(tmp_path, one=TOLD)
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") == TOLD


def test_a_result_of_another_form_is_not_used(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD)
    with sqlite3.connect(tmp_path / FOLDER / FILE) as book:
        book.execute("UPDATE kept SET result = ?", (b'{"words": 4}',))
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") is None


def test_a_notebook_in_use_is_not_waited_for_long_and_not_harmed(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD)
    other = sqlite3.connect(tmp_path / FOLDER / FILE, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    written(tmp_path, two=TOLD)
    other.execute("ROLLBACK")
    other.close()
    assert Notebook(tmp_path).chapter("told", Told).get("one", "inputs") == TOLD


def test_it_stays_out_of_version_control(tmp_path: Path) -> None:
    written(tmp_path, one=TOLD)
    assert (tmp_path / FOLDER / ".gitignore").read_text(encoding="utf-8") == "*\n"


def test_without_a_folder_nothing_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    notebook = Notebook()
    notebook.chapter("told", Told).put("one", "inputs", TOLD)
    notebook.save()
    assert list(tmp_path.iterdir()) == []


def test_states_tell_a_change_and_do_not_follow_links(tmp_path: Path) -> None:
    (tmp_path / "in" / "deep").mkdir(parents=True)
    (tmp_path / "in" / "deep" / "a").write_text("1", encoding="utf-8")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "b").write_text("2", encoding="utf-8")
    (tmp_path / "in" / "link").symlink_to(tmp_path / "out")
    before = dict(states(tmp_path / "in"))
    assert set(before) == {"deep/a", "link"}
    (tmp_path / "in" / "deep" / "a").write_text("12", encoding="utf-8")
    assert dict(states(tmp_path / "in"))["deep/a"] != before["deep/a"]


def test_a_digest_tells_every_part_from_its_neighbour() -> None:
    assert digest(["ab", "c"]) != digest(["a", "bc"])
    assert digest(["a"]) != digest(["a", ""])


def test_only_what_came_from_other_inputs_is_made_anew_and_all_comes_in_order(tmp_path: Path) -> None:
    asked: list[list[str]] = []

    def make(new: list[str]) -> list[Told]:
        asked.append(new)
        return [Told((name,)) for name in new]

    for inputs in ({"b": "1", "a": "1"}, {"a": "1", "c": "1", "b": "2"}):
        notebook = Notebook(tmp_path)
        found = notebook.chapter("told", Told).fill(inputs, make)
        notebook.save()
        assert list(found.items()) == [(name, Told((name,))) for name in inputs]
    assert asked == [["b", "a"], ["c", "b"]]
