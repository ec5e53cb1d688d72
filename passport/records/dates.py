"""Dates as they stand in a record: a day, a month, a year, or as much as is known of an old instrument.

May turn text into dates and dates into words, and nothing else: no clock, no third-party library.

The notation is the Extended Date/Time Format (EDTF), Library of Congress, 4 February 2019, levels 0 and 1
in full, on a real calendar.
"""

from __future__ import annotations

import calendar
import datetime
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

# Records of one workshop share their days; each is read once.
KEPT_DATES = 20_000
DAYS_A_YEAR = 365.25

_Day = tuple[int, int, int]

# Level 0 "Date" and "Date and Time"; level 1 "Letter-prefixed calendar year", "Seasons", "Qualification of
# a date (complete)", "Unspecified digit(s) from the right" and "Negative calendar year".
_POINT = re.compile(
    r"(?P<year>-?[0-9]{4}|-?[0-9]{2}(?:[0-9]|X)X|Y-?[1-9][0-9]{4,15})"
    r"(?:-(?P<month>[0-9]{2}|XX)(?:-(?P<day>[0-9]{2}|XX))?)?"
    r"(?P<time>T(?:(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]|24:00:00)"
    r"(?P<zone>Z|[+-](?:(?:0[1-9]|1[0-3])(?::[0-5][0-9])?|00:(?:0[1-9]|[1-5][0-9])|14:00))?)?"
    r"(?P<qualifier>[?~%])?"
)
_SEASONS = {21: "spring", 22: "summer", 23: "autumn", 24: "winter"}
_QUALIFIERS = {"": "", "~": "about ", "?": "perhaps ", "%": "perhaps about "}
_OPEN, _UNKNOWN = "..", ""
_MONTHS = calendar.month_name[1:]
_LAST_MONTH = 12
_LONGEST_SHOWN = 40


@dataclass(frozen=True)
class _Point:
    """One end of an interval, or the whole date: its first and last day, and how it is said."""

    first: _Day
    last: _Day
    spoken: str
    qualifier: str = ""
    season: int = 0
    stands_alone: bool = False


_End = _Point | str  # `_OPEN` or `_UNKNOWN` where there is no date


@dataclass(frozen=True)
class Date:
    """A date as it was typed, and what it means.

    `earliest` and `latest` are the first and last day that the words allow, whether or not they are
    qualified; None where that end is open, unknown or outside the years 1 to 9999.
    """

    text: str
    earliest: datetime.date | None
    latest: datetime.date | None
    approximate: bool
    uncertain: bool

    @property
    def is_exact(self) -> bool:
        """One day of the calendar, neither approximate nor uncertain."""
        return self.earliest is not None and self.earliest == self.latest and not self._is_qualified

    @property
    def year(self) -> int | None:
        """The year in which every possible day lies; a season or a qualified date has the year stated."""
        start, end = _ends(self.text)
        if isinstance(start, str) or isinstance(end, str):
            return None
        last_year = end.first[0] if end.season else end.last[0]
        return last_year if start.first[0] == last_year else None

    def certainly_before(self, other: Date) -> bool:
        """Whether no day of this date can be on or after any day of the other.

        A qualified date is certain of nothing: the standard does not say how far "about" reaches.
        """
        if self._is_qualified or other._is_qualified or self.latest is None or other.earliest is None:
            return False
        return self.latest < other.earliest

    def certainly_after(self, other: Date) -> bool:
        """Whether no day of this date can be on or before any day of the other."""
        return other.certainly_before(self)

    def words(self) -> str:
        """Say the date as one would in a sentence: `18 November 2021`, `about 1890`, `1931 or before`."""
        start, end = _ends(self.text)
        return _said(start) if start is end else _interval_said(start, end)

    @property
    def _is_qualified(self) -> bool:
        return self.approximate or self.uncertain


@lru_cache(maxsize=KEPT_DATES)
def parse_date(text: str) -> Date:
    """Read an EDTF date of level 0 or 1; raise ValueError with one sentence where it is none."""
    start, end = _ends(text)
    qualifiers = {point.qualifier for point in (start, end) if isinstance(point, _Point)}
    return Date(
        text=text,
        earliest=_calendar_day(start.first) if isinstance(start, _Point) else None,
        latest=_calendar_day(end.last) if isinstance(end, _Point) else None,
        approximate=bool(qualifiers & {"~", "%"}),
        uncertain=bool(qualifiers & {"?", "%"}),
    )


