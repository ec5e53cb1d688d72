"""Amounts as they are typed at the bench, turned into the unit that their field is kept in.

May read a number and its unit, exactly, and nothing else; how an amount is shown is decided elsewhere.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

# Workshops write the same few thousand numbers again and again; each is read once and shared.
KEPT_AMOUNTS = 50_000


@dataclass(frozen=True)
class Amount:
    """An amount in its field's unit; `low` and `high` differ for a range only.

    `decimals` counts the digits after the point as typed, zeros too; after a conversion, as many as
    show what was typed and no more. `written` is the text as typed.
    """

    low: float
    high: float
    decimals: int
    unit: str
    written: str

    @property
    def middle(self) -> float:
        """Half-way between low and high."""
        return (self.low + self.high) / 2

    @property
    def is_range(self) -> bool:
        """Whether two numbers were typed that differ."""
        return self.low != self.high


class NotANumber(ValueError):
    """What was typed is no number in any form that is understood."""

    def __init__(self, written: str, said: str) -> None:
        super().__init__(f"{_shown(written)} {said}".strip())
        self.written = written


class UnknownUnit(ValueError):
    """The unit is not known; `near` is the known one that it resembles, if any."""

    def __init__(self, unit: str, near: str | None, understood: tuple[str, ...]) -> None:
        choice = f"did you mean {near}?" if near else f"write {_any_of(understood)}"
        super().__init__(f"the unit {_shown(unit)} is not known: {choice}")
        self.unit = unit
        self.near = near


class WrongDimension(ValueError):
    """The unit is known, but measures something else than the field; `wanted` is the field's own."""

    def __init__(self, unit: str, wanted: str, dimension: str, understood: tuple[str, ...]) -> None:
        super().__init__(f"{unit} is a unit of {dimension}: write {_any_of(understood)} here")
        self.unit = unit
        self.wanted = wanted


class ReversedRange(ValueError):
    """The first number of a range is larger than the second."""

    def __init__(self, written: str, todo: str) -> None:
        super().__init__(f"{_shown(written)} runs from the larger number to the smaller: {todo}")
        self.written = written


@dataclass(frozen=True)
class _Unit:
    """A unit: amount in the dimension's first unit = factor x amount + offset."""

    name: str
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)
    other_names: tuple[str, ...] = ()


# SI prefixes and units, and those accepted beside it (minute, hour, day, degree): BIPM, The International
# System of Units, 9th edition (2019), tables 2 to 8.
# Inch and pound: international yard and pound agreement of 1959, 1 yd = 0.9144 m and 1 lb = 0.45359237 kg,
# both exact; 36 inches make a yard, 12 inches a foot, 16 ounces a pound.
_INCH_MM = Fraction("25.4")
_POUND_G = Fraction("453.59237")
_FOOT_M = 12 * _INCH_MM / 1000
# Standard acceleration of free fall: 3rd General Conference on Weights and Measures (1901), resolution 2.
_GRAVITY_M_S2 = Fraction("9.80665")
# Degrees Fahrenheit: t(°C) = (t(°F) - 32) x 5/9; NIST Special Publication 811 (2008), section B.8.
_FAHRENHEIT = Fraction(5, 9)

_UNITS = (
    _Unit("mm", "length", Fraction(1)),
    _Unit("cm", "length", Fraction(10)),
    _Unit("m", "length", Fraction(1000)),
    _Unit("in", "length", _INCH_MM, other_names=("inch", "inches", '"', "″", "”", "''")),
    _Unit("g", "mass", Fraction(1)),
    _Unit("kg", "mass", Fraction(1000)),
    _Unit("mg", "mass", Fraction(1, 1000)),
    _Unit("lb", "mass", _POUND_G, other_names=("lbs", "pound", "pounds")),
    _Unit("oz", "mass", _POUND_G / 16, other_names=("ounce", "ounces")),
    _Unit("g/m", "mass by length", Fraction(1)),
    _Unit("kg/m", "mass by length", Fraction(1000)),
    _Unit("Hz", "frequency", Fraction(1)),
    _Unit("kHz", "frequency", Fraction(1000)),
    _Unit("°C", "temperature", Fraction(1), other_names=("C", "deg C", "degC")),
    _Unit("°F", "temperature", _FAHRENHEIT, -32 * _FAHRENHEIT, ("F", "deg F", "degF")),
    _Unit("%", "humidity or moisture", Fraction(1), other_names=("% RH", "%RH", "percent")),
    _Unit("kg/m3", "density", Fraction(1), other_names=("kg/m³", "kg/m^3")),
    _Unit("g/cm3", "density", Fraction(1000), other_names=("g/cm³", "g/cm^3")),
    _Unit("lb/ft3", "density", _POUND_G / 1000 / _FOOT_M**3, other_names=("lb/ft³", "lb/ft^3")),
    _Unit("m/s", "speed", Fraction(1)),
    _Unit("km/s", "speed", Fraction(1000)),
    _Unit("W/m2", "irradiance", Fraction(1), other_names=("W/m²", "W/m^2")),
    _Unit("mW/cm2", "irradiance", Fraction(10), other_names=("mW/cm²", "mW/cm^2")),
    _Unit("uW/cm2", "irradiance", Fraction(1, 100), other_names=("µW/cm²", "µW/cm2", "μW/cm²", "μW/cm2")),
    _Unit("h", "time", Fraction(1), other_names=("hr", "hour", "hours")),
    _Unit("min", "time", Fraction(1, 60), other_names=("minute", "minutes")),
    _Unit("d", "time", Fraction(24), other_names=("day", "days")),
    _Unit("week", "time", Fraction(24 * 7), other_names=("weeks",)),
    _Unit("deg", "angle", Fraction(1), other_names=("°", "degree", "degrees")),
    _Unit("N", "force", Fraction(1)),
    _Unit("kgf", "force", _GRAVITY_M_S2),
    _Unit("lbf", "force", _POUND_G / 1000 * _GRAVITY_M_S2),
    _Unit("mm2", "area", Fraction(1), other_names=("mm²", "mm^2")),
    _Unit("cm2", "area", Fraction(100), other_names=("cm²", "cm^2")),
    _Unit("m2", "area", Fraction(1_000_000), other_names=("m²", "m^2")),
    _Unit("", "count", Fraction(1)),
)
# No two units here differ by the size of their letters alone, so either size is taken.
_BY_NAME = {name.casefold(): unit for unit in _UNITS for name in (unit.name, *unit.other_names)}
_INCH = _BY_NAME["in"]

