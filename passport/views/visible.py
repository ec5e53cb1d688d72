"""Who may see what: the one function that takes away everything an audience may not see.

Decides which records an audience gets; of each, `records.public` lets its public part through. Whatever builds a view
sees only this.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from functools import partial
from typing import TypeVar, cast

from passport.analysis.alike import unseen_work
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Audience, Record
from passport.records.public import public_part
from passport.views.addresses import instrument_paths

R = TypeVar("R", bound=Record)


def visible(archive: Archive, audience: Audience) -> Archive:
    """Give the archive as an audience may see it: the instruments it has pages of, and of those what it may see."""
    paths = instrument_paths(archive, audience)
    with_pages = {stem: filed for stem, filed in archive.instruments.items() if stem in paths}
    if audience == "shop":
        return replace(archive, instruments=with_pages)
    hidden = _hidden_supplies(archive, with_pages)
    return replace(
        archive,
        workshop=_public(archive.workshop),
        gauges=_public(archive.gauges),
        instruments=_all_public(with_pages),
        wood=_all_public(archive.wood, hidden["wood"]),
        varnish=_all_public(archive.varnish, hidden["varnish"]),
        models=_all_public(archive.models, hidden["models"]),
        private={},
        findings=(),
    )


def _all_public(records: Mapping[str, Filed[R]], without: Collection[str] = ()) -> dict[str, Filed[R]]:
    return {stem: _public(filed) for stem, filed in records.items() if stem not in without}


def _hidden_supplies(archive: Archive, shown: Mapping[str, Filed[Instrument]]) -> Mapping[str, set[str]]:
    """Give the lots, batches and models that instruments without a page alone use: their pages would tell of those."""
    hidden: dict[str, set[str]] = {"wood": set(), "varnish": set(), "models": set()}
    for stem in archive.instruments.keys() - shown.keys():
        for folder, name in archive.instruments[stem].look.names:
            hidden[folder].add(name)
    for filed in shown.values() if any(hidden.values()) else ():
        for folder, name in filed.look.names:
            hidden[folder].discard(name)
    return hidden


def _public(filed: Filed[R]) -> Filed[R]:
    return Filed(filed.file, partial(_public_record, filed), filed.look)


def _public_record(filed: Filed[R]) -> R:
    whole = filed.record
    shown = public_part(whole)
    if isinstance(whole, Instrument) and isinstance(shown, Instrument):
        return cast("R", shown.with_unseen(unseen_work(whole, shown)))
    return shown
