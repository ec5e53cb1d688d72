"""The leaves of a record: words, dates, measured values with their unit, and values by side, string or station.

Every scalar arrives as the text that was typed. A value is a bare number or `{value, gauge, note, accepted}`.
"""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar

from pydantic import (
    AfterValidator,
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    PlainValidator,
    WithJsonSchema,
    field_validator,
    model_validator,
)
from pydantic.dataclasses import dataclass
from pydantic_core import CoreSchema

from passport.records.dates import Date, parse_date
from passport.records.identity import is_address_tail, normalised, why_wrong
from passport.records.model.marks import Record, public
from passport.records.model.words import OneOf, refuse, text_of
from passport.reference import kinds
from passport.units import Amount, UnknownUnit, WrongDimension, parse_amount

SCALAR_SCHEMA = {"type": ["number", "string"]}
# Words are whatever was typed, also where an editor takes a lone “yes” or “true” for a flag.
TEXT_SCHEMA = {"type": ["string", "number", "boolean"]}
# A value with what belongs to it.
GROUP_SCHEMA: dict[str, Any] = {
    "type": "object",
    "properties": {"value": SCALAR_SCHEMA, **dict.fromkeys(("gauge", "note", "accepted"), TEXT_SCHEMA)},
    "required": ["value"],
    "additionalProperties": False,
}


def _what_and_todo(sentence: str, typed: str, otherwise: str) -> tuple[str, str]:
    """Part a sentence of `units`, `dates` or `identity` into what is and what to do; some say only one of them."""
    if sentence.startswith("write "):
        return f"“{typed}” is not written as it is read here", sentence
    what, _, todo = sentence.partition(": ")
    return what, todo or otherwise


Text = Annotated[str, BeforeValidator(text_of), WithJsonSchema(TEXT_SCHEMA)]


def _listed(raw: Any) -> Any:
    return [raw] if isinstance(raw, str) else raw


Texts = Annotated[tuple[Text, ...], BeforeValidator(_listed)]


def _date(raw: Any) -> Date:
    text = text_of(raw)
    try:
        return parse_date(text)
    except ValueError as error:
        raise refuse("bad-date", *_what_and_todo(str(error), text, "write 2021-11-18, 2021-11 or 2021")) from error


When = Annotated[Date, PlainValidator(_date), WithJsonSchema({"type": ["string", "integer"], "format": "edtf"})]


def _identifier(raw: Any) -> str:
    typed = normalised(text_of(raw))
    wrong = why_wrong(typed)
    if wrong:
        raise refuse("bad-id", wrong, "copy it from the label or the file's name; new ones come from: passport new")
    return typed


Identifier = Annotated[str, PlainValidator(_identifier), WithJsonSchema({"type": "string"})]


def _tail(raw: Any) -> str:
    text = text_of(raw)
    if not is_address_tail(text):
        what = f"“{text}” is not the end of an unlisted address"
        raise refuse("bad-name", what, "it is made by: passport page, and never typed")
    return text


AddressTail = Annotated[str, PlainValidator(_tail), WithJsonSchema({"type": "string"})]


def _count(raw: Any) -> int:
    text = text_of(raw)
    if not re.fullmatch(r"\d{1,6}", text):
        raise refuse("bad-number", f"“{text}” is not a whole number", "write digits only, such as 2")
    return int(text)


Count = Annotated[int, PlainValidator(_count), WithJsonSchema({"type": "integer", "minimum": 0})]


def _amount(raw: Any, unit: str) -> Amount:
    text = text_of(raw)
    try:
        return parse_amount(text, unit)
    except (UnknownUnit, WrongDimension) as error:
        raise refuse("bad-unit", *_what_and_todo(str(error), text, "write a number, such as 27.5")) from error
    except ValueError as error:
        raise refuse("bad-number", *_what_and_todo(str(error), text, "write a number, such as 27.5")) from error


def amount_in(unit: str) -> PlainValidator:
    """Validate a bare number, without gauge or note, in this unit."""
    return PlainValidator(lambda raw: _amount(raw, unit))


def _plain_number(raw: Any, unit: str) -> float:
    amount = _amount(raw, unit)
    if amount.is_range:
        raise refuse("bad-number", f"“{amount.written}” is a range, and one number stands here", "write one number")
    return amount.low


def number_in(unit: str) -> PlainValidator:
    """Validate a number that is set, not measured: of stocks and printers."""
    return PlainValidator(lambda raw: _plain_number(raw, unit))


PlainMm = Annotated[float, number_in("mm"), WithJsonSchema(SCALAR_SCHEMA)]
PlainPercent = Annotated[float, number_in("%"), WithJsonSchema(SCALAR_SCHEMA)]

Thickness = Annotated[Amount, amount_in("mm"), WithJsonSchema(SCALAR_SCHEMA)]


def _pair(point: tuple[Amount, ...]) -> tuple[Amount, ...]:
    if len(point) != len(("height", "half width")):
        raise refuse(
            "wrong-shape", "a point of an outline is two numbers", "write [height above the bottom edge, half width]"
        )
    return point


