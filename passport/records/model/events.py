"""What happened to an instrument, entry by entry; nothing is ever taken out, a correction is a new entry.

The words for events and conditions come from the trade's list in `reference.terms`, which also says who sees them.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict

from passport.records.model.marks import Audience, Entry, Record, public, shop
from passport.records.model.values import Celsius, Count, Grams, Hours, Millimetres, Percent, Text, Texts, When
from passport.records.model.words import OneOf
from passport.reference import terms

SIDES = ("bass", "treble", "both", "centre")
ZONES = ("upper", "middle", "lower", "all")


class Condition(Record):
    """One thing found: the trade's word and where, `{open_seam_top: treble lower, length: 40}`."""

    model_config = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Text]

    length: Millimetres | None = shop("Length")
    severity: Count | None = shop("Severity", "0 cosmetic to 3 urgent")
    stable: Text | None = shop("Stable")
    note: Text | None = shop("Note")

    @property
    def terms(self) -> dict[str, str]:
        """Give the condition words with the place of each."""
        return self.__pydantic_extra__


class Event(Entry):
    """One entry of the history. Build, set-up and repair are public; condition and custody stay in the shop."""

    date: When | None = public("Date", required=True)
    event: Annotated[str, OneOf(*terms.EVENTS)] | None = public("Event", required=True)
    by: Text | None = public("By", "a name out of workshop.yml")
    part: Text | None = public("Part")
    side: Annotated[str, OneOf(*SIDES)] | None = public("Side", "bass, treble, both or centre")
    zone: Annotated[str, OneOf(*ZONES)] | None = public("Zone", "upper, middle, lower or all")
    length: Millimetres | None = public("Length")
    glue: Text | None = public("Glue")
    materials: Text | None = public("Materials")
    reversible: Text | None = public("Can be undone")
    batch: Text | None = public("Varnish batch")
    overstand: Millimetres | None = public("Overstand")
    projection: Millimetres | None = public("Projection")
    moisture: Percent | None = public("Wood moisture")
    temperature: Celsius | None = public("Temperature")
    humidity: Percent | None = public("Humidity")
    mass: Grams | None = public("Mass")
    hours: Hours | None = shop("Hours of work")
    sheet: Text | None = public("Sheet", "the sheet taken then")
    before: Text | None = public("Sheet before")
    after: Text | None = public("Sheet after")
    said: Text | None = shop("Said", "the player's own words")
    found: tuple[Condition, ...] | None = shop("Found")
    fine: Texts | None = shop("Looked at and sound")
    did: Text | None = public("Did")
    came_with: Texts | None = shop("Came with")
    next_check: When | None = shop("Next check")
    paper: Text | None = shop("Paper", "number of a permit, certificate or report")
    note: Text | None = public("Note")

    @property
    def shown_to(self) -> Audience:
        """Give the audience: the entry's own word, else what the trade's list says of this event."""
        if self.audience is not None:
            return self.audience
        term = terms.EVENTS.get(self.event or "")
        return term.audience if term is not None else "shop"
