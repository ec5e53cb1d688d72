"""What was printed, line by line in words, and where each printed address must be sent on to.

For the shop alone: the addresses of unlisted pages are among them. Words what `analysis.printed` decides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from passport.analysis.addresses import full_address, instrument_paths, label_base
from passport.analysis.printed import Fate, Judged, judged, unlabelled
from passport.errors import PassportError
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.reference.kinds import KIND_WORDS, KINDS
from passport.views.cards import order
from passport.views.numbers import size_text
from passport.web import same_address, why_unreachable


@dataclass(frozen=True)
class PrintedLine:
    """One printed label: what it is on, what it says, and what has become of it.

    `now` is the address on a label printed today, empty where there could be none.
    """

    line: int
    date: str
    id: str
    what: str
    serial: str
    stock: str
    kind: str
    address: str
    fate: str
    says: str
    now: str
    leads_nowhere: bool
    has_moved: bool


@dataclass(frozen=True)
class Redirect:
    """An address on labels, the page to send its visitors on to, and whether that page is unlisted."""

    printed: str
    page: str
    unlisted: bool


def printed_lines(archive: Archive) -> tuple[PrintedLine, ...]:
    """Give every printed label in the order of the list."""
    return tuple(_line(archive, each) for each in judged(archive))


def _line(archive: Archive, each: Judged) -> PrintedLine:
    filed = archive.instruments.get(each.label.id)
    record = filed.record if filed is not None else Instrument()
    kind = record.kind or ""
    return PrintedLine(
        line=each.label.line,
        date=each.label.date,
        id=each.label.id,
        what=f"{KIND_WORDS.get(kind, '')} {size_text(kind, record.size or '')}".strip(),
        serial=record.serial or "",
        stock=each.label.stock,
        kind=each.label.kind,
        address=each.label.address,
        fate=each.fate.name.lower(),
        says=_says(each),
        now=each.now,
        leads_nowhere=each.leads_nowhere,
        has_moved=each.has_moved,
    )


def _says(each: Judged) -> str:
    if each.replaced and each.fate is not Fate.LEADS:
        return f"has a newer label, printed on {each.replaced}; before, it {each.fate.value}"
    reason = f": {why_unreachable(each.label.address)}" if each.fate is Fate.UNREACHABLE else ""
    return each.fate.value + reason


def without_label(archive: Archive) -> tuple[str, ...]:
    """Give the instruments that want a label, as they stand on the shelf: kind, size, then serial."""

    def place(stem: str) -> tuple[int, str]:
        record = archive.instruments[stem].record
        return KINDS.index(record.kind) if record.kind else len(KINDS), order(record)

    return tuple(sorted(unlabelled(archive), key=place))


def redirects(archive: Archive) -> tuple[Redirect, ...]:
    """Give each address that is, or will be, on a label and is not that of the page itself.

    An instrument that was listed when its label was printed and is unlisted now is left out: sent on from its number,
    its page could be found by anyone who knows the number.
    """
    site = _site(archive)
    paths = instrument_paths(archive, "public")
    found = {}
    for number, address in _addresses_on_labels(archive):
        page = full_address(site, paths[number])
        if not same_address(address, page):
            unlisted = archive.instruments[number].record.published == "unlisted"
            found[address.lower()] = Redirect(address, page, unlisted)
    return tuple(found.values())


def _addresses_on_labels(archive: Archive) -> Iterator[tuple[str, str]]:
    for each in judged(archive):
        if each.fate in (Fate.LEADS, Fate.REDIRECTED, Fate.MOVED):
            yield each.label.id, each.label.address
    base = label_base(archive.workshop.record)
    for number, path in instrument_paths(archive, "public").items():
        yield number, full_address(base, path)


def _site(archive: Archive) -> str:
    """Give where the pages stand; PassportError where nobody could be sent there."""
    workshop = archive.workshop.record
    site = workshop.site_address or workshop.label_address or ""
    why = why_unreachable(site)
    if why:
        what = f"nobody can be sent on to the site's address “{site}”: {why}"
        raise PassportError(what, "write site_address: where the pages stand, into workshop.yml")
    return site
