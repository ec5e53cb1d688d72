"""The mutation run: it makes the faults it promises, and tells a test that looks from one that does not."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.mutants import mutants_of, survivors

forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork a process")


@pytest.fixture
def toy(tmp_path: Path) -> Path:
    """Give a module with one product, that has two mutants: another sign, another number."""
    path = tmp_path / "toy.py"
    path.write_text("def twice(size):\n    return 2 * size\n", encoding="utf-8")
    return path


def with_a_test(toy: Path, asserted: str) -> list[Path]:
    """Write a test file for it that asserts so much."""
    path = toy.with_name("test_toy.py")
    text = f"from passport.physics.toy import twice\n\n\ndef test_twice():\n    assert {asserted}\n"
    path.write_text(text, encoding="utf-8")
    return [path]


def test_every_sign_operator_comparison_and_number_is_changed() -> None:
    source = "def f(a, b):\n    if not a < b or a == 0:\n        return -a + b ** 2\n    return 2.0 / b\n"
    made = {(each.line, each.words) for each in mutants_of(source)}
    assert made == {
        (2, "not a < b and a == 0"), (2, "not not a < b"), (2, "a <= b"), (2, "a >= b"), (2, "a != 0"), (2, "1"),
        (3, "-a - b ** 2"), (3, "+a"), (3, "b * 2"), (3, "3"), (4, "2.0 * b"), (4, "2.02"),
    }  # fmt: skip


@forks
def test_a_test_that_looks_notices_every_mutant(toy: Path) -> None:
    assert survivors(toy, with_a_test(toy, "twice(3) == 6")) == (2, [])


@forks
def test_a_test_that_hardly_looks_lets_one_through(toy: Path) -> None:
    count, left = survivors(toy, with_a_test(toy, "twice(3) > 5"))
    assert (count, [(each.line, each.words) for each in left]) == (2, [(2, "3")])


@forks
def test_a_test_that_fails_anyway_proves_nothing_and_is_said(toy: Path) -> None:
    with pytest.raises(SystemExit, match="fail as they are"):
        survivors(toy, with_a_test(toy, "twice(3) == 7"))
