"""The only door to YAML: from a record file to plain text values, each with its place.

Refuses everything in YAML that a maker would not write on purpose, and keeps reading so that all faults are found.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path as FilePath
from typing import Any

import yaml

from passport.findings import Code, Finding, Path
from passport.records.breakage import breakage
from passport.records.decoding import START, UNPRINTABLE, Place, Undecodable, text_of, text_of_file

MAX_DEPTH = 20

Tree = dict[str, "Tree"] | list["Tree"] | str | None

# Where a line ends for libyaml: YAML 1.1, production [20] b-char and the order in which they are eaten.
LINE_END = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
# A “#” behind a text with no blank behind itself: `crack #2 glued`.
HASH = re.compile(r"\s+(#[^\s#].*)")

# A plain value that says there is none: the field is there to be filled.
NOTHING = ("", "~", "null")


@dataclass(frozen=True)
class Reading:
    """What a file holds, where each field and value stands, and what was refused on the way."""

    tree: Tree = None
    places: dict[Path, Place] = field(default_factory=dict)
    keys: dict[Path, Place] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()

    def place_of(self, path: Path, *, on_key: bool) -> Place:
        """Give the place of the longest part of a path that stands in the file."""
        for length in range(len(path), 0, -1):
            part = path[:length]
            if part in self.keys and (on_key or length < len(path)):
                return self.keys[part]
            if part in self.places:
                return self.places[part]
        return START


def read_file(path: FilePath, file: str, *, placed: bool = True) -> Reading:
    """Read one record from disk. What cannot be read at all gives an empty tree and says why.

    Without `placed` the places are left out, at a third of the time: most records have nothing to point at.
    """
    try:
        return _read(text_of_file(path, file), file, placed=placed)
    except Undecodable as error:
        return Reading(findings=(error.finding,))


def read(data: bytes, file: str) -> Reading:
    """Read one record from memory, like `read_file`."""
    try:
        return _read(text_of(data, file), file, placed=True)
    except Undecodable as error:
        return Reading(findings=(error.finding,))


def _read(text: str, file: str, *, placed: bool) -> Reading:
    builder = _Builder(file, LINE_END.split(text), placed)
    try:
        tree = builder.document(yaml.parse(text, Loader=yaml.CSafeLoader))
    except yaml.MarkedYAMLError as error:
        builder.refuse_syntax(error)
        tree = None
    except _TooDeep:
        tree = None
    return Reading(tree, builder.places, builder.keys, tuple(builder.findings))


class _TooDeep(Exception):
    """Reading on would be unsafe; the finding is already noted."""


@dataclass
class _Builder:
    """Turns libyaml's events into a tree of text, noting where everything stands."""

    file: str
    lines: list[str]
    placed: bool
    places: dict[Path, Place] = field(default_factory=dict)
    keys: dict[Path, Place] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def document(self, events: Iterator[yaml.Event]) -> Tree:
        """Build the first document; a second one is refused."""
        tree: Tree = None
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self._refuse(Code.SEVERAL_DOCUMENTS, _start(event))
                    break
                tree = self._node(next(events), events, ())
        if tree is None:
            self._refuse(Code.EMPTY_RECORD, START)
        elif not isinstance(tree, dict):
            self._refuse(Code.NOT_A_RECORD, START)
        return tree

    def _node(self, event: yaml.Event, events: Iterator[yaml.Event], path: Path) -> Tree:
        if len(path) > MAX_DEPTH:
            self._refuse(Code.TOO_DEEP, _start(event))
            raise _TooDeep
        if self.placed:
            self.places[path] = _start(event)
        self._refuse_specials(event)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(event, events, path)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._sequence(event, events, path)
        return self._scalar(event) if isinstance(event, yaml.ScalarEvent) else None

    def _scalar(self, event: yaml.ScalarEvent) -> str | None:
        if event.style:  # in quotes, or a block of lines; libyaml gives plain words an empty style
            return str(event.value)
        self._warn_of_hash(event)
        return None if event.value in NOTHING else str(event.value)

    def _mapping(self, start: yaml.MappingStartEvent, events: Iterator[yaml.Event], path: Path) -> Tree:
        tree: dict[str, Tree] = {}
        lines: dict[str, int] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            name = self._name(event, events)
            value = next(events)
            if name is None or name in tree or name == "<<" or self._is_comma_trap(start, event, value):
                self._refuse_entry(event, name, lines)
                _skip(value, events)
                continue
            lines[name] = _start(event).line
            if self.placed:
                self.keys[(*path, name)] = _start(event)
            tree[name] = self._node(value, events, (*path, name))
        return tree

    def _name(self, event: yaml.Event, events: Iterator[yaml.Event]) -> str | None:
        self._refuse_specials(event)
        if isinstance(event, yaml.ScalarEvent):
            return str(event.value)
        _skip(event, events)
        return None

    def _refuse_entry(self, event: yaml.Event, name: str | None, lines: dict[str, int]) -> None:
        place = _start(event)
        if name is None:
            self._refuse(Code.NOT_A_RECORD, place)
        elif name == "<<":
            self._refuse(Code.MERGE_KEY, place)
        elif name in lines:
            self._refuse(Code.DUPLICATE_FIELD, place, name=name, first=lines[name])
        elif ":" in name:
            self._note(Code.COMMA_IN_BRACES, place, f"“{name}” has no blank after its colon", POINT)
        elif name[:1].isdigit():
            self._note(Code.COMMA_IN_BRACES, place, f"the comma before “{name}” ends the value in these braces", POINT)
        else:
            self._refuse(Code.COMMA_IN_BRACES, place, name=name)

    def _is_comma_trap(self, start: yaml.MappingStartEvent, key: yaml.Event, value: yaml.Event) -> bool:
        """Tell a key without colon or value inside braces: the tail of a text that held a comma."""
        nothing = isinstance(value, yaml.ScalarEvent) and value.value == "" and not value.style
        return bool(start.flow_style) and nothing and ":" not in self._source(_end(key), _end(value))

    def _sequence(self, start: yaml.SequenceStartEvent, events: Iterator[yaml.Event], path: Path) -> Tree:
        tree: list[Tree] = []
        previous: yaml.Event = start
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            if start.flow_style:
                self._refuse_decimal_comma(previous, event)
            tree.append(self._node(event, events, (*path, len(tree))))
            previous = event
        return tree

    def _refuse_decimal_comma(self, previous: yaml.Event, event: yaml.Event) -> None:
        """Refuse [2,9, 2,8]: four numbers where two were meant."""
        if isinstance(previous, yaml.ScalarEvent) and isinstance(event, yaml.ScalarEvent):
            typed = self._source(_start(previous), _end(event))
            if re.fullmatch(r"[-+]?\d+,\d+", typed):
                self._refuse(Code.COMMA_IN_BRACKETS, _start(previous), typed=typed, meant=typed.replace(",", "."))

    def _warn_of_hash(self, event: yaml.ScalarEvent) -> None:
        """Warn where “ #” with no blank behind it cut a text short: `note: crack #2 glued`."""
        if not event.value:
            return
        end = _end(event)
        line = self.lines[end.line - 1]
        rest = HASH.match(line, end.column - 1) if "#" in line else None
        if rest:
            self._refuse(Code.SWALLOWED, Place(end.line, rest.start(1) + 1), lost=rest[1].strip()[:30])

    def _refuse_specials(self, event: Any) -> None:
        """Refuse anchors, aliases and tags; every event that may begin a node has an anchor, all but aliases a tag."""
        if event.anchor is not None:
            self._refuse(Code.ALIAS, _start(event))
        elif event.tag is not None:
            self._refuse(Code.TAG, _start(event))
        if isinstance(event, yaml.ScalarEvent) and event.style == '"' and UNPRINTABLE.search(event.value):
            self._refuse(Code.UNPRINTABLE, _start(event))

    def _source(self, start: Place, end: Place) -> str:
        """Give what was typed between two places of one line; a line end where they stand on two."""
        if start.line != end.line:
            return "\n"
        return self.lines[start.line - 1][start.column - 1 : end.column - 1]

    def refuse_syntax(self, error: yaml.MarkedYAMLError) -> None:
        """Say in a maker's words why the file cannot be read as YAML."""
        opening = error.context_mark or error.problem_mark
        line = self.lines[opening.line] if opening is not None and opening.line < len(self.lines) else ""
        meaning = breakage(f"{error.context or ''} {error.problem or ''}", line)
        mark = opening if meaning.at_opening else error.problem_mark
        self._note(Code.BROKEN_YAML, _at(mark) if mark else START, meaning.what, meaning.todo)

    def _refuse(self, code: Code, place: Place, **words: object) -> None:
        what, todo = REFUSALS[code]
        self._note(code, place, what.format(**words), todo.format(**words))

    def _note(self, code: Code, place: Place, what: str, todo: str) -> None:
        self.findings.append(Finding(code, self.file, what, todo, line=place.line, column=place.column))


