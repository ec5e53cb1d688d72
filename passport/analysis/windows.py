"""Which window a value is held against: the model's, else the workshop's, else the trade's.

Windows are chosen here and nowhere else. Where strings or tuning are not the usual ones there is none, rather than a
wrong one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, cached_property
from typing import Literal

from passport.records.catalogue import Archive
from passport.records.model.instrument import Instrument
from passport.records.model.sheets import SetupSheet, Sheet
from passport.records.model.supplies import PlateTarget, Targets
from passport.records.model.values import Value
from passport.reference import kinds, measures
from passport.reference.measures import Measure, Place
from passport.units import Amount

Whose = Literal["model", "workshop", "trade"]

# The half-width around an aim of which the trade has no window, as a share of it. Common practice, no source.
AIM_TOLERANCE = 0.03
THICKNESS_TOLERANCE = 0.1
# From here on a tenth is fine enough for a window that is worked out.
FINE_BELOW = 10.0
# What two readings of the same number may differ by once it has been through a float.
ROUNDING = 1e-9
# Ends worked out are held against values as they are shown: 0.62 lies within 0.25 to 0.62.
SHOWN_DECIMALS = 2
# Fields that follow from how many strings there are and how they are tuned.
OF_THE_STRINGS = {
    *((field,) for field in (*measures.PER_STRING, "string_spacing", "string_break_angle")),
    *(("fingerboard", part) for part in ("width_nut", "width_end", "radius")),
}
# Fields in which one value for everywhere stands for all places, and the other way round.
BY_PLACE = ("rib_height", "rib_thickness", "arch_height", "edge_thickness", "body_stop")
# What a model asks of a plate is the measure of the trade that is taken at the same stage.
PLATE_TARGETS = (
    ("top_mass_no_bar", "top", "mass"),
    ("tap_top_mode2", "top", "mode2"),
    ("tap_top_mode5", "top", "mode5"),
    ("back_mass", "back", "mass"),
    ("tap_back_mode2", "back", "mode2"),
    ("tap_back_mode5", "back", "mode5"),
)
WIDEST = "the widest of steel, synthetic and gut, since the material is not recorded"
_FIELDS: Mapping[Place, str] = {place: field for field, places in measures.PLACES.items() for place in places}
_MATERIAL = re.compile("|".join(measures.MATERIALS), re.IGNORECASE)
_STRING = re.compile(r"(?<![A-Za-z])[A-G](?![A-Za-z#])")


@dataclass(frozen=True)
class Window:
    """From where to where a value is usual; `aim` is the value wanted, where one is.

    `source` says in words where the window is from, `condition` for what strings it holds.
    """

    low: float
    high: float
    aim: float | None
    unit: str
    whose: Whose
    source: str
    condition: str = ""

    def side(self, amount: Amount) -> Literal["below", "above", ""]:
        """Tell on which side of the window an amount lies; both ends of a range count."""
        under, over = round(self.low, SHOWN_DECIMALS) - amount.low, amount.high - round(self.high, SHOWN_DECIMALS)
        if max(under, over) <= ROUNDING:
            return ""
        return "below" if under > over else "above"


@dataclass(frozen=True)
class Fitting:
    """What a window depends on that a sheet tells: the strings' materials, the adjusters, the point measured to."""

    materials: Mapping[str, str]
    adjusters: tuple[str, ...] = ()
    points: Mapping[str, str | None] | None = None

    def point(self, field: str) -> str | None:
        """Give the point of the string to which a field was measured."""
        return (self.points or {}).get(field)


@dataclass(frozen=True)
class _Asked:
    """What a model or the workshop asks for."""

    whose: Whose
    source: str
    values: Mapping[Place, Value]
    points: Mapping[str, str | None]


