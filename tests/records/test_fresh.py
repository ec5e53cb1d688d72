"""New records: valid as they are written, and made like another without what is that one's own."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from passport.checks import check
from passport.errors import PassportError
from passport.findings import Severity
from passport.records.catalogue import load
from passport.records.filed import load_file
from passport.records.fresh import SHARED_FIELDS, blank, like, new_batch, new_instrument, new_lot, new_model, with_page
from passport.records.model.instrument import Instrument
from passport.records.model.marks import Record
from passport.records.model.supplies import Model, VarnishBatch, WoodLot
from passport.records.model.workshop import Gauges, Private, Workshop
from passport.records.reader import read
from passport.records.validation import validated
from passport.reference.kinds import KINDS, OPEN_STRINGS
from tests import archives
from tests.archives import DEMO

NUMBER = "WPWS32R"
SIZES = {"violin": "4/4", "viola": "405", "cello": "3/4", "bass": "5/8"}
HEAD = f"schema: 1\nid: {archives.LISTED}\nkind: violin\nsize: 4/4\norigin: made_here\n"


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_record_is_without_fault_and_names_the_strings_of_its_kind(kind: str) -> None:
    text = new_instrument(NUMBER, kind, SIZES[kind], "", "2026-01-02")
    made = archives.record(Instrument, text)
    assert (made.id, made.kind, made.size, made.published) == (NUMBER, kind, SIZES[kind], "listed")
    assert ", ".join(f"{name}: " for name in OPEN_STRINGS[kind]) in text
    assert "$" not in text.replace("$schema", "")


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_record_is_still_without_fault_when_every_line_is_put_to_use(kind: str) -> None:
    lines = new_instrument(NUMBER, kind, SIZES[kind], "", "2026-01-02").splitlines()
    start = lines.index("schema: 1")
    text = "\n".join([*lines[:start], *(line.removeprefix("# ") for line in lines[start:])])
    reading = read(text.encode(), "")
    assert reading.findings == ()
    made, findings = validated(Instrument, reading.tree, "")
    assert findings == ()
    assert made.setups
    assert made.measurements
    assert made.history
    assert made.photos


SUPPLIES = [
    (WoodLot, new_lot("SP24", "Picea abies", "2026-01-02"), ("sound_speed", "moisture", "papers", "storage")),
    (VarnishBatch, new_batch("OV24", "2026-01-02"), ("recipe", "purpose", "base", "hazards")),
    *((Model, new_model("m-1", kind, SIZES[kind], "2026-01-02"), ("targets", "plates", "outline")) for kind in KINDS),
]


@pytest.mark.parametrize(("kind", "text", "fields"), SUPPLIES)
def test_a_new_lot_batch_or_model_is_without_fault_and_still_is_when_every_line_is_put_to_use(
    kind: type[Record], text: str, fields: tuple[str, ...]
) -> None:
    archives.record(kind, text)
    assert "$" not in text.replace("$schema", "")
    assert [line for line in text.splitlines() if line != line.rstrip()] == []
    lines = text.splitlines()
    start = lines.index("schema: 1")
    used = "\n".join([*lines[:start], *(line.removeprefix("# ") for line in lines[start:])])
    made = archives.record(kind, used)
    assert [field for field in fields if getattr(made, field) is None] == []


def test_the_blanks_of_workshop_and_gauges_are_without_fault() -> None:
    assert archives.record(Workshop, blank("workshop")).name
    assert archives.record(Gauges, blank("gauges")).gauges


@pytest.mark.parametrize("name", ["workshop", "gauges"])
def test_no_line_of_a_blank_ends_in_a_space(name: str) -> None:
    assert [line for line in blank(name).splitlines() if line != line.rstrip()] == []


DEMO_RECORDS = sorted((DEMO / "instruments").glob("*.yml"))


@pytest.mark.parametrize("path", DEMO_RECORDS, ids=lambda path: path.stem)
def test_made_like_another_it_shares_what_thirty_alike_share_and_nothing_else(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    old, new = archives.record(Instrument, text), archives.record(Instrument, like(text, NUMBER))
    assert new.id == NUMBER
    assert new.serial is None
    for name, field in Instrument.model_fields.items():
        alias = field.alias or name
        if alias not in SHARED_FIELDS:
            assert getattr(new, name) is None, name
        elif alias not in ("id", "serial", "parts"):
            assert getattr(new, name) == getattr(old, name), name
    for part, _ in old.parts or ():
        before, after = getattr(old.parts, part), getattr(new.parts, part)
        if before is not None and after is not None:
            own = dict.fromkeys(("wedge", "density", "figure"))
            assert after == before.model_copy(update=own)


@pytest.mark.parametrize(
    "part",
    [
        "top: {lot: A, wedge: 4, cut: quarter}",
        "top: {lot: A, density: 390, cut: quarter}",
        'top: {lot: A, figure: "medium, falling", cut: quarter}',
        "top: {lot: A, figure: 'medium, falling', cut: quarter}",
        "top: {lot: A, density: {value: 390, gauge: rule_05}, cut: quarter}",
        "top: {lot: A, cut: quarter, wedge: 4}",
        "top:\n    lot: A\n    wedge: 4\n    density: 390\n    cut: quarter",
        "top:\n    lot: A\n    density:\n      value: 390\n      gauge: rule_05\n    cut: quarter",
        "top:\n    lot: A\n    cut: quarter\n    figure: medium, falling",
    ],
)
def test_what_belongs_to_one_piece_of_wood_is_left_out_however_it_is_written(part: str) -> None:
    new = archives.record(Instrument, like(f"{HEAD}parts:\n  {part}\n", NUMBER))
    assert new.parts is not None
    assert new.parts.top is not None
    assert new.parts.top.model_dump(exclude_none=True) == {"lot": "A", "cut": "quarter"}


def test_comments_above_a_shared_field_go_with_it_and_others_do_not() -> None:
    text = f"# head\n{HEAD}# of the parts\nparts: {{top: {{lot: A}}}}\n# of the note\nnote: own\n"
    made = like(text, NUMBER)
    assert "# head" in made
    assert "# of the parts" in made
    assert "own" not in made
    assert "# of the note" not in made


def test_a_record_that_cannot_be_taken_apart_line_by_line_is_refused() -> None:
    with pytest.raises(PassportError, match="cannot be added") as refused:
        like(f"{{id: {archives.LISTED}, kind: violin, size: 4/4, origin: made_here}}\n", NUMBER)
    assert refused.value.todo


@pytest.mark.parametrize(
    "before",
    ["id: ZVSPYJH\n", "id: ZVSPYJH", "# comment\r\nid: ZVSPYJH\r\nlocation: here   # there\r\n", "\ufeffid: ZVSPYJH\n",
     "id: ZVSPYJH\nowners:\n  - {name: A}\n"],
)  # fmt: skip
def test_a_page_is_added_and_every_byte_stays(before: str) -> None:
    made = with_page(before.encode(), archives.TAIL)
    assert made.startswith(before.encode())
    assert archives.record(Private, made.decode()).page == archives.TAIL
    assert (b"\r\n" in made) == ("\r\n" in before)
    assert made.count(b"\n") == made.count(b"\r\n") or b"\r" not in made


@pytest.mark.parametrize("before", ["id: ZVSPYJH\npage:\n", "{id: ZVSPYJH}\n", "id: ZVSPYJH\n...\n"])
def test_a_page_that_cannot_be_added_is_refused(before: str) -> None:
    with pytest.raises(PassportError, match="cannot be added"):
        with_page(before.encode(), archives.TAIL)


def test_a_new_archive_of_one_new_record_has_no_error(tmp_path: Path) -> None:
    root = tmp_path / "records"
    (root / "instruments").mkdir(parents=True)
    (root / "workshop.yml").write_text(blank("workshop"), encoding="utf-8")
    (root / "gauges.yml").write_text(blank("gauges"), encoding="utf-8")
    path = root / "instruments" / f"{NUMBER}.yml"
    path.write_text(new_instrument(NUMBER, "cello", "3/4", "", "2026-01-02"), encoding="utf-8")
    assert load_file(path, Instrument)[2] == ()
    assert [found for found in check(load(root)) if found.severity is Severity.ERROR] == []


def test_a_new_record_reads_the_same_with_another_reader() -> None:
    tree = yaml.safe_load(new_instrument(NUMBER, "violin", "4/4", "harrow-1", "2026-01-02"))
    assert (tree["id"], tree["kind"], tree["size"], tree["model"]) == (NUMBER, "violin", "4/4", "harrow-1")
