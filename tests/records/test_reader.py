from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from passport.checks import check
from passport.findings import Code
from passport.findings import Path as FieldPath
from passport.records.catalogue import load
from passport.records.decoding import MAX_BYTES, Place
from passport.records.reader import MAX_DEPTH, read, read_file
from tests.checks.examples import EXAMPLES, GOOD

GOOD_RECORD = (GOOD / "instruments/CZ6EP3J.yml").read_text(encoding="utf-8")


def tree_of(text: str) -> Any:
    reading = read(text.encode(), "r.yml")
    assert reading.findings == ()
    return reading.tree


def refusals(text: str | bytes) -> list[tuple[str, int, int]]:
    data = text if isinstance(text, bytes) else text.encode()
    return [(found.code.slug, found.line, found.column) for found in read(data, "r.yml").findings]


# --- what is typed is what is read ------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed",
    [
        "NO", "no", "yes", "on", "True", "010", "0x10", "0o7", "1:30", "190:20:30", "4.10", "1/4", "1e3", "1_000", ".5",
        "+1", "-0", ".inf", ".nan", "2021-11-18", "2001-02-29", "2021-11-18T10:00:00Z", "5,0", "Null", "NULL", "=", "<",
        "a: b"[:1], "don't", 'a "word"', "a#b", "a,b", "a:b", "(x)", "50 %", "½", "F#", "23E4567", "=1+1",
    ],
)  # fmt: skip
def test_plain_value_is_the_text_that_was_typed(typed: str) -> None:
    assert tree_of(f"a: {typed}\n") == {"a": typed}
    assert tree_of(f"a: [{typed.replace(',', '')}]\n") == {"a": [typed.replace(",", "")]}


@pytest.mark.parametrize("typed", ["", " ", "~", "null", " # a remark"])
def test_blank_field_holds_nothing(typed: str) -> None:
    assert tree_of(f"a:{' ' if typed else ''}{typed}\nb: 1\n") == {"a": None, "b": "1"}


@pytest.mark.parametrize("typed", ['"null"', "'null'", "|-\n  null"])
def test_word_null_in_quotes_or_lines_is_a_word(typed: str) -> None:
    assert tree_of(f"a: {typed}\n") == {"a": "null"}


def test_empty_text_in_quotes_is_a_text() -> None:
    assert tree_of("a: ''\n") == {"a": ""}


def test_text_over_several_lines_is_read_as_yaml_folds_it() -> None:
    assert tree_of("a: |\n  one\n  two\nb: >-\n  one\n  two\nc: one\n  two\n") == {
        "a": "one\ntwo\n", "b": "one two", "c": "one two",
    }  # fmt: skip


@pytest.mark.parametrize(
    "text", ["a: 5,0\n", "a: [x, 2.9, 3.1]\n", "a: [1, 2]\n", "a: {b: c, d: }\n", 'a: {b: c, "d": }\n', 'a: ["2,9"]\n']
)
def test_what_only_looks_like_a_trap_is_read(text: str) -> None:
    assert refusals(text) == []


def test_comment_with_a_blank_behind_the_hash_is_a_comment() -> None:
    assert tree_of("a: crack # the second\nb: c#d\ne: 'x #2'\nf:  # note\n") == {
        "a": "crack", "b": "c#d", "e": "x #2", "f": None,
    }  # fmt: skip


