"""A label's words set into a column at the largest sizes at which all of them fit, in lines, never clipped.

Measures and places words; knows nothing of codes, stocks or colours.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from passport.labels.faces import Face, overhang_em, width_em
from passport.labels.words import CHECK_FIELD, Words

MM_PER_PT = 25.4 / 72

# Proportions of the shipped faces, in ems above and below the baseline.
CAPITALS_EM = 0.66
ACCENTS_EM = 0.24
DESCENT_EM = 0.26
# Distances and limits of our own choosing.
LEADING_EM = 1.16
UNDER_IDENTITY_EM = 0.28
BETWEEN_WORDS_EM = 1.2
RULE_MM = 0.15
RULE_SHARE = 0.65  # of the air, under a rule: what stands over it has its descenders there already
AIR_MM = 1.1
BAND_PADDING_EM = 0.45
WIDOW_SHARE = 0.3  # of the column, under which a last line looks forgotten
STEP = 0.97
LARGEST_SCALE = 1.7
PLAIN_COLUMN_MM = 30.0


@dataclass(frozen=True)
class Line:
    """A line of text, from its start on the baseline."""

    text: str
    face: Face
    size_pt: float
    tracking_em: float
    x_mm: float
    baseline_mm: float
    white: bool = False


@dataclass(frozen=True)
class Bar:
    """A black rectangle: a rule, or the band behind white letters."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True)
class Column:
    """The part of a label that words may stand in."""

    x_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


# Words in groups with air and a rule between them; a group has rows of one piece, or of two that share a line.
Text = tuple[tuple[tuple[Words, ...], ...], ...]


def pieces_of(text: Text) -> tuple[Words, ...]:
    """Every piece, in reading order."""
    return tuple(piece for group in text for row in group for piece in row)


class TooLongError(ValueError):
    """The words do not fit even at their least sizes; `field` is the one to shorten."""

    def __init__(self, field: str) -> None:
        super().__init__(field)
        self.field = field


def fill(text: Text, column: Column, *, cutting: bool) -> tuple[tuple[Line, ...], tuple[Bar, ...]]:
    """Lines and rules at the largest sizes that fit; `cutting` lets a long word run over lines."""
    fitting: tuple[_Group, ...] | None = None
    scales = _scales(text, column)
    while scales:
        # Halving: what fits at one size fits at the smaller ones.
        middle = len(scales) // 2
        groups = _groups(text, column.width_mm, scales[middle], cutting=cutting)
        if groups and _height_mm(groups, scales[middle]) <= column.height_mm:
            fitting, scales = groups, scales[:middle]
        else:
            scales = scales[middle + 1 :]
    if fitting is None:
        raise TooLongError(_culprit(text, column.width_mm))
    return _stand(fitting, column)


def _scales(text: Text, column: Column) -> tuple[float, ...]:
    """From the largest that suits the column down to the one at which every piece has its least size."""
    least = min(piece.least_pt / piece.size_pt for piece in pieces_of(text))
    scales = [min(LARGEST_SCALE, max(1.0, column.width_mm / PLAIN_COLUMN_MM))]
    while scales[-1] * STEP > least:
        scales.append(scales[-1] * STEP)
    return (*scales, least)


def _sized(piece: Words, scale: float) -> Words:
    return replace(piece, size_pt=max(piece.least_pt, piece.size_pt * scale))


def _width_mm(text: str, piece: Words) -> float:
    ems = width_em(text, piece.face, piece.tracking_em) + overhang_em(text, piece.face)
    return ems * piece.size_pt * MM_PER_PT


# A group is rows from the top down; a row is a piece, or two on a baseline, the second flush at the far edge.
_Row = tuple[Line, ...]
_Group = tuple[_Row, ...]


def _groups(text: Text, width_mm: float, scale: float, *, cutting: bool) -> tuple[_Group, ...] | None:
    """The groups, each placed from its own top at 0; None when a line is wider than the column."""
    groups = []
    for stack in filter(None, text):
        rows = [row for pieces in stack for row in _rows(pieces, width_mm, scale, cutting=cutting) or ((),)]
        if not all(rows):
            return None
        groups.append(_band(rows[0], width_mm) if rows[0][0].white else _stacked(rows))
    return tuple(group for group in groups if group)


def _rows(pieces: tuple[Words, ...], width_mm: float, scale: float, *, cutting: bool) -> tuple[_Row, ...] | None:
    """A row of two pieces, or each in rows of its own where they do not fit beside one another."""
    first, *beside = (_sized(piece, scale) for piece in pieces)
    if beside:
        last = beside[0]
        apart_mm = BETWEEN_WORDS_EM * first.size_pt * MM_PER_PT
        if _width_mm(first.text, first) + apart_mm + _width_mm(last.text, last) <= width_mm:
            return ((_line(first.text, first), _line(last.text, last, width_mm - _width_mm(last.text, last))),)
        apart = [_rows((piece,), width_mm, scale, cutting=cutting) for piece in pieces]
        return None if None in apart else tuple(row for rows in apart if rows for row in rows)
    texts = _without_widow(first, width_mm)
    if texts is None and cutting:
        first = _sized(first, 0.0)
        texts = broken(first, width_mm, cutting=True)
    return tuple((_line(text, first),) for text in texts) if texts else None


