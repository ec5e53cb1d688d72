"""The projection: from the archive to everything one audience may be given.

The one road out. What is not visible is gone before anything is worded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby

from passport.analysis.addresses import label_base
from passport.errors import PassportError
from passport.findings import Finding
from passport.kept import Notebook
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument, Part
from passport.records.model.marks import Audience
from passport.records.public import public_part
from passport.reference.kinds import KIND_WORDS
from passport.spread import spread
from passport.views.across import side_by_side
from passport.views.addresses import full_address, instrument_paths
from passport.views.cards import card
from passport.views.catalogue import catalogue
from passport.views.declaration import declaration
from passport.views.desk import Desk
from passport.views.found import found, unread
from passport.views.instrument import instrument_view
from passport.views.label import CaseLabel
from passport.views.lists import work_lists
from passport.views.numbers import size_text
from passport.views.pictures import sources
from passport.views.setup import card_rows
from passport.views.site_tree import Card, PictureSource, SiteView
from passport.views.supplies import supply_lines, supply_views
from passport.views.tree import InstrumentView, MaterialsView, WorkshopView
from passport.views.visible import visible


def project(
    archive: Archive,
    findings: Iterable[Finding],
    audience: Audience,
    notebook: Notebook | None = None,
    *,
    is_draft: bool = False,
) -> SiteView:
    """Make all views of one audience; what the findings say is for the shop's eyes, and for those of whoever writes."""
    desk = Desk(visible(archive, audience), audience, instrument_paths(archive, audience), is_draft)
    said = by_file(findings)
    pages = Pages(desk, said)
    cards = _cards(archive, desk, notebook or Notebook())
    in_lists = [card for card in cards if card.listed or audience == "shop"]
    supplies = tuple(supply_views(desk, in_lists))
    beside = side_by_side(desk, in_lists)
    return SiteView(
        audience=audience,
        workshop=_workshop(desk),
        instruments=pages,
        cards=cards,
        supplies=supplies,
        catalogue=catalogue(in_lists),
        wood=supply_lines(supplies, "wood"),
        varnish=supply_lines(supplies, "varnish"),
        models=supply_lines(supplies, "models"),
        work_lists=work_lists(cards, archive.today) if audience == "shop" else (),
        is_draft=is_draft,
        found=found(desk, archive, said),
        unread=tuple(unread(desk, archive, said)),
        side_by_side=beside.groups,
        across=beside.pages,
        across_from=beside.come_from,
    )


@dataclass(frozen=True)
class Pages(Mapping[str, InstrumentView]):
    """The page of each instrument, made when it is asked for."""

    desk: Desk
    findings: Mapping[str, tuple[Finding, ...]]

    def __getitem__(self, stem: str) -> InstrumentView:
        file = self.desk.archive.instruments[stem].file
        return instrument_view(self.desk, stem, self.findings.get(file, ()))

    def __iter__(self) -> Iterator[str]:
        return iter(self.desk.archive.instruments)

    def __len__(self) -> int:
        return len(self.desk.archive.instruments)


def by_file(findings: Iterable[Finding]) -> dict[str, tuple[Finding, ...]]:
    """Give the findings of each file."""
    in_order = sorted(findings, key=lambda finding: finding.file)
    return {file: tuple(found) for file, found in groupby(in_order, key=lambda finding: finding.file)}


def _cards(archive: Archive, desk: Desk, notebook: Notebook) -> tuple[Card, ...]:
    """Give the card of every instrument; only those are made anew whose record, or what it speaks of, has changed."""
    inputs = {stem: archive.inputs_of(stem) for stem in desk.archive.instruments}
    cards = notebook.chapter(f"cards {desk.audience}", Card).fill(inputs, lambda new: spread(card, desk, new))
    return tuple(cards.values())


def _workshop(desk: Desk) -> WorkshopView:
    record = desk.workshop
    return WorkshopView(record.name or "", record.place or "", record.contact or "", record.site_address or "")


def materials_of(archive: Archive, stem: str, day: date) -> MaterialsView:
    """Give the declaration of an instrument's materials: what is public of its record and of its lots, page or not."""
    record = public_part(archive.instruments[stem].record)
    lots = {part.lot for part in _parts(record) if part.lot in archive.wood}
    wood = {lot: Filed(archive.wood[lot].file, public_part(archive.wood[lot].record)) for lot in lots if lot}
    shown = replace(
        visible(archive, "public"), instruments={stem: Filed(archive.instruments[stem].file, record)}, wood=wood
    )
    return declaration(Desk(shown, "public", {}), stem, day)


def _parts(record: Instrument) -> Iterator[Part]:
    yield from (part for _, part in record.parts or () if part is not None)


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
    site = label_base(workshop) or (PLACEHOLDER if proof else "")
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


def public_view(archive: Archive, stem: str) -> tuple[WorkshopView, InstrumentView, tuple[PictureSource, ...]]:
    """Give all that may be handed over of one instrument: who keeps it, its public view, the files of its pictures.

    PassportError where nothing of it is public.
    """
    paths = instrument_paths(archive, "public")
    record = public_part(archive.instruments[stem].record)
    if stem not in paths and record.published == "unlisted":
        raise _no_page(stem, record)
    if stem not in paths:
        what = f"{stem} is kept in the shop, so there is nothing public of it to hand over"
        raise PassportError(what, "set publish: listed or unlisted first")
    desk = Desk(visible(archive, "public"), "public", paths)
    pictures = sources(stem, desk.archive.instruments[stem].record, paths[stem], archive.photos.get(stem, {}))
    return _workshop(desk), instrument_view(desk, stem, ()), tuple(pictures)


def _no_page(stem: str, record: Instrument) -> PassportError:
    if record.published == "unlisted":
        return PassportError(f"{stem} is unlisted and has no page address yet", f"make one: passport page {stem}")
    todo = "set publish: listed or unlisted first"
    return PassportError(f"{stem} has no public page that a label could lead to", todo)
