"""Chronology: everyday records say nothing, what cannot be is an error, and a vague date accuses nobody."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from passport.checks import chronology
from passport.findings import Finding, Severity
from passport.records.catalogue import Archive, load
from tests.archives import DEMO
from tests.checks.examples import GOOD, changed, found

VIOLIN = "instruments/CZ6EP3J.yml"
HISTORY = "history:\n"
TODAY = date(2026, 11, 25)


def dated(archive: Archive) -> list[Finding]:
    own = (found for stem in archive.instruments for found in chronology.of_instrument(archive, stem))
    return [*own, *chronology.of_others(archive)]


def slugs(root: Path, today: date = TODAY) -> list[str]:
    """The codes of the chronology's findings, in the order they are found."""
    return [finding.code.slug for finding in dated(load(root, today))]


def with_events(root: Path, *events: str) -> Path:
    """Put entries at the beginning of the violin's history, and take away those that it has."""
    path = root / VIOLIN
    text = path.read_text(encoding="utf-8")
    text = re.sub(r"(?s)\nhistory:.*?(\n\n|\Z)", "\n\n", text)
    path.write_text(f"{text}\nhistory:\n" + "".join(f"  - {{{event}}}\n" for event in events), encoding="utf-8")
    return root


# --- what is said and what is not ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "events",
    [
        # A life with nothing unusual: a trial in the white, the neck set before the varnish, sold when it was finished.
        ("date: 2022-10-20, event: graduation_done, part: top", "date: 2022-10-20, event: f_holes_cut",
         "date: 2022-11-02, event: bass_bar_fitted", "date: 2022-11-10, event: top_glued",
         "date: 2022-12-06, event: neck_set", "date: 2023-01-10, event: white_setup_trial",
         "date: 2023-05-02, event: setup_complete", "date: 2023-05-20, event: sold"),
        # Opened and closed again in later years, with a new bar.
        ("date: 2022-11-10, event: top_glued", "date: 2022-12-06, event: neck_set",
         "date: 2025-03-01, event: top_removed", "date: 2025-03-09, event: bass_bar_replaced",
         "date: 2025-03-20, event: top_glued", "date: 2025-04-01, event: neck_reset"),
        # What a repairer enters under the maker's word, in a record that does not know the first time.
        ("date: 2023-05-02, event: setup_complete", "date: 2025-03-20, event: top_glued",
         "date: 2025-04-01, event: neck_set"),
        # The back is glued last: the top may be worked from inside until then.
        ("date: 2022-11-01, event: top_glued", "date: 2022-11-20, event: bass_bar_fitted",
         "date: 2022-12-01, event: back_glued"),
        # What is done on one day, in whatever order it is written.
        ("date: 2022-11-10, event: top_glued", "date: 2022-11-10, event: bass_bar_fitted"),
        # The board comes off for varnishing and is glued again.
        ("date: 2023-01-05, event: fingerboard_fitted", "date: 2023-04-20, event: fingerboard_fitted"),
        ("date: 2025-05-02, event: checkup, next_check: 2031-05",),
    ],
    ids=["made", "opened again", "done anew", "closed with the back", "one day", "board off", "planned"],
)  # fmt: skip
def test_everyday_work_says_nothing(archive: Path, events: tuple[str, ...]) -> None:
    assert slugs(with_events(archive, *events)) == []