# --- reading -----------------------------------------------------------------------------------------


@lru_cache(maxsize=KEPT_DATES)
def _ends(text: str) -> tuple[_End, _End]:
    """Give both ends of an interval, or one and the same point twice for a date that is none."""
    if text.count("/") != 1:
        whole = _point(text, text)
        if whole.qualifier and (whole.stands_alone or whole.season):
            raise ValueError(f"{text[:-1]} takes no {whole.qualifier}: leave it out")
        return whole, whole
    start, end = (part if part in {_OPEN, _UNKNOWN} else _point(part, text) for part in text.split("/"))
    if start == end == _UNKNOWN:
        raise ValueError(_refusal(text))
    for point in (start, end):
        if isinstance(point, _Point) and point.stands_alone:
            raise ValueError(f"{point.spoken} cannot be an end of a span: write a day, month or year")
    if isinstance(start, _Point) and isinstance(end, _Point):
        _refuse_reversed(start, end, text)
    return start, end


def _refuse_reversed(start: _Point, end: _Point, text: str) -> None:
    """Raise where the end begins before the start; seasons are put in order among themselves only."""
    if start.season or end.season:
        both = start.season and end.season
        keys = [(point.first[0], point.season if both else 0) for point in (start, end)]
        reversed_ = keys[1] < keys[0]
    else:
        reversed_ = end.first < start.first
    if reversed_:
        first, second = text.split("/")
        raise ValueError(
            f"the end, {second}, begins before the start, {first}: put the earlier date first, "
            "and write the end as exactly as the start"
        )


def _point(part: str, text: str) -> _Point:
    match = _POINT.fullmatch(part)
    if match is None:
        raise ValueError(_refusal(text))
    year, month, day = match["year"], match["month"], match["day"]
    if year == "-0000":
        raise ValueError("there is no year -0000: the year before 0001 is 0000")
    if match["time"] and not (day and day.isdigit() and year.lstrip("-").isdigit()):
        raise ValueError("a time needs its day: write 2021-11-18T10:30:00, or leave the time out")
    if year.lstrip("-").isdigit():
        point = _dated(int(year), month, day)
    elif month:
        raise ValueError(f"{year} cannot have a month: write {year} alone")
    else:
        point = _long_year(int(year[1:])) if year.startswith("Y") else _years(year)
    return replace(
        point, qualifier=match["qualifier"] or "", stands_alone=point.stands_alone or match["time"] is not None
    )


def _long_year(year: int) -> _Point:
    return _Point((year, 1, 1), (year, 12, 31), _year_said(year), stands_alone=True)


def _years(masked: str) -> _Point:
    """Read a year whose last digit or two are not known."""
    low, high = sorted(int(masked.replace("X", digit)) for digit in "09")
    spoken = f"between {_year_said(low)} and {_year_said(high)}"
    if masked.count("X") == 1 and masked[2] != "0" and masked[0] not in "-0":
        spoken = f"the {low}s"  # "the 1900s" could be ten years or a hundred, so it is never said
    return _Point((low, 1, 1), (high, 12, 31), spoken, stands_alone=True)


def _dated(year: int, month: str | None, day: str | None) -> _Point:
    said = _year_said(year)
    whole_year = _Point((year, 1, 1), (year, 12, 31), said)
    if month is None:
        return whole_year
    if month == "XX":
        if day not in {None, "XX"}:
            raise ValueError(f"a day without its month says little: write the year, {year:04d}")
        return replace(whole_year, spoken=f"some {'day' if day else 'month'} of {said}", stands_alone=True)
    number = int(month)
    if number in _SEASONS:
        if day:
            raise ValueError(f"{number} stands for {_SEASONS[number]}, without a day: {year:04d}-{month}")
        return _season(year, number)
    if not 1 <= number <= _LAST_MONTH:
        raise ValueError(_no_such_month(year, month))
    return _in_month(year, number, day)


