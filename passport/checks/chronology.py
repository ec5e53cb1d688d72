"""Family 3, chronology: what cannot have happened in this order is an error, what seldom does is a warning.

Only dates that certainly differ are held against one another: “2021” is neither before nor after March 2021, and
“about 1890” is before nothing. A trial in the white, the board off for varnishing and a neck set before the varnish are
everyday work and say nothing. Common practice, no source, unless a line names one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from typing import Any, get_args

from passport.analysis.moisture import GLUED
from passport.analysis.timeline import Happening, happenings, of_kind, sheet_date, when_said
from passport.checks import coats, wood_use
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.dates import Date, parse_date
from passport.records.filed import Filed
from passport.records.model.instrument import Attribution, Instrument
from passport.records.model.marks import Record
from passport.records.model.workshop import Holder, Person, Sum
from passport.records.walk import fields_of, walked
from passport.reference import terms

# What is planned lies ahead.
PLANNED = ("next_check", "expires", "until")
# Someone may be taken on, or an instrument promised, from a day to come.
PLANNED_PEOPLE = (Holder, Person)
# Work that cannot be done through the f-holes: whoever enters it has had the top off.
OPENED = ("top_removed", "bass_bar_replaced", "regraduation", "soundpost_patch", "bass_bar_patch", "belly_patch",
          "crack_linen", "arching_correction", "block_replaced", "lining_replaced", "opened_for_study")  # fmt: skip
# What a repairer may enter under the maker's word; work inside the box has to be entered with its opening.
DONE_ANEW = ("neck_set", *GLUED)
CLOSED = "closed"
STRUNG = ("white_setup_trial", "setup_complete")
# What must have been done first, on which plate, and what cannot come before it.
NEEDED: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("ribs_bent", "", ("rib_garland_complete", CLOSED)),
    ("arching_done", "top", ("graduation_done",)),
    ("arching_done", "back", ("graduation_done",)),
    ("graduation_done", "top", ("bass_bar_fitted", CLOSED)),
    ("graduation_done", "back", (CLOSED,)),
    ("f_holes_cut", "top", (CLOSED,)),
    ("bass_bar_fitted", "top", (CLOSED,)),
    ("before_closing", "top", (CLOSED,)),
    (CLOSED, "", STRUNG),
    ("neck_set", "", STRUNG),
)
# Wood is chosen, and a mould made, before an instrument is begun; a correction may concern anything.
BEFORE_BEGUN = ("wood_acquired", "wood_released", "template_mould_made", "correction", "photo")
LEAVING = ("shipped", "sold", "rented_out", "loaned", "consigned")
# What an instrument is used for or given; papers, reports and studies may follow its end.
IN_HAND = ("intake", "checkup", "returned", "rented_in", *LEAVING)
STUDIED = ("opened_for_study", "measured_scan", "correction")


def of_others(archive: Archive) -> Iterator[Finding]:
    """Hold the dates of everything else against each other, the people and the day."""
    for lot in archive.wood.values():
        yield from wood_use.of_lot(lot)
    for filed in archive.others():
        yield from _of_any(archive, filed)


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the dates of one instrument against each other, its wood, its varnish and the people."""
    filed = archive.instruments[stem]
    found = (*happenings(filed.record), *_finished(filed.record))
    yield from _of_any(archive, filed)
    if stem in archive.private:
        yield from _of_any(archive, archive.private[stem])
    yield from wood_use.of_instrument(archive, filed, found)
    yield from coats.of_instrument(archive, filed)
    if filed.record.origin == "made_here":
        yield from _making(filed, found)
        yield from _unusual_making(filed, found)
        yield from _hands(archive, filed)
    yield from _made(filed, found)
    yield from _closings(filed, found)
    yield from _ended(filed, found)
    yield from _written_order(filed, found)
    yield from _sheets_before_and_after(filed)


def clash(code: Code, file: str, path: Path, facts: tuple[str, str], todo: str) -> Finding:
    """Make the finding of two facts that do not go together."""
    return Finding(code, file, f"{facts[0]}, and {facts[1]}", todo, path)


# --- any record ---------------------------------------------------------------------------------------------------


def _of_any(archive: Archive, filed: Filed[Any]) -> Iterator[Finding]:
    """Find what no record may have: a day to come, and someone at work who was not there then."""
    today = _day(archive.today.isoformat())
    for path, entry in walked(filed.record):
        yield from _to_come(filed.file, path, entry, today)
        if not isinstance(entry, Attribution | Sum):
            yield from _by_whom(archive, filed.file, path, entry)


@cache
def _day(text: str) -> Date:
    return parse_date(text)


@cache
def _date_fields(kind: type[Record]) -> tuple[str, ...]:
    """Give the fields of a group that hold a date of something that happened; none for people, who may be promised."""
    if issubclass(kind, PLANNED_PEOPLE):
        return ()
    dated = (name for name, field in kind.model_fields.items() if _holds_date(field.annotation))
    return tuple(name for name in dated if name not in PLANNED)


