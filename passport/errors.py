"""Faults of the environment: a folder that is missing, a disk that is full, an address that cannot be printed.

Faults in records are findings, never exceptions; everything raised on purpose is a `PassportError`.
"""

from __future__ import annotations


class PassportError(Exception):
    """A fault that stops one command, said in one sentence, with what to do about it."""

    def __init__(self, what: str, todo: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.todo = todo
