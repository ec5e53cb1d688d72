"""The projection: from the archive to everything one audience may be given.

The one road out. What is not visible is gone before anything is worded.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable

from passport.errors import PassportError
from passport.findings import Finding
from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience
from passport.reference.kinds import KIND_WORDS, KINDS, SIZES
from passport.views.addresses import full_address, instrument_paths
from passport.views.desk import Desk
from passport.views.instrument import instrument_view
from passport.views.label import CaseLabel
from passport.views.numbers import size_text
from passport.views.setup import card_rows
from passport.views.supplies import in_lists, line, supply_lines, supply_views
from passport.views.tree import CatalogueGroup, SiteView, WorkshopView
from passport.views.visible import public_part, visible

PLURALS = {"violin": "Violins", "viola": "Violas", "cello": "Cellos", "bass": "Double basses"}


def project(archive: Archive, findings: Iterable[Finding], audience: Audience) -> SiteView:
    """Make all views of one audience; what the findings say is for the shop's eyes."""
    desk = _desk(archive, audience)
    by_file: dict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        by_file[finding.file].append(finding)
    instruments = tuple(
        instrument_view(desk, stem, by_file[filed.file]) for stem, filed in desk.archive.instruments.items()
    )
    supplies = tuple(supply_views(desk))
    return SiteView(
        audience=audience,
        workshop=_workshop(desk),
        instruments=instruments,
        supplies=supplies,
        catalogue=_catalogue(desk),
        wood=supply_lines(supplies, "wood"),
        varnish=supply_lines(supplies, "varnish"),
        models=supply_lines(supplies, "models"),
    )


def _desk(archive: Archive, audience: Audience) -> Desk:
    return Desk(visible(archive, audience), audience, instrument_paths(archive, audience))


def _workshop(desk: Desk) -> WorkshopView:
    record = desk.workshop
    return WorkshopView(record.name or "", record.place or "", record.contact or "", record.site_address or "")


def _catalogue(desk: Desk) -> tuple[CatalogueGroup, ...]:
    groups = []
    for kind in KINDS:
        found = [(stem, filed.record) for stem, filed in in_lists(desk) if filed.record.kind == kind]
        lines = tuple(line(desk, stem) for stem, record in sorted(found, key=lambda pair: _rank(pair[1])))
        groups += [CatalogueGroup(PLURALS[kind], lines)] if lines else []
    return tuple(groups)


def _rank(record: Instrument) -> tuple[int, list[tuple[int, str]]]:
    """Give the place in the catalogue: larger sizes first, then by serial, number for number: TP 9 before TP 88."""
    sizes = SIZES.get(record.kind or "", ())
    size = record.size or ""
    place = sizes.index(size) if size in sizes else -int(size) if re.fullmatch("[0-9]{1,6}", size) else 0
    pieces = re.findall(r"[0-9]{1,9}|[^0-9]+", record.serial or record.id or "")
    return place, [(int(piece), "") if piece[0] in "0123456789" else (0, piece) for piece in pieces]


# Only ever on a proof, where the workshop has no address yet: a name reserved for examples (RFC 2606).
PLACEHOLDER = "https://address-to-come.example/"


def case_label(archive: Archive, stem: str, *, proof: bool = False) -> CaseLabel:
    """Give what the labels of an instrument say: nothing of its owner, renter or value.

    PassportError where the label would lead to no page; a proof is for looking at and may lead anywhere.
    """
    record = public_part(archive.instruments[stem].record)
    workshop = public_part(archive.workshop.record)
    path = instrument_paths(archive, "shop" if proof else "public").get(stem)
    if path is None:
        raise _no_page(stem, record)
    setup_date, setup = card_rows(record.setups or (), record.string_names)
    site = workshop.label_address or workshop.site_address or (PLACEHOLDER if proof else "")
    return CaseLabel(
        id=stem,
        kind=KIND_WORDS.get(record.kind or "", ""),
        size=size_text(record.kind or "", record.size or ""),
        serial=record.serial or "",
        address=full_address(site, path),
        workshop=workshop.name or "",
        place=workshop.place or "",
        contact=workshop.contact or "",
        setup_date=setup_date,
        setup=setup,
    )


def _no_page(stem: str, record: Instrument) -> PassportError:
    if record.published == "unlisted":
        return PassportError(f"{stem} is unlisted and has no page address yet", f"make one: passport page {stem}")
    todo = "set publish: listed or unlisted first"
    return PassportError(f"{stem} has no public page that a label could lead to", todo)
