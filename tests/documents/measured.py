"""Measures a finished PDF as a program reads it: every straight stretch of every path, in mm from the lower left."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from ctypes import byref, c_float
from typing import Any, NamedTuple

import pypdfium2  # type: ignore[import-untyped]
from pypdfium2 import raw

MM_PER_POINT = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
SAME: Matrix = (1, 0, 0, 1, 0, 0)


class Stretch(NamedTuple):
    """A straight line from one point to another, in mm, on a page counted from 0."""

    page: int
    x1: float
    y1: float
    x2: float
    y2: float


def stretches(pdf: bytes) -> list[Stretch]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [stretch for index, page in enumerate(document) for stretch in _of_page(index, page)]
    finally:
        document.close()


def _of_page(index: int, page: Any) -> Iterator[Stretch]:
    count, get = raw.FPDFPage_CountObjects, raw.FPDFPage_GetObject
    for path, matrix in _paths(page.raw, count, get, SAME):
        here = (0.0, 0.0)
        for number in range(raw.FPDFPath_CountSegments(path)):
            segment = raw.FPDFPath_GetPathSegment(path, number)
            there = _point(segment, matrix)
            if raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_LINETO:
                yield Stretch(index, *here, *there)
            here = there


def _paths(
    holder: Any, count: Callable[[Any], int], get: Callable[[Any, int], Any], outer: Matrix
) -> Iterator[tuple[Any, Matrix]]:
    """Go through a page's objects and those inside its forms, with the matrix that puts each on the page."""
    for index in range(count(holder)):
        thing = get(holder, index)
        matrix = _times(_matrix(thing), outer)
        kind = raw.FPDFPageObj_GetType(thing)
        if kind == raw.FPDF_PAGEOBJ_PATH:
            yield thing, matrix
        elif kind == raw.FPDF_PAGEOBJ_FORM:
            yield from _paths(thing, raw.FPDFFormObj_CountObjects, raw.FPDFFormObj_GetObject, matrix)


def _matrix(thing: Any) -> Matrix:
    found = raw.FS_MATRIX()
    assert raw.FPDFPageObj_GetMatrix(thing, byref(found))
    return (found.a, found.b, found.c, found.d, found.e, found.f)


def _times(inner: Matrix, outer: Matrix) -> Matrix:
    a, b, c, d, e, f = inner
    g, h, i, j, k, m = outer
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _point(segment: Any, matrix: Matrix) -> tuple[float, float]:
    x, y = c_float(), c_float()
    assert raw.FPDFPathSegment_GetPoint(segment, byref(x), byref(y))
    a, b, c, d, e, f = matrix
    return ((a * x.value + c * y.value + e) * MM_PER_POINT, (b * x.value + d * y.value + f) * MM_PER_POINT)
