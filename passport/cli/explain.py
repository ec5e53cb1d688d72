"""`passport explain`: what a finding means, with a bad and a good example."""

from __future__ import annotations

import click

from passport.cli.console import out
from passport.explanations import explanation_of
from passport.findings import Code, code_named
from passport.near import nearest
from passport.reference import terms


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
    words = WORDS.get(found)
    if words:
        lines = (f"{term.term:<28}{term.meaning}".rstrip() for term in words.values())
        out.print("\nThe words:\n\n" + _indented("\n".join(lines)), markup=False)


# The lists of words that two findings hold a record against.
WORDS = {Code.UNKNOWN_CONDITION: terms.CONDITIONS, Code.NOT_A_KNOWN_WORD: terms.EVENTS}


def _indented(example: str) -> str:
    return "\n".join(f"    {line}" for line in example.strip("\n").split("\n"))
