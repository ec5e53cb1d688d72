"""The table of limits, work and readings: complete, and in words that the records know."""

from __future__ import annotations

import pytest

from passport.records.model.sheets import Fitted, SetupSheet
from passport.reference import drift, terms
from passport.reference.kinds import KINDS

FIELDS = {*SetupSheet.model_fields, "neck", drift.EVERY_FIELD}


# The trade's intake table, common practice, no source: look and act, violin and cello.
@pytest.mark.parametrize(
    ("quantity", "violin", "cello"),
    [
        ("projection", (0.5, 1.5), (1.5, 4)),
        ("string_height", (0.5, 1), (1, 2)),
        ("belly", (0.5, 1), (1, 2)),
        ("back", (0.3, 0.5), (0.5, 1)),
        ("tilt", (1, 2), (2, 4)),
        ("string_length", (1, 2), (2, 4)),
        ("afterlength", (1.5, None), (3, None)),
        ("mass", (5, None), (30, None)),
        ("air_mode", (5, None), (3, None)),
    ],
)
def test_limits_are_those_of_the_trade(quantity: str, violin: tuple[float, float], cello: tuple[float, float]) -> None:
    for kind, wanted in (("violin", violin), ("viola", violin), ("cello", cello)):
        found = drift.limits_of(kind)[quantity]
        assert (found.look, found.act) == wanted


def test_every_kind_has_every_limit_and_acting_comes_after_looking() -> None:
    names = {kind: set(drift.limits_of(kind)) for kind in KINDS}
    assert all(each == names["violin"] for each in names.values())
    limits = [limit for kind in KINDS for limit in drift.limits_of(kind).values()]
    assert all(limit.method > 0 and limit.look > 0 for limit in limits)
    assert all(limit.act is None or limit.act > limit.look for limit in limits)
    assert drift.limits_of("harp") == {}


def test_one_per_cent_of_moisture_is_what_the_mass_cannot_be_told_from() -> None:
    """The grams are common practice, no source."""
    masses = [drift.limits_of(kind)["mass"] for kind in ("violin", "cello")]
    assert [mass.per_moisture_pct for mass in masses] == [4.4, 26.0]
    assert [mass.method for mass in masses] == [4.4, 26.0]


def test_work_is_an_event_of_the_trade_and_touches_fields_of_a_sheet() -> None:
    assert set(drift.work()) <= set(terms.EVENTS)
    assert set().union(*drift.work().values()) <= FIELDS
    assert set(drift.pieces()) == set(Fitted.model_fields)
    assert set().union(*drift.pieces().values()) <= FIELDS


def test_readings_ask_for_what_is_watched_and_for_states_that_exist() -> None:
    names = [reading.name for reading in drift.readings()]
    assert len(set(names)) == len(names) > 10
    known = {*drift.limits_of("violin"), "neck", "season"}
    states = {"up", "down", "moved", "still", "untold", "wetter", "drier"}
    for reading in drift.readings():
        assert {quantity for quantity, _ in reading.when} <= known
        assert {state for _, state in reading.when} <= states
        assert reading.next
