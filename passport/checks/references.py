"""Family 2, references: whatever a record names must exist, and nothing may be taken that a lot does not have."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import chain
from typing import Any

from passport.analysis.usage import LotUse, Mentions, batch_uses, by_lot, lot_uses, pieces_taken
from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.identity import near
from passport.records.model.instrument import Attribution, Instrument
from passport.records.model.marks import Record
from passport.records.model.sheets import Gauges, Sheet
from passport.records.model.workshop import Sum
from passport.records.walk import fields_of, measured, walked
from passport.stocks import STOCKS

NO_SUCH = "write the record first, or mend the name"


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Follow every name in the record of one instrument."""
    filed = archive.instruments[stem]
    for rule in OWN_RULES:
        yield from rule(archive, stem, filed)
    yield from _names(archive, filed)
    if stem in archive.private:
        yield from _names(archive, archive.private[stem])


def of_others(archive: Archive) -> Iterator[Finding]:
    """Follow the names in the records of everything else."""
    for filed in archive.others():
        yield from _names(archive, filed)
    yield from _stocks(archive)


def across(archive: Archive, mentions: Mapping[str, Mentions]) -> Iterator[Finding]:
    """Hold the instruments against one another, and against what there is of each lot and batch."""
    yield from _lots(archive, mentions)
    yield from _batches(archive, mentions)
    yield from _identity(archive, mentions)
    yield from _private(archive)


