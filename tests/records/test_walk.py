from __future__ import annotations

import pytest

from passport.records.catalogue import load
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.reader import read
from passport.records.validation import validated
from passport.records.walk import fields_of, measured, walked
from tests.checks.examples import GOOD

TEXT = """
schema: 1
id: CZ6EP3J
setups:
  - taken: {date: 2023-05-02}
    gauges: {all: rule, string_height: wedge}
    string_height: {G: 5.0, E: 3.4, to: underside}
    body_stop: 195
    string_spacing: {bridge_steps: [11.3, 10.9]}
history:
  - {date: 2023-05-02, found: [{open_seam_top: treble, length: 40}]}
"""


def _record() -> Record:
    return validated(Instrument, read(TEXT.encode(), "r.yml").tree, "r.yml")[0]


def test_every_group_is_walked_with_its_place() -> None:
    assert [path for path, _ in walked(_record())] == [
        (), ("setups", 0), ("setups", 0, "taken"), ("setups", 0, "gauges"), ("setups", 0, "body_stop"),
        ("setups", 0, "string_height"), ("setups", 0, "string_spacing"), ("history", 0), ("history", 0, "found", 0),
    ]  # fmt: skip


def test_every_measured_value_is_found_with_its_place() -> None:
    assert [(path, value.value.low) for path, value in measured(_record())] == [
        (("setups", 0, "body_stop", "value"), 195),
        (("setups", 0, "string_height", "G"), 5.0),
        (("setups", 0, "string_height", "E"), 3.4),
        (("setups", 0, "string_spacing", "bridge_steps", 0), 11.3),
        (("setups", 0, "string_spacing", "bridge_steps", 1), 10.9),
        (("history", 0, "found", 0, "length"), 40),
    ]


def test_fields_have_the_name_they_have_in_the_file() -> None:
    assert dict(fields_of(_record()))["schema"] == 1


@pytest.mark.parametrize("file", ["instruments/CZ6EP3J.yml", "wood/SP10.yml", "models/plain-violin.yml"])
def test_every_place_stands_in_the_file(file: str) -> None:
    filed = next(filed for filed in load(GOOD).records() if filed.file.endswith(file))
    places = read((GOOD / file).read_bytes(), file).places
    found = [path for path, _ in walked(filed.record)] + [path for path, _ in measured(filed.record)]
    assert len(found) > 3
    assert [path for path in found if path not in places and path[-1:] != ("value",)] == []