_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_FRACTION = r"(?:[0-9]+ )?[0-9]+ ?/ ?[0-9]+"
_NUMBER = rf"[-−+]?(?:{_FRACTION}|{_DECIMAL})"
_AMOUNT = re.compile(
    rf"(?P<low>{_NUMBER})(?: ?[-−–—] ?(?P<high>{_NUMBER}))?"
    r" ?(?P<unit>(?:[^\W\d_]|[%°\"″”']).*)?"
)
_PART = re.compile(
    r"(?P<sign>[-−+]?)"
    r"(?:(?:(?P<whole>[0-9]+) )?(?P<over>[0-9]+) ?/ ?(?P<under>[0-9]+)|(?P<decimal>[0-9.,]+))"
)
# The divisions of an inch rule.
_INCH_PARTS = {2, 4, 8, 16, 32, 64, 128}
# Phones write these for 1/2 and the like.
_VULGAR = str.maketrans(
    {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "⁄": "/"}
)
_MOST_DIGITS = 15  # more than any measurement has, and as many as a float keeps
_LONGEST = 100  # characters; nothing longer is an amount
_LONGEST_SHOWN = 40

# What is often written and not understood, first match first, with what to do.
_INTO_NOTE = "is not a number alone: write the number, and put the words into note:"
_HABITS = tuple(
    (re.compile(pattern, re.IGNORECASE), said)
    for pattern, said in (
        (r"", "nothing is written: leave the line out where nothing was measured"),
        (r"[-−+.]*(?:nan|inf|infinity)", "is not a number: leave the line out where nothing was measured"),
        (r"[-−+]?[0-9.,]+e[-−+]?[0-9]+.*", "is not how a bench writes a number: write it in full, like 1000"),
        (
            r".*[0-9][_'’][0-9].*|[-−+]?[0-9]{1,3}(?: [0-9]{3})+(?![0-9]| ?/).*",
            "has marks or spaces between its digits: leave them out",
        ),
        (
            r".*[0-9](?:\.[0-9]+[.,]|,[0-9]+[.,])[0-9].*",
            "has more than one decimal mark: write one, and none between the thousands, like 1000.5",
        ),
        (r".*[0-9] ?: ?[0-9].*", "reads like a time or a ratio: write one number with decimals, like 1.5"),
        (r".*[0-9].* ?(?:±|\+/?-) ?[0-9].*", "has a plus or minus: write a range, like 4.9-5.1"),
        (r".*[0-9] ?(?:to|and|\.\.\.?|…) ?[0-9].*", "is not a range: write a dash, like 30.0-30.2"),
        (r".*[0-9] ?[^\W\d_].* ?[-−–—] ?[0-9].*", "has two units: write one, at the end, like 30-31 mm"),
        (r"[^-−+0-9.,]*[0-9].*[?~*]|[^-−+0-9.,].*[0-9].*", _INTO_NOTE),
    )
)
_NO_NUMBER = "is not a number: write it like 5.0, 30.0-30.2 or 13 7/8 in"


@dataclass(frozen=True)
class _Typed:
    """One number as typed: its exact value, its digits after the point, and the step it is read to."""

    value: Fraction
    decimals: int
    step: Fraction
    is_fraction: bool = False


