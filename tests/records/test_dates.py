"""Dates: the notation against its published examples and two libraries, the calendar, the words."""

from __future__ import annotations

import contextlib
import datetime
import io
import json
import os
import re
from pathlib import Path

import pytest
from edtf import parse_edtf
from edtf_validate.valid_edtf import is_valid, isLevel0, isLevel1
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from passport.records.dates import parse_date

# Examples of the specification: Library of Congress, Extended Date/Time Format, 4 February 2019, levels 0
# and 1, from memory; `test_the_published_set` reads them from a collected file where there is one.
SPECIFIED = [
    "1985-04-12", "1985-04", "1985", "1985-04-12T23:20:30", "1985-04-12T23:20:30Z",
    "1985-04-12T23:20:30-04", "1985-04-12T23:20:30+04:30", "1964/2008", "2004-06/2006-08",
    "2004-02-01/2005-02-08", "2004-02-01/2005-02", "2004-02-01/2005", "2005/2006-02", "Y170000002",
    "Y-170000002", "2001-21", "1984?", "2004-06~", "2004-06-11%", "201X", "20XX", "2004-XX", "1985-04-XX",
    "1985-XX-XX", "1985-04-12/..", "1985-04/..", "1985/..", "../1985-04-12", "../1985-04", "../1985",
    "1985-04-12/", "1985-04/", "1985/", "/1985-04-12", "/1985-04", "/1985", "1984~/2004-06",
    "1984/2004-06~", "1984?/2004%", "-1985",
]  # fmt: skip
LEVEL_2 = [
    "156X-12-25", "15XX-12-25", "XXXX-12-XX", "1XXX-XX", "1984-XX-02", "Y-17E7", "1950S2", "2001-34",
    "?2004-06-04", "2004-06~-11", "[1667,1668]", "{1960,1961-12}", "[..1984]", "198X/199X",
    "1908-05-02/1908-05-0X", "2011-23~",
]  # fmt: skip


def accepts(text: str) -> bool:
    try:
        parse_date(text)
    except ValueError:
        return False
    return True


def refusal(text: str) -> str:
    with pytest.raises(ValueError, match=r".") as caught:
        parse_date(text)
    return str(caught.value)


# --- what is a date ----------------------------------------------------------------------------------


@pytest.mark.parametrize("text", SPECIFIED)
def test_every_example_of_levels_0_and_1_is_a_date(text: str) -> None:
    assert parse_date(text).text == text


@pytest.mark.parametrize("text", LEVEL_2)
def test_level_2_is_refused(text: str) -> None:
    assert not accepts(text)


def test_the_published_set() -> None:
    folder = os.environ.get("PASSPORT_VECTORS")
    if not folder:
        pytest.skip("PASSPORT_VECTORS does not say where the published vectors lie")
    sets = json.loads((Path(folder) / "edtf.json").read_text(encoding="utf-8"))["sets"]
    assert {"Level0", "Level1", "Level2"} < set(sets)
    for name, published in sets.items():
        wanted = name in {"Level0", "Level1"}
        assert published["strings"]
        assert [text for text in published["strings"] if accepts(text) != wanted] == [], name


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2001-02-29", "there is no 29 February in 2001"),
        ("1900-02-29", "there is no 29 February in 1900"),
        ("-0001-02-29", "there is no 29 February in 2 BC"),
        ("2021-04-31", "there is no 31 April in 2021"),
        ("2021-11-00", "there is no 0 November in 2021"),
        ("2021-13", "there is no month 13"),
        ("2021-00", "there is no month 00"),
        ("1924-26", "there is no month 26: for a span of years write 1924/1926"),
        ("2001-02-29/2002", "there is no 29 February in 2001"),
        ("2021-21-03", "21 stands for spring"),
        ("2021-XX-05", "a day without its month"),
        ("19XX-05", "write 19XX alone"),
        ("-0000", "there is no year -0000"),
        ("19XX?", "takes no ?"),
        ("1985-04-12T23:20:30~", "takes no ~"),
        ("1980/199X", "cannot be an end of a span"),
        ("2021-11-18T10:30:00/2022", "cannot be an end of a span"),
        ("2021-11T10:30:00", "a time needs its day"),
        ("1926/1924", "begins before the start"),
        ("2021-11-18/2021-11-17", "begins before the start"),
        ("2012-24/2012-21", "begins before the start"),
        ("2012-21/2011", "begins before the start"),
        ("2021-11-18/2021", "write the end as exactly as the start"),
    ],
)
def test_what_the_calendar_does_not_have_is_refused_by_name(text: str, said: str) -> None:
    assert said in refusal(text)


