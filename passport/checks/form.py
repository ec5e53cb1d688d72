"""Family 1, form: what the shape of a single record cannot say about itself.

Faults of notation and of single fields are found while reading; here a record is held against its kind and file name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath
from typing import Any
from urllib.parse import urlsplit

from passport.analysis.printing import own_stocks
from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.fresh import blank
from passport.records.model.events import Condition
from passport.records.model.instrument import Instrument, Plate
from passport.records.model.sheets import Sheet
from passport.records.model.supplies import Model, PlateTarget
from passport.records.model.values import ByString
from passport.records.model.workshop import ShopWindows, Workshop
from passport.records.walk import Groups, walked
from passport.reference import kinds, terms
from passport.stocks import LEAST_SCALE, MOST_OFFSET_MM, MOST_SCALE, has_room_for_code, misfits

# What needs no escaping in an address or on any file system.
FILE_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*(\.[A-Za-z0-9_-]+)*")


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the record of one instrument against its file name, its kind and its own rows."""
    filed = archive.instruments[stem]
    entries = walked(filed.record)
    yield from _name(stem, filed, "id")
    if stem in archive.private:
        yield from _name(stem, archive.private[stem], "id")
    yield from _size(filed)
    yield from _strings(filed.file, entries, filed.record.string_names)
    yield from _rows(filed.file, entries)
    for path, entry in entries:
        if isinstance(entry, Condition):
            yield from _conditions(filed.file, path, entry)
        if isinstance(entry, Sheet) and entry.gauges is not None:
            yield from _gauged_fields(filed.file, (*path, "gauges"), entry)


def of_others(archive: Archive) -> Iterator[Finding]:
    """Hold the records of everything else against their file names and kinds."""
    lost = {stem: filed for stem, filed in archive.private.items() if stem not in archive.instruments}
    folders: tuple[tuple[Mapping[str, Filed[Any]], str], ...] = (
        (lost, "id"), (archive.wood, "lot"), (archive.varnish, "batch"), (archive.models, "model"),
    )  # fmt: skip
    for folder, field in folders:
        for stem, filed in folder.items():
            yield from _name(stem, filed, field)
    for model in archive.models.values():
        yield from _of_model(model)
    for index, group in enumerate(archive.workshop.record.windows or ()):
        yield from _of_windows(archive.workshop.file, ("windows", index), group)
    yield from _addresses(archive)
    yield from _left_blank(archive)
    yield from _stocks(archive.workshop)
    yield from _printers(archive.workshop)


def _name(stem: str, filed: Filed[Any], field: str) -> Iterator[Finding]:
    if not FILE_NAME.fullmatch(stem):
        what = f"“{stem}” cannot be part of an address"
        yield Finding(Code.BAD_NAME, filed.file, what, "name the file with letters, digits, - and _ only", (field,))
    name = getattr(filed.record, field)
    if name is not None and name != stem:
        what = f"the record says {field}: {name}, and the file is called {PurePosixPath(filed.file).name}"
        yield Finding(Code.NAME_DIFFERS, filed.file, what, f"call the file {name}.yml, or mend the field", (field,))


def _of_model(filed: Filed[Model]) -> Iterator[Finding]:
    entries = walked(filed.record)
    yield from _size(filed)
    yield from _strings(filed.file, entries, kinds.OPEN_STRINGS.get(filed.record.kind or "", ()))
    yield from _rows(filed.file, entries)


def _of_windows(file: str, path: Path, group: ShopWindows) -> Iterator[Finding]:
    yield from _size(Filed(file, group), path)
    yield from _strings(file, walked(group, path), kinds.OPEN_STRINGS.get(group.kind or "", ()))


def _size(filed: Filed[Instrument] | Filed[Model] | Filed[ShopWindows], path: Path = ()) -> Iterator[Finding]:
    kind, size = filed.record.kind, filed.record.size
    fault = kinds.size_fault(kind, size) if kind and size else None
    if fault:
        yield Finding(
            Code.BAD_SIZE,
            filed.file,
            f"“{size}” is not a size of a {kinds.KIND_WORDS[kind or '']}",
            fault,
            (*path, "size"),
        )


def _strings(file: str, entries: Groups, known: tuple[str, ...]) -> Iterator[Finding]:
    for path, entry in entries:
        names = entry.strings if isinstance(entry, ByString) else ()
        for name in names if known else ():
            if name not in known:
                what = f"this instrument has no {name} string"
                todo = f"its strings are {', '.join(known)}; list others under strings:"
                yield Finding(Code.UNKNOWN_STRING, file, what, todo, (*path, name), on_key=True)


def _rows(file: str, entries: Groups) -> Iterator[Finding]:
    for path, entry in entries:
        if isinstance(entry, Plate | PlateTarget) and entry.thickness:
            yield from _even_rows(file, (*path, "thickness"), entry.thickness)


