"""The records of the archive, as the drawing needs them.

The one place that reads records and models; it writes nothing.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from instrument import Back, Instrument
from lines import Array, smooth

from passport.records.reader import read

RECORDS = Path(__file__).resolve().parents[2]
PHOTOS = RECORDS / "photos"
# What stands in for the outline where an instrument follows no model of the shop.
STAND_IN = {"violin": "harrow-1", "viola": "wren-405", "cello": "tarn-1", "bass": "fell-34"}
# Where a model names no target, as shares of the body length; common practice, no source.
STOP, NECK, BOARD = 0.55, 0.366, 0.76


def records() -> dict[str, dict[str, Any]]:
    """Give every instrument's record by its number."""
    return {path.stem: tree_of(path) for path in sorted((RECORDS / "instruments").glob("*.yml"))}


def tree_of(path: Path) -> dict[str, Any]:
    """Read one record as plain text values."""
    tree = read(path.read_bytes(), path.name).tree
    return tree if isinstance(tree, dict) else {}


def number_of(raw: Any, otherwise: float) -> float:
    """Give the number, or the middle of a range."""
    text = raw.get("value") if isinstance(raw, dict) else raw
    if not text:
        return otherwise
    parts = [float(part) for part in str(text).split("-")]
    return sum(parts) / len(parts)


def instrument_of(number: str, record: dict[str, Any]) -> Instrument:
    """Gather what the drawing needs from the record and its model."""
    kind = record["kind"]
    model = tree_of(RECORDS / "models" / f"{record.get('model') or STAND_IN[kind]}.yml")
    targets, outline = model["targets"], outline_of(model)
    body_mm = float(outline[0][0, 0])
    stop_mm = number_of(targets["body_stop"]["bass"], body_mm * STOP)
    neck_mm = number_of(targets["neck_stop"], body_mm * NECK)
    strings = strings_of(record)
    return Instrument(
        number=number,
        kind=kind,
        curves=tuple(smooth(points) for points in outline),
        body_mm=body_mm,
        bridge_mm=body_mm - stop_mm,
        nut_mm=body_mm + neck_mm,
        board_mm=number_of(targets["fingerboard"]["length"], BOARD * body_mm),
        string_mm=number_of(targets["string_length"], stop_mm + neck_mm),
        strings=len(strings),
        back=back_of(record),
        white="varnish" not in record and record.get("origin") == "made_here",
        left_handed=record.get("handed") == "left",
        extension=any("length" in string for string in strings),
    )


def outline_of(model: dict[str, Any]) -> list[Array]:
    """Give the points of the three bouts: height, half width."""
    return [np.array(model["outline"][bout], dtype=float) for bout in ("upper", "middle", "lower")]


def strings_of(record: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the strings of a record, or four of which nothing is known."""
    return record.get("strings") or [{}] * 4


def back_of(record: dict[str, Any]) -> Back:
    """Gather how the back is made."""
    back = (record.get("parts") or {}).get("back") or {}
    return Back(
        pieces=int(back.get("pieces") or 2),
        slab=back.get("cut") == "slab" and record["kind"] != "bass",
        flat=back.get("build") == "flat",
        rising="rising" in str(back.get("figure", "")),
    )
