"""The three marks that say who may see a field, and the class every part of a record derives from.

A mark stands where a field is defined and nowhere else; a class with an unmarked field cannot be made.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, ClassVar, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field
from pydantic.config import JsonDict
from pydantic.fields import FieldInfo

from passport.records.model.words import OneOf

Audience = Literal["public", "shop"]
Mark = Literal["public", "shop", "by_entry"]


def public(title: str, how: str = "", *, required: bool = False) -> Any:
    """Mark a field that anyone may see; `how` says how it is written or measured."""
    return _field("public", title, how, required=required)


def shop(title: str, how: str = "", *, required: bool = False) -> Any:
    """Mark a field that never leaves the workshop."""
    return _field("shop", title, how, required=required)


def by_entry(title: str, how: str = "") -> Any:
    """Mark a field whose entries decide for themselves, each by its `shown_to`."""
    return _field("by_entry", title, how, required=False)


def _field(mark: Mark, title: str, how: str, *, required: bool) -> Any:
    extra: JsonDict = {"audience": mark, "needed": required}
    return Field(default=None, title=title, description=how or None, json_schema_extra=extra)


def mark_of(field: FieldInfo) -> Mark:
    """Give the mark of a field; KeyError where it has none."""
    return _extra(field)["audience"]  # type: ignore[no-any-return]


def is_required(field: FieldInfo) -> bool:
    """Tell whether a record without this field is incomplete in form."""
    return bool(_extra(field)["needed"])


def _extra(field: FieldInfo) -> dict[str, Any]:
    extra = field.json_schema_extra
    return extra if isinstance(extra, dict) else {}


class Record(BaseModel):
    """A mapping in a record. Every field is optional here: what is missing is a finding, not a failure to read."""

    # `schema_` and `yield_` are `schema` and `yield` in the file: the bare words mean something to Python or pydantic.
    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=lambda name: name.rstrip("_"))

    # The fields that decide who sees a group of fields, and what stands in the first of them where one is there and
    # cannot be read: a slip of the pen must never open what was meant to be closed.
    decided_by: ClassVar[tuple[str, ...]] = ()
    closed: ClassVar[str] = ""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        super().__pydantic_init_subclass__(**kwargs)
        for name, field in cls.model_fields.items():
            if "audience" not in _extra(field):
                raise TypeError(f"{cls.__name__}.{name} does not say who may see it")
            for parent in cls.__mro__[1:]:
                inherited = getattr(parent, "model_fields", {}).get(name)
                if inherited is not None and mark_of(inherited) != mark_of(field):
                    raise TypeError(f"{cls.__name__}.{name} changes the mark it inherits")


def classes_in(annotation: Any) -> Iterator[type[Record]]:
    """Give the classes of the groups of fields that a field may hold: X of `tuple[X, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    for inner in get_args(annotation):
        yield from classes_in(inner)


class Entry(Record):
    """A part of a record that may say itself who sees it; without a word of its own it stays in the shop."""

    decided_by: ClassVar[tuple[str, ...]] = ("audience",)
    closed: ClassVar[str] = "shop"

    audience: Annotated[Audience, OneOf("public", "shop")] | None = public("Who may see this entry", "public or shop")

    @property
    def shown_to(self) -> Audience:
        """Give the audience of this entry."""
        return self.audience or "shop"