@lru_cache(maxsize=KEPT_AMOUNTS)
def parse_amount(text: str, unit: str) -> Amount:
    """Read a number, or a range of two, in the field's `unit` or in another of its dimension.

    Raises NotANumber, UnknownUnit, WrongDimension or ReversedRange, each with one sentence.
    """
    field = _BY_NAME.get(unit.casefold())
    if field is None:
        raise UnknownUnit(unit, None, tuple(filter(None, (known.name for known in _UNITS))))
    match = _matched(text)
    source = _unit_typed(match["unit"], field, text)
    low = _typed(match["low"], text)
    high = _typed(match["high"], text) if match["high"] else low
    if low.is_fraction or high.is_fraction:
        _refuse_fraction_but_of_an_inch(match, field, source, text)
    if low.value > high.value:
        raise ReversedRange(text, _forwards(match, high))
    return Amount(
        low=_converted(low.value, source, field),
        high=_converted(high.value, source, field),
        decimals=max(_decimals(low, source, field), _decimals(high, source, field)),
        unit=field.name,
        written=text,
    )


def _matched(text: str) -> re.Match[str]:
    if len(text) > _LONGEST:
        raise NotANumber(text, _NO_NUMBER)
    typed = " ".join(text.translate(_VULGAR).split())
    for habit, said in _HABITS:
        if habit.fullmatch(typed):
            raise NotANumber(text, said)
    match = _AMOUNT.fullmatch(typed)
    if match is None:
        raise NotANumber(text, _NO_NUMBER)
    return match


def _unit_typed(name: str | None, field: _Unit, text: str) -> _Unit:
    if not name:
        return field
    unit = _BY_NAME.get(name.casefold()) or _BY_NAME.get(name.rstrip(".").casefold())
    if unit is None and name.split()[0].casefold() in _BY_NAME:
        raise NotANumber(text, _INTO_NOTE)
    if unit is None:
        raise UnknownUnit(name, _near(name, field), _understood(field))
    if unit.dimension != field.dimension:
        raise WrongDimension(unit.name, field.name, unit.dimension, _understood(field))
    return unit


def _typed(part: str, text: str) -> _Typed:
    match = _PART.fullmatch(part)
    if match is None or sum(character.isdigit() for character in part) > _MOST_DIGITS:
        raise NotANumber(text, f"has more digits than a measurement: write {_MOST_DIGITS} at most")
    sign = -1 if match["sign"] in {"-", "−"} else 1
    if match["decimal"]:
        plain = match["decimal"].replace(",", ".")
        decimals = len(plain.partition(".")[2])
        return _Typed(sign * Fraction(plain), decimals, Fraction(1, 10**decimals))
    under = int(match["under"])
    if under not in _INCH_PARTS:
        raise NotANumber(text, "is not on an inch rule: write halves, quarters, eighths ..., or a decimal")
    value = int(match["whole"] or 0) + Fraction(int(match["over"]), under)
    # A half has one digit after the point, a quarter two, an eighth three.
    return _Typed(sign * value, under.bit_length() - 1, Fraction(1, under), is_fraction=True)


def _refuse_fraction_but_of_an_inch(match: re.Match[str], field: _Unit, source: _Unit, text: str) -> None:
    if field.dimension == _INCH.dimension and not match["unit"]:
        raise NotANumber(text, f"needs its unit: write {match[0]} in")
    if source is not _INCH:
        raise NotANumber(text, "is a fraction, and only inches have those here: write a decimal, like 0.375")


def _forwards(match: re.Match[str], high: _Typed) -> str:
    if high.is_fraction and "/" not in match["low"]:
        return f"write {match['low']} {match['high']} with a space, not a dash, if that is one number"
    return f"write {match['high']}-{match['low']}"


def _converted(value: Fraction, source: _Unit, field: _Unit) -> float:
    return float((value * source.factor + source.offset - field.offset) / field.factor)


def _decimals(typed: _Typed, source: _Unit, field: _Unit) -> int:
    """Give the digits that show a step as fine as the one typed; one at least of mm from inches."""
    if source is field:
        return typed.decimals
    step = typed.step * source.factor / field.factor
    decimals = 1 if source is _INCH and field.name == "mm" else 0
    while Fraction(1, 10**decimals) > step:
        decimals += 1
    return decimals


def _near(name: str, field: _Unit) -> str | None:
    """Give the unit of the field's dimension that resembles this, its own first where a letter differs."""
    typed, own = name.casefold(), field.name.casefold()
    same = [key for key, unit in _BY_NAME.items() if key and unit.dimension == field.dimension]
    for keys in ([own] if len(own) == len(typed) else [], same):
        close = difflib.get_close_matches(typed, keys, n=1, cutoff=0.5)
        if close:
            return _BY_NAME[close[0]].name
    return None


def _understood(field: _Unit) -> tuple[str, ...]:
    return tuple(unit.name for unit in _UNITS if unit.dimension == field.dimension)


def _any_of(names: tuple[str, ...]) -> str:
    if names == ("",):
        return "the number alone"
    return " or ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _shown(text: str) -> str:
    return text if len(text) <= _LONGEST_SHOWN else text[:_LONGEST_SHOWN] + "..."
