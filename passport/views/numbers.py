"""How a number, a date, a size and a place are written for a reader; decided here and nowhere else.

Narrow space before a unit, true minus sign, en dash in a range, digits as they were measured.
"""

from __future__ import annotations

import re

from passport.records.dates import Date
from passport.records.model.values import Value
from passport.units import Amount

# U+202F keeps a number and its unit on one line; the site's typeface gives it the width of a thin space.
NARROW_SPACE = "\N{NARROW NO-BREAK SPACE}"
MINUS = "\u2212"
EN_DASH = "\u2013"
PLAIN_DATE = re.compile(r"\d{4}(-(0[1-9]|1[0-2])(-\d{2})?)?")
UNIT_SIGNS = {"kg/m3": "kg/m³", "W/m2": "W/m²", "kJ/m2": "kJ/m²", "cm2": "cm²", "d": "days"}


def figure(number: float, decimals: int) -> str:
    """Write a number with its decimals; minus zero is zero."""
    text = f"{number:.{decimals}f}"
    bare = text.lstrip("-")
    return bare if float(text) == 0 else text.replace("-", MINUS)


def figure_text(number: float | None, decimals: int) -> str:
    """Write a number with its decimals; nothing where there is none."""
    return figure(number, decimals) if number is not None else ""


def counted(count: int, what: str) -> str:
    """Write how many there are: "1 lot", "3 lots"."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def tenths(number: float) -> str:
    """Write a number that is worked out to a tenth, as fine as a rule shows."""
    return figure(number, 1)


def with_tenths(number: float) -> str:
    """Write a measured number with its tenths, and its hundredths where there are any."""
    return figure(number, 2).removesuffix("0")


def amount_text(amount: Amount) -> str:
    """Write an amount without its unit."""
    low = figure(amount.low, amount.decimals)
    return f"{low}{EN_DASH}{figure(amount.high, amount.decimals)}" if amount.is_range else low


def value_text(value: Value | None) -> str:
    """Write a value without its unit; nothing where there is none."""
    return amount_text(value.value) if value is not None else ""


def unit_sign(value: Value) -> str:
    """Write a unit as it is printed."""
    return UNIT_SIGNS.get(value.unit, value.unit)


def with_unit(value: Value | None) -> str:
    """Write a value with its unit; nothing where there is none."""
    if value is None:
        return ""
    sign = unit_sign(value)
    gap = "" if sign == "°" else NARROW_SPACE
    return f"{value_text(value)}{gap}{sign}" if sign else value_text(value)


def quantity(number: float, decimals: int, unit: str) -> str:
    """Write a number that was worked out, with its unit."""
    return f"{figure(number, decimals)}{NARROW_SPACE}{unit}"


def humidity_text(value: Value | None) -> str:
    """Write a relative humidity, which without its word is only a share."""
    return f"{with_unit(value)} humidity" if value is not None else ""


def difference_text(moved: float | None, decimals: int) -> str:
    """Write a difference with its sign; a difference of nothing is 0."""
    if moved is None:
        return ""
    text = figure(moved, decimals)
    return f"+{text}" if moved > 0 and float(text.replace(MINUS, "-")) != 0 else text


def date_text(date: Date | None) -> str:
    """Write a date in words."""
    return date.words() if date is not None else ""


def iso_text(date: Date | None) -> str:
    """Write a plain year, month or day in ISO 8601; nothing where the date says more or less than that."""
    return date.text if date is not None and PLAIN_DATE.fullmatch(date.text) else ""


def size_text(kind: str, size: str) -> str:
    """Write a size as the trade does, 3/4; a viola's body length with its unit."""
    return f"{size}{NARROW_SPACE}mm" if kind == "viola" and size.isdecimal() else size


def joined(*parts: str, by: str = ", ") -> str:
    """Join what is there."""
    return by.join(part for part in parts if part)