@pytest.mark.parametrize(
    ("events", "code"),
    [
        (("date: 2022-11-10, event: top_glued", "date: 2022-11-20, event: bass_bar_fitted"), "work-out-of-order"),
        (("date: 2022-11-10, event: top_glued", "date: 2022-11-20, event: f_holes_cut"), "work-out-of-order"),
        (("date: 2022-11-10, event: bass_bar_fitted", "date: 2022-11-20, event: graduation_done, part: top"),
         "work-out-of-order"),
        (("date: 2022-11-10, event: top_glued", "date: 2022-11-20, event: graduation_done, part: back"),
         "work-out-of-order"),
        (("date: 2022-11-10, event: white_setup_trial", "date: 2022-11-20, event: neck_set"), "work-out-of-order"),
        (("date: 2022-11-10, event: white_setup_trial", "date: 2022-11-20, event: top_glued"), "work-out-of-order"),
        (("date: 2022-11-10, event: top_glued", "date: 2022-11-20, event: ribs_bent"), "work-out-of-order"),
        # Long after it was finished the box is as shut as ever.
        (("date: 2022-11-10, event: top_glued", "date: 2025-11-20, event: bass_bar_fitted"), "work-out-of-order"),
        (("date: 2023-04-30, event: sold",), "before-it-was-made"),
        (("date: 2022-12-31, event: rented_out",), "before-it-was-made"),
        (("date: 2022-11-10, event: bass_bar_fitted", "date: 2022-11-20, event: f_holes_cut"), "unusual-order"),
        (("date: 2023-03-10, event: neck_set",), "unusual-order"),
        (("date: 2022-11-10, event: top_glued", "date: 2022-12-10, event: top_glued"), "unusual-order"),
        (("date: 2023-06-10, event: sold", "date: 2023-05-10, event: photographed"), "history-out-of-order"),
        (("date: 2011-11-10, event: wood_released, by: Nella",), "person-not-here-then"),
        (("date: 2026-11-26, event: checkup",), "in-the-future"),
    ],
)  # fmt: skip
def test_each_slip_has_its_own_finding_and_no_other(archive: Path, events: tuple[str, ...], code: str) -> None:
    assert slugs(with_events(archive, *events)) == [code]


def test_a_finding_names_both_facts_with_their_dates(archive: Path) -> None:
    """The one place where the wording of this family is pinned."""
    changed(archive, "wood/SP10.yml", "felled: 2009-12\nbought: 2010-04", "felled: 2023-01")
    with_events(archive, "date: 2022-11-10, event: top_glued")
    first = next(finding for finding in dated(load(archive, TODAY)) if finding.path == ("parts", "top", "lot"))
    assert first.what == (
        "the top was glued on 10 November 2022, and the wood of its top (lot SP10) was felled in January 2023"
    )


# --- vague dates ----------------------------------------------------------------------

DAY = re.compile(r"\b((?:19|20)\d\d)-(\d\d)-(\d\d)\b")


@pytest.mark.parametrize(
    "vaguer",
    [
        lambda day: f"{day[1]}-{day[2]}",
        lambda day: day[1],
        lambda day: f"{day[1]}-{day[2]}~",
        lambda day: f"{day[1]}?",
        lambda day: f"{day[1][:3]}X",
        lambda day: f"../{day[1]}",
        lambda day: f"{day[1]}/..",
        lambda day: f"{day[1]}-{day[2]}" if int(day[3]) % 2 else day[0],
        lambda day: day[1] if int(day[3]) % 3 else day[0],
    ],
    ids=["month", "year", "about", "perhaps", "ten years", "or before", "or after", "some months", "some years"],
)
@pytest.mark.parametrize("source", [GOOD, DEMO], ids=["good", "demo"])
def test_no_date_made_vaguer_accuses_anyone(
    tmp_path: Path, source: Path, vaguer: Callable[[re.Match[str]], str]
) -> None:
    """A true record stays true when less is known; so nothing may be found that was not found before."""
    root = tmp_path / "records"
    shutil.copytree(source, root, ignore=shutil.ignore_patterns("photos", "schema"))
    count = 0
    for path in root.rglob("*.yml"):
        text, here = DAY.subn(vaguer, path.read_text(encoding="utf-8"))
        path.write_text(text, encoding="utf-8")
        count += here
    assert count > 8
    made = load(root, TODAY)
    assert made.findings == ()
    assert dated(made) == []


# --- the day ----------------------------------------------------------------------


