"""Family 4, plausibility: each value against the window of its kind and size, and against what can be at all.

An error only where no instrument, however odd, could have the value: a factor of ten, inches for millimetres, digits
swapped in a length of the body. Anything else outside its window is a warning, and a note once it is accepted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from passport.analysis.pull import notes_of
from passport.analysis.slips import with_digits_swapped
from passport.analysis.windows import Fitting, Window, Windows, fitting_of, windows_of
from passport.findings import Code, Finding, Path
from passport.records.catalogue import Archive
from passport.records.filed import Filed
from passport.records.model.events import Event
from passport.records.model.instrument import Instrument, Plate, Plates
from passport.records.model.sheets import CONDITION_SHEETS, MeasurementSheet, SetupSheet
from passport.records.model.supplies import Model, Targets
from passport.records.model.values import Grams, GramsPerMetre, Hertz, Millimetres, Value
from passport.records.walk import Values, measured
from passport.reference import measures, terms
from passport.reference.measures import Place
from passport.reference.strings import usual_string
from passport.units import Amount

# What can be at all, by the name of the field: far beyond anything a workshop meets, so that only a slip lies outside.
# Green wood holds more water than wood; the lightest balsa and the heaviest ironwood bound the density.
BOUNDS: Mapping[str, tuple[float, float]] = {
    "humidity": (0, 100),
    "solids": (0, 100),
    "temperature": (-40, 60),
    "moisture": (0, 250),
    "density": (50, 1400),
    "along": (1000, 8000),
    "across": (300, 4000),
    "a4": (300, 600),
    # No lamp of a workshop is stronger than the sun above the air, 1400 W/m2; only a small part of that hurts.
    "irradiance": (0, 1400),
    "effective_irradiance": (1e-6, 100),
    "hours": (0, 5000),
    "dose": (0, 100_000),
    "frequency": (20, 5000),
}
# A string is as heavy and as thick as usual within this factor, whatever it is made of. Common practice, no source.
OF_A_STRING = 4.0
# A piece of tone wood as it is bought.
THINNEST_PIECE_MM, THICKEST_PIECE_MM = 1.0, 400.0
# A varnish cooks.
HOTTEST_COOK_C = 400
# A post may stand before its foot, an old neck below the edge.
MAY_BE_NEGATIVE = ("tilt", "spring", "behind_foot", "inset_from_foot_edge", "overstand", "mass_gain", "moved")

# What an instrument keeps from its making, whatever befalls it.
BODY = (
    "body_length", "bout_width", "rib_height", "f_hole", "scroll_length", "fingerboard", "body_stop", "neck_stop",
    "string_length", "instrument_mass",
)  # fmt: skip
# Of another hand's work these are facts that nobody here can mend.
FOUND = (*BODY, "rib_thickness", "linings", "arch_height", "edge_thickness", "edge_overhang", "purfling",
         "neck_thickness", "overstand")  # fmt: skip
# Strings that are slack or off say nothing of these.
ONLY_STRUNG = ("string_height", "projection", "string_break_angle", "afterlength", "fingerboard_end_to_top")
TEN, INCH_MM = 10.0, 25.4
# A window whose ends differ by more than this factor says too little to know a slip by.
FIRM, FIRM_BELOW = 2.1, 1.6
# Below this a tenth of the value may be what is there: a string lying on the board, an overstand of half a millimetre.
SMALL_MM = 10.0
# How far, as a share of the window's end, digits must lead astray before no instrument is so.
ASTRAY = 0.25


@dataclass(frozen=True)
class _Held:
    """How a group of values is held: only slips, or also whether they are usual; `only` limits the fields."""

    slips_only: bool
    only: tuple[str, ...] | None = None
    slips_only_in: tuple[str, ...] = ()
    passed_over: tuple[str, ...] = ()


def of_others(archive: Archive) -> Iterator[Finding]:
    """Hold the values of everything else against what can be, and what is asked for against slips."""
    supplies: tuple[Filed[Any], ...] = (archive.workshop, *archive.wood.values(), *archive.varnish.values())
    for filed in supplies:
        yield from _possible(filed.file, measured(filed.record))
    for model in archive.models.values():
        yield from _of_model(model)
    for index, group in enumerate(archive.workshop.record.windows or ()):
        bare = Instrument(kind=group.kind, size=group.size)
        yield from _of_targets(archive.workshop.file, ("windows", index), group, bare)


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Hold the values of one instrument against what its model, the workshop and the trade ask for."""
    filed = archive.instruments[stem]
    values = measured(filed.record)
    impossible = [*_possible(filed.file, values), *_strings(filed)]
    yield from impossible
    reported = {finding.path for finding in impossible}
    windows = windows_of(archive, filed.record)
    by_entry: dict[Path, list[tuple[Path, Value]]] = {}
    for path, value in values:
        if path not in reported:
            by_entry.setdefault(path[:2], []).append((path, value))
    yield from _sheets(filed, windows, by_entry)
    yield from _events(filed, windows, by_entry)
    if filed.record.plates is not None:
        yield from _plates(filed, windows, filed.record.plates)