# --- what is refused --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: &x b\n", [("anchor-or-alias", 1, 4)]),
        ("a: *x\n", [("anchor-or-alias", 1, 4)]),
        ("a: [b, &x c, *x]\n", [("anchor-or-alias", 1, 8), ("anchor-or-alias", 1, 14)]),
        ("&x a: b\n", [("anchor-or-alias", 1, 1)]),
        ("a: &x {b: c}\n", [("anchor-or-alias", 1, 4)]),
        ("a: !!str b\n", [("tag", 1, 4)]),
        ("a: ! b\n", [("tag", 1, 4)]),
        ("a: !x [b]\n", [("tag", 1, 4)]),
        ("!!python/object:os.system {a: b}\n", [("tag", 1, 1)]),
        ("<<: {a: b}\n", [("merge-key", 1, 1)]),
        ("a:\n  - {<<: *b, c: d}\n", [("merge-key", 2, 6)]),
        ("a: 1\nb: 2\na: 3\n", [("duplicate-field", 3, 1)]),
        ("a:\n  - {b: 1, c: 2, b: 3}\n", [("duplicate-field", 2, 18)]),
        ("a: 1\n'a': 2\n", [("duplicate-field", 2, 1)]),
        ("a: 1\n---\nb: 2\n", [("several-documents", 2, 1)]),
        ("a: 1\n...\n---\nb: 2\n", [("several-documents", 3, 1)]),
        ('a: "x\\u0007"\n', [("unprintable-character", 1, 4)]),
        ('a: "\\e[31m"\n', [("unprintable-character", 1, 4)]),
        ('"\\0": b\n', [("unprintable-character", 1, 1)]),
        ("a: [x\n", [("broken-yaml", 1, 4)]),
        ("a: {b: c\nd: e\n", [("broken-yaml", 1, 4)]),
        ('a: "b\nc: d\n', [("broken-yaml", 1, 4)]),
        ("a: 'b\nc: d\n", [("broken-yaml", 1, 4)]),
        ("\ta: b\n", [("broken-yaml", 1, 1)]),
        ("a:\n\tb: c\n", [("broken-yaml", 2, 1)]),
        ("a: @b\n", [("broken-yaml", 1, 4)]),
        ("a: b: c\n", [("broken-yaml", 1, 5)]),
        ("a:\n  b: 1\n c: 2\n", [("broken-yaml", 3, 2)]),
        ("a: [1,, 2]\n", [("broken-yaml", 1, 7)]),
        ("a: {b: c, d e}\n", [("comma-in-braces", 1, 11)]),
        ("a: {G: 5,0, D: 4,7}\n", [("comma-in-braces", 1, 10), ("comma-in-braces", 1, 18)]),
        ("a: {b: 1, b}\n", [("duplicate-field", 1, 11)]),
        ("a: [2,9, 2.8, -3,1]\n", [("comma-in-brackets", 1, 5), ("comma-in-brackets", 1, 15)]),
        ("a: crack #2 glued\n", [("swallowed-by-hash", 1, 10)]),
        ("a: one\n  two   #3\n", [("swallowed-by-hash", 2, 9)]),
        ("? [a, b]\n: c\n", [("not-a-record", 1, 3)]),
        ("- a\n- b\n", [("not-a-record", 1, 1)]),
        ("only words\n", [("not-a-record", 1, 1)]),
        ("", [("empty-record", 1, 1)]),
        ("# a remark\n", [("empty-record", 1, 1)]),
        ("---\n", [("empty-record", 1, 1)]),
    ],
)
def test_refused_at_its_place(text: str, found: list[tuple[str, int, int]]) -> None:
    assert refusals(text) == found


def test_first_of_two_equal_fields_is_kept_and_the_rest_is_read() -> None:
    reading = read(b"a: 1\na: {deep: [2]}\nb: 3\n", "r.yml")
    assert reading.tree == {"a": "1", "b": "3"}


def test_all_faults_of_a_file_are_found_and_the_rest_is_read() -> None:
    reading = read(b"a: !x 1\nb: &y 2\nc: {d: e, f}\ng: h #i\nj: 1\nj: 2\n<<: {}\nk: 3\n", "r.yml")
    assert [found.code for found in reading.findings] == [
        Code.TAG, Code.ALIAS, Code.COMMA_IN_BRACES, Code.SWALLOWED, Code.DUPLICATE_FIELD, Code.MERGE_KEY,
    ]  # fmt: skip
    assert reading.tree == {"a": "1", "b": "2", "c": {"d": "e"}, "g": "h", "j": "1", "k": "3"}


def test_depth_is_allowed_up_to_the_limit_and_refused_beyond() -> None:
    at_limit = "a: " + "[" * (MAX_DEPTH - 1) + "x" + "]" * (MAX_DEPTH - 1)
    beyond = "a: " + "[" * MAX_DEPTH + "x" + "]" * MAX_DEPTH
    assert refusals(at_limit) == []
    assert refusals(beyond) == [("too-deep", 1, 4 + MAX_DEPTH)]


# --- bytes ------------------------------------------------------------------------------------------


def test_byte_order_mark_is_passed_over_and_shifts_no_place() -> None:
    assert refusals(b"\xef\xbb\xbfa: !x b\n") == [("tag", 1, 4)]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_line_ends_of_any_system_give_the_same_places(ending: str) -> None:
    text = ending.join(["a: 1", "b: {c: d, e}", "f: g #h", "a: 2", "k: |", "  one", "  two", ""])
    assert refusals(text) == [("comma-in-braces", 2, 11), ("swallowed-by-hash", 3, 6), ("duplicate-field", 4, 1)]
    assert read(text.encode(), "r.yml").tree["k"] == "one\ntwo\n"  # type: ignore[index,call-overload]


def test_letters_beyond_ascii_count_as_one_column() -> None:
    assert refusals("é: ü\nß: [Ž, !x 🎻]\n") == [("tag", 2, 8)]


# YAML 1.1, production [20]: these end a line too.
@pytest.mark.parametrize("ending", ["\x85", "\u2028", "\u2029"])
def test_rare_line_ends_do_no_harm(ending: str) -> None:
    assert read(f"a: 1{ending}b: c{ending}d: e #f{ending}".encode(), "r.yml").findings != ()


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-32"])
def test_other_encodings_of_unicode_are_not_text(encoding: str) -> None:
    assert refusals("a: b\n".encode(encoding)) == [("not-text", 1, 1)]


