"""Wood lots side by side, species by species: how heavy, how fast, how stiff, and the pieces that were cut from each.

Sees only what `visible` lets through.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from passport.analysis.wood import Sound, sound_of
from passport.kept import digest, form_of
from passport.records.model.supplies import SoundSpeed, WoodLot
from passport.records.model.values import Value
from passport.reference.woods import common_name
from passport.views.addresses import side_by_side_path, supply_path
from passport.views.charts import CROWDED, FEWEST, Entry, Plan, from_to, in_leaves, leaf_links, leaf_of, too_few
from passport.views.desk import Desk
from passport.views.numbers import counted, figure, joined, value_text
from passport.views.site_tree import AcrossView, Card, Figures, Reading
from passport.views.titles import capital, spoken
from passport.views.tree import Link

WHOLE, PIECE = "the lot", "one piece of it"
UNTOLD = "method not recorded"
METHODS = ("tapped_bar", "ultrasonic", "")
MIDDLE = "A line shows from where to where a lot’s density lies; its mark stands in the middle."
ULTRASOUND = "Ultrasound reads higher than a tapped bar, so the two are not to be held against each other."
MODULUS = "Worked out: E = density × speed², with the middle of the lot’s density. 1 GPa is 10⁹ kg/(m s²)."
RADIATION = (
    "Worked out: speed ÷ density, with the middle of the lot’s density (J. C. Schelleng, The violin as a circuit, "
    "1963; from memory)."
)

Pieces = Mapping[str, Sequence[tuple[Card, Reading]]]


@dataclass(frozen=True)
class Species:
    """The lots of one species by name, and the pieces cut from each whose density is known."""

    name: str
    lots: Mapping[str, WoodLot]
    pieces: Pieces

    @property
    def title(self) -> str:
        """Give "Spruce, Picea abies"."""
        return joined(capital(common_name(self.name)), self.name)

    @property
    def leaves(self) -> tuple[tuple[str, ...], ...]:
        """Share the lots out on leaves."""
        return in_leaves(tuple(self.lots))

    def path(self, leaf: int = 1) -> str:
        """Give the path of a leaf."""
        return side_by_side_path("wood", self.name, leaf=leaf)


def all_species(desk: Desk, known: Iterable[tuple[Card, Figures]]) -> Iterator[Species]:
    """Give every species of which at least two lots, or pieces, can be set side by side."""
    pieces: dict[str, list[tuple[Card, Reading]]] = defaultdict(list)
    for card, figures in known:
        for of, reading in figures.densities:
            pieces[of].append((card, reading))
    by_species: dict[str, dict[str, WoodLot]] = defaultdict(dict)
    for name, filed in desk.archive.wood.items():
        lot: WoodLot = filed.record
        if lot.species and (lot.density or lot.sound_speed or name in pieces):
            by_species[lot.species][name] = lot
    for species in sorted(by_species):
        lots = by_species[species]
        made = Species(species, lots, {name: pieces[name] for name in lots if name in pieces})
        weighed = sum(1 for lot in lots.values() if lot.density) + sum(map(len, made.pieces.values()))
        heard = sum(1 for lot in lots.values() if lot.sound_speed and lot.sound_speed.along)
        if max(weighed, heard) >= FEWEST:
            yield made


def come_from(desk: Desk, species: Species) -> str:
    """Name everything that the pages of a species come from."""
    looks = [(name, desk.archive.wood[name].look.digest) for name in species.lots]
    cut = [
        (name, card.line.id, card.line.path, reading)
        for name, found in species.pieces.items()
        for card, reading in found
    ]
    return digest([form_of(looks), form_of(cut)])


def species_page(species: Species, leaf: int) -> AcrossView:
    """Set a leaf of a species."""
    path = species.path(leaf + 1)
    here = leaf_of(tuple(_plans(species)), {name: _link(name) for name in species.leaves[leaf]})
    pieces = sum(map(len, species.pieces.values()))
    return AcrossView(
        path=path,
        title=species.title,
        lead=f"{counted(len(species.lots), 'lot')} and {pieces} pieces cut from them",
        choices=(),
        chosen="",
        leaves=leaf_links([from_to(leaf) for leaf in species.leaves], species.path),
        charts=here.charts("../" * path.count("/")),
        notes=tuple(filter(None, (CROWDED if here.is_crowded else "", too_few(here.lacking)))),
    )


def _plans(species: Species) -> Iterator[Plan]:
    def plan(title: str, unit: str, series: Iterable[str], entries: Iterable[Entry], *notes: str) -> Plan:
        return Plan(title, unit, tuple(series), "Wood lot", "Of", tuple(entries), notes)

    yield plan("Density", "kg/m³", (WHOLE, PIECE), _densities(species), MIDDLE)
    speeds = list(_speeds(species))
    methods = [_method(method) for method in METHODS if any(entry.series == _method(method) for entry in speeds)]
    warned = (ULTRASOUND,) if len(methods) > 1 else ()
    yield plan("Speed of sound along the grain", "m/s", methods, speeds, *warned)
    yield plan("Stiffness along the grain", "GPa", methods, _worked(species, lambda sound: sound.e_along_gpa), MODULUS)
    yield plan("Radiation ratio", "m⁴/(kg s)", methods, _worked(species, lambda sound: sound.radiation), RADIATION)


def _method(method: str | None) -> str:
    return spoken(method) if method else UNTOLD


def _densities(species: Species) -> Iterator[Entry]:
    for name, lot in species.lots.items():
        if lot.density is not None:
            amount = lot.density.value
            reach = (amount.low, amount.high) if amount.is_range else None
            yield Entry(name, WHOLE, amount.middle, value_text(lot.density), _link(name), reach=reach)
    for name, found in species.pieces.items():
        for card, reading in found:
            of = Link(f"{card.line.id}, {spoken(reading.name)}", card.line.path)
            yield Entry(name, PIECE, reading.value, reading.text, of)


def _link(name: str) -> Link:
    return Link(name, supply_path("wood", name))


def _along(lot: WoodLot) -> tuple[Value | None, str]:
    speed = lot.sound_speed or SoundSpeed()
    return speed.along, _method(speed.method)


def _speeds(species: Species) -> Iterator[Entry]:
    for name, lot in species.lots.items():
        along, method = _along(lot)
        if along is not None:
            yield Entry(name, method, along.value.middle, value_text(along), _link(name))


def _worked(species: Species, what: Callable[[Sound], float | None]) -> Iterator[Entry]:
    for name, lot in species.lots.items():
        sound = sound_of(lot)
        value = what(sound) if sound else None
        if value is not None:
            yield Entry(name, _along(lot)[1], value, figure(value, 1), _link(name))