@pytest.mark.parametrize(("today", "future"), [(date(2024, 2, 29), True), (date(2024, 3, 1), False)])
def test_today_is_not_the_future_and_tomorrow_is(archive: Path, today: date, future: bool) -> None:  # noqa: FBT001
    assert ("in-the-future" in slugs(archive, today)) is future


def test_what_is_planned_may_lie_ahead(archive: Path) -> None:
    changed(archive, "varnish/OV20.yml", "hazards:", "expires: 2040-05\nhazards:")
    changed(archive, "workshop.yml", "since: 2014-05}", "since: 2014-05, until: 2040}")
    changed(archive, "private/3YJ834Z.yml", "location: on the shelf", "renters: [{name: a school, since: 2040-01-01}]")
    assert slugs(archive) == []


# --- wood ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lot", "codes"),
    [
        ("felled: 2022-10", []),
        ("felled: 2023", []),  # vague: January to December, and the first coat is of February
        ("felled: 2024", ["wood-used-too-early"] * 3),
        ("sawn: 2024", ["wood-used-too-early"] * 3),
        ("bought: 2024-01-01", ["wood-used-too-early"] * 3),
        ("felled: 2009\nsawn: 2008", ["lot-out-of-order"]),
        ("felled: 2009\nsawn: 2009", []),
        ("sawn: 2008\nbought: 2010", []),
        ("felled: 2009\nmoisture: [{date: 2008-02-01, value: 12}]", ["lot-out-of-order"]),
        ("felled: 2009\nbought: 2008", ["unusual-order"]),
    ],
)
def test_wood_is_felled_sawn_and_bought_before_it_is_used(archive: Path, lot: str, codes: list[str]) -> None:
    changed(archive, "wood/MA10.yml", "pieces: 6", f"{lot}\npieces: 6")
    assert slugs(archive) == codes


def test_of_a_part_that_was_exchanged_the_day_of_the_exchange_counts(archive: Path) -> None:
    text = "lot: SP30\nspecies: Picea abies\nfelled: 2024-01\n"
    (archive / "wood/SP30.yml").write_text(text, encoding="utf-8")
    changed(archive, VIOLIN, "bass_bar: {lot: SP10, wedge: 1}", "bass_bar: {lot: SP30}")
    opened = ("date: 2022-11-02, event: bass_bar_fitted", "date: 2025-03-01, event: top_removed")
    assert slugs(with_events(archive, *opened)) == ["wood-used-too-early"]
    assert slugs(with_events(archive, *opened, "date: 2025-03-09, event: bass_bar_replaced")) == []


@pytest.mark.parametrize("origin", ["customer", "second_hand", "set_up_here"])
def test_of_others_work_no_order_of_making_is_asked(archive: Path, origin: str) -> None:
    changed(archive, "wood/MA10.yml", "pieces: 6", "felled: 2024\npieces: 6")
    changed(archive, VIOLIN, "origin: made_here", f"origin: {origin}")
    events = ("date: 2022-11-10, event: top_glued", "date: 2022-11-20, event: bass_bar_fitted")
    assert slugs(with_events(archive, *events)) == []


# --- varnish ----------------------------------------------------------------------

COAT = "  - {date: 2023-02-10, coat: 1, batch: OV20, uv: tubes, irradiance: 6.5, hours: 36}\n"


def with_coats(root: Path, *coats: str) -> Path:
    changed(root, VIOLIN, COAT, "".join(f"  - {{{coat}}}\n" for coat in coats))
    return root