def _in_month(year: int, month: int, day: str | None) -> _Point:
    days = _days_in_month(year, month)
    said = f"{_MONTHS[month - 1]} {_year_said(year)}"
    if day is None:
        return _Point((year, month, 1), (year, month, days), said)
    if day == "XX":
        return _Point((year, month, 1), (year, month, days), f"some day of {said}", stands_alone=True)
    number = int(day)
    if not 1 <= number <= days:
        raise ValueError(f"there is no {number} {_MONTHS[month - 1]} in {_year_said(year)}")
    return _Point((year, month, number), (year, month, number), f"{number} {said}")


def _season(year: int, number: int) -> _Point:
    """Give the widest span: the standard fixes neither the months nor the half of the earth.

    A winter here, or a summer in the south, that begins in December runs on to March.
    """
    last = (year + 1, 3, 31) if _SEASONS[number] in {"winter", "summer"} else (year, 12, 31)
    return _Point((year, 1, 1), last, f"{_SEASONS[number]} {_year_said(year)}", season=number)


def _days_in_month(year: int, month: int) -> int:
    like = 2000 + year % 400  # the calendar repeats after 400 years; the library knows positive years only
    return calendar.monthrange(like, month)[1]


def _calendar_day(day: _Day) -> datetime.date | None:
    return datetime.date(*day) if datetime.MINYEAR <= day[0] <= datetime.MAXYEAR else None


# --- saying ------------------------------------------------------------------------------------------


def _year_said(year: int) -> str:
    return str(year) if year > 0 else f"{1 - year} BC"  # the year 0000 is 1 BC


def _said(end: _End) -> str:
    return _QUALIFIERS[end.qualifier] + end.spoken if isinstance(end, _Point) else "an unknown date"


def _interval_said(start: _End, end: _End) -> str:
    if start == end == _OPEN:
        return "any date"
    if start == _OPEN:
        return f"{_said(end)} or before"
    if end == _OPEN:
        return f"{_said(start)} or after"
    return f"{_said(start)} to {_said(end)}"


# --- what to write instead ---------------------------------------------------------------------------


def _refusal(text: str) -> str:
    """Say what to write instead of a text that is no date in this notation."""
    typed = " ".join(text.split())
    for pattern, suggest in _HABITS:
        match = pattern.fullmatch(typed)
        said = suggest(match) if match else None
        if said:
            return said
    for mended in ("".join(text.split()), typed.upper()):
        if mended != text and _is_date(mended):
            return f"write {mended}"
    shown = typed if len(typed) <= _LONGEST_SHOWN else typed[:_LONGEST_SHOWN] + "..."
    return (
        f"{shown} is not a date: write 2021-11-18, 2021-11 or 2021; for old instruments also 1890~ (about), "
        "1890? (perhaps), 189X (one of ten years), 1924/1926 (from, to), ../1931 (or before)"
    )


def _is_date(text: str) -> bool:
    try:
        _ends(text)
    except ValueError:
        return False
    return True


def _no_such_month(year: int, month: str) -> str:
    span = f"{year:04d}/{year // 100:02d}{month}"
    meant = f": for a span of years write {span}" if int(month) > max(_SEASONS) and _is_date(span) else ""
    return f"there is no month {month}{meant}"


def _year_last(match: re.Match[str]) -> str:
    """Turn a day and month before their year; with points the day comes first, else it may be either."""
    first, mark, second, year = match.groups()
    orders = [(second, first), (first, second)]
    if mark == "." and int(second) <= _LAST_MONTH:
        orders.pop()
    written = dict.fromkeys(f"{year}-{int(month):02d}-{int(day):02d}" for month, day in orders)
    fitting = [day for day in written if int(day[5:7]) <= _LAST_MONTH]
    dates = [day for day in fitting if _is_date(day)]
    if fitting and not dates:
        _ends(fitting[0])  # raises, and says what is wrong with that day
    return f"write the year first: {' or '.join(dates) or '2021-11-18'}"


def _iso(year: str, month: int, day: str | None) -> str:
    """Write the parts as a date; raise ValueError with its sentence where the calendar has no such day."""
    written = f"{year}-{month:02d}" + (f"-{int(day):02d}" if day else "")
    _ends(written)
    return written