PointMm = Annotated[tuple[Thickness, ...], AfterValidator(_pair)]


def _distance(text: str) -> str:
    if not re.fullmatch(r"\d{1,4}(\.\d+)?", text):
        raise refuse("bad-number", f"“{text}” is not a distance from the bottom edge", "write millimetres, such as 160")
    return text


DistanceMm = Annotated[Text, AfterValidator(_distance)]
VALUE_CONFIG = ConfigDict(extra="forbid")


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Value:
    """One measured value; its class names the unit. `accepted` is the maker's reason to keep an unusual one."""

    unit: ClassVar[str] = ""
    value: Amount
    gauge: Text | None = None
    note: Text | None = None
    accepted: Text | None = None

    @model_validator(mode="before")
    @classmethod
    def _bare(cls, raw: Any) -> Any:
        return {"value": raw} if isinstance(raw, str) else raw

    @field_validator("value", mode="plain")
    @classmethod
    def _in_unit(cls, raw: Any) -> Amount:
        return _amount(raw, cls.unit)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {
            "anyOf": [SCALAR_SCHEMA, GROUP_SCHEMA],
            "description": f"in {cls.unit}" if cls.unit else "a bare number",
        }


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Millimetres(Value):
    """A length."""

    unit: ClassVar[str] = "mm"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Grams(Value):
    """A mass."""

    unit: ClassVar[str] = "g"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class GramsPerMetre(Value):
    """The mass of a string by its length."""

    unit: ClassVar[str] = "g/m"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Hertz(Value):
    """A frequency."""

    unit: ClassVar[str] = "Hz"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Degrees(Value):
    """An angle."""

    unit: ClassVar[str] = "°"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Celsius(Value):
    """A temperature."""

    unit: ClassVar[str] = "°C"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Percent(Value):
    """A share: relative humidity, wood moisture, solids."""

    unit: ClassVar[str] = "%"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Density(Value):
    """Mass by volume."""

    unit: ClassVar[str] = "kg/m3"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Speed(Value):
    """The speed of sound in wood."""

    unit: ClassVar[str] = "m/s"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Irradiance(Value):
    """Light at the wood."""

    unit: ClassVar[str] = "W/m2"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Dose(Value):
    """Light that fell on the wood, all together."""

    unit: ClassVar[str] = "kJ/m2"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Hours(Value):
    """A duration."""

    unit: ClassVar[str] = "h"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Days(Value):
    """A longer duration."""

    unit: ClassVar[str] = "d"


@dataclass(frozen=True, slots=True, config=VALUE_CONFIG)
class Money(Value):
    """A sum of money; the currency stands in the field beside it."""


def middle_of(value: Value | None) -> float | None:
    """Give the number a value stands for, of a range its middle; None where there is none."""
    return value.value.middle if value is not None else None


class Stations(Record):
    """A value taken at several places. A bare number is the one value for all of them."""

    value: Millimetres | None = public("Everywhere")

    @model_validator(mode="before")
    @classmethod
    def _one_for_all(cls, raw: Any) -> Any:
        if isinstance(raw, dict) and "value" in raw:
            return {"value": raw}
        return {"value": raw} if isinstance(raw, str) else raw

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        places = {key: part for key, part in handler(schema).items() if key not in ("title", "description")}
        return {"anyOf": [SCALAR_SCHEMA, GROUP_SCHEMA, places], "title": cls.__name__, "description": cls.__doc__}


class PerSide(Stations):
    """Bass side and treble side, as seen from the front."""

    bass: Millimetres | None = public("Bass side")
    treble: Millimetres | None = public("Treble side")


class TopAndBack(Stations):
    """The same measure on both plates."""

    top: Millimetres | None = public("Top")
    back: Millimetres | None = public("Back")


def _string_name(name: str) -> str:
    if name not in kinds.STRING_NAMES:
        raise refuse("unknown-string", f"“{name}” is not the name of a string", words=(*kinds.STRING_NAMES, "to"))
    return name


StringName = Annotated[str, AfterValidator(_string_name)]


class ByString(Record):
    """One length a string, low string first: `{G: 0.80, D: 0.82, A: 0.68, E: 0.26}`."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[StringName, Millimetres]

    @model_validator(mode="before")
    @classmethod
    def _without_blanks(cls, raw: Any) -> Any:
        """Pass over a string whose value is still to be filled, as any other field."""
        return {name: value for name, value in raw.items() if value is not None} if isinstance(raw, dict) else raw

    @property
    def strings(self) -> dict[str, Millimetres]:
        """Give the values by string, in the order written."""
        return self.__pydantic_extra__


class PerString(ByString):
    """One height or length a string, and the point of the string it was measured to."""

    to: Annotated[str, OneOf("underside", "centre")] | None = public("Measured to", "underside or centre of the string")


class DensityByString(ByString):
    """One mass by length a string, as its packet or a balance gives it."""

    __pydantic_extra__: dict[StringName, GramsPerMetre]  # type: ignore[assignment] # the one thing that differs