def _possible(file: str, values: Values) -> Iterator[Finding]:
    for path, value in values:
        yield from _beyond(file, path, value, *_bounds(path, value))


def _beyond(file: str, path: Path, value: Value, low: float | None, high: float | None) -> Iterator[Finding]:
    if low is not None and value.value.low < low:
        yield _impossible(file, path, value, f"less than {_number(low)}")
    elif high is not None and value.value.high > high:
        yield _impossible(file, path, value, f"more than {_number(high)}")


def _bounds(path: Path, value: Value) -> tuple[float | None, float | None]:
    name = path[-1]
    if name == "value" and "moisture" in path:
        name = "moisture"
    if name == "temperature" and "cook" in path:
        return BOUNDS["temperature"][0], HOTTEST_COOK_C
    if isinstance(name, str) and name in BOUNDS:
        return BOUNDS[name]
    if name == "thickness" and len(path) == 1:
        return THINNEST_PIECE_MM, THICKEST_PIECE_MM
    is_size = isinstance(value, Millimetres | Grams | GramsPerMetre | Hertz) and name not in MAY_BE_NEGATIVE
    return (0 if is_size else None), None


def _strings(filed: Filed[Instrument]) -> Iterator[Finding]:
    """Report strings that are lighter, heavier, thinner or thicker than any of their kind."""
    record = filed.record
    for index, sheet in enumerate(record.setups or ()):
        for string, note in zip(record.string_names, notes_of(record), strict=True):
            usual = usual_string(record.kind or "", note)
            for field, middle in (
                ("string_density", usual.typical_g_m if usual else None),
                ("string_diameter", measures.string_diameter_mm(record.kind or "", string)),
            ):
                given = getattr(sheet, field)
                value = given.strings.get(string) if given else None
                if value is not None and middle is not None:
                    low, high = round(middle / OF_A_STRING, 2), round(middle * OF_A_STRING, 1)
                    yield from _beyond(filed.file, ("setups", index, field, string), value, low, high)


def _impossible(file: str, path: Path, value: Value, beyond: str) -> Finding:
    what = f"{_name(_place(path[-2:]))} cannot be {_amount(value.value)}: that is {beyond} {value.unit}".rstrip()
    return Finding(Code.IMPOSSIBLE, file, what, "look at what was written down, and at the unit", path)


def _sheets(
    filed: Filed[Instrument], windows: Windows, by_entry: Mapping[Path, list[tuple[Path, Value]]]
) -> Iterator[Finding]:
    record = filed.record
    for field in ("measurements", "setups"):
        sheets: tuple[MeasurementSheet | SetupSheet, ...] = getattr(record, field) or ()
        for index, sheet in enumerate(sheets):
            values = by_entry.get((field, index), [])
            held, fitting = _held(record, sheet), fitting_of(record, sheet)
            for path, value in values:
                yield from _value(filed.file, path, value, _place(path[2:]), windows, fitting, held)


def _held(record: Instrument, sheet: MeasurementSheet | SetupSheet) -> _Held:
    """Say how a sheet is held. One taken as an instrument came in is there to hold what is unusual."""
    if sheet.taken is not None and sheet.taken.when in CONDITION_SHEETS:
        return _Held(slips_only=True, only=BODY)
    made_here = record.origin == "made_here"
    is_strung = sheet.state is None or sheet.state.strings in (None, "at_pitch")
    passed_over = ONLY_STRUNG if isinstance(sheet, SetupSheet) and not is_strung else ()
    is_trial = isinstance(sheet, SetupSheet) and sheet.role == "trial"
    return _Held(slips_only=is_trial, slips_only_in=() if made_here else FOUND, passed_over=passed_over)


