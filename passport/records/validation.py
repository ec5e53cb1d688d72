"""From a tree of text to a record of the model, with a finding for every field that does not fit.

A field that fails is taken out and the rest is read again, so that one slip hides nothing that comes after it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.model.marks import Record, is_required
from passport.records.reader import Tree
from passport.records.walk import entries_in

R = TypeVar("R", bound=Record)

BY_SLUG = {code.slug: code for code in Code}
LIST_WORDS = "all words are listed by: passport explain not-a-known-word"
# The rounds in which faults may be found; later rounds only find what an earlier fault hid.
MOST_ROUNDS = 5


def validated(kind: type[R], tree: Tree, file: str) -> tuple[R, tuple[Finding, ...]]:
    """Read a record of this kind; what does not fit is left out of it and reported."""
    findings: list[Finding] = []
    rest: Any = tree if isinstance(tree, dict) else {}
    record = None
    for _ in range(MOST_ROUNDS):
        try:
            record = kind.model_validate(rest)
            break
        except ValidationError as error:
            faults = error.errors(include_url=False)
            # What is missing only because it was taken out is already reported.
            findings += [
                _finding(fault, kind, file) for fault in faults if not (findings and fault["type"] == "missing")
            ]
            rest = _without(rest, [_path(fault) for fault in faults])
    record = record if record is not None else kind()
    findings += _missing(record, file, (), {finding.path for finding in findings})
    return record, tuple(findings)


def _path(fault: ErrorDetails) -> Path:
    """Give the place of a fault in the file; pydantic marks a mapping's key with "[key]"."""
    return tuple(part for part in fault["loc"] if part != "[key]")


def _finding(fault: ErrorDetails, kind: type[Record], file: str) -> Finding:
    path = _path(fault)
    context = fault.get("ctx", {})
    if fault["type"] == "passport":
        todo = context["todo"] or nearest(str(fault["input"]), context.get("words", ()), LIST_WORDS)
        on_key = "[key]" in fault["loc"] or context["kind"] == "unknown-string"
        return Finding(BY_SLUG[context["kind"]], file, context["sentence"], todo, path, on_key=on_key)
    name = str(path[-1]) if path else ""
    if fault["type"] in ("extra_forbidden", "unexpected_keyword_argument"):
        known = _fields_at(kind, path[:-1])
        return Finding(
            Code.UNKNOWN_FIELD,
            file,
            f"there is no field “{name}” here",
            nearest(name, known, "take it out, or put it into note:"),
            path,
            on_key=True,
        )
    if fault["type"] == "missing":
        what = f"“{name}” is missing here"
        return Finding(Code.MISSING_FIELD, file, what, "write it, or write the value without braces", path, on_key=True)
    shape, todo = _shape_wanted(fault["type"])
    return Finding(Code.WRONG_SHAPE, file, f"“{name}” should be {shape}", todo, path)


def _shape_wanted(fault: str) -> tuple[str, str]:
    if fault in ("tuple_type", "list_type"):
        return (
            "a list",
            "write it in brackets, [a, b], or each item on a line of its own that begins with “- ”",
        )
    return "a group of fields", "write the fields below it, further in, or in braces: {name: value}"


def _fields_at(kind: type[Record], path: Path) -> tuple[str, ...]:
    """Give the names of the fields that the model has at a place."""
    here: Any = kind
    for part in path:
        fields = getattr(here, "model_fields", None) or getattr(here, "__pydantic_fields__", {})
        found = next((field for name, field in fields.items() if (field.alias or name) == part), None)
        if found is not None:
            here = _class_inside(found.annotation)
    fields = getattr(here, "model_fields", None) or getattr(here, "__pydantic_fields__", {})
    return tuple(field.alias or name for name, field in fields.items())


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
    """Give the tree without one entry; None where nothing of it can stay: a list of bare values goes whole."""
    head, *rest = path
    inner = _child(tree, head)
    kept = _dropped(inner, tuple(rest)) if rest and inner is not None else None
    middle = [] if kept is None else [kept]
    if isinstance(tree, dict):
        changed = {name: value for name, value in tree.items() if name != head}
        return changed if kept is None else {**changed, head: kept}
    if isinstance(tree, list) and isinstance(head, int) and isinstance(inner, dict):
        return [*tree[:head], *middle, *tree[head + 1 :]]
    return None


def _child(tree: Any, head: str | int) -> Any:
    if isinstance(tree, dict):
        return tree.get(head)
    return tree[head] if isinstance(tree, list) and isinstance(head, int) and head < len(tree) else None


def _missing(entry: Record, file: str, path: Path, blanked: set[Path]) -> Iterator[Finding]:
    """Report required fields that are not there, unless they were there and did not fit."""
    for name, field in type(entry).model_fields.items():
        here = (*path, field.alias or name)
        value = getattr(entry, name)
        if value is None and is_required(field) and not any(fault[: len(here)] == here for fault in blanked):
            what = f"“{here[-1]}” is missing"
            todo = f"add {here[-1]}: {field.description}" if field.description else f"add {here[-1]}:"
            yield Finding(Code.MISSING_FIELD, file, what, todo, path, on_key=True)
        for inner_path, inner in entries_in(value, here):
            yield from _missing(inner, file, inner_path, blanked)