def _even_rows(file: str, path: Path, rows: Mapping[str, tuple[object, ...]]) -> Iterator[Finding]:
    widest = max(len(row) for row in rows.values())
    for distance, row in rows.items():
        if len(row) != widest:
            what = f"this row has {len(row)} values, others have {widest}"
            yield Finding(
                Code.UNEVEN_ROW, file, what, "every row runs from the bass edge to the treble edge", (*path, distance)
            )


def _conditions(file: str, path: Path, condition: Condition) -> Iterator[Finding]:
    for term in condition.terms:
        if term not in terms.CONDITIONS:
            what = f"“{term}” is not a word for something found"
            todo = nearest(term, terms.CONDITIONS, "the words are listed by: passport explain unknown-condition")
            yield Finding(Code.UNKNOWN_CONDITION, file, what, todo, (*path, term), on_key=True)
    if not condition.terms:
        what = "this entry does not say what was found"
        yield Finding(Code.UNKNOWN_CONDITION, file, what, "write it as {open_seam_top: treble lower, length: 40}", path)


def _gauged_fields(file: str, path: Path, sheet: Sheet) -> Iterator[Finding]:
    known = tuple(type(sheet).model_fields)
    for field in sheet.gauges.by_field if sheet.gauges else ():
        if field not in known:
            what = f"this sheet has no field “{field}” to be gauged"
            yield Finding(
                Code.UNKNOWN_FIELD,
                file,
                what,
                nearest(field, known, "name a field of the sheet, or all:"),
                (*path, field),
                on_key=True,
            )


def _addresses(archive: Archive) -> Iterator[Finding]:
    workshop = archive.workshop.record
    former = enumerate(workshop.former_addresses or ())
    written: list[tuple[Path, str | None]] = [
        (("site_address",), workshop.site_address),
        (("label_address",), workshop.label_address),
        *((("former_addresses", index), address) for index, address in former),
    ]
    todo = "write it whole, with a slash at the end: https://passports.workshop.org/"
    for path, address in written:
        if address is not None and not _is_address(address):
            what = f"“{address}” is not the address of a site"
            yield Finding(Code.BAD_ADDRESS, archive.workshop.file, what, todo, path)


def _left_blank(archive: Archive) -> Iterator[Finding]:
    """Report what passport init wrote into workshop.yml to be written over."""
    as_begun = blank("workshop")
    workshop = archive.workshop
    name = re.search("^name: (.*)$", as_begun, re.MULTILINE)
    if name and workshop.record.name == name[1]:
        what = f"the workshop is still called “{name[1]}”, on every page and label"
        yield Finding(Code.LEFT_BLANK, workshop.file, what, "write its own name, place and contact", ("name",))
    for field in ("site_address", "label_address"):
        address: str | None = getattr(workshop.record, field)
        if address and address in as_begun:
            what = f"“{address}” is only an example of an address"
            yield Finding(Code.LEFT_BLANK, workshop.file, what, "write where the pages will stand", (field,))


def _stocks(workshop: Filed[Workshop]) -> Iterator[Finding]:
    for name, stock in own_stocks(workshop.record).items():
        found = [
            Finding(Code.IMPOSSIBLE_STOCK, workshop.file, misfit.what, misfit.todo, ("stocks", name, *misfit.field))
            for misfit in misfits(stock)
        ]
        yield from found
        if not found and not has_room_for_code(stock):
            what = f"a label of {stock.width_mm:g} x {stock.height_mm:g} mm has no room for a code"
            todo = "nothing, if it is for numbers inside: passport label --kind inside"
            yield Finding(Code.STOCK_WITHOUT_CODE, workshop.file, what, todo, ("stocks", name), on_key=True)


def _printers(workshop: Filed[Workshop]) -> Iterator[Finding]:
    for name, printer in (workshop.record.printers or {}).items():
        limits = (
            ("offset_x", printer.offset_x, -MOST_OFFSET_MM, MOST_OFFSET_MM, "mm"),
            ("offset_y", printer.offset_y, -MOST_OFFSET_MM, MOST_OFFSET_MM, "mm"),
            ("scale", printer.scale, LEAST_SCALE, MOST_SCALE, "%"),
        )
        for field, number, least, most, unit in limits:
            if number is not None and not least <= number <= most:
                what = f"no printer is out by that much: {number:g} {unit}"
                todo = f"it lies between {least:g} and {most:g} {unit}; measure it with: passport calibrate"
                yield Finding(Code.IMPOSSIBLE_PRINTER, workshop.file, what, todo, ("printers", name, field))


def _is_address(text: str) -> bool:
    try:
        parts = urlsplit(text)
    except ValueError:
        return False
    plain = not (parts.query or parts.fragment or re.search(r"\s", text))
    return parts.scheme in ("http", "https") and bool(parts.hostname) and parts.path.endswith("/") and plain
