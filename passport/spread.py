"""Independent pieces of work, spread over the cores where there are enough of them to pay.

Knows nothing of what the work is. Each process is started afresh, in the same way on every system.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from typing import Any, TypeVar

S = TypeVar("S")
T = TypeVar("T")
R = TypeVar("R")

# Starting a process takes half a second, a piece of work some milliseconds.
WORTH_IT = 400
PIECES_AT_ONCE = 25

_work: tuple[Callable[[Any, Any], Any], Any] | None = None


def one_thread() -> None:
    """Keep numpy, where it is loaded later, from starting threads of its own: its sums are small, and cores are few."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def spread(work: Callable[[S, T], R], shared: S, items: Sequence[T]) -> Iterator[R]:
    """Give `work(shared, item)` for each item, in order; all three must be such as can be sent to another process."""
    cores = os.cpu_count() or 1
    done = 0
    if cores > 1 and len(items) >= WORTH_IT:
        # Where no other process can be started, or one is ended from outside, the rest is done here.
        with suppress(BrokenProcessPool):
            for result in _elsewhere(work, shared, items, cores):
                yield result
                done += 1
    yield from (work(shared, item) for item in items[done:])


def _elsewhere(work: Callable[[S, T], R], shared: S, items: Sequence[T], cores: int) -> Iterator[R]:
    afresh = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(cores, afresh, initializer=_begin, initargs=(work, shared)) as processes:
        yield from processes.map(_do, items, chunksize=PIECES_AT_ONCE)


def _begin(work: Callable[[Any, Any], Any], shared: Any) -> None:
    one_thread()
    global _work  # noqa: PLW0603 - what a process works with is given to it once, at its start
    _work = work, shared


def _do(item: Any) -> Any:
    if _work is None:
        raise RuntimeError("the work was not begun")
    work, shared = _work
    return work(shared, item)