POINT = "inside { } write numbers with a point: {G: 5.0, D: 4.7}"

REFUSALS: dict[Code, tuple[str, str]] = {
    Code.EMPTY_RECORD: ("the file is empty", "fill it, or delete it"),
    Code.NOT_A_RECORD: ("this is not a field with a name and a value", "write one field a line: name, colon, value"),
    Code.SEVERAL_DOCUMENTS: ("a line --- starts a second record in this file", "one file holds one record"),
    Code.TOO_DEEP: (
        f"fields stand more than {MAX_DEPTH} deep in one another here",
        "a record is three or four deep; mend the indentation",
    ),
    Code.MERGE_KEY: (
        "“<<” would copy fields from elsewhere",
        "write the fields out; a record says itself what it means",
    ),
    Code.DUPLICATE_FIELD: (
        "“{name}” stands here a second time, first in line {first}",
        "keep one of the two; the first is used until then",
    ),
    Code.COMMA_IN_BRACES: (
        "“{name}” after the comma became a field of its own",
        'inside {{ }} and [ ] put words with a comma in straight quotes: "back, bass side"',
    ),
    Code.COMMA_IN_BRACKETS: (
        "“{typed}” is read as two numbers in brackets",
        "write the decimal with a point: {meant}; where two numbers are meant, leave a blank after the comma",
    ),
    Code.SWALLOWED: (
        "everything from “{lost}” on is taken for a comment",
        "put the whole text in quotes; for a comment, leave a blank after #",
    ),
    Code.ALIAS: (
        "“&” or “*” at the start of a value points to another place in YAML",
        "write the value out, or put the text in quotes",
    ),
    Code.UNPRINTABLE: (
        "a “\\” in this text stands for a character that cannot be printed",
        "type the text anew, in single quotes where the “\\” is meant",
    ),
    Code.TAG: (
        "“!” at the start of a value has a meaning of its own in YAML",
        "leave it out, or put the text in quotes",
    ),
}


def _skip(event: yaml.Event, events: Iterator[yaml.Event]) -> None:
    """Pass over a whole node."""
    opened = 0
    while True:
        opened += isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent)
        opened -= isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent)
        if opened == 0:
            return
        event = next(events)


def _start(event: yaml.Event) -> Place:
    return _at(event.start_mark)


def _end(event: yaml.Event) -> Place:
    return _at(event.end_mark)


def _at(mark: Any) -> Place:
    """Give the place of one of libyaml's marks, which count from 0."""
    return Place(mark.line + 1, mark.column + 1)