def test_byte_of_another_encoding_is_placed() -> None:
    assert refusals("a: b\né: f".encode() + "ü".encode("latin-1")) == [("not-utf-8", 2, 5)]


# YAML 1.2.2, production [1] c-printable: allowed are tab, line ends, and what is printed.
@pytest.mark.parametrize("character", ["\x01", "\x07", "\x0b", "\x1b", "\x7f", "\x80", "\x9f", "\ufffe", "\uffff"])
def test_character_that_cannot_be_printed_is_placed(character: str) -> None:
    assert refusals(f"a: b\nc: d{character}e\n") == [("unprintable-character", 2, 5)]


@pytest.mark.parametrize("character", ["\xa0", "\ud7ff", "\ue000", "\ufffd", "\U00010000", "\U0010ffff"])
def test_character_that_can_be_printed_is_read(character: str) -> None:
    assert tree_of(f"a: b{character}c\n") == {"a": f"b{character}c"}


def test_file_at_the_limit_is_read_and_a_larger_one_is_not_even_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "r.yml"
    path.write_bytes(b"a: b\n".ljust(MAX_BYTES, b"\n"))
    assert read_file(path, "r.yml").tree == {"a": "b"}
    path.write_bytes(b"a: b\n".ljust(MAX_BYTES + 1, b"\n"))

    def refuse(_: Path) -> bytes:
        raise AssertionError("the file was read")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    assert [found.code for found in read_file(path, "r.yml").findings] == [Code.TOO_LARGE]


@pytest.mark.parametrize("name", ["nothing.yml", "folder.yml"])
def test_file_that_cannot_be_opened_is_a_finding(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder.yml").mkdir()
    assert [found.code for found in read_file(tmp_path / name, name).findings] == [Code.UNREADABLE]


# --- places -----------------------------------------------------------------------------------------

TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]), max_size=12)
NAME = TEXT.filter(lambda name: name != "<<")
FIELDS = st.dictionaries(
    NAME,
    st.recursive(TEXT, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAME, inner, max_size=4)),
    min_size=1,
    max_size=6,
)


def _marks(node: yaml.Node, path: FieldPath = ()) -> dict[tuple[FieldPath, bool], tuple[int, int]]:
    """Give line and column of every value (False) and field name (True) below a node."""
    marks = {(path, False): (node.start_mark.line + 1, node.start_mark.column + 1)}
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            inner = (*path, name.value)
            marks[inner, True] = (name.start_mark.line + 1, name.start_mark.column + 1)
            marks |= _marks(value, inner)
    elif isinstance(node, yaml.SequenceNode):
        for index, value in enumerate(node.value):
            marks |= _marks(value, (*path, index))
    return marks


@given(FIELDS, st.booleans() | st.none(), st.sampled_from([20, 80, 1000]), st.sampled_from(["\n", "\r\n"]))
@settings(max_examples=150)
def test_values_come_back_and_places_are_those_of_the_other_parser(
    fields: dict[str, Any],
    flow: bool | None,  # noqa: FBT001
    width: int,
    ending: str,
) -> None:
    """PyYAML's parser in pure Python is another program than libyaml, which the reader uses."""
    text = yaml.safe_dump(fields, default_flow_style=flow, width=width, allow_unicode=True, line_break=ending)
    assume("\xa0" not in text)  # refused where it stands for a blank
    reading = read(text.encode(), "r.yml")
    assert reading.findings == ()
    assert reading.tree == fields
    for (path, on_key), place in _marks(yaml.compose(text, Loader=yaml.SafeLoader)).items():
        if path:
            assert (reading.keys if on_key else reading.places)[path] == place


WORD = st.text(alphabet="abcdnoty", min_size=1, max_size=4)


@given(st.dictionaries(WORD, st.dictionaries(WORD, st.lists(WORD, min_size=1), min_size=1), min_size=1), st.booleans())
def test_every_place_points_at_its_text(fields: dict[str, dict[str, list[str]]], flow: bool) -> None:  # noqa: FBT001
    text = yaml.safe_dump(fields, default_flow_style=flow, width=30)
    reading = read(text.encode(), "r.yml")
    assert len(reading.keys) == sum(1 + len(inner) for inner in fields.values())

    def rest(place: Place) -> str:
        return text.split("\n")[place.line - 1][place.column - 1 :].lstrip("'\"")

    for path, place in reading.keys.items():
        assert rest(place).startswith(str(path[-1]))
    for name, group in fields.items():
        for inner, words in group.items():
            for index, word in enumerate(words):
                assert rest(reading.places[name, inner, index]).startswith(word)