@given(st.dates())
def test_every_day_of_the_calendar_is_exactly_itself(day: datetime.date) -> None:
    date = parse_date(day.isoformat())
    assert (date.earliest, date.latest, date.year, date.is_exact) == (day, day, day.year, True)


@given(st.integers(1, 9999), st.integers(1, 12), st.integers(29, 31))
def test_a_day_is_accepted_when_the_calendar_has_it(year: int, month: int, day: int) -> None:
    try:
        datetime.date(year, month, day)
    except ValueError:
        assert not accepts(f"{year:04d}-{month:02d}-{day:02d}")
    else:
        assert accepts(f"{year:04d}-{month:02d}-{day:02d}")


@given(st.text(max_size=30))
def test_any_text_is_a_date_or_gets_one_sentence(text: str) -> None:
    said = parse_date(text).words() if accepts(text) else refusal(text)
    assert said
    assert "\n" not in said


# --- other readers of the notation -------------------------------------------------------------------

# edtf-validate 2.0: knows no leap years, so it takes 29 February in every year; refuses many spans with an
# end before the year 0; gives seasons months of its own, so that some spans from or to one run backwards.
# edtf 5.0: refuses `/..` and `../`, takes 29 February in every year, spans in either order, stray spaces
# and level 2, so that only what it refuses is telling.
VALIDATE_REFUSES = re.compile(r"-[^/]*/.*|[^/]*/-.*|[0-9]{4}-2[1-4].?/.*|[^/]*/[0-9]{4}-2[1-4].?")
EDTF_REFUSES = {"/..", "../"}


def validate_says(text: str) -> bool:
    return bool(is_valid(text)) and bool(isLevel0(text) or isLevel1(text))


def edtf_takes(text: str) -> bool:
    try:
        with contextlib.redirect_stdout(io.StringIO()):  # the library prints what it is about to try
            parse_edtf(text)
    except Exception:  # noqa: BLE001 - a refusal has no type of its own in every case
        return False
    return True


@st.composite
def nearly_dates(draw: st.DrawFn) -> str:
    """An example of the specification with one character lost, changed or added."""
    text = draw(st.sampled_from([*SPECIFIED, *LEVEL_2, "../..", "/..", "2000-02-29"]))
    at = draw(st.integers(0, len(text)))
    added = draw(st.sampled_from(["", *"0123456789-/XTZY?~%.:+"]))
    return text[:at] + added + text[at + draw(st.integers(0, 1)) :]


@settings(max_examples=400, deadline=None)
@given(nearly_dates())
def test_the_libraries_agree_on_what_is_a_date(text: str) -> None:
    assume(not VALIDATE_REFUSES.fullmatch(text))
    if validate_says(text) and not accepts(text):
        assert "there is no 29 February in" in refusal(text)
    else:
        assert accepts(text) == validate_says(text)
    if accepts(text) and text not in EDTF_REFUSES:
        assert edtf_takes(text)


@pytest.mark.parametrize(
    "text", ["../-1785", "/-2004-06-01", "-1984/2004-06~", "2003-22/2003-02", *sorted(EDTF_REFUSES)]
)
def test_the_known_differences_are_dates_to_us_and_still_differences(text: str) -> None:
    assert accepts(text)
    assert not (validate_says(text) and edtf_takes(text))


# Not the season: the library fixes its months, the standard does not.
BOUNDED = [text for text in SPECIFIED if re.fullmatch(r"[0-9X][-0-9X/]*[0-9X]", text) and text != "2001-21"]


@pytest.mark.parametrize("text", BOUNDED)
def test_the_bounds_are_those_of_the_edtf_library(text: str) -> None:
    date, other = parse_date(text), parse_edtf(text)
    assert date.earliest == datetime.date(*other.lower_strict()[:3])
    assert date.latest == datetime.date(*other.upper_strict()[:3])


