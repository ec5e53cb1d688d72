from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import passport
from passport.explanations import explanation_of
from passport.findings import Code
from passport.records.reader import read

ENTRIES = tomllib.loads((Path(passport.__file__).parent / "explanations.toml").read_text(encoding="utf-8"))

# Codes that the notation alone gives, so that their examples can be read as they stand.
OF_NOTATION = (
    Code.UNPRINTABLE, Code.BROKEN_YAML, Code.TOO_DEEP, Code.SEVERAL_DOCUMENTS, Code.ALIAS, Code.TAG, Code.MERGE_KEY,
    Code.DUPLICATE_FIELD, Code.EMPTY_RECORD, Code.NOT_A_RECORD, Code.COMMA_IN_BRACES, Code.COMMA_IN_BRACKETS,
    Code.SWALLOWED,
)  # fmt: skip
# Entries whose examples say in words what lies in the folder.
IN_WORDS = {
    Code.UNREADABLE, Code.TOO_LARGE, Code.NOT_TEXT, Code.NOT_UTF8, Code.STRAY_FILE, Code.CONFLICT_COPY, Code.BAD_NAME,
    Code.MISNAMED_RECORD, Code.LABEL_WITHOUT_PAGE, Code.UNREADABLE_ROW,
    Code.BROKEN_PHOTO, Code.ORPHAN_PRIVATE, Code.PRIVATE_IN_GIT,
}  # fmt: skip
GOOD_IN_WORDS = IN_WORDS | {Code.SEVERAL_DOCUMENTS, Code.NO_PAGE}


def test_every_code_is_explained_and_nothing_else_is() -> None:
    assert list(ENTRIES) == [code.slug for code in Code]


@pytest.mark.parametrize("code", Code)
def test_explanation_is_whole(code: Code) -> None:
    told = explanation_of(code)
    assert all(text.strip() for text in (told.summary, told.why, told.bad, told.good))
    assert "\n" not in told.summary + told.why
    assert told.summary.endswith(".")
    assert told.why.endswith(".")
    assert told.bad != told.good


@pytest.mark.parametrize("code", OF_NOTATION)
def test_bad_example_is_refused_for_its_own_reason_only(code: Code) -> None:
    findings = read(explanation_of(code).bad.encode(), "r.yml").findings
    assert {finding.code for finding in findings} == {code}


@pytest.mark.parametrize("code", [code for code in Code if code not in GOOD_IN_WORDS])
def test_good_example_is_a_piece_of_a_record(code: Code) -> None:
    assert read(explanation_of(code).good.encode(), "r.yml").findings == ()


@pytest.mark.parametrize("code", [code for code in Code if code not in IN_WORDS and code not in OF_NOTATION])
def test_bad_example_of_a_field_is_written_in_right_notation(code: Code) -> None:
    if code is not Code.UNUSED_PHOTO:
        assert read(explanation_of(code).bad.encode(), "r.yml").findings == ()
