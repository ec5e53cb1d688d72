"""The scripts beside the catalogue: which instruments are listed, and by what each can be found.

Both hold one column a thing, in the order of the catalogue, and name what recurs once: ten thousand stay small.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from passport.views.site_tree import CatalogueEntry, SiteView

T = TypeVar("T")
# For each line of the catalogue, its values in one facet.
Column = list[tuple[str, ...]]

LISTED_PATH = "data/listed.js"
FACETS_PATH = "data/facets.js"
YEARS_IN_DECADE = 10
LAST_YEAR = 9999
# A lot's or a batch's digits as numbers: SP9 before SP10.
PIECES = re.compile(r"(\d+)")


def entries(site: SiteView) -> tuple[CatalogueEntry, ...]:
    """Every line of the catalogue, in its order."""
    return tuple(entry for group in site.catalogue for entry in group.instruments)


def listed_js(site: SiteView) -> bytes:
    """Number, title and serial of each listed instrument, and its path where that is not the number alone."""
    lines = entries(site)
    titles = list(dict.fromkeys(line.title for line in lines))
    return _script(
        "passportListed",
        {
            "ids": " ".join(line.id for line in lines),
            "titles": titles,
            "title": _places(titles, (line.title for line in lines)),
            "serials": [line.serial for line in lines],
            "paths": {str(row): line.path for row, line in enumerate(lines) if line.path != f"{line.id}/"},
        },
    )


def facets_js(site: SiteView) -> bytes:
    """Everything by which the catalogue can be narrowed down, for the lines of `listed_js`, row by row."""
    lines = entries(site)
    groups = {group.instruments[0].kind: group.title for group in site.catalogue if group.instruments}
    facets = [_facet(*facet) for facet in _facets(lines)]
    facets.insert(2, _year_facet(lines))
    return _script("passportFacets", {"groups": groups, "facets": facets})


def _script(name: str, value: object) -> bytes:
    """A classic script, which works from a folder too, where nothing may be fetched."""
    return f"var {name}={json.dumps(value, ensure_ascii=True, separators=(',', ':'))};\n".encode()


def _places(values: Iterable[T], column: Iterable[T]) -> list[int]:
    place = {value: index for index, value in enumerate(values)}
    return [place[value] for value in column]


def _facets(lines: tuple[CatalogueEntry, ...]) -> Iterator[tuple[str, str, list[str], Column]]:
    """Name in the address, heading, values in their order, and the values of each line."""
    kinds: Column = [_one(line.kind) for line in lines]
    yield "kind", "Kind", _seen(kinds), kinds
    sizes: Column = [_one(line.size) for line in lines]
    yield "size", "Size", sorted(_seen(sizes), key=_size_rank), sizes
    for name, heading, column in (
        ("model", "Model", [_one(line.model) for line in lines]),
        ("hand", "Hand", [line.hands for line in lines]),
        ("lot", "Wood lot", [line.lots for line in lines]),
        ("batch", "Varnish batch", [line.batches for line in lines]),
        ("status", "Status", [_one(line.status or "in use") for line in lines]),
        ("publication", "Publication", [_one(line.publication) for line in lines]),
    ):
        yield name, heading, sorted(_seen(column), key=_by_number), column


def _one(word: str) -> tuple[str, ...]:
    return (word,) if word else ()


def _seen(column: Column) -> list[str]:
    return list(dict.fromkeys(word for words in column for word in words))


def _size_rank(size: str) -> tuple[bool, float, str]:
    """The trade's fractions before lengths in millimetres, and larger before smaller."""
    fraction = re.fullmatch(r"(\d+)/([1-9]\d*)", size)
    if fraction:
        return False, -int(fraction[1]) / int(fraction[2]), size
    length = re.match(r"\d+", size)
    return True, -float(length[0]) if length else 0.0, size


def _by_number(word: str) -> list[tuple[int, str]]:
    pieces = PIECES.split(word.casefold())
    return [(int(piece), "") if index % 2 else (-1, piece) for index, piece in enumerate(pieces)]


def _facet(name: str, heading: str, values: list[str], column: Column) -> dict[str, object]:
    """`of` gives each line its values: the place of the only one, or a list of places."""
    place = {value: index for index, value in enumerate(values)}
    of = [[place[word] for word in words] for words in column]
    return {
        "name": name,
        "heading": heading,
        "values": values,
        "of": [places[0] if len(places) == 1 else places for places in of],
    }


@dataclass(frozen=True, order=True)
class _Span:
    """The years an instrument may be of, and how that is said; without any year the first is after the last."""

    first: int
    last: int
    words: str

    @property
    def years(self) -> range:
        return range(self.first, self.last + 1)

    @property
    def values(self) -> tuple[str, ...]:
        return (*dict.fromkeys(map(_decade, self.years)), *map(str, self.years))


def _decade(year: int) -> str:
    return f"{year - year % YEARS_IN_DECADE}s"


def _span(line: CatalogueEntry, earliest: int, latest: int) -> _Span:
    """An end left open reaches as far as the catalogue does."""
    if line.first_year is None and line.last_year is None:
        return _Span(LAST_YEAR + 1, LAST_YEAR, line.year)
    return _Span(
        earliest if line.first_year is None else line.first_year,
        latest if line.last_year is None else line.last_year,
        line.year,
    )


def _year_facet(lines: tuple[CatalogueEntry, ...]) -> dict[str, object]:
    """Years, newest first, each decade before its own. An instrument stands under every year it may be of.

    `of` leads to one of the `spans`, which are in order of time, with the years of each, and `words` that say it;
    `under` leads from a year to its decade.
    """
    known = [year for line in lines for year in (line.first_year, line.last_year) if year is not None]
    earliest, latest = min(known, default=0), max(known, default=0)
    column = [_span(line, earliest, latest) for line in lines]
    spans = sorted(set(column))
    years = sorted({year for span in spans for year in span.years}, reverse=True)
    values = list(dict.fromkeys(value for year in years for value in (_decade(year), str(year))))
    return {
        "name": "year",
        "heading": "Made",
        "values": values,
        "spans": [_places(values, span.values) for span in spans],
        "of": _places(spans, column),
        "words": [span.words for span in spans],
        "under": dict(zip(_places(values, map(str, years)), _places(values, map(_decade, years)), strict=True)),
    }