def test_place_of_what_is_not_there_is_that_of_the_group_it_belongs_in() -> None:
    reading = read(b"a: 1\nb:\n  c: [x, {d: 2}]\n", "r.yml")
    assert reading.place_of(("e",), on_key=True) == (1, 1)
    assert reading.place_of(("b", "e"), on_key=True) == (2, 1)
    assert reading.place_of(("b", "e"), on_key=False) == (2, 1)
    assert reading.place_of(("b", "c", 1, "e", "f"), on_key=False) == (3, 10)
    assert reading.place_of(("b", "c"), on_key=False) == (3, 6)
    assert reading.place_of(("b", "c"), on_key=True) == (3, 3)


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.yml")), ids=lambda path: f"{path.parent.name}/{path.name}")
def test_reading_without_places_gives_the_same_tree_and_findings(path: Path) -> None:
    with_places, without = read_file(path, "r.yml"), read_file(path, "r.yml", placed=False)
    assert (without.tree, without.findings) == (with_places.tree, with_places.findings)
    assert not without.places
    assert not without.keys


# --- hostile input ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "[" * 10_000, "{" * 10_000, "a: " + "[" * 900_000, "{a: " * 10_000, "- " * 100_000, "? " * 10_000,
        "? " + "[" * 20_000 + "]" * 20_000, "a: 1\na: " + "{b: " * 20_000 + "}" * 20_000,
        " " * 100_000 + "a: b", "\n".join(" " * depth + "a:" for depth in range(1_300)), "a: [" + "x," * 30_000 + "]",
    ],
)  # fmt: skip
def test_huge_and_deep_input_ends_in_a_finding_or_a_tree(text: str) -> None:
    reading = read(text.encode(), "r.yml")
    assert reading.findings or reading.tree


def test_bomb_of_aliases_is_refused_and_not_unfolded() -> None:
    lines = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 40)]
    assert set(read("\n".join(lines).encode(), "r.yml").findings)
    assert {code for code, _, _ in refusals("\n".join(lines))} == {"anchor-or-alias"}


SIGNS = st.text(alphabet="ab1:,{}[]#&*!|>'\"%@`-?<~.\\ \n\r\t\x85\u2028é\ufeff", max_size=60)


@pytest.mark.parametrize("text", ["?", "? a", "-", "a: {b: c\n, d\n}", "a: #", "a:\n?"])
def test_blank_at_the_end_of_a_file_is_no_crash(text: str) -> None:
    reading = read(text.encode(), "r.yml")
    assert reading.findings or isinstance(reading.tree, dict)


@given(st.binary(max_size=200) | TEXT.map(str.encode) | SIGNS.map(str.encode))
@settings(max_examples=400)
def test_no_input_breaks_the_reader(data: bytes) -> None:
    reading = read(data, "r.yml")
    assert reading.findings or isinstance(reading.tree, dict)
    assert all(found.line >= 1 and found.column >= 1 and found.what and found.todo for found in reading.findings)


@st.composite
def spoilt_records(draw: st.DrawFn) -> str:
    """Give the good record with pieces cut out and signs put in."""
    text = GOOD_RECORD
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(text)))
        text = text[:at] + draw(SIGNS.map(lambda signs: signs[:5])) + text[at + draw(st.integers(0, 30)) :]
    return text


@given(spoilt_records() | SIGNS)
@settings(max_examples=150)
def test_no_record_breaks_the_check_of_an_archive(text: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "instruments").mkdir()
        (root / "instruments/CZ6EP3J.yml").write_bytes(text.encode())
        findings = check(load(root))
    assert findings
    assert all(found.line >= 1 and found.column >= 1 for found in findings)


@pytest.mark.parametrize(
    ("text", "place"), [("a: 1\n\xa0\xa0b: 2\n", (2, 1)), ("a:\xa01\n", (1, 3)), ("a:\n  - \xa0b\n", (2, 5))]
)
def test_no_break_space_where_a_blank_belongs_is_named(text: str, place: tuple[int, int]) -> None:
    (finding,) = read(text.encode(), "r.yml").findings
    assert (finding.code, finding.line, finding.column) == (Code.UNPRINTABLE, *place)


def test_no_break_space_inside_words_is_let_be() -> None:
    assert read("a: No.\xa05\n".encode(), "r.yml").tree == {"a": "No.\xa05"}


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("a: 1\nstring_length:328\nb: 2\n", (2, 1)),
        ("heard: 'it's bright'\n", (1, 12)),
        ("a: 1\nneck_stop: -\nb: 2\n", (2, 12)),
        ("a:\n  -{file: x, view: y}\n", (2, 6)),
    ],
)
def test_common_slips_point_at_their_own_line(text: str, place: tuple[int, int]) -> None:
    (finding,) = read(text.encode(), "r.yml").findings
    assert (finding.code, finding.line) == (Code.BROKEN_YAML, place[0])