@dataclass(frozen=True)
class Windows:
    """The windows of one instrument."""

    kind: str
    size: str
    strings: tuple[str, ...]
    asked: tuple[_Asked, ...]
    plates: Mapping[str, PlateTarget]

    @cached_property
    def is_usual(self) -> bool:
        """Tell whether the instrument has the strings of its kind, by which windows are written."""
        return self.strings == kinds.OPEN_STRINGS.get(self.kind, ())

    def of(self, place: Place, fitting: Fitting) -> Window | None:
        """Give the window of a field: `("projection",)`, `("string_height", "E")`."""
        field = place[0]
        if not self.is_usual and not OF_THE_STRINGS.isdisjoint((place[:1], place)):
            return None
        if field in measures.PER_STRING and place[-1] not in self.strings:
            return None
        if place == ("afterlength", "E") and "E" in fitting.adjusters:
            # The adjuster takes about 5 mm of it.
            return None
        trade = self.of_trade(place, fitting)
        for asked in self.asked:
            amount = _amount_at(asked.values, place)
            if amount is not None:
                moved = self._to_point(field, place[-1], asked.points.get(field), fitting)
                return _shifted(_asked_window(asked, amount, trade), moved)
        return trade

    def of_thickness(self, plate: str, distance: str, column: int, columns: int) -> Window | None:
        """Give the window of one point of a thickness map: the model's at that point, else the trade's anywhere."""
        target = self.plates.get(plate)
        row = (target.thickness or {}).get(distance, ()) if target else ()
        return self._of_point(plate, row[column]) if len(row) == columns else self.of_trade_thickness(plate)

    def of_trade_thickness(self, plate: str) -> Window | None:
        """Give the trade's window of any point of a plate."""
        return trade_window(self.kind, self.size, f"{plate}_thickness", "", "")

    def _of_point(self, plate: str, asked: Amount) -> Window:
        trade = measures.measure(self.kind, self.size, f"{plate}_thickness_at_post")
        half = (trade.high - trade.low) / 2 if trade else asked.middle * THICKNESS_TOLERANCE
        around = 0.0 if asked.is_range else half
        source = next(each.source for each in self.asked if each.whose == "model")
        low, high = round(asked.low - around, 3), round(asked.high + around, 3)
        return Window(low, high, asked.middle, asked.unit, "model", source)

    def of_trade(self, place: Place, fitting: Fitting) -> Window | None:
        """Give the trade's window of a field, whatever model and workshop ask."""
        string = place[-1] if place[0] in measures.PER_STRING else ""
        field = _FIELDS.get(place[:1] if string else place)
        if field is None:
            return None
        if field != "string_height":
            return trade_window(self.kind, self.size, field, string, "")
        window = trade_window(self.kind, self.size, field, string, fitting.materials.get(string, ""))
        return _shifted(window, self._to_point(field, string, "underside", fitting)) if window else None

    def _to_point(self, field: str, string: str, asked_to: str | None, fitting: Fitting) -> float:
        """Give what a window moves by when it is written to another point of the string than was measured."""
        if field != "string_height" or (fitting.point(field) or "underside") == (asked_to or "underside"):
            return 0.0
        half = (measures.string_diameter_mm(self.kind, string) or 0.0) / 2
        return half if fitting.point(field) == "centre" else -half


@cache
def trade_window(kind: str, size: str, field: str, string: str, material: str) -> Window | None:
    """Give the trade's window; of a string whose material is not known, the widest of all materials."""
    if field == "string_height" and not material:
        rows = [measures.measure(kind, size, field, string, each) for each in measures.MATERIALS]
        return _widest([row for row in rows if row is not None])
    row = measures.measure(kind, size, field, string, material)
    return _trade_window(row) if row is not None else None


def _trade_window(row: Measure) -> Window:
    made_of = f"for {row.material}" if row.material else ""
    return Window(row.low, row.high, row.nominal, row.unit, "trade", row.words, made_of)


def _widest(rows: Sequence[Measure]) -> Window | None:
    if not rows:
        return None
    low, high = min(row.low for row in rows), max(row.high for row in rows)
    return Window(low, high, None, rows[0].unit, "trade", rows[0].words, WIDEST)


def _shifted(window: Window, by: float) -> Window:
    if not by:
        return window
    aim = window.aim + by if window.aim is not None else None
    return replace(window, low=round(window.low + by, 3), high=round(window.high + by, 3), aim=aim)


