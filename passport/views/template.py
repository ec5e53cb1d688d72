"""What every full-size template says: of which instrument, what went in and from where, what is not recorded.

For the shop alone. The sums are done in `analysis.template`; here they are worded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import asdict
from typing import TypeVar

from passport.analysis.known import Known
from passport.analysis.latest import NotRecorded
from passport.analysis.template import Used
from passport.errors import PassportError
from passport.figures.fullsize import FullSize
from passport.findings import Path
from passport.physics.ranges import OutsideRange
from passport.records.catalogue import Archive
from passport.records.model.instrument import BassBar
from passport.records.model.marks import Record
from passport.records.model.sheets import MeasurementSheet, SetupSheet
from passport.reference.kinds import KIND_WORDS
from passport.views.addresses import instrument_paths
from passport.views.desk import Desk
from passport.views.numbers import joined, size_text, with_tenths
from passport.views.titles import capital, lowered, title_of
from passport.views.tree import TrueDrawing, Worked
from passport.views.visible import visible

T = TypeVar("T")
LEFT_HANDED = "This instrument is left-handed: turn every drawing over, its bass side to the bass side."
AT_FULL_SIZE = "Print at 100 %, not “fit to page”. Measure both check lines with a rule: each must be 100 mm long."
KNIVES = "Knives, saws and files cut: clamp the work, cut away from yourself, wear goggles at a machine."
PER_STRING = ("string_height", "nut_clearance", "string_diameter")
OWN_NAMES = {"string_height": "String height wanted", "string_diameter": "String thickness"}


def shop_desk(archive: Archive) -> Desk:
    """Lay the archive on the desk as the shop may see it."""
    return Desk(visible(archive, "shop"), "shop", instrument_paths(archive, "shop"))


def worked_out(what: str, stem: str, work: Callable[[], T]) -> T:
    """Do the sum; say in one sentence what is not recorded, or which number cannot be."""
    try:
        return work()
    except NotRecorded as fault:
        names = "; ".join(lowered(_name(quantity)) for quantity in fault.quantities)
        todo = "measure it and write it into a new sheet"
        if ("projection",) in fault.quantities:
            todo += "; the projection may also be given: --projection 27"
        raise PassportError(f"the {what} of {stem} cannot be drawn, for want of: {names}", todo) from fault
    except OutsideRange as fault:
        unit = f" {fault.unit}".rstrip()
        said = f"{fault.name} is {fault.value:g}{unit}, and can only be {fault.low:g} to {fault.high:g}{unit}"
        todo = "look for a slip of the pen in the record, or in what was given"
        raise PassportError(f"the {what} of {stem} cannot be drawn: {said}", todo) from fault


def heading(desk: Desk, stem: str, *more: str) -> tuple[str, ...]:
    """Say of which instrument a template is, and what to do before it is used."""
    record = desk.archive.instruments[stem].record
    kind = KIND_WORDS.get(record.kind or "", record.kind or "")
    who = joined(capital(kind), size_text(record.kind or "", record.size or ""), by=" ")
    model, serial = record.model and f"model {record.model}", record.serial and f"serial {record.serial}"
    handed = (LEFT_HANDED,) if record.handed == "left" else ()
    return joined(who, model or "", serial or "", desk.workshop.name or ""), *more, *handed, AT_FULL_SIZE


def drawing(drawn: FullSize) -> TrueDrawing:
    """Give a drawing as views hold it."""
    return TrueDrawing(**asdict(drawn))


def _name(quantity: Path) -> str:
    """Name a quantity as its field is titled, but for what is wanted rather than measured, or stands in no field."""
    if quantity[0] in OWN_NAMES:
        return joined(OWN_NAMES[str(quantity[0])], *map(str, quantity[1:]))
    if quantity[0] == "plates":
        return f"Bass bar, {title_of(BassBar, quantity[-1:]).lower()}"
    kind: type[Record] = SetupSheet if quantity[0] in SetupSheet.model_fields else MeasurementSheet
    return title_of(kind, quantity)


def used_rows(used: Used) -> tuple[Worked, ...]:
    """Give what went in, what belongs to all strings in one row where it is from one place."""
    rows: dict[tuple[Path, str, str], list[tuple[Path, Known]]] = {}
    for whole, known in used:
        of_strings = whole[0] in PER_STRING or "bridge_steps" in whole
        rows.setdefault((whole[:-1] if of_strings else whole, known.how, known.whence), []).append((whole, known))
    return tuple(
        Worked(
            _row_name(quantity, row), ", ".join(with_tenths(known.value) for _, known in row), "mm", how, source=whence
        )
        for (quantity, how, whence), row in rows.items()
    )


def _row_name(quantity: Path, row: Iterable[tuple[Path, Known]]) -> str:
    names = [str(whole[-1]) for whole, _ in row if whole[0] in PER_STRING]
    return joined(_name(quantity), *names)
