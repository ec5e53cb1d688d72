"""The payload of a passport: what is claimed of an instrument, from its public view, as a Verifiable Credential 2.0.

Only what somebody recorded: windows, differences and sums change with the tool and are left out. Values are text with
their unit, so that 2.50 stays 2.50.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from passport.credentials.multibase import SHA2_256, digest, multibase
from passport.credentials.strict import Json
from passport.credentials.vocabulary import (
    CONTEXT,
    CREDENTIALS_V2,
    CREDENTIALS_V2_SHA256,
    KEY_STATEMENT_TYPE,
    PASSPORT_TYPE,
)
from passport.errors import PassportError
from passport.views.setup import NOT_RECORDED
from passport.views.titles import lowered
from passport.views.tree import (
    CoatView,
    EventView,
    Fact,
    InstrumentView,
    MeasureSheet,
    PartView,
    PlateView,
    SetupRow,
    SetupView,
    SheetView,
    WorkshopView,
)

MADE_HERE = "made, measured and serviced here"
SERVICED_HERE = "measured and serviced here"
# Typesetting's spaces are no part of a value.
PLAIN_SPACES = str.maketrans({"\N{NARROW NO-BREAK SPACE}": " ", "\N{NO-BREAK SPACE}": " "})


def payload(
    view: InstrumentView,
    workshop: WorkshopView,
    *,
    issuer: str,
    day: str,
    number: int,
    before: str,
    pictures: Mapping[str, bytes],
) -> Json:
    """Give the unsigned passport; `before` is the digest of the issue before, `pictures` the published copies by path.

    `day` is the plain day of issue, 2026-11-25. PassportError for a view that is not the public's.
    """
    if view.audience != "public":
        raise PassportError("a passport is made from what is public", "give it the public view")
    name = f"{view.title}, number {view.id}"
    return {
        **_credential(PASSPORT_TYPE, issuer, workshop.name, day),
        "name": f"Passport of the {lowered(name)}",
        "issueNumber": number,
        **({"issueBefore": {"digestMultibase": before}} if before else {}),
        "credentialSubject": subject(view, pictures),
    }


def key_statement(*, issuer: str, workshop: str, day: str, did: str, number: int, next_key: str, before: str) -> Json:
    """Give the unsigned statement that `did` signs from a day on; `next_key` is the digest of the key to follow it."""
    return {
        **_credential(KEY_STATEMENT_TYPE, issuer, workshop, day),
        **({"statementBefore": {"digestMultibase": before}} if before else {}),
        "credentialSubject": {
            "id": did,
            "type": "SigningKey",
            "keyNumber": number,
            **({"nextKey": {"digestMultibase": next_key}} if next_key else {}),
        },
    }


def _credential(kind: str, issuer: str, workshop: str, day: str) -> Json:
    pinned = multibase(SHA2_256 + bytes.fromhex(CREDENTIALS_V2_SHA256))
    return {
        "@context": CONTEXT,
        "type": ["VerifiableCredential", kind],
        "issuer": {"id": issuer, "name": workshop},
        "validFrom": moment(day),
        "relatedResource": [{"id": CREDENTIALS_V2, "digestMultibase": pinned}],
    }


def moment(day: str) -> str:
    """Give a day as the standard's dateTimeStamp; passports are dated by the day."""
    return f"{day}T00:00:00Z"


def picture_names(view: InstrumentView) -> tuple[str, ...]:
    """Give the file names of a passport's pictures, in the order of its view."""
    return tuple(f"{view.id}-{number:02d}.jpg" for number, _ in enumerate(view.photos, start=1))


def subject(view: InstrumentView, pictures: Mapping[str, bytes]) -> Json:
    """Give what is claimed of the instrument; of other hands' work nothing but what was measured and done here."""
    claims = {
        "type": "Instrument",
        "number": view.id,
        "name": view.title,
        "kind": view.kind,
        "size": view.size,
        "serial": view.serial,
        "claim": MADE_HERE if view.maker else SERVICED_HERE,
        **(_making(view) if view.maker else {}),
        "plates": [_plate(plate) for plate in view.plates],
        "measurements": [_measured(sheet) for sheet in view.measurements],
        "setups": list(_setups(view.setup)) if view.setup else [],
        # What happened to other hands' work before it came here has nobody of the workshop to its name.
        "history": [_event(event) for event in view.history if view.maker or event.by],
        "pictures": list(_pictures(view, pictures)),
    }
    plain: Json = _plain(claims)
    return plain


