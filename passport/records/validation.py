"""From a tree of text to a record of the model, with a finding for every field that does not fit.

A field that fails is taken out and the rest is read again, so that one slip hides nothing that comes after it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any, TypeVar, get_args, get_type_hints

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.model.marks import Entry, Record, is_required
from passport.records.reader import Tree
from passport.records.walk import walked

R = TypeVar("R", bound=Record)

BY_SLUG = {code.slug: code for code in Code}
LIST_WORDS = "all words are listed by: passport explain not-a-known-word"
# A round takes out what does not fit; a later one only what cannot stand without it, such as a note on no value.
MOST_ROUNDS = 10
# Beyond this a file is no record: going on would bury what matters, and take for ever.
MOST_FAULTS = 200


def validated(kind: type[R], tree: Tree, file: str) -> tuple[R, tuple[Finding, ...]]:
    """Read a record of this kind; what does not fit is left out of it and reported."""
    record, faults = _fitted(kind, tree)
    findings = [_finding(fault, path, kind, file) for fault, path in faults]
    if len(faults) < MOST_FAULTS:
        findings += _missing(record, file, {finding.path for finding in findings})
    return record, tuple(findings)


def fitted(kind: type[R], tree: Tree) -> R:
    """Make the record of a tree that was read before, without saying again what does not fit."""
    return _fitted(kind, tree)[0]


Fault = tuple[ErrorDetails, Path]


def _fitted(kind: type[R], tree: Tree) -> tuple[R, list[Fault]]:
    """Take out what does not fit until the rest does; all faults show in the first round."""
    first: list[Fault] = []
    rest: Any = _blanks_closed(kind, tree) if isinstance(tree, dict) else {}
    for _ in range(MOST_ROUNDS):
        try:
            return kind.model_validate(rest), first
        except ValidationError as error:
            found = error.errors(include_url=False)[:MOST_FAULTS]
            faults = [(fault, _part_that_stands(rest, fault["loc"])) for fault in found]
            # What fails later only lacks what was taken out.
            first = first or faults
            if len(found) == MOST_FAULTS:
                return kind(), first
            rest = _closed(kind, _without(rest, [path for _, path in faults]), faults)
    return kind(), first


def _closed(kind: type[Record], tree: Any, faults: Iterable[Fault]) -> Any:
    """Close what a fault may have been meant to close: a mark that cannot be read, or a field that nobody knows."""
    for fault, path in faults:
        group: Any = kind
        for depth, part in enumerate(path):
            deciding = getattr(group, "decided_by", ())
            is_unknown = depth == len(path) - 1 and fault["type"] == "extra_forbidden"
            if deciding and (part in deciding or is_unknown):
                tree = _filled(tree, path[:depth], deciding[0], group.closed)
            group = group if isinstance(part, int) else _class_of(group, part)
    return tree


def _class_of(group: Any, part: str) -> Any:
    field = _fields_by_name(group).get(part)
    return _class_inside(field.annotation) if field is not None else None


def _filled(tree: Any, place: Path, name: str, word: str) -> Any:
    """Give the tree with a word in a field of the group at a place, unless a word that can be read stands there."""
    if not place:
        return {name: word, **tree} if isinstance(tree, dict) else tree
    head, *rest = place
    if not _holds(tree, head):
        return tree
    inner = _filled(tree[head], tuple(rest), name, word)
    if isinstance(tree, dict):
        return {**tree, head: inner}
    return [inner if index == head else item for index, item in enumerate(tree)]


def _blanks_closed(kind: type[Record], tree: Any) -> Any:
    """Give the tree with every mark filled that was begun and left blank: it closes what it stands in."""
    if isinstance(tree, dict):
        inside = {name: _blanks_closed(Entry, value) for name, value in tree.items()}
        mark = kind.decided_by[0] if kind.decided_by else ""
        return {**inside, mark: kind.closed} if mark in inside and inside[mark] is None else inside
    return [_blanks_closed(kind, item) for item in tree] if isinstance(tree, list) else tree


def _part_that_stands(tree: Any, path: Path) -> Path:
    """Give the part of a place that stands in the file: a bare number has no `value` below it."""
    for length, part in enumerate(path):
        if not _holds(tree, part):
            return path[:length]
        tree = tree[part]
    return path


def _finding(fault: ErrorDetails, path: Path, kind: type[Record], file: str) -> Finding:
    context = fault.get("ctx", {})
    name = fault["loc"][-1]
    if fault["type"] == "passport":
        words = context.get("words", ())
        todo = context["todo"] or (nearest(str(fault["input"]), words, LIST_WORDS) if words else "")
        # Pydantic marks a fault of a mapping's key with "[key]"; the key of a string is validated by name.
        on_key = name == "[key]" or context["kind"] == "unknown-string"
        return Finding(BY_SLUG[context["kind"]], file, context["sentence"], todo, path, on_key=on_key)
    if fault["type"] in ("extra_forbidden", "unexpected_keyword_argument"):
        known = _fields_at(kind, fault["loc"][:-1])
        return Finding(
            Code.UNKNOWN_FIELD,
            file,
            f"there is no field “{name}” here",
            nearest(str(name), known, "take it out, or put it into note:"),
            path,
            on_key=True,
        )
    if fault["type"] == "missing":
        what = f"“{name}” is missing here"
        return Finding(Code.MISSING_FIELD, file, what, "write it, or write the value without braces", path, on_key=True)
    shape, todo = _shape_wanted(fault["type"])
    what = f"entry {name + 1} of this list" if isinstance(name, int) else f"“{name}”"
    return Finding(Code.WRONG_SHAPE, file, f"{what} should be {shape}", todo, path)


def _shape_wanted(fault: str) -> tuple[str, str]:
    if fault in ("tuple_type", "list_type"):
        return ("a list", "write it in brackets, [a, b], or each item on a line of its own that begins with “- ”")
    if fault == "dataclass_type":
        return "a measured value", "write the number alone, or in braces: {value: 5.0, note: …}"
    return "a group of fields", "write the fields below it, further in, or in braces: {name: value}"


def _fields_at(kind: type[Record], path: Path) -> tuple[str, ...]:
    """Give the names of the fields that the model has at a place."""
    here: Any = kind
    for part in path:
        fields = _fields_by_name(here)
        if part in fields:
            here = _class_inside(fields[part].annotation)
        elif getattr(here, "model_config", {}).get("extra") == "allow":
            here = _class_inside(get_type_hints(here)["__pydantic_extra__"])
    return tuple(map(str, _fields_by_name(here)))


def _fields_by_name(here: Any) -> dict[str | int, FieldInfo]:
    """Give the fields of a class by the name they have in the file."""
    fields = getattr(here, "model_fields", None) or getattr(here, "__pydantic_fields__", {})
    return {field.alias or name: field for name, field in fields.items()}


def _class_inside(annotation: Any) -> Any:
    """Unwrap `tuple[X, ...] | None`, `dict[str, X]` and `Annotated[X, ...]` to the class X."""
    for inner in reversed(get_args(annotation)):
        found = _class_inside(inner)
        if found is not None:
            return found
    is_class = isinstance(annotation, type) and (issubclass(annotation, BaseModel) or hasattr(annotation, "unit"))
    return annotation if is_class else None


def _without(tree: Any, paths: Iterable[Path]) -> Any:
    """Give a copy of the tree without the entries at these paths, later list items first so that places stay true."""
    for path in sorted(paths, key=_place_in_order, reverse=True):
        tree = _dropped(tree, path)
    return tree


def _place_in_order(path: Path) -> tuple[str, ...]:
    return tuple(f"{part:09d}" if isinstance(part, int) else part for part in path)


def _dropped(tree: Any, path: Path) -> Any:
    """Give the tree without one entry; None where nothing of it can stay.

    A list of groups keeps its length, so that no place after the fault shifts; a list of bare values goes whole.
    """
    head, *rest = path
    inner = _child(tree, head)
    kept = _dropped(inner, tuple(rest)) if rest and inner is not None else None
    if isinstance(tree, dict):
        changed = {name: value for name, value in tree.items() if name != head}
        return changed if kept is None else {**changed, head: kept}
    if inner != {} and isinstance(head, int) and any(isinstance(item, dict) for item in tree):
        return [*tree[:head], kept or {}, *tree[head + 1 :]]
    return None


def _child(tree: Any, head: str | int) -> Any:
    return tree[head] if _holds(tree, head) else None


def _holds(tree: Any, head: str | int) -> bool:
    if isinstance(tree, dict):
        return head in tree
    return isinstance(tree, list) and isinstance(head, int) and head < len(tree)


def _missing(record: Record, file: str, blanked: set[Path]) -> Iterator[Finding]:
    """Report required fields that are not there, unless they were there and did not fit."""
    for path, entry in walked(record):
        for name, todo in _required(type(entry)):
            here = (*path, name)
            if getattr(entry, name) is None and not any(fault[: len(here)] == here for fault in blanked):
                yield Finding(Code.MISSING_FIELD, file, f"“{name}” is missing", todo, path, on_key=True)


@cache
def _required(kind: type[Record]) -> tuple[tuple[str, str], ...]:
    """Give the fields a record of this kind cannot do without, and what to do where one is missing."""
    return tuple(
        (name, f"add {name}: {field.description or ''}".rstrip())
        for name, field in kind.model_fields.items()
        if is_required(field)
    )