@pytest.mark.parametrize(
    ("coats", "wrong"),
    [
        (("date: 2023-02-01, coat: ground", "date: 2023-02-20, coat: 1", "date: 2023-03-20, coat: 2"), False),
        (("date: 2023-03-20, coat: 2", "date: 2023-02-20, coat: 1"), False),  # only written in another order
        (("date: 2023-02-20, coat: 2", "date: 2023-03-20, coat: 1"), True),
        (("date: 2023-02-20, coat: 10", "date: 2023-02-21, coat: 9"), True),
        (("date: 2023-02-20, coat: 1", "date: 2023-02-21, coat: ground"), True),
        (("date: 2023-02-20, coat: 2", "date: 2023-02, coat: 1"), False),
        (("date: 2023-02-20, coat: 2", "date: 2023-02-21, coat: glaze"), False),
        # Varnished anew: the numbers begin again.
        (("date: 2023-02-01, coat: 1", "date: 2023-02-20, coat: 2", "date: 2025-02-01, coat: 1"), False),
    ],
)
def test_coats_lie_in_the_order_of_their_numbers(archive: Path, coats: tuple[str, ...], wrong: bool) -> None:  # noqa: FBT001
    with_events(archive)
    assert ("coats-out-of-order" in slugs(with_coats(archive, *coats))) is wrong


@pytest.mark.parametrize(
    ("drying", "touch_dry", "second", "too_soon"),
    [
        ("oil: 10", "", "2023-02-19", True),
        ("oil: 10", "", "2023-02-20", False),
        ("oil: 10", "", "2023-02", False),  # some day of that month
        ("oil: 10", "", "2023-02-12~", False),
        ("spirit: 10", "", "2023-02-11", False),
        ("oil: 1-2", "", "2023-02-11", False),
        ("", "14", "2023-02-11", False),
        ("", "40", "2023-02-11", True),
        ("", "14", "2023-02-10", True),
        ("", "1", "2023-02-10", False),  # several coats of spirit varnish a day
        ("oil: 1", "40", "2023-02-11", True),  # never less than dry to the touch
        ("", "", "2023-02-10", False),
    ],
)
def test_a_coat_has_its_time_to_dry(archive: Path, drying: str, touch_dry: str, second: str, too_soon: bool) -> None:  # noqa: FBT001
    if drying:
        changed(archive, "workshop.yml", "a4: 440\n", f"a4: 440\ndrying: {{{drying}}}\n")
    if touch_dry:
        changed(archive, "varnish/OV20.yml", "hazards:", f"touch_dry: {touch_dry}\nhazards:")
    with_coats(archive, "date: 2023-02-10, coat: 1, batch: OV20", f"date: {second}, coat: 2, batch: OV20")
    assert (slugs(archive) == ["recoated-too-soon"]) is too_soon


@pytest.mark.parametrize(
    ("first", "second"),
    [("area: back", "area: top"), ("coat: 1", "coat: 1"), ("coat: 1, area: ribs", "coat: 2, area: top")],
)
def test_what_lies_beside_a_coat_need_not_wait_for_it(archive: Path, first: str, second: str) -> None:
    changed(archive, "workshop.yml", "a4: 440\n", "a4: 440\ndrying: {oil: 10}\n")
    with_coats(archive, f"date: 2023-02-10, batch: OV20, {first}", f"date: 2023-02-11, batch: OV20, {second}")
    assert slugs(archive) == []


# --- after the end ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("now", "event", "code"),
    [
        ("destroyed", "rented_out", "after-its-end"),
        ("destroyed", "bridge_replaced", "after-its-end"),
        ("destroyed", "opened_for_study", None),
        ("destroyed", "insurance_valuation", None),
        ("missing", "checkup", "unusual-order"),
        ("missing", "theft_report", None),
        ("withdrawn", "sold", "unusual-order"),
        ("withdrawn", "opened_for_study", None),
        ("withdrawn", "checkup", None),
        ("in_use", "sold", None),
    ],
)
def test_what_may_follow_the_end(archive: Path, now: str, event: str, code: str | None) -> None:
    changed(archive, VIOLIN, "publish: listed", f"publish: listed\nstatus: {{now: {now}, since: 2024-02}}")
    assert slugs(with_events(archive, f"date: 2024-05-01, event: {event}")) == ([code] if code else [])