def _making(view: InstrumentView) -> Json:
    return {
        "maker": view.maker_line,
        "made": view.made,
        "madeOn": view.made_date,
        "model": view.model.text if view.model else "",
        "labelText": view.label_text,
        "status": ". ".join(filter(None, (view.banner, view.banner_detail))),
        "identity": _facts(view.identity),
        "parts": [_part(part) for part in view.parts],
        "varnish": [_coat(coat) for coat in view.varnish],
        "outfit": _facts(view.outfit),
    }


def _facts(facts: Iterable[Fact]) -> list[Json]:
    return [{"name": fact.name, "value": fact.value} for fact in facts]


def _with_unit(value: str, unit: str) -> str:
    return f"{value} {unit}".strip()


def _part(part: PartView) -> Json:
    return {
        "name": part.name,
        "wood": part.wood,
        "species": part.scientific,
        "origin": part.origin,
        "lot": part.lot.text if part.lot else "",
        "facts": _facts(part.facts),
    }


def _coat(coat: CoatView) -> Json:
    return {
        "date": coat.date,
        "coat": coat.coat,
        "batch": coat.batch.text if coat.batch else "",
        "area": coat.area,
        "light": coat.light,
        "climate": coat.climate,
        "massGain": coat.mass_gain,
        "note": coat.note,
    }


def _plate(plate: PlateView) -> Json:
    return {
        "name": plate.name,
        "thickness": {"unit": "mm", "columns": plate.columns, "rows": plate.rows} if plate.rows else {},
        "stages": {"columns": plate.stage_columns, "rows": plate.stages} if plate.stages else {},
        "bassBar": _facts(plate.bar),
    }


def _sheet(sheet: SheetView, values: Iterable[tuple[str, str, str]]) -> Json:
    return {
        "sheet": sheet.name,
        "role": sheet.role,
        "takenOn": sheet.date,
        "taken": sheet.when,
        "takenBy": sheet.by,
        "state": sheet.state,
        "fitted": _facts(sheet.fitted),
        "heard": sheet.heard,
        "note": sheet.note,
        "values": [{"name": name, "value": value, "note": note} for name, value, note in values],
    }


def _measured(taken: MeasureSheet) -> Json:
    return _sheet(taken.sheet, ((row.name, _with_unit(row.value, row.unit), row.note) for row in taken.rows))


def _setups(setup: SetupView) -> Iterator[Json]:
    rows = [row for group in setup.groups for row in group.rows]
    yield _sheet(setup.reference, _values(rows, "then"))
    if setup.latest is not None:
        yield _sheet(setup.latest, _values((row for row in rows if not row.now_from), "now"))
    for other in setup.others:
        yield _sheet(other.sheet, ((fact.name, fact.value, "") for fact in other.values))


def _values(rows: Iterable[SetupRow], side: str) -> Iterator[tuple[str, str, str]]:
    for row in rows:
        value = getattr(row, side)
        if value and value != NOT_RECORDED:
            yield row.name, _with_unit(value, row.unit), row.note


def _event(event: EventView) -> Json:
    return {"date": event.date, "name": event.title, "by": event.by, "facts": _facts(event.facts)}


def _pictures(view: InstrumentView, pictures: Mapping[str, bytes]) -> Iterator[Json]:
    for name, photo in zip(picture_names(view), view.photos, strict=True):
        yield {
            "name": name,
            "mediaType": "image/jpeg",
            "shows": photo.view,
            "caption": photo.caption,
            "date": photo.date,
            "digestMultibase": digest(pictures[photo.large]),
        }


def _plain(value: Any) -> Any:
    """Leave out what is empty, and write plain spaces."""
    if isinstance(value, str):
        return value.translate(PLAIN_SPACES)
    if isinstance(value, Mapping):
        kept = {name: _plain(inner) for name, inner in value.items()}
        return {name: inner for name, inner in kept.items() if inner not in ("", [], {})}
    # The cells of a table keep their places, the empty ones too.
    return [_plain(inner) for inner in value]