# --- what a date means -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "earliest", "latest", "year"),
    [
        ("2024-02", "2024-02-01", "2024-02-29", 2024),
        ("1900-02", "1900-02-01", "1900-02-28", 1900),
        ("1890~", "1890-01-01", "1890-12-31", 1890),
        ("189X", "1890-01-01", "1899-12-31", None),
        ("19XX", "1900-01-01", "1999-12-31", None),
        ("2004-XX", "2004-01-01", "2004-12-31", 2004),
        ("1985-04-XX", "1985-04-01", "1985-04-30", 1985),
        ("1924/1926", "1924-01-01", "1926-12-31", None),
        ("2021-05/2021-11", "2021-05-01", "2021-11-30", 2021),
        ("../1931", None, "1931-12-31", None),
        ("1931/", "1931-01-01", None, None),
        ("../..", None, None, None),
        ("-1985", None, None, -1985),
        ("-0001/0001", None, "0001-12-31", None),
        ("Y12000", None, None, 12000),
        ("9999-24", "9999-01-01", None, 9999),
        # A winter that begins in December ends in March; southern summers do the same.
        ("2020-24", "2020-01-01", "2021-03-31", 2020),
        ("2020-22", "2020-01-01", "2021-03-31", 2020),
        ("2020-21", "2020-01-01", "2020-12-31", 2020),
    ],
)
def test_bounds_and_year(text: str, earliest: str | None, latest: str | None, year: int | None) -> None:
    date = parse_date(text)
    assert date.earliest == (datetime.date.fromisoformat(earliest) if earliest else None)
    assert date.latest == (datetime.date.fromisoformat(latest) if latest else None)
    assert date.year == year


@pytest.mark.parametrize(
    ("text", "approximate", "uncertain"),
    [
        ("1890", False, False),
        ("1890~", True, False),
        ("1890?", False, True),
        ("1890%", True, True),
        ("1890/1895~", True, False),
        ("1890?/1895~", True, True),
    ],
)
def test_qualifiers_of_either_end_are_kept(text: str, approximate: bool, uncertain: bool) -> None:  # noqa: FBT001
    date = parse_date(text)
    assert (date.approximate, date.uncertain) == (approximate, uncertain)


@pytest.mark.parametrize("text", ["2021-11-18", "2021-11-18T10:30:00", "2021-11-18T10:30:00+01:00"])
def test_one_day_is_exact(text: str) -> None:
    assert parse_date(text).is_exact


@pytest.mark.parametrize("text", ["2021-11", "2021-11-18~", "2021-11-18?", "2021-11-XX", "../..", "Y12000"])
def test_anything_less_than_one_day_is_not_exact(text: str) -> None:
    assert not parse_date(text).is_exact


@pytest.mark.parametrize(
    ("earlier", "later"),
    [("2021-11-17", "2021-11-18"), ("2020", "2021-01-01"), ("../1931", "1932/.."), ("189X", "1900"), ("/1931", "1932")],
)
def test_certainly_before_and_after(earlier: str, later: str) -> None:
    first, second = parse_date(earlier), parse_date(later)
    assert first.certainly_before(second)
    assert second.certainly_after(first)
    assert not first.certainly_after(second)
    assert not second.certainly_before(first)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("2021-11-18", "2021-11-18"),
        ("2021-11", "2021-11-18"),
        ("2021", "2021-11"),
        ("1890~", "2021"),
        ("1890", "2021?"),
        ("1931/..", "2021"),
        ("2020-24", "2021-02"),
        ("../..", "2021"),
    ],
)
def test_neither_is_certainly_first(one: str, other: str) -> None:
    first, second = parse_date(one), parse_date(other)
    assert not first.certainly_before(second)
    assert not first.certainly_after(second)


@given(st.dates(), st.dates())
def test_days_are_ordered_as_in_the_calendar(one: datetime.date, other: datetime.date) -> None:
    first, second = parse_date(one.isoformat()), parse_date(other.isoformat())
    assert first.certainly_before(second) == (one < other)
    assert first.certainly_after(second) == (one > other)


@given(st.dates(), st.dates())
def test_a_span_is_a_date_when_it_runs_forward(one: datetime.date, other: datetime.date) -> None:
    assert accepts(f"{one}/{other}") == (one <= other)


@given(nearly_dates())
def test_the_earliest_day_is_never_after_the_latest(text: str) -> None:
    assume(accepts(text))
    date = parse_date(text)
    assert date.earliest is None or date.latest is None or date.earliest <= date.latest