# --- people ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        (VIOLIN, "taken: {date: 2023-01-20, when: in_the_white, by: Nella}",
         "taken: {date: 2023-01-20, when: in_the_white, by: Wenna}"),
        (VIOLIN, "varnish: Nella, setup", "varnish: Wenna, setup"),
        ("varnish/OV20.yml", "by: Nella", "by: Wenna"),
        ("models/plain-violin.yml", "by: Nella", "by: Wenna"),
    ],
)  # fmt: skip
def test_nobody_works_before_they_came_wherever_it_is_written(archive: Path, file: str, old: str, new: str) -> None:
    changed(archive, "workshop.yml", "people:\n", "people:\n  Wenna: {since: 2025}\n")
    changed(archive, file, old, new)
    assert slugs(archive) == ["person-not-here-then"]


def test_who_left_while_it_was_being_made_may_have_worked_on_it(archive: Path) -> None:
    changed(archive, "workshop.yml", "people:\n", "people:\n  Osk: {since: 2010, until: 2022-06}\n")
    changed(archive, VIOLIN, "made: {finished: 2023-05,", "made: {begun: 2022, finished: 2023-05,")
    changed(archive, VIOLIN, "body: Nella", "body: Osk")
    assert slugs(archive) == []
    changed(archive, VIOLIN, "made: {begun: 2022,", "made: {begun: 2022-07,")
    assert slugs(archive) == ["person-not-here-then"]


# --- sheets, stages and the whole ----------------------------------------------------------------------


def test_a_trial_before_the_varnish_is_nothing_and_a_set_up_is_unusual(archive: Path) -> None:
    changed(archive, VIOLIN, "taken: {date: 2023-05-02, when: delivered", "taken: {date: 2023-02-01, when: delivered")
    assert slugs(archive) == ["unusual-order"]
    changed(archive, VIOLIN, "role: reference", "role: trial")
    assert slugs(archive) == []


def test_a_coat_of_later_years_makes_no_set_up_too_early(archive: Path) -> None:
    with_coats(archive, "date: 2025-02-10, coat: 1, batch: OV20")
    assert slugs(with_events(archive)) == []


def test_stages_of_a_plate_are_held_against_the_history(archive: Path) -> None:
    stages = "    stages: [{date: 2022-12-01, when: bass_bar_fitted, mass: 65}]\n"
    changed(archive, VIOLIN, "    gauge: thickness_gauge\n", f"    gauge: thickness_gauge\n{stages}")
    assert slugs(with_events(archive, "date: 2022-11-10, event: top_glued")) == ["work-out-of-order"]


def test_work_before_it_was_begun_is_an_error_and_buying_wood_is_none(archive: Path) -> None:
    changed(archive, VIOLIN, "made: {finished: 2023-05,", "made: {begun: 2022-09, finished: 2023-05,")
    assert slugs(with_events(archive, "date: 2022-05-01, event: wood_released")) == []
    assert slugs(with_events(archive, "date: 2022-05-01, event: ribs_bent")) == ["before-it-was-made"]


def test_finished_before_begun_is_said_once(archive: Path) -> None:
    changed(archive, VIOLIN, "made: {finished: 2023-05,", "made: {begun: 2024, finished: 2023-05,")
    assert slugs(archive) == ["before-it-was-made"]


def test_the_demo_says_nothing() -> None:
    assert dated(load(DEMO, TODAY)) == []


def test_one_instrument_needs_no_other(archive: Path) -> None:
    """What is found for an instrument depends on its own record and what that names, so it can be kept."""
    changed(archive, VIOLIN, "date: 2024-03-01", "date: 2204-03-01")
    whole = load(archive, TODAY)

    def of_the_violin() -> list[Finding]:
        return list(chronology.of_instrument(whole, "CZ6EP3J"))

    before = of_the_violin()
    (archive / "instruments/3YJ834Z.yml").unlink()
    whole = load(archive, TODAY)
    assert of_the_violin() == before
    assert [finding.severity for finding in before] == [Severity.ERROR]
    assert len(found(archive)) == 2  # the record without its instrument is private/3YJ834Z.yml