def _asked_window(asked: _Asked, amount: Amount, trade: Window | None) -> Window:
    """Give the window that is asked for; around a single aim lies the trade's half-width."""
    if amount.is_range:
        return Window(amount.low, amount.high, None, amount.unit, asked.whose, asked.source)
    half = (trade.high - trade.low) / 2 if trade else abs(amount.low) * AIM_TOLERANCE
    said = "as far around the aim as the trade’s window" if trade else f"{AIM_TOLERANCE:.0%} around the aim"
    decimals = 1 if amount.low >= FINE_BELOW else 2
    low, high = round(amount.low - half, decimals), round(amount.low + half, decimals)
    return Window(low, high, amount.low, amount.unit, asked.whose, f"{asked.source}, {said}")


def _amount_at(values: Mapping[Place, Value], place: Place) -> Amount | None:
    found = values.get(place)
    if found is None and place[0] in BY_PLACE and place[-1] != "value":
        found = values.get((place[0], "value"))
    if found is not None:
        return found.value
    return _all_places(values, place[0]) if place[0] in BY_PLACE and place[-1] == "value" else None


def _all_places(values: Mapping[Place, Value], field: str) -> Amount | None:
    """Give the window of one value for everywhere from those of the places: it fits where any of them does."""
    found = [value.value for at, value in values.items() if at[0] == field]
    if not found:
        return None
    return replace(found[0], low=min(amount.low for amount in found), high=max(amount.high for amount in found))


def windows_of(archive: Archive, record: Instrument) -> Windows:
    """Gather what is asked of an instrument: by its model, by the workshop, by the trade."""
    kind, size = record.kind or "", record.size or ""
    filed = archive.models.get(record.model or "")
    model = filed.record if filed and filed.record.kind == record.kind else None
    asked = [_asked("model", f"model {record.model}", model.targets or Targets())] if model else []
    plates = {name: target for name in ("top", "back") if (target := getattr(model and model.plates, name, None))}
    if asked:
        asked = [replace(asked[0], values={**asked[0].values, **dict(_of_plates(plates))})]
    groups = [group for group in archive.workshop.record.windows or () if group.kind == kind]
    for group in sorted(
        (group for group in groups if group.size in (None, size)), key=lambda group: group.size is None
    ):
        asked.append(_asked("workshop", "the workshop’s own windows", group))
    return Windows(kind, size, record.string_names, tuple(asked), plates)


def _asked(whose: Whose, source: str, targets: Targets) -> _Asked:
    heights = targets.string_height
    return _Asked(whose, source, targets.by_place, {"string_height": heights.to if heights else None})


def _of_plates(plates: Mapping[str, PlateTarget]) -> Iterator[tuple[Place, Value]]:
    for field, plate, what in PLATE_TARGETS:
        value = getattr(plates.get(plate), what, None)
        if value is not None:
            yield from ((place, value) for place in measures.PLACES[field])


def fitting_of(record: Instrument, sheet: Sheet) -> Fitting:
    """Give what the windows of a sheet depend on; strings that a sheet does not name are those last named before."""
    if not isinstance(sheet, SetupSheet):
        return Fitting({})
    sheets = list(record.setups or ())
    until = next((index for index, each in enumerate(sheets) if each is sheet), len(sheets) - 1)
    fitted = [each.fitted for each in sheets[: until + 1] if each.fitted is not None]
    said = next((each.strings for each in reversed(fitted) if each.strings), "") or ""
    adjusters = next((each.adjusters for each in reversed(fitted) if each.adjusters is not None), None) or ()
    own = {name: string.note for name, string in zip(record.string_names, record.strings or (), strict=False)}
    materials = {**materials_of(said), **{name: made for name, note in own.items() if (made := _material(note or ""))}}
    points = {"string_height": sheet.string_height.to if sheet.string_height else None}
    return Fitting(
        {name: materials.get(name) or materials.get("", "") for name in record.string_names}, adjusters, points
    )


@cache
def materials_of(strings: str) -> Mapping[str, str]:
    """Read the materials out of "medium, steel E, synthetic A D G"; under "" that of the strings not named."""
    found: dict[str, str] = {}
    for clause in re.split(r"[,;/]|\band\b", strings):
        material = _material(clause)
        names = _STRING.findall(clause)
        for name in names if material else ():
            found[name] = material
        if material and not names:
            found.setdefault("", material)
    return found


def _material(text: str) -> str:
    words = {match.lower() for match in _MATERIAL.findall(text)}
    return words.pop() if len(words) == 1 else ""
