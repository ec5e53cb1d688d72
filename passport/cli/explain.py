"""`passport explain`: what a finding means, with a bad and a good example."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

import click

from passport.cli.console import out
from passport.explanations import explanation_of
from passport.findings import Code, code_named
from passport.near import nearest
from passport.records.vocabulary import word_lists
from passport.reference import terms

WIDTH = 90


@click.command(short_help="Say what a finding means.")
@click.argument("code", required=False)
def explain(code: str | None) -> None:
    """Say what the finding CODE means and how to mend it; without CODE, list them all."""
    if code is None:
        for known in Code:
            out.print(f"{known.slug:<26} {known.severity.value:<8} {explanation_of(known).summary}", markup=False)
        return
    found = code_named(code)
    if found is None:
        known_slugs = [known.slug for known in Code]
        raise click.BadParameter(
            f"there is no finding “{code}”; {nearest(code, known_slugs, 'list them: passport explain')}"
        )
    told = explanation_of(found)
    out.print(f"{found.slug} ({found.severity.value})\n\n{told.summary}\n\n{told.why}\n", markup=False)
    out.print(f"Not so:\n\n{_indented(told.bad)}\n\nBut so:\n\n{_indented(told.good)}", markup=False)
    for heading, words in _words_of(found):
        out.print(f"\n{heading}:\n{_indented(words)}", markup=False)


def _words_of(code: Code) -> Iterator[tuple[str, str]]:
    """Give the lists of words that a finding holds a record against, each with where they are used."""
    if code is Code.UNKNOWN_CONDITION:
        yield "The words", _with_meanings(terms.CONDITIONS)
    if code is Code.NOT_A_KNOWN_WORD:
        for each in word_lists():
            where = "; ".join(f"{kind}: {', '.join(below)}" if below else kind for kind, below in each.places.items())
            is_event = each.words == tuple(terms.EVENTS)
            yield f"{each.field} ({where})", _with_meanings(terms.EVENTS) if is_event else _wrapped(each.words)


def _with_meanings(words: Mapping[str, terms.Term]) -> str:
    return "\n".join(f"{term.term:<28}{term.meaning}".rstrip() for term in words.values())


def _wrapped(words: tuple[str, ...]) -> str:
    return textwrap.fill(", ".join(words), WIDTH, break_on_hyphens=False)


def _indented(example: str) -> str:
    return "\n".join(f"    {line}" for line in example.strip("\n").split("\n"))