def _named(match: re.Match[str]) -> str | None:
    """Turn a date with a month or a season in words; None where the word is neither."""
    word, day, year = match["word"].lower(), match["day"], match["year"]
    seasons = {name: number for number, name in _SEASONS.items()} | {"fall": 23}
    if word in seasons and not day:
        return f"write {_iso(year, seasons[word], None)}"
    months = [number for number, name in enumerate(_MONTHS, start=1) if name.lower().startswith(word)]
    if not months:
        return None
    return f"write the year first and the month as a number: {_iso(year, months[0], day)}"


def _year_first(match: re.Match[str]) -> str:
    year, month, day = match.groups()
    return f"write {_iso(year, int(month), day)}"


def _month_first(match: re.Match[str]) -> str:
    month, year = match.groups()
    return f"write the year first: {_iso(year, int(month), None)}"


def _timed(match: re.Match[str]) -> str:
    day = match["day"]
    _ends(day)
    return f"write the day alone, {day}, or the whole time with it, {day}T10:30:00"


def _expanding(template: str) -> Callable[[re.Match[str]], str]:
    return lambda match: match.expand(template)


def _century(match: re.Match[str]) -> str:
    return f"write {int(match['number']) - 1:02d}XX"


_HABIT_DATE = r"(-?[0-9]{4}(?:-[0-9]{2}){0,2})"
_HABITS: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], str | None]], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), suggest)
    for pattern, suggest in (
        (r"|\?+|-+|unknown|none|n/?a", _expanding("leave the line out where the date is not known")),
        (r"([0-9]{1,2})([./-]) ?([0-9]{1,2})\2 ?([0-9]{4})", _year_last),
        (
            r"[0-9]{1,2}[./-] ?[0-9]{1,2}[./-] ?'?[0-9]{2}",
            _expanding("write the year first and in full, like 2021-11-18"),
        ),
        (r"([0-9]{4})[./-]([0-9]{1,2})(?:[./-]([0-9]{1,2}))?", _year_first),
        (r"([0-9]{4})([0-9]{2})([0-9]{2})", _year_first),
        (r"([0-9]{1,2})[./-]([0-9]{4})", _month_first),
        (r"(?:(?P<day>[0-9]{1,2})(?:\.|st|nd|rd|th)? )?(?P<word>[a-z]{3,9})\.?,? (?P<year>[0-9]{4})", _named),
        (r"(?P<word>[a-z]{3,9})\.? (?P<day>[0-9]{1,2})(?:st|nd|rd|th)?,? (?P<year>[0-9]{4})", _named),
        (r"(?P<day>[0-9]{4}-[0-9]{2}-[0-9]{2})[t ].*", _timed),
        (r"(?:(?:c|ca|circa|about|around|approx)\.?|~) ?([0-9]{4})", _expanding(r"write \1~ for about")),
        (r"(?:perhaps|possibly|maybe|probably|\?) ?([0-9]{4})", _expanding(r"write \1? for perhaps")),
        (r"([0-9]{4})(?:~\?|\?~)", _expanding(r"write \1% for perhaps about")),
        (
            r"(?:the )?([0-9]{2})00'?s",
            _expanding(r"write \1XX for \g<1>00 to \g<1>99, or \g<1>0X for \g<1>00 to \g<1>09"),
        ),
        (r"(?:the )?([0-9]{3})0'?s", _expanding(r"write \1X")),
        (r"(?:the )?(?P<number>[1-9]|[12][0-9])(?:st|nd|rd|th)[ -](?:century|cent\.?|c\.?)", _century),
        (r"Y(-?)([0-9]{4})", _expanding(r"write \1\2: Y is for years of more than four digits")),
        (r"(?:before|until|by|<) ?" + _HABIT_DATE, _expanding(r"write ../\1 for \1 or before")),
        (r"(?:after|since|from|>) ?" + _HABIT_DATE, _expanding(r"write \1/.. for \1 or after")),
        (r"(?:between |from )?([0-9]{4}) ?(?:-|–|—|to|and|until|\.\.) ?([0-9]{4})", _expanding(r"write \1/\2")),
    )
)
