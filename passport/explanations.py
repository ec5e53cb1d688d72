"""What each finding means, read from `explanations.toml`: a summary, the reason, a bad and a good example."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources

from passport.findings import Code


@dataclass(frozen=True)
class Explanation:
    """One entry; examples are pieces of a record, or say in words what lies in the folder."""

    summary: str
    why: str
    bad: str
    good: str


@cache
def _entries() -> dict[str, Explanation]:
    text = (resources.files(__package__) / "explanations.toml").read_text(encoding="utf-8")
    return {slug: Explanation(**entry) for slug, entry in tomllib.loads(text).items()}


def explanation_of(code: Code) -> Explanation:
    """Give the entry of a code; KeyError where it is missing, which a test forbids."""
    return _entries()[code.slug]