# --- in words ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2021-11-18", "18 November 2021"),
        ("2021-05-01T10:30:00Z", "1 May 2021"),
        ("2021-11", "November 2021"),
        ("2021", "2021"),
        ("0476", "476"),
        ("1890~", "about 1890"),
        ("1890?", "perhaps 1890"),
        ("1890-05%", "perhaps about May 1890"),
        ("189X", "the 1890s"),
        ("190X", "between 1900 and 1909"),
        ("19XX", "between 1900 and 1999"),
        ("2004-XX", "some month of 2004"),
        ("1985-04-XX", "some day of April 1985"),
        ("1985-XX-XX", "some day of 1985"),
        ("2020-21", "spring 2020"),
        ("2020-22", "summer 2020"),
        ("2020-23", "autumn 2020"),
        ("2020-24", "winter 2020"),
        ("1924/1926", "1924 to 1926"),
        ("1924~/1926-05", "about 1924 to May 1926"),
        ("../1931", "1931 or before"),
        ("1931/..", "1931 or after"),
        ("/1931", "an unknown date to 1931"),
        ("1931/", "1931 to an unknown date"),
        ("../..", "any date"),
        ("0000", "1 BC"),
        ("-20XX", "between 2100 BC and 2001 BC"),
        ("Y12000", "12000"),
    ],
)
def test_words(text: str, words: str) -> None:
    assert parse_date(text).words() == words


# --- common wrong forms ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "instead"),
    [
        ("18.11.2021", ["2021-11-18"]),
        ("5.6.2021", ["2021-06-05"]),
        ("11.18.2021", ["2021-11-18"]),
        ("11/18/2021", ["2021-11-18"]),
        ("18-11-2021", ["2021-11-18"]),
        ("05/06/2021", ["2021-06-05", "2021-05-06"]),
        ("Nov 2021", ["2021-11"]),
        ("Sept. 2021", ["2021-09"]),
        ("18 November 2021", ["2021-11-18"]),
        ("18. Nov 2021", ["2021-11-18"]),
        ("Nov 18th, 2021", ["2021-11-18"]),
        ("winter 2020", ["2020-24"]),
        ("fall 2020", ["2020-23"]),
        ("2021/11/18", ["2021-11-18"]),
        ("2021/11", ["2021-11"]),
        ("2021.11.18", ["2021-11-18"]),
        ("20211118", ["2021-11-18"]),
        ("2021-1-5", ["2021-01-05"]),
        ("11/2021", ["2021-11"]),
        ("2021-11-18T10:30", ["2021-11-18", "2021-11-18T10:30:00"]),
        ("2021-11-18 10:30", ["2021-11-18", "2021-11-18T10:30:00"]),
        ("c. 1890", ["1890~"]),
        ("~1890", ["1890~"]),
        ("perhaps 1890", ["1890?"]),
        ("1890?~", ["1890%"]),
        ("the 1890s", ["189X"]),
        ("1900s", ["19XX", "190X"]),
        ("19th century", ["18XX"]),
        ("19xx", ["19XX"]),
        ("1924-1926", ["1924/1926"]),
        ("1924 \u2013 1926", ["1924/1926"]),
        ("between 1924 and 1926", ["1924/1926"]),
        ("1924-26", ["1924/1926"]),
        ("before 1931", ["../1931"]),
        ("after 1931-05", ["1931-05/.."]),
        (" 2021-11-18", ["2021-11-18"]),
        ("1984 / 2004-06", ["1984/2004-06"]),
        ("Y2006", ["2006"]),
    ],
)
def test_a_common_wrong_form_is_told_what_to_write(text: str, instead: list[str]) -> None:
    said = refusal(text)
    words = [word.strip(":,") for word in said.split("write", 1)[1].split()]
    assert [date for date in instead if date not in words] == []
    assert all(accepts(date) for date in instead)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "leave the line out"),
        ("unknown", "leave the line out"),
        ("?", "leave the line out"),
        ("30.02.2021", "there is no 30 February in 2021"),
        ("30 Feb 2021", "there is no 30 February in 2021"),
        ("2001/02/29", "there is no 29 February in 2001"),
        ("18.11.21", "the year first and in full"),
        ("31/31/2021", "the year first: 2021-11-18"),
        ("some time ago", "some time ago is not a date"),
        ("early 1890", "early 1890 is not a date"),
    ],
)
def test_what_cannot_be_mended_is_said_plainly(text: str, said: str) -> None:
    assert said in refusal(text)


def test_a_long_text_is_not_repeated_in_full() -> None:
    assert len(refusal("x" * 100_000)) < 300
