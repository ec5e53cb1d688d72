"""The plates of one model beside each other, for the model's page: thickness, mass, taps, earliest first.

Made from cards alone, so that only instruments which lists may name stand there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from passport.analysis.plates import PlateStudy, study
from passport.analysis.taps import COMMON_MOISTURE_PCT
from passport.analysis.windows import windows_of
from passport.records.model.instrument import Instrument
from passport.views.desk import Desk
from passport.views.numbers import EN_DASH, figure_text
from passport.views.plates import grams, when_weighed
from passport.views.setup import NOT_RECORDED
from passport.views.site_tree import Card, PlateCard
from passport.views.titles import capital
from passport.views.tree import WorkedTable, Workings

# Of one plate there is nothing to compare.
FEWEST = 2
RULE = (
    "Mean thickness by the map, as on each instrument’s page. What the scale and the tap said is brought to "
    f"{COMMON_MOISTURE_PCT:.0f} % moisture, so that plates of dry and of wet days can be compared. "
    "A top is weighed without its bar; its taps are the last ones."
)


def plate_cards(desk: Desk, record: Instrument) -> Iterator[PlateCard]:
    """Give what the page of its model says of each plate of an instrument."""
    windows = windows_of(desk.archive, record)
    for name in ("top", "back"):
        found = study(desk.archive, record, name, windows)
        if found is not None:
            yield _card(found)


def _card(found: PlateStudy) -> PlateCard:
    taps, weighed = found.taps, found.weighed
    date = when_weighed(weighed, taps)
    return PlateCard(
        plate=found.name,
        date=date.words() if date else "",
        iso=str(date.earliest or "") if date else "",
        mean_mm=found.map.shape.mean_mm if found.map else None,
        mass_g=weighed.common_g if weighed else None,
        mode2_hz=taps.mode2_hz if taps else None,
        mode5_hz=taps.common_hz if taps else None,
        ratio=taps.ratio if taps else None,
    )


def plates_of_model(cards: Iterable[Card]) -> Iterator[Workings]:
    """Set tops beside tops and backs beside backs."""
    own = [(card, plate) for card in cards for plate in card.plates]
    for name in ("top", "back"):
        rows = sorted(
            ((card, plate) for card, plate in own if plate.plate == name), key=lambda row: (row[1].iso, row[0].line.id)
        )
        if len(rows) >= FEWEST:
            yield Workings(title=f"{capital(name)}s of this model", tables=(_table(name, rows),))


def _table(name: str, rows: list[tuple[Card, PlateCard]]) -> WorkedTable:
    cells = [(card.line.id, plate.date or NOT_RECORDED, *_numbers(plate)) for card, plate in rows]
    common = f"{COMMON_MOISTURE_PCT:.0f} %"
    columns = (
        "Instrument",
        "Date",
        "Mean, mm",
        f"Mass at {common}, g",
        "Mode 2, Hz",
        f"Mode 5 at {common}, Hz",
        "Mode 5 to 2",
    )
    return WorkedTable(
        f"{capital(name)}s, earliest first", columns, (*cells, _span([plate for _, plate in rows])), RULE
    )


def _numbers(plate: PlateCard) -> tuple[str, ...]:
    return (
        figure_text(plate.mean_mm, 2),
        grams(plate.mass_g) if plate.mass_g is not None else "",
        figure_text(plate.mode2_hz, 0),
        figure_text(plate.mode5_hz, 0),
        figure_text(plate.ratio, 2),
    )


def _span(plates: list[PlateCard]) -> tuple[str, ...]:
    """Give from where to where each number runs."""
    columns = zip(*map(_numbers, plates), strict=True)
    return ("From, to", f"{len(plates)} plates", *(_from_to([cell for cell in column if cell]) for column in columns))


def _from_to(cells: list[str]) -> str:
    ends = (min(cells, key=float), max(cells, key=float)) if cells else ()
    return EN_DASH.join(dict.fromkeys(ends))
