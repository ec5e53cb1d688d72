"""What has become of the labels that were printed: which lead to their page, which have moved, which lead nowhere.

Judged by the records alone; nothing is asked of the network.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from passport.analysis.addresses import full_address, instrument_paths, label_base
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.records.printed import FIRST_KIND, PrintedLabel
from passport.web import same_address, why_unreachable


class Fate(Enum):
    """Where a printed label leads today."""

    LEADS = "leads to its page"
    REDIRECTED = "is sent on to its page from a former address"
    MOVED = "has moved: a redirect is needed"
    UNREAD = "leads nowhere while its record cannot be read"
    NO_RECORD = "leads nowhere: there is no record of it any more"
    SHOP_ONLY = "leads nowhere: it is shop only now"
    NO_ADDRESS = "leads nowhere: it is unlisted and has no page address yet"
    NOW_UNLISTED = "leads nowhere: it was listed then, and its page has an address now that nobody can guess"
    UNREACHABLE = "leads nowhere: a stranger's phone cannot open this address"


@dataclass(frozen=True)
class Judged:
    """A printed label, what has become of it, and what a label printed now would say.

    `replaced` is the day of a later label of the same kind and instrument that leads to its page.
    """

    label: PrintedLabel
    fate: Fate
    now: str
    replaced: str = ""

    @property
    def leads_nowhere(self) -> bool:
        """Tell whether whoever holds this label is left standing; once there is a new one, nobody should hold it."""
        return self.fate not in (Fate.LEADS, Fate.REDIRECTED, Fate.MOVED) and not self.replaced

    @property
    def has_moved(self) -> bool:
        """Tell whether this label waits for a redirect."""
        return self.fate is Fate.MOVED and not self.replaced

    @property
    def base(self) -> str:
        """Give what the address begins with, up to the instrument's own part."""
        return self.label.address[: -len(self.end)]

    @property
    def end(self) -> str:
        """Give the instrument's own part of the address."""
        return end_of(self.label.address)


def judged(archive: Archive) -> tuple[Judged, ...]:
    """Judge every printed label, in the order of the list."""
    found = [_judged(archive, label, now) for label, now in _with_present_address(archive)]
    last_good = {(each.label.id, each.label.kind): each.label for each in found if each.fate is Fate.LEADS}
    return tuple(_unless_replaced(each, last_good.get((each.label.id, each.label.kind))) for each in found)


def unlabelled(archive: Archive) -> tuple[str, ...]:
    """Give the instruments in use that have a public page and no label for the case that says its address."""
    paths = instrument_paths(archive, "public")
    in_cases = ((label, now) for label, now in _with_present_address(archive) if label.kind == FIRST_KIND)
    labelled = {label.id for label, now in in_cases if same_address(label.address, now)}
    return tuple(stem for stem in paths if stem not in labelled and _is_in_use(archive.instruments[stem].record))


def _is_in_use(record: Instrument) -> bool:
    return record.status is None or record.status.now in (None, "in_use")


def end_of(address: str) -> str:
    """Give the last part of an address: ZVSPYJH/ of https://…/ZVSPYJH/."""
    return address.rstrip("/").rsplit("/", 1)[-1] + "/"


def _with_present_address(archive: Archive) -> Iterable[tuple[PrintedLabel, str]]:
    """Give each printed label with the address that it would have now; nothing where there is no public page."""
    paths = instrument_paths(archive, "public")
    base = label_base(archive.workshop.record)
    for label in archive.printed:
        path = paths.get(label.id, "")
        # Without an address of the workshop only the ends can be compared.
        now = full_address(base or label.address[: -len(end_of(label.address))], path) if path else ""
        yield label, now


def _judged(archive: Archive, label: PrintedLabel, now: str) -> Judged:
    if not now:
        return Judged(label, _without_page(archive, label.id), now)
    if why_unreachable(label.address):
        return Judged(label, Fate.UNREACHABLE, now)
    if same_address(label.address, now):
        return Judged(label, Fate.LEADS, now)
    moved = Judged(label, Fate.MOVED, now)
    if archive.instruments[label.id].look.standing == "unlisted" and moved.end == f"{label.id}/":
        # Sent on from its number, the page could be found by anyone who knows the number.
        return replace(moved, fate=Fate.NOW_UNLISTED)
    former = archive.workshop.record.former_addresses or ()
    return replace(moved, fate=Fate.REDIRECTED) if any(same_address(moved.base, each) for each in former) else moved


def _without_page(archive: Archive, number: str) -> Fate:
    if number not in archive.instruments:
        return Fate.UNREAD if number in archive.names("instruments") else Fate.NO_RECORD
    return Fate.SHOP_ONLY if archive.instruments[number].look.standing == "shop_only" else Fate.NO_ADDRESS


def _unless_replaced(each: Judged, good: PrintedLabel | None) -> Judged:
    is_later = good is not None and good.line > each.label.line
    return replace(each, replaced=good.date or "later") if good is not None and is_later else each