def _events(
    filed: Filed[Instrument], windows: Windows, by_entry: Mapping[Path, list[tuple[Path, Value]]]
) -> Iterator[Finding]:
    made_here = filed.record.origin == "made_here"
    for index, event in enumerate(filed.record.history or ()):
        values = [
            pair for pair in by_entry.get(("history", index), []) if pair[0][2:] in (("overstand",), ("projection",))
        ]
        held = _Held(slips_only=not (made_here and _is_work(event)))
        for path, value in values:
            yield from _value(filed.file, path, value, _place(path[2:]), windows, Fitting({}), held)


def _is_work(event: Event) -> bool:
    term = terms.EVENTS.get(event.event or "")
    return term is not None and term.category in ("build", "setup", "repair")


def _plates(filed: Filed[Instrument], windows: Windows, plates: Plates) -> Iterator[Finding]:
    held = _Held(slips_only=filed.record.origin != "made_here")
    for name in ("top", "back"):
        plate: Plate | None = getattr(plates, name)
        if plate is None:
            continue
        at: Path = ("plates", name)
        yield from _thickness(filed.file, at, plate, windows, held)
        for index, stage in enumerate(plate.stages or ()):
            for path, value in measured(stage, (*at, "stages", index)):
                place = ("plates", name, "stages", stage.when or "", str(path[-1]))
                yield from _value(filed.file, path, value, place, windows, Fitting({}), held)
        for path, value in measured(plate.bass_bar, (*at, "bass_bar")) if plate.bass_bar else ():
            yield from _value(filed.file, path, value, _place(path), windows, Fitting({}), held)


def _thickness(file: str, at: Path, plate: Plate, windows: Windows, held: _Held) -> Iterator[Finding]:
    """Report every slip, and of the points that are only unusual the one that lies furthest out."""
    name = str(at[-1])
    outside: list[tuple[float, Path, Amount, Window]] = []
    for distance, row in (plate.thickness or {}).items():
        for column, amount in enumerate(row):
            path = (*at, "thickness", distance, column)
            if amount.low < 0:
                what = f"{name} thickness cannot be {_amount(amount)}: no plate is thinner than nothing"
                yield Finding(Code.IMPOSSIBLE, file, what, "look at what was written down, and at the unit", path)
                continue
            window = windows.of_thickness(name, distance, column, len(row))
            if window is None or not window.side(amount):
                continue
            likely = _slip(amount, windows.of_trade_thickness(name), ("thickness",))
            if likely:
                yield _slipped(file, path, f"{name} thickness", amount, window, likely)
            else:
                outside.append((max(window.low - amount.low, amount.high - window.high), path, amount, window))
    if outside and not held.slips_only:
        yield _furthest(file, name, plate, outside)


def _furthest(file: str, name: str, plate: Plate, outside: list[tuple[float, Path, Amount, Window]]) -> Finding:
    _, path, amount, window = max(outside, key=lambda point: point[0])
    count = f"; {len(outside)} points in all" if len(outside) > 1 else ""
    what = f"{_beside(f'{name} thickness', amount, window)}{count}"
    if plate.accepted:
        return Finding(Code.ACCEPTED, file, f"{what}; accepted: {plate.accepted}", "nothing, it is meant so", path)
    return Finding(
        Code.UNUSUAL, file, what, "measure again; if it is meant so, give the plate accepted: with the reason", path
    )


def _of_model(filed: Filed[Model]) -> Iterator[Finding]:
    model = filed.record
    yield from _possible(filed.file, measured(model))
    if model.targets is not None:
        bare = Instrument(kind=model.kind, size=model.size)
        yield from _of_targets(filed.file, ("targets",), model.targets, bare)


def _of_targets(file: str, at: Path, targets: Targets, bare: Instrument) -> Iterator[Finding]:
    """Look for slips in what is asked for; asking for something unusual is what a model is for."""
    windows = Windows(bare.kind or "", bare.size or "", bare.string_names, (), {})
    to = targets.string_height.to if targets.string_height else None
    held = _Held(slips_only=True)
    for path, value in measured(targets, at):
        place = _place(path[len(at) :])
        yield from _value(file, path, value, place, windows, Fitting({}, (), {"string_height": to}), held)