def _line(text: str, piece: Words, x_mm: float = 0.0) -> Line:
    begins_mm = x_mm + overhang_em(text, piece.face) * piece.size_pt * MM_PER_PT
    return Line(text, piece.face, piece.size_pt, piece.tracking_em, begins_mm, 0.0, piece.white)


def broken(piece: Words, width_mm: float, *, cutting: bool) -> tuple[str, ...] | None:
    """The piece in lines no wider than the column; None where that cannot be done."""
    if not piece.breaks:
        return (piece.text,) if _width_mm(piece.text, piece) <= width_mm else None
    lines: list[str] = []
    for word in piece.text.split(" "):
        if lines and _width_mm(f"{lines[-1]} {word}", piece) <= width_mm:
            lines[-1] += f" {word}"
        else:
            lines += _cut(word, piece, width_mm) if cutting else [word]
    return tuple(lines) if all(_width_mm(line, piece) <= width_mm for line in lines) else None


def _without_widow(piece: Words, width_mm: float) -> tuple[str, ...] | None:
    """The piece in as few lines as can be, set narrower while its last line is but a scrap of one."""
    texts = broken(piece, width_mm, cutting=False)
    narrow_mm = width_mm
    while texts and len(texts) > 1 and _width_mm(texts[-1], piece) < WIDOW_SHARE * width_mm:
        narrow_mm *= STEP
        narrower = broken(piece, narrow_mm, cutting=False)
        if narrower is None or len(narrower) > len(texts):
            break
        texts = narrower
    return texts


def _cut(word: str, piece: Words, width_mm: float) -> list[str]:
    """A long address in parts, before “@” or “.” and after “/” or “-”, where no sign has to be added."""
    parts = [""]
    for part in re.findall(r"[@.]?[^@./-]*[/-]?", word):
        if parts[-1] and _width_mm(parts[-1] + part, piece) > width_mm:
            parts.append(part)
        else:
            parts[-1] += part
    return parts


def _stacked(rows: Sequence[_Row]) -> _Group:
    """Rows one under the other; the first one's capitals, or their accents, touch the top."""
    placed: list[_Row] = []
    baseline_pt = 0.0
    for row in rows:
        size_pt = max(line.size_pt for line in row)
        if placed:
            spaced = UNDER_IDENTITY_EM if placed[-1][0].tracking_em else 0.0
            baseline_pt += (LEADING_EM + spaced) * size_pt
        else:
            baseline_pt = _above_em(row) * size_pt
        placed.append(tuple(replace(line, baseline_mm=baseline_pt * MM_PER_PT) for line in row))
    return tuple(placed)


def _band(row: _Row, width_mm: float) -> _Group:
    """White letters centred on a black band; the band itself follows from the group's height."""
    line = row[0]
    size_mm = line.size_pt * MM_PER_PT
    x_mm = (width_mm - width_em(line.text, line.face, line.tracking_em) * size_mm) / 2
    return ((replace(line, x_mm=x_mm, baseline_mm=(BAND_PADDING_EM + CAPITALS_EM) * size_mm),),)


def _above_em(row: _Row) -> float:
    return CAPITALS_EM + (0.0 if all(line.text.isascii() for line in row) else ACCENTS_EM)


def _group_height_mm(group: _Group) -> float:
    below_em = BAND_PADDING_EM if group[0][0].white else DESCENT_EM
    return max(line.baseline_mm + below_em * line.size_pt * MM_PER_PT for line in group[-1])


def _height_mm(groups: Sequence[_Group], scale: float) -> float:
    """The least height; larger letters need more air between them."""
    return _letters_mm(groups) + AIR_MM * max(1.0, scale) ** 2 * (len(groups) - 1)


def _letters_mm(groups: Sequence[_Group]) -> float:
    return sum(_group_height_mm(group) for group in groups)


def _stand(groups: Sequence[_Group], column: Column) -> tuple[tuple[Line, ...], tuple[Bar, ...]]:
    """Spread the groups over the column's height, with a rule between two, or a band behind one."""
    air_mm = (column.height_mm - _letters_mm(groups)) / max(1, len(groups) - 1)
    lines: list[Line] = []
    bars: list[Bar] = []
    y_mm = column.top_mm
    for before, group in zip((None, *groups), groups, strict=False):
        if before:
            y_mm += air_mm
        if group[0][0].white:
            bars.append(Bar(column.x_mm, y_mm, column.width_mm, _group_height_mm(group)))
        elif before and not before[0][0].white:
            bars.append(Bar(column.x_mm, y_mm - air_mm * RULE_SHARE, column.width_mm, RULE_MM))
        lines += [_moved(line, column.x_mm, y_mm) for row in group for line in row]
        y_mm += _group_height_mm(group)
    return tuple(lines), tuple(bars)


def _moved(line: Line, x_mm: float, y_mm: float) -> Line:
    return replace(line, x_mm=x_mm + line.x_mm, baseline_mm=y_mm + line.baseline_mm)


def _culprit(text: Text, width_mm: float) -> str:
    """The field to shorten: one that cannot be set at all, else the one that takes the most lines."""

    def excess(piece: Words) -> float:
        least = _sized(piece, 0.0)
        lines = broken(least, width_mm, cutting=True)
        return len(lines) + _width_mm(piece.text, least) / 1e4 if lines else float("inf")

    return max((piece for piece in pieces_of(text) if piece.field != CHECK_FIELD), key=excess).field
