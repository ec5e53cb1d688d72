"""Work spread over processes gives what the same work gives in one."""

from __future__ import annotations

import os

import pytest

from passport import spread as room
from passport.spread import spread


def raised(power: int, number: int) -> int:
    return number**power


def fragile(parent: int, number: int) -> int:
    """Ends the process it runs in, unless that is the one that asked."""
    if number == 3 and os.getpid() != parent:
        os._exit(1)
    return -number


@pytest.fixture
def worth_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "WORTH_IT", 5)
    monkeypatch.setattr(room, "PIECES_AT_ONCE", 2)
    monkeypatch.setattr(room.os, "cpu_count", lambda: 2)


@pytest.mark.usefixtures("worth_it")
@pytest.mark.parametrize("pieces", [0, 4, 5, 11])
def test_results_come_in_the_order_of_the_items(pieces: int) -> None:
    assert list(spread(raised, 2, range(pieces))) == [number**2 for number in range(pieces)]


@pytest.mark.usefixtures("worth_it")
def test_much_work_is_done_in_other_processes_and_little_is_not() -> None:
    assert os.getpid() not in set(spread(where, None, range(6)))
    assert set(spread(where, None, range(4))) == {os.getpid()}


def where(_: None, __: int) -> int:
    return os.getpid()


@pytest.mark.usefixtures("worth_it")
def test_when_a_process_dies_the_rest_is_done_here() -> None:
    assert list(spread(fragile, os.getpid(), range(8))) == [-number for number in range(8)]
