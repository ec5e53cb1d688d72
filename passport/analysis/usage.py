"""Which instruments a wood lot, a varnish batch or a model touches, and how.

Sees records, gives plain values.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from passport.findings import Path
from passport.records.model.instrument import Instrument, Part

# Parts cut from a whole wedge; ribs, bars, blocks and the like come from what is left of one.
WHOLE_WEDGE_PARTS = ("top", "back", "neck", "board")


@dataclass(frozen=True)
class LotUse:
    """One part made from a lot."""

    instrument: str
    part: str
    lot: str
    wedge: str
    path: Path

    @property
    def takes_whole_wedge(self) -> bool:
        """Tell whether this part uses a wedge up."""
        return self.part in WHOLE_WEDGE_PARTS


@dataclass(frozen=True)
class BatchUse:
    """One coat, or one event, that used a batch."""

    instrument: str
    batch: str
    what: str
    path: Path


@dataclass(frozen=True)
class Mentions:
    """What one instrument is held by against the others."""

    id: str
    serial: str
    lots: tuple[LotUse, ...]
    batches: tuple[str, ...]


def mentions(name: str, instrument: Instrument) -> Mentions:
    """Give the numbers by which an instrument is known and what it was made from."""
    batches = tuple(use.batch for use in batch_uses(name, instrument))
    return Mentions(instrument.id or "", instrument.serial or "", tuple(lot_uses(name, instrument)), batches)


def lot_uses(name: str, instrument: Instrument) -> Iterator[LotUse]:
    """Give each part of an instrument that names a lot."""
    if instrument.parts is None:
        return
    for part in type(instrument.parts).model_fields:
        wood: Part | None = getattr(instrument.parts, part)
        if wood is not None and wood.lot:
            yield LotUse(name, part, wood.lot, wood.wedge or "", ("parts", part))


def batch_uses(name: str, instrument: Instrument) -> Iterator[BatchUse]:
    """Give each coat and each event that names a batch."""
    for index, coat in enumerate(instrument.varnish or ()):
        if coat.batch:
            yield BatchUse(name, coat.batch, f"coat {coat.coat}" if coat.coat else "coat", ("varnish", index, "batch"))
    for index, event in enumerate(instrument.history or ()):
        if event.batch:
            yield BatchUse(name, event.batch, (event.event or "").replace("_", " "), ("history", index, "batch"))


def by_lot(uses: Iterable[LotUse]) -> Mapping[str, tuple[LotUse, ...]]:
    """Group uses by lot."""
    grouped: dict[str, list[LotUse]] = defaultdict(list)
    for use in uses:
        grouped[use.lot].append(use)
    return {lot: tuple(found) for lot, found in grouped.items()}


def pieces_taken(uses: Iterable[LotUse]) -> int:
    """Count the pieces of a lot that are gone: each wedge once, and one for each whole part without a wedge number."""
    found = tuple(uses)
    wedges = {use.wedge for use in found if use.wedge}
    return len(wedges) + sum(1 for use in found if not use.wedge and use.takes_whole_wedge)
