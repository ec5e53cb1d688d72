from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from passport.errors import PassportError
from passport.labels.code import encode
from passport.labels.column import MM_PER_PT, Column, Line, fill
from passport.labels.faces import width_em
from passport.labels.layout import Layout, case_text, lay_out
from passport.stocks import STOCKS, Stock, find_stock, has_room_for_code
from passport.views.label import CaseLabel

from .cards import VIOLIN


def boxes(layout: Layout) -> list[tuple[float, float, float, float]]:
    """Edges of every line in mm: near side, top of capitals, far side, bottom of the baseline."""
    return [
        (
            line.x_mm,
            line.baseline_mm - 0.6 * line.size_pt * MM_PER_PT,
            line.x_mm + width_em(line.text, line.face, line.tracking_em) * line.size_pt * MM_PER_PT,
            line.baseline_mm,
        )
        for line in layout.lines
    ]


def overlap(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def laid_out_or_refused(label: CaseLabel, stock: Stock, *, proof: bool) -> Layout | None:
    """None where the words are refused as too long; any other refusal is a fault."""
    try:
        return lay_out(label, stock, encode(label.address), 300, proof=proof)
    except PassportError as refused:
        if "is too long for a" not in refused.what:
            raise
        return None


NAMES = st.text(st.sampled_from("abcdeégmöüABEGMÖÜW &.-"), min_size=1, max_size=60).filter(str.strip)


@settings(max_examples=150, deadline=None)
@given(
    stock=st.sampled_from([stock for stock in STOCKS if has_room_for_code(stock)]),
    workshop=NAMES,
    place=NAMES,
    contact=NAMES,
    serial=st.text(st.sampled_from("TP 0123456789/-"), max_size=30),
    kind=st.sampled_from(["violin", "double bass", "five-string viola"]),
    proof=st.booleans(),
)
def test_words_keep_inside_the_label_and_apart_or_are_refused_by_name(
    stock: Stock, workshop: str, place: str, contact: str, serial: str, kind: str, *, proof: bool
) -> None:
    label = replace(VIOLIN, workshop=workshop, place=place, contact=contact, serial=serial, kind=kind)
    layout = laid_out_or_refused(label, stock, proof=proof)
    if layout is None:
        return
    assert layout.code is not None
    quiet_edge_mm = layout.code.x_mm + (layout.code.code.across + 4) * layout.code.module_mm
    placed = boxes(layout)
    for number, box in enumerate(placed):
        assert box[0] >= quiet_edge_mm
        assert box[1] >= 0.8
        assert box[2] <= stock.width_mm - 1.8
        assert box[3] <= stock.height_mm - 1.6
        assert not any(overlap(box, other) for other in placed[number + 1 :])


@pytest.mark.parametrize(
    ("field", "value", "named"),
    [
        ("workshop", "Tamm & Penn and all their daughters and sons " * 4, "workshop and place"),
        ("contact", "ring twice at the third door " * 8, "contact line"),
        ("kind", "violoncello piccolo a cinque corde " * 4, "kind and size"),
        ("serial", "TP 88 and then 89 and then 90 " * 5, "serial number"),
    ],
)
def test_what_is_too_long_is_named_with_the_way_out(field: str, value: str, named: str) -> None:
    label = replace(VIOLIN, **{field: value})
    stock, code = find_stock("60x30"), encode(VIOLIN.address)
    with pytest.raises(PassportError, match=f"{named} is too long for a 60x30 label") as refused:
        lay_out(label, stock, code, 300, proof=False)
    assert refused.value.todo == "Shorten it, or print on a larger label: 70x40, 100x50."


def lines_of(contact: str, width_mm: float, *, cutting: bool) -> tuple[Line, ...]:
    text = case_text(replace(VIOLIN, contact=contact), proof=False)
    return fill(text, Column(0.0, 0.0, width_mm, 40.0), cutting=cutting)[0]


def test_a_long_address_is_cut_only_before_its_signs() -> None:
    lines = lines_of("workshop@tammpenn-harrowmere-instruments.net", 30.0, cutting=True)
    assert [line.text for line in lines[-2:]] == ["workshop@tammpenn-", "harrowmere-instruments.net"]


def test_a_telephone_number_stays_whole() -> None:
    lines = lines_of("Bring it to us any weekday: +00 555 0142", 29.0, cutting=False)
    assert lines[-1].text.replace("\u00a0", " ").endswith("+00 555 0142")


def test_more_room_gives_larger_letters() -> None:
    small, large = (
        lay_out(VIOLIN, find_stock(name), encode(VIOLIN.address), 300, proof=False).lines[0].size_pt
        for name in ("60x30", "100x50")
    )
    assert small < large
