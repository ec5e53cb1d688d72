"""What libyaml says of a broken file, in a maker's words.

Knows libyaml's sentences (scanner.c, parser.c) and the slips of hands, and nothing else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Breakage:
    """What it most often means in a record; `at_opening`: the fault lies at the opening bracket or quotation mark."""

    what: str
    todo: str
    at_opening: bool = False


BREAKAGES: dict[str, Breakage] = {
    "found character that cannot start any token": Breakage(
        "a tab or a sign stands where a field should begin",
        "indent with blanks, never tabs; put texts that begin with @, ` or % in quotes",
    ),
    "mapping values are not allowed": Breakage(
        "a second colon on this line, or a line too far in",
        "put a text that holds a colon in quotes, and line the fields up",
    ),
    "could not find expected ':'": Breakage(
        "a field's name here has no colon with a blank behind it", "write: name, colon, blank, value", at_opening=True
    ),
    "did not find expected ',' or '}'": Breakage(
        "braces opened here by { are not closed, or a comma is missing",
        "close them with } or put the comma in",
        at_opening=True,
    ),
    "did not find expected ',' or ']'": Breakage(
        "brackets opened here by [ are not closed, or a comma is missing",
        "close them with ] or put the comma in",
        at_opening=True,
    ),
    "found unexpected end of stream": Breakage(
        "a quotation mark is opened here and never closed", "close it, or leave both out", at_opening=True
    ),
    "did not find expected key": Breakage(
        "this line does not line up with the fields above it", "give fields that belong together the same indentation"
    ),
    "did not find expected '-' indicator": Breakage(
        "this line does not line up with the list above it",
        "fields of an item stand under its first field; a new item begins with “- ” like the others",
    ),
    "did not find expected node content": Breakage(
        "a value is missing here", "write it, or delete the comma or bracket"
    ),
    "did not find expected alphabetic or numeric": Breakage(
        "a text that begins with * or & has a meaning of its own in YAML", "put it in quotes"
    ),
    "exceeded max": Breakage(
        "brackets or fields stand far too deep in one another here",
        "a record is three or four deep; look for brackets that are never closed",
    ),
}

# Slips that libyaml calls by many names and that the line itself gives away.
SLIPS: tuple[tuple[re.Pattern[str], Breakage], ...] = (
    (
        re.compile(r": '[^']*'\w"),
        Breakage("the apostrophe in this text ends it", 'put the text in double quotes: "it\'s bright"'),
    ),
    (
        re.compile(r":\s+[-?]\s*$"),
        Breakage("a dash or a question mark alone is no value", "leave the value empty, or take the line out"),
    ),
    (
        re.compile(r"^\s*-[^\s-]"),
        Breakage("the dash that begins this item has no blank behind it", "write “- ”, then the item"),
    ),
    (
        re.compile(r"^\s*(- )?\w+:[^\s:]"),
        Breakage("a blank is missing after the colon", "write: name, colon, blank, value", at_opening=True),
    ),
)


def breakage(said: str, line: str) -> Breakage:
    """Give the meaning of a sentence of libyaml's about a line."""
    for pattern, meaning in SLIPS:
        if pattern.search(line):
            return meaning
    for sign, meaning in BREAKAGES.items():
        if sign in said:
            return meaning
    return Breakage(f"the notation breaks off here ({said.strip()})", "compare the line with one like it that is right")