def _value(
    file: str, path: Path, value: Value, place: Place, windows: Windows, fitting: Fitting, held: _Held
) -> Iterator[Finding]:
    field = place[0]
    if field in held.passed_over or (held.only is not None and field not in held.only):
        return
    window = windows.of(place, fitting)
    if window is None or not window.side(value.value):
        return
    name, amount = _name(place), value.value
    likely = _slip(amount, windows.of_trade(place, fitting), place)
    if value.accepted:
        what = f"{_beside(name, amount, window)}; accepted: {value.accepted}"
        yield Finding(Code.ACCEPTED, file, what, "nothing, it is meant so", path)
    elif likely:
        yield _slipped(file, path, name, amount, window, likely)
    elif not held.slips_only and field not in held.slips_only_in:
        yield _unusual(file, path, name, amount, window)


def _slipped(file: str, path: Path, name: str, amount: Amount, window: Window, likely: str) -> Finding:
    return Finding(Code.SLIP, file, _beside(name, amount, window), f"is it {likely}?", path)


def _unusual(file: str, path: Path, name: str, amount: Amount, window: Window) -> Finding:
    likely = _shifted(amount, window) or _swapped(amount, window)
    perhaps = f"is it {likely}? If not, " if likely else ""
    todo = f"{perhaps}measure again; if it is meant so, write {{value: {amount.written}, accepted: why}}"
    return Finding(Code.UNUSUAL, file, _beside(name, amount, window), todo, path)


def _slip(amount: Amount, window: Window | None, place: Place) -> str:
    """Give the likely value of a slip of typing and how it came about; empty where it may be what is there.

    It is judged by the trade's window alone, so that a slip in a model makes no errors of what is right.
    Too large by ten is a slip in any firm window, too small only where no instrument comes near it; swapped digits
    only in lengths that never wear.
    """
    if window is None or not window.side(amount) or window.low <= 0 or window.high / window.low > FIRM:
        return ""
    if amount.high >= window.low or (window.high / window.low <= FIRM_BELOW and window.low >= SMALL_MM):
        shifted = _shifted(amount, window)
        if shifted:
            return shifted
    return _swapped(amount, window) if place[0] in BODY and _is_astray(amount, window) else ""


def _shifted(amount: Amount, window: Window) -> str:
    """Give the value that fits when the point or the unit slipped."""
    lies_low = amount.high < window.low
    inches = "in inches: write the unit" if lies_low else "millimetres and not inches"
    for factor, how in ((TEN, "the point slipped"), (TEN * TEN, "the point slipped"), (INCH_MM, inches)):
        scale = factor if lies_low else 1 / factor
        if window.low <= amount.low * scale and amount.high * scale <= window.high:
            low, high = _number(round(amount.low * scale, 1)), _number(round(amount.high * scale, 1))
            return f"{low if low == high else f'{low}–{high}'}, {how}"
    return ""


def _is_astray(amount: Amount, window: Window) -> bool:
    return amount.high < window.low * (1 - ASTRAY) or amount.low > window.high * (1 + ASTRAY)


def _swapped(amount: Amount, window: Window) -> str:
    """Give the value that fits when two neighbouring digits change places; none where hardly anything is wrong."""
    beyond = max(window.low - amount.low, amount.high - window.high)
    if amount.is_range or amount.low < 1 or beyond < (window.high - window.low) / 2:
        return ""
    every = with_digits_swapped(f"{amount.low:.{amount.decimals}f}")
    fitting = next((swapped for swapped in every if window.low <= float(swapped) <= window.high), "")
    return f"{fitting}, two digits swapped" if fitting else ""


def _beside(name: str, amount: Amount, window: Window) -> str:
    ends = f"{_number(window.low)}–{_number(window.high)} {window.unit}".rstrip()
    source = "; ".join(filter(None, (window.condition, window.source)))
    whose = f"the trade’s window ({source})" if window.whose == "trade" else f"the window of {window.source}"
    if window.whose == "workshop":
        whose = f"among {window.source}"
    return f"{name} {_amount(amount)} lies {window.side(amount)} {ends}, {whose}"


def _amount(amount: Amount) -> str:
    low, high = _number(amount.low), _number(amount.high)
    return low if low == high else f"{low}–{high}"


def _number(number: float) -> str:
    return f"{round(number, 2):g}" if abs(number) < 100_000 else f"{number:.0f}"  # noqa: PLR2004 - as far as :g counts


def _place(path: Path) -> Place:
    return tuple(map(str, path))


def _name(place: Place) -> str:
    """Give the field as it is said: "string height E"."""
    words = [part for part in place if part not in ("value", "plates", "stages") and not part.isdecimal()]
    return " ".join(words).replace("_", " ")