def _wood(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:
    known = archive.names("wood")
    for use in lot_uses(stem, filed.record):
        if use.lot not in known:
            yield _unknown(Code.UNKNOWN_LOT, filed.file, "wood lot", use.lot, known, (*use.path, "lot"))
        bought = archive.wood[use.lot].record.pieces if use.lot in archive.wood else None
        if bought is not None and re.fullmatch(r"[0-9]{1,6}", use.wedge) and int(use.wedge) > bought:
            what = f"wedge {use.wedge} of a lot that has {bought}"
            yield Finding(Code.WEDGE_BEYOND, filed.file, what, "mend the wedge or the lot", (*use.path, "wedge"))


def _lots(archive: Archive, mentions: Mapping[str, Mentions]) -> Iterator[Finding]:
    uses = by_lot(chain.from_iterable(each.lots for each in mentions.values()))
    for lot, filed in archive.wood.items():
        if lot in uses:
            yield from _draws(archive, lot, uses[lot])
        else:
            what = f"no instrument is made from lot {lot} yet"
            yield Finding(Code.UNUSED_LOT, filed.file, what, "nothing, while it seasons", ("lot",))


def _draws(archive: Archive, lot: str, uses: tuple[LotUse, ...]) -> Iterator[Finding]:
    """Hold what was taken from a lot against what was bought."""
    bought = archive.wood[lot].record.pieces
    taken = pieces_taken(uses)
    if bought is not None and taken > bought:
        what = f"{taken} pieces are taken from a lot of {bought}"
        todo = "look for a wrong lot name among the instruments on its page"
        yield Finding(Code.LOT_OVERDRAWN, archive.wood[lot].file, what, todo, ("pieces",))
    first: dict[str, LotUse] = {}
    for use in uses:
        if not use.wedge or not use.takes_whole_wedge:
            continue
        earlier = first.setdefault(use.wedge, use)
        if earlier is not use:
            what = f"wedge {use.wedge} of {lot} is also the {earlier.part} of {earlier.instrument}"
            file = archive.instruments[use.instrument].file
            yield Finding(Code.WEDGE_TWICE, file, what, "one of the two is another wedge", (*use.path, "wedge"))


def _varnish(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:
    known = archive.names("varnish")
    for use in batch_uses(stem, filed.record):
        if use.batch not in known:
            yield _unknown(Code.UNKNOWN_BATCH, filed.file, "varnish batch", use.batch, known, use.path)


def _batches(archive: Archive, mentions: Mapping[str, Mentions]) -> Iterator[Finding]:
    used = {batch for each in mentions.values() for batch in each.batches}
    for batch in archive.varnish.keys() - used:
        what = f"no instrument has batch {batch} on it yet"
        yield Finding(Code.UNUSED_BATCH, archive.varnish[batch].file, what, "nothing, if it is new", ("batch",))


def _models(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:  # noqa: ARG001 - a rule's shape
    known = archive.names("models")
    name = filed.record.model
    if name is not None and name not in known:
        yield _unknown(Code.UNKNOWN_MODEL, filed.file, "model", name, known, ("model",))
    if name is None or name not in archive.models:
        return
    model = archive.models[name].record
    theirs, ours = (model.kind, model.size), (filed.record.kind, filed.record.size)
    if None not in (*theirs, *ours) and theirs != ours:
        what = f"this is a {' '.join(map(str, ours))}, and {name} is a model of a {' '.join(map(str, theirs))}"
        yield Finding(Code.OTHER_KIND, filed.file, what, "mend model:, kind: or size:", ("model",))


def _names(archive: Archive, filed: Filed[Any]) -> Iterator[Finding]:
    """Look for the gauges and the people that any record names."""
    record: Record = filed.record
    gauges = archive.gauges.record.gauges
    if gauges is not None:  # else the list itself is missing or cannot be read, which is said elsewhere
        for path, name in _gauges_named(record):
            if name not in gauges:
                yield _unknown(Code.UNKNOWN_GAUGE, filed.file, "gauge", name, gauges, path)
    if archive.workshop.record.people is not None:
        for path, name in _people_named(record):
            if name not in archive.people:
                todo = "add them to people: in workshop.yml"
                yield _unknown(Code.UNKNOWN_PERSON, filed.file, "person", name, archive.people, path, todo)


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


def _people_named(record: Record) -> Iterator[tuple[Path, str]]:
    """Give every name that should be one of ours; others' opinions, and hands on others' work, need not be."""
    for path, entry in walked(record):
        name = getattr(entry, "by", None)
        if isinstance(name, str) and not isinstance(entry, Attribution | Sum):
            yield (*path, "by"), name
    if isinstance(record, Instrument) and record.origin == "made_here" and record.made and record.made.hands:
        yield from ((("made", "hands", part), name) for part, name in fields_of(record.made.hands))


def _sheets(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:  # noqa: ARG001 - a rule's shape
    named = [(path, entry.sheet) for path, entry in walked(filed.record) if isinstance(entry, Sheet) and entry.sheet]
    first: dict[str, Path] = {}
    for path, name in named:
        if first.setdefault(name, path) != path:
            what, todo = f"there are two sheets {name}", "give one of them another name"
            yield Finding(Code.REPEATED_SHEET, filed.file, what, todo, (*path, "sheet"))
    for index, event in enumerate(filed.record.history or ()):
        for field in ("sheet", "before", "after"):
            name = getattr(event, field)
            if name and name not in first:
                todo = "write the sheet, or mend the name"
                yield _unknown(Code.UNKNOWN_SHEET, filed.file, "sheet", name, first, ("history", index, field), todo)


def _stocks(archive: Archive) -> Iterator[Finding]:
    workshop = archive.workshop
    known = {*(stock.name for stock in STOCKS), *(workshop.record.stocks or {})}
    for name, printer in (workshop.record.printers or {}).items():
        if printer.stock and printer.stock not in known:
            path: Path = ("printers", name, "stock")
            todo = "write its measures under stocks:, or mend the name"
            yield _unknown(Code.UNKNOWN_STOCK, workshop.file, "label stock", printer.stock, known, path, todo)


def _photos(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:
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
            what = f"{photo.file} cannot be used: {facts.fault}"
            yield Finding(Code.BROKEN_PHOTO, filed.file, what, "copy it anew from the camera", path)
    for file in sorted(there.keys() - listed):
        fault = there[file].fault
        todo = f"{fault}; save it as JPEG first" if fault else f"list it under photos: {{file: {file}, view: front}}"
        what = f"the picture photos/{stem}/{file} is not in the record"
        yield Finding(Code.UNUSED_PHOTO, filed.file, what, todo, ("photos",), on_key=True)


def _page(archive: Archive, stem: str, filed: Filed[Instrument]) -> Iterator[Finding]:
    if filed.look.standing == "unlisted" and not archive.address_tail(stem):
        what, todo = "an unlisted instrument needs a page address of its own", f"make one: passport page {stem}"
        yield Finding(Code.NO_PAGE, filed.file, what, todo, ("publish",))


def _identity(archive: Archive, mentions: Mapping[str, Mentions]) -> Iterator[Finding]:
    first: dict[str, str] = {}
    serials: dict[str, str] = {}
    for stem, told in mentions.items():
        file = archive.instruments[stem].file
        if told.id and first.setdefault(told.id, file) != file:
            what = f"the number {told.id} is already that of {first[told.id]}"
            todo = "a number is never used twice; make a record with a new one: passport new"
            yield Finding(Code.REPEATED_ID, file, what, todo, ("id",))
        if told.serial and serials.setdefault(told.serial, file) != file:
            what = f"serial {told.serial} also stands in {serials[told.serial]}"
            yield Finding(Code.REPEATED_SERIAL, file, what, "look at the label inside", ("serial",))


def _private(archive: Archive) -> Iterator[Finding]:
    known = archive.names("instruments")
    for stem, filed in archive.private.items():
        if stem not in known:
            close = near(stem, known)
            todo = f"did you mean {' or '.join(close)}?" if close else NO_SUCH
            yield Finding(Code.ORPHAN_PRIVATE, filed.file, f"there is no instrument {stem}", todo, ("id",))


def _unknown(
    code: Code, file: str, what: str, name: str, known: Iterable[str], path: Path, otherwise: str = NO_SUCH
) -> Finding:
    return Finding(code, file, f"there is no {what} “{name}”", nearest(name, known, otherwise), path)


OWN_RULES: tuple[Callable[[Archive, str, Filed[Instrument]], Iterator[Finding]], ...] = (
    _wood, _varnish, _models, _sheets, _photos, _page,
)  # fmt: skip