def _holds_date(annotation: object) -> bool:
    return annotation is Date or any(_holds_date(inner) for inner in get_args(annotation))


def _to_come(file: str, path: Path, entry: Record, today: Date) -> Iterator[Finding]:
    for name in _date_fields(type(entry)):
        value = getattr(entry, name)
        if isinstance(value, Date) and value.certainly_after(today):
            what = f"{value.words()} is still to come: today is {today.words()}"
            todo = "mend the date; what is only planned goes under next_check:, expires: or until:"
            yield Finding(Code.IN_THE_FUTURE, file, what, todo, (*path, name))


def _by_whom(archive: Archive, file: str, path: Path, entry: Record) -> Iterator[Finding]:
    name = getattr(entry, "by", None)
    if not isinstance(name, str):
        return
    dates = (getattr(entry, field, None) for field in ("date", "made", "drawn"))
    date = next((date for date in dates if isinstance(date, Date)), None)
    if date is not None:
        yield from _away(archive, name, "this was done", (date, date), (file, (*path, "by")))


def _hands(archive: Archive, filed: Filed[Instrument]) -> Iterator[Finding]:
    made = filed.record.made
    if made is None or made.hands is None:
        return
    for part, name in fields_of(made.hands):
        for date, said in ((made.finished, "it was finished"), (made.begun, "it was begun")):
            if date is not None:
                # Who came before it was finished may have made it, and so may who left after it was begun.
                span = (date, None) if date is made.finished else (None, date)
                yield from _away(archive, name, said, span, (filed.file, ("made", "hands", part)))


def _away(
    archive: Archive, name: str, said: str, span: tuple[Date | None, Date | None], place: tuple[str, Path]
) -> Iterator[Finding]:
    """Report a person at work before they came or after they left; `span` is the day held against each."""
    person = (archive.workshop.record.people or {}).get(name)
    if person is None:
        return
    file, path = place
    came, left = span
    todo = "mend the date or the name, or since: and until: of people in workshop.yml"
    if came and person.since and came.certainly_before(person.since):
        facts = (f"{said} {when_said(came)}", f"{name} has been here since {person.since.words()}")
        yield clash(Code.PERSON_AWAY, file, path, facts, todo)
    if left and person.until and left.certainly_after(person.until):
        facts = (f"{said} {when_said(left)}", f"{name} was here until {person.until.words()}")
        yield clash(Code.PERSON_AWAY, file, path, facts, todo)


def _finished(record: Instrument) -> Iterator[Happening]:
    if record.made and record.made.finished:
        yield Happening("finished", "it was finished", record.made.finished, ("made", "finished"))


# --- the making -----------------------------------------------------------------------------------------------------


