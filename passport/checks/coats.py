"""The varnish in the order of its coats: a part of family 3, chronology.

Holds the coats of one instrument against each other and against their batches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from passport.analysis.timeline import coat_said, when_said
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.dates import Date
from passport.records.filed import Filed
from passport.records.model.events import Event
from passport.records.model.instrument import Coat, Instrument
from passport.records.model.supplies import VarnishBatch
from passport.records.model.workshop import Drying

HOURS_A_DAY = 24
# Two coats of neighbouring days may lie this much further apart than midnight from midnight.
WORKING_DAY_H = 12
Laid = tuple[int, Coat, Date]


def of_instrument(archive: Archive, filed: Filed[Instrument]) -> Iterator[Finding]:
    """Hold the coats of one instrument against each other and against their batches."""
    laid = [(index, coat, coat.date) for index, coat in enumerate(filed.record.varnish or ()) if coat.date]
    yield from _numbers(filed.file, laid)
    yield from _batches(archive, filed)
    yield from _drying(archive, filed.file, sorted(laid, key=lambda each: str(each[2].earliest)))


def _numbers(file: str, laid: Sequence[Laid]) -> Iterator[Finding]:
    """Report a coat that lies below one of a smaller number; numbers that begin anew are a new varnish."""
    for index, coat, date in laid:
        number = _number(coat)
        for lower in sorted({_number(other) for _, other, _ in laid if -1 < _number(other) < number}):
            under = [(other, day) for _, other, day in laid if _number(other) == lower]
            if all(day.certainly_after(date) for _, day in under):
                first = f"{coat_said(coat)} was laid {when_said(date)}"
                second = f"{coat_said(under[0][0])} {when_said(under[0][1])}"
                path: Path = ("varnish", index, "date")
                todo = "mend the date or the number of one of the two"
                yield Finding(Code.COATS_OUT_OF_ORDER, file, f"{first}, and {second}", todo, path)
                break


def _number(coat: Coat) -> int:
    """Give the place of a coat; the ground lies below all, and what has no number nowhere."""
    if coat.coat == "ground":
        return 0
    return int(coat.coat) if coat.coat and coat.coat.isdecimal() else -1


def _batches(archive: Archive, filed: Filed[Instrument]) -> Iterator[Finding]:
    record = filed.record
    entries: list[tuple[Path, Coat | Event]] = [(("varnish", at), coat) for at, coat in enumerate(record.varnish or ())]
    entries += [(("history", at), event) for at, event in enumerate(record.history or ())]
    for path, entry in entries:
        batch = _batch(archive, entry.batch)
        if batch is None or entry.date is None:
            continue
        used = f"batch {entry.batch} was used {when_said(entry.date)}"
        if batch.made and entry.date.certainly_before(batch.made):
            what = f"{used}, and made {when_said(batch.made)}"
            todo = f"mend the date here, the batch, or made: in varnish/{entry.batch}.yml"
            yield Finding(Code.BATCH_TOO_EARLY, filed.file, what, todo, (*path, "date"))
        if batch.expires and entry.date.certainly_after(batch.expires):
            what = f"{used}, and was to be used by {batch.expires.words()}"
            todo = "look at the film, and say so in a note; or mend the date"
            yield Finding(Code.BATCH_EXPIRED, filed.file, what, todo, (*path, "date"))


def _batch(archive: Archive, name: str | None) -> VarnishBatch | None:
    return archive.varnish[name].record if name is not None and name in archive.varnish else None


def _drying(archive: Archive, file: str, laid: Sequence[Laid]) -> Iterator[Finding]:
    """Report a coat laid on one that cannot have been dry."""
    for (_, under, first), (index, over, second) in pairwise(laid):
        batch = _batch(archive, under.batch)
        needed_h = _needed_h(archive.workshop.record.drying, batch) if batch else 0
        in_order = first.certainly_before(second) or (first.is_exact and first == second)
        if not in_order or not _on_top(under, over) or first.earliest is None or second.latest is None:
            continue
        apart = (second.latest - first.earliest).days
        if apart * HOURS_A_DAY + WORKING_DAY_H < needed_h:
            days = "the same day" if apart == 0 else "a day later" if apart == 1 else f"{apart} days later"
            said = f"{coat_said(under)} was laid {when_said(first)}, and {coat_said(over)} {days}, {when_said(second)}"
            what = f"{said}; batch {under.batch} wants {_time_said(needed_h)}"
            todo = "mend a date; the shop's times stand under drying: in workshop.yml, the batch's own as touch_dry:"
            yield Finding(Code.RECOATED_TOO_SOON, file, what, todo, ("varnish", index, "date"))


def _on_top(under: Coat, over: Coat) -> bool:
    """Tell whether one coat lies on the other, as far as the areas tell."""
    elsewhere = under.area and over.area and under.area != over.area
    everywhere = any((coat.area or "").startswith("all") for coat in (under, over))
    return under.coat != over.coat and (not elsewhere or everywhere)


def _needed_h(shop: Drying | None, batch: VarnishBatch) -> float:
    """Give the hours before the next coat: the shop's days for its sort of varnish, and at least until dry to touch."""
    sort = "ground" if batch.purpose == "ground" else batch.base or ""
    days = getattr(shop, sort, None)
    own_h = batch.touch_dry.value.low if batch.touch_dry else 0
    return max(days.value.low * HOURS_A_DAY if days else 0, own_h)


def _time_said(hours: float) -> str:
    return f"{hours / HOURS_A_DAY:g} days" if hours % HOURS_A_DAY == 0 and hours > HOURS_A_DAY else f"{hours:g} hours"
