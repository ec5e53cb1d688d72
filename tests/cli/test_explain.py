"""`passport explain`: every finding, and what was probably meant."""

from __future__ import annotations

import re
import tomllib
from importlib import resources

import pytest

from passport.findings import Code
from passport.reference import terms
from tests.cli.running import Run

SLUGS = [code.slug for code in Code]


@pytest.mark.parametrize("code", Code, ids=lambda code: code.slug)
def test_every_finding_is_explained_with_a_bad_and_a_good_example(run: Run, code: Code) -> None:
    done = run("explain", code.slug)
    assert (done.code, done.err) == (0, "")
    assert done.out.startswith(f"{code.slug} ({code.severity.value})\n\n")
    bad, good = (re.sub(r"\s+", "", part) for part in re.split(r"Not so:\n|But so:\n", done.out)[1:])
    assert bad
    assert good
    assert bad != good


def test_no_explanation_is_left_over() -> None:
    text = (resources.files("passport") / "explanations.toml").read_text(encoding="utf-8")
    assert set(tomllib.loads(text)) == set(SLUGS)


def test_without_a_code_all_are_listed(run: Run) -> None:
    done = run("explain")
    assert [line.split()[0] for line in done.out.splitlines()] == SLUGS
    assert [line for line in done.out.splitlines() if len(line.split()) < 4] == []


@pytest.mark.parametrize(
    ("typed", "meant"), [("unknown-lott", "unknown-lot"), ("bad-unlt", "bad-unit"), ("duplicate", "duplicate-field")]
)
def test_a_code_mistyped_is_offered_the_near_one(run: Run, typed: str, meant: str) -> None:
    done = run("explain", typed)
    assert done.code == 2
    assert f"did you mean “{meant}”?" in done.err


def test_a_code_like_no_other_is_led_to_the_list(run: Run) -> None:
    done = run("explain", "zzzz")
    assert done.code == 2
    assert "passport explain" in done.err


def test_the_words_of_every_field_are_listed(run: Run) -> None:
    told = run("explain", "not-a-known-word").out
    for field in ("publish (instruments)", "role (instruments: setups)", "cut (wood)", "hazards (varnish)"):
        assert f"\n{field}:\n    " in told
    assert [word for word in terms.EVENTS if f"\n    {word}" not in told] == []


def test_the_words_for_what_is_found_are_listed(run: Run) -> None:
    told = run("explain", "unknown-condition").out
    assert [word for word in terms.CONDITIONS if f"\n    {word}" not in told] == []