def _making(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report work that cannot have been done before other work: a top glued before its bar was fitted."""
    for first, plate, later in NEEDED:
        needed = _works(found, (first,), plate)
        for then in _works(found, later, plate):
            if _all_after(needed, then, found):
                soonest = needed[0]
                todo = "mend one of the two dates; work done anew has a word of its own, such as neck_reset"
                yield clash(Code.WORK_OUT_OF_ORDER, filed.file, (*then.path, "date"), (then.said, soonest.said), todo)
                break


def _works(found: Sequence[Happening], kinds: Iterable[str], plate: str = "") -> tuple[Happening, ...]:
    """Give the works of these kinds, soonest first; the closing is the last of the two gluings."""
    works = list(of_kind(found, *kinds, part=plate))
    if CLOSED in kinds:
        backs = of_kind(found, "back_glued")
        tops = of_kind(found, "top_glued")
        works += [top for top in tops if not any(back.date.certainly_after(top.date) for back in backs)]
    return tuple(sorted(works, key=lambda work: str(work.date.earliest)))


def _all_after(needed: Sequence[Happening], then: Happening, found: Sequence[Happening]) -> bool:
    """Tell whether all of these came certainly after another work, in the making and not in a later repair."""
    finished = of_kind(found, "finished")
    opened = of_kind(found, *OPENED)
    return bool(needed) and all(
        work.date.certainly_after(then.date)
        and not (work.kind in DONE_ANEW and any(work.date.certainly_after(end.date) for end in finished))
        and not any(_between(then, step, work) for step in opened)
        for work in needed
    )


def _between(one: Happening, step: Happening, other: Happening) -> bool:
    """Tell whether a step may have lain between two others."""
    return not step.date.certainly_before(one.date) and not step.date.certainly_after(other.date)


def _unusual_making(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    first_coats = _in_the_making(found)
    bars = of_kind(found, "bass_bar_fitted")
    pairs = [
        *((cut, of_kind(found, "f_holes_cut")) for cut in bars[:1]),
        *((coat, of_kind(found, "neck_set")) for coat in first_coats[:1]),
        *((strung, first_coats) for strung in _strung(filed.record, found)),
    ]
    for first, usually_before in pairs:
        if _all_after(usually_before, first, found):
            facts = (first.said, f"only then {usually_before[0].said}")
            todo = "nothing, if it was done so; a trial in the white has role: trial"
            yield clash(Code.UNUSUAL_ORDER, filed.file, first.path, facts, todo)


def _in_the_making(found: Sequence[Happening]) -> tuple[Happening, ...]:
    laid = sorted(of_kind(found, "coat"), key=lambda coat: str(coat.date.earliest))
    ends = of_kind(found, "finished")
    return tuple(coat for coat in laid if not any(coat.date.certainly_after(end.date) for end in ends))


def _strung(record: Instrument, found: Sequence[Happening]) -> list[Happening]:
    """Give the first set-up that is no trial in the white."""
    sheets = [
        each
        for each in of_kind(found, "sheet")
        if each.path[0] == "setups" and not _is_trial(record, each.path[1])
    ]  # fmt: skip
    events = of_kind(found, "setup_complete")
    return sorted([*sheets, *events], key=lambda each: str(each.date.earliest))[:1]


def _is_trial(record: Instrument, index: str | int) -> bool:
    sheet = (record.setups or ())[int(index)]
    return sheet.role == "trial" or (sheet.taken is not None and sheet.taken.when == "in_the_white")


def _made(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report what left before it was finished, and work before it was begun."""
    made = filed.record.made
    begun, finished = (made.begun, made.finished) if made else (None, None)
    if begun and finished and finished.certainly_before(begun):
        facts = (f"it was finished {when_said(finished)}", f"begun {when_said(begun)}")
        yield clash(Code.BEFORE_MADE, filed.file, ("made", "begun"), facts, "mend one of the two dates")
        return
    for each in found:
        path = (*each.path, "date")
        if finished and each.kind in LEAVING and each.date.certainly_before(finished):
            facts = (each.said, f"finished {when_said(finished)}")
            yield clash(Code.BEFORE_MADE, filed.file, path, facts, "mend the date here or under made:")
        elif begun and each.kind not in (*BEFORE_BEGUN, "finished") and each.date.certainly_before(begun):
            facts = (each.said, f"the instrument was begun {when_said(begun)}")
            yield clash(Code.BEFORE_MADE, filed.file, path, facts, "mend the date here or under made:")


# --- later life -----------------------------------------------------------------------------------------------------


def _closings(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report a box closed twice that nobody opened."""
    tops = sorted(of_kind(found, "top_glued"), key=lambda top: str(top.date.earliest))
    opened = of_kind(found, *OPENED)
    for one, other in pairwise(tops):
        if not any(_between(one, step, other) for step in opened):
            facts = (one.said, f"again {when_said(other.date)}, with no entry of its being opened between")
            todo = "enter top_removed; a length of seam glued again is seam_reglued"
            yield clash(Code.UNUSUAL_ORDER, filed.file, other.path, facts, todo)


def _ended(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report what an instrument cannot have gone through once it was destroyed, or hardly while it was away."""
    status = filed.record.status
    if status is None or status.since is None or status.now not in ("destroyed", "missing", "withdrawn"):
        return
    gone = f"it has been {status.now} since {status.since.words()}"
    code = Code.AFTER_ITS_END if status.now == "destroyed" else Code.UNUSUAL_ORDER
    for each in found:
        if each.date.certainly_after(status.since) and _needs_it(each, status.now):
            todo = "mend the date, or status:; what became of the pieces is opened_for_study"
            yield clash(code, filed.file, (*each.path, "date"), (each.said, gone), todo)


def _needs_it(each: Happening, now: str) -> bool:
    """Tell whether this needs the instrument: in hand and whole, or, of one that was withdrawn, in use."""
    if now == "withdrawn":
        return each.kind in LEAVING
    term = terms.EVENTS.get(each.kind)
    worked = term is not None and term.category in ("build", "setup", "repair") and each.kind not in STUDIED
    return worked or each.kind in (*IN_HAND, "coat") or (each.kind == "sheet" and each.path[0] == "setups")


def _written_order(filed: Filed[Instrument], found: Sequence[Happening]) -> Iterator[Finding]:
    """Report an entry of the history that stands below a later one."""
    entries = [each for each in found if each.path[0] == "history"]
    for above, below in pairwise(entries):
        if below.date.certainly_before(above.date):
            facts = (below.said, f"the entry above it is of {above.date.words()}")
            todo = "newest stands last: move it up, or mend a date"
            yield clash(Code.HISTORY_ORDER, filed.file, (*below.path, "date"), facts, todo)


def _sheets_before_and_after(filed: Filed[Instrument]) -> Iterator[Finding]:
    record = filed.record
    dates = {sheet.sheet: sheet_date(sheet) for sheet in (*(record.setups or ()), *(record.measurements or ()))}
    for index, event in enumerate(record.history or ()):
        before, after = dates.get(event.before), dates.get(event.after)
        if before and after and before.certainly_after(after):
            facts = (f"sheet {event.before} was taken {when_said(before)}",
                     f"sheet {event.after}, which should follow it, {when_said(after)}")  # fmt: skip
            path: Path = ("history", index, "before")
            yield clash(Code.SHEETS_SWAPPED, filed.file, path, facts, "exchange before: and after:, or mend a date")
