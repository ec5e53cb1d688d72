"""Family 2, references: whatever a record names must exist, and nothing may be taken that a lot does not have."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from itertools import chain

from passport.analysis.usage import LotUse, batch_uses, by_lot, lot_uses, pieces_taken
from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.catalogue import Archive, Filed
from passport.records.identity import near
from passport.records.model.instrument import Attribution, Instrument
from passport.records.model.marks import Record
from passport.records.model.sheets import Gauges, Sheet
from passport.records.model.workshop import Sum
from passport.records.printed import FILE_NAME
from passport.records.walk import fields_of, measured, walked
from passport.stocks import STOCKS

NO_SUCH = "write the record first, or mend the name"


def check(archive: Archive) -> Iterator[Finding]:
    """Follow every name in every record."""
    for rule in RULES:
        yield from rule(archive)


def _wood(archive: Archive) -> Iterator[Finding]:
    uses = by_lot(chain.from_iterable(lot_uses(stem, filed.record) for stem, filed in archive.instruments.items()))
    known = archive.names("wood")
    for lot, found in uses.items():
        if lot not in known:
            for use in found:
                yield _unknown(
                    Code.UNKNOWN_LOT,
                    archive.instruments[use.instrument].file,
                    "wood lot",
                    lot,
                    known,
                    (*use.path, "lot"),
                )
        elif lot in archive.wood:
            yield from _draws(archive, lot, found)
    for lot in archive.wood.keys() - uses.keys():
        filed = archive.wood[lot]
        yield Finding(
            Code.UNUSED_LOT,
            filed.file,
            f"no instrument is made from lot {lot} yet",
            "nothing, while it seasons",
            ("lot",),
        )


def _draws(archive: Archive, lot: str, uses: tuple[LotUse, ...]) -> Iterator[Finding]:
    """Hold what was taken from a lot against what was bought."""
    bought = archive.wood[lot].record.pieces
    taken = pieces_taken(uses)
    if bought is not None and taken > bought:
        what = f"{taken} pieces are taken from a lot of {bought}"
        yield Finding(
            Code.LOT_OVERDRAWN,
            archive.wood[lot].file,
            what,
            "look for a wrong lot name among the instruments on its page",
            ("pieces",),
        )
    first: dict[str, LotUse] = {}
    for use in uses:
        file = archive.instruments[use.instrument].file
        if bought is not None and re.fullmatch(r"[0-9]{1,6}", use.wedge) and int(use.wedge) > bought:
            what = f"wedge {use.wedge} of a lot that has {bought}"
            yield Finding(Code.WEDGE_BEYOND, file, what, "mend the wedge or the lot", (*use.path, "wedge"))
        if not use.wedge or not use.takes_whole_wedge:
            continue
        earlier = first.setdefault(use.wedge, use)
        if earlier is not use:
            what = f"wedge {use.wedge} of {lot} is also the {earlier.part} of {earlier.instrument}"
            yield Finding(Code.WEDGE_TWICE, file, what, "one of the two is another wedge", (*use.path, "wedge"))


def _varnish(archive: Archive) -> Iterator[Finding]:
    used: set[str] = set()
    known = archive.names("varnish")
    for stem, filed in archive.instruments.items():
        for use in batch_uses(stem, filed.record):
            used.add(use.batch)
            if use.batch not in known:
                yield _unknown(Code.UNKNOWN_BATCH, filed.file, "varnish batch", use.batch, known, use.path)
    for batch in archive.varnish.keys() - used:
        filed_batch = archive.varnish[batch]
        yield Finding(
            Code.UNUSED_BATCH,
            filed_batch.file,
            f"no instrument has batch {batch} on it yet",
            "nothing, if it is new",
            ("batch",),
        )


def _models(archive: Archive) -> Iterator[Finding]:
    known = archive.names("models")
    for filed in archive.instruments.values():
        name = filed.record.model
        if name is None:
            continue
        if name not in known:
            yield _unknown(Code.UNKNOWN_MODEL, filed.file, "model", name, known, ("model",))
        if name not in archive.models:
            continue
        model = archive.models[name].record
        theirs, ours = (model.kind, model.size), (filed.record.kind, filed.record.size)
        if None not in (*theirs, *ours) and theirs != ours:
            what = f"this is a {' '.join(map(str, ours))}, and {name} is a model of a {' '.join(map(str, theirs))}"
            yield Finding(Code.OTHER_KIND, filed.file, what, "mend model:, kind: or size:", ("model",))


def _gauges(archive: Archive) -> Iterator[Finding]:
    known = archive.gauges.record.gauges
    if known is None:  # the list itself is missing or cannot be read, which is said elsewhere
        return
    for filed in archive.records():
        for path, name in _gauges_named(filed.record):
            if name not in known:
                yield _unknown(Code.UNKNOWN_GAUGE, filed.file, "gauge", name, known, path)


def _gauges_named(record: Record) -> Iterator[tuple[Path, str]]:
    """Give every gauge that a sheet, a plate, a reading or a single value names."""
    for path, entry in walked(record):
        if isinstance(entry, Gauges):
            yield from (((*path, field), gauge) for field, gauge in fields_of(entry))
        gauge = getattr(entry, "gauge", None)
        if isinstance(gauge, str):
            yield (*path, "gauge"), gauge
    for path, value in measured(record):
        if value.gauge:
            yield (*path, "gauge"), value.gauge


def _people(archive: Archive) -> Iterator[Finding]:
    todo = "add them to people: in workshop.yml"
    for filed in archive.records() if archive.workshop.record.people is not None else ():
        for path, name in _people_named(filed.record):
            if name not in archive.people:
                yield _unknown(Code.UNKNOWN_PERSON, filed.file, "person", name, archive.people, path, todo)


def _people_named(record: Record) -> Iterator[tuple[Path, str]]:
    """Give every name that should be one of ours; others' opinions, and hands on others' work, need not be."""
    for path, entry in walked(record):
        name = getattr(entry, "by", None)
        if isinstance(name, str) and not isinstance(entry, Attribution | Sum):
            yield (*path, "by"), name
    if isinstance(record, Instrument) and record.origin == "made_here" and record.made and record.made.hands:
        yield from ((("made", "hands", part), name) for part, name in fields_of(record.made.hands))


def _sheets(archive: Archive) -> Iterator[Finding]:
    for filed in archive.instruments.values():
        named = [
            (path, entry.sheet) for path, entry in walked(filed.record) if isinstance(entry, Sheet) and entry.sheet
        ]
        first: dict[str, Path] = {}
        for path, name in named:
            if first.setdefault(name, path) != path:
                yield Finding(
                    Code.REPEATED_SHEET,
                    filed.file,
                    f"there are two sheets {name}",
                    "give one of them another name",
                    (*path, "sheet"),
                )
        for index, event in enumerate(filed.record.history or ()):
            for field in ("sheet", "before", "after"):
                name = getattr(event, field)
                if name and name not in first:
                    yield _unknown(
                        Code.UNKNOWN_SHEET,
                        filed.file,
                        "sheet",
                        name,
                        first,
                        ("history", index, field),
                        "write the sheet, or mend the name",
                    )


def _stocks(archive: Archive) -> Iterator[Finding]:
    workshop = archive.workshop
    known = {*(stock.name for stock in STOCKS), *(workshop.record.stocks or {})}
    for name, printer in (workshop.record.printers or {}).items():
        if printer.stock and printer.stock not in known:
            path: Path = ("printers", name, "stock")
            todo = "write its measures under stocks:, or mend the name"
            yield _unknown(Code.UNKNOWN_STOCK, workshop.file, "label stock", printer.stock, known, path, todo)


def _photos(archive: Archive) -> Iterator[Finding]:
    for stem, filed in archive.instruments.items():
        there = archive.photos.get(stem, {})
        listed = set()
        for index, photo in enumerate(filed.record.photos or ()):
            path: Path = ("photos", index, "file")
            listed.add(photo.file)
            facts = there.get(photo.file or "")
            if photo.file and facts is None:
                todo = nearest(photo.file, there, f"put the picture into photos/{stem}/")
                yield Finding(Code.MISSING_PHOTO, filed.file, f"there is no picture {photo.file}", todo, path)
            elif facts is not None and facts.fault:
                yield Finding(
                    Code.BROKEN_PHOTO,
                    filed.file,
                    f"{photo.file} cannot be used: {facts.fault}",
                    "copy it anew from the camera",
                    path,
                )
        for file in sorted(there.keys() - listed):
            fault = there[file].fault
            todo = (
                f"{fault}; save it as JPEG first" if fault else f"list it under photos: {{file: {file}, view: front}}"
            )
            what = f"the picture photos/{stem}/{file} is not in the record"
            yield Finding(Code.UNUSED_PHOTO, filed.file, what, todo, ("photos",), on_key=True)


def _identity(archive: Archive) -> Iterator[Finding]:
    first: dict[str, str] = {}
    serials: dict[str, list[Filed[Instrument]]] = defaultdict(list)
    for filed in archive.instruments.values():
        number = filed.record.id
        if number and first.setdefault(number, filed.file) != filed.file:
            what = f"the number {number} is already that of {first[number]}"
            yield Finding(
                Code.REPEATED_ID,
                filed.file,
                what,
                "a number is never used twice; make a record with a new one: passport new",
                ("id",),
            )
        if filed.record.serial:
            serials[filed.record.serial].append(filed)
    for serial, found in serials.items():
        for filed in found[1:]:
            yield Finding(
                Code.REPEATED_SERIAL,
                filed.file,
                f"serial {serial} also stands in {found[0].file}",
                "look at the label inside",
                ("serial",),
            )


def _private(archive: Archive) -> Iterator[Finding]:
    known = archive.names("instruments")
    for stem, filed in archive.private.items():
        if stem not in known:
            close = near(stem, known)
            todo = f"did you mean {' or '.join(close)}?" if close else NO_SUCH
            yield Finding(Code.ORPHAN_PRIVATE, filed.file, f"there is no instrument {stem}", todo, ("id",))
    for stem, instrument in archive.instruments.items():
        if instrument.record.published == "unlisted" and not archive.address_tail(stem):
            todo = f"make one: passport page {stem}"
            yield Finding(
                Code.NO_PAGE,
                instrument.file,
                "an unlisted instrument needs a page address of its own",
                todo,
                ("publish",),
            )


def _labels(archive: Archive) -> Iterator[Finding]:
    """Report labels in cases that lead to no page any more; of several for one instrument, the first."""
    known = archive.names("instruments")
    first = {label.id: label for label in reversed(archive.printed)}
    for label in first.values():
        filed = archive.instruments.get(label.id)
        hidden = filed is not None and filed.record.published == "shop_only"
        if label.id not in known or hidden:
            lost = "has no public page any more" if hidden else "has no record any more"
            what = f"a label printed on {label.date} leads to {label.id}, which {lost}"
            todo = "set publish: listed or unlisted" if hidden else "put its record back; withdrawn is a status:"
            file = (archive.root / FILE_NAME).as_posix()
            yield Finding(Code.LABEL_WITHOUT_PAGE, file, what, todo, line=label.line, column=1)


def _unknown(
    code: Code, file: str, what: str, name: str, known: Iterable[str], path: Path, otherwise: str = NO_SUCH
) -> Finding:
    return Finding(code, file, f"there is no {what} “{name}”", nearest(name, known, otherwise), path)


RULES: tuple[Callable[[Archive], Iterator[Finding]], ...] = (
    _wood, _varnish, _models, _gauges, _people, _sheets, _stocks, _photos, _identity, _private, _labels,
)  # fmt: skip
