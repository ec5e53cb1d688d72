from __future__ import annotations

import re

import pytest

from passport.findings import Code, Finding, Severity, code_named


def test_no_two_codes_have_the_same_name() -> None:
    assert len({code.slug for code in Code}) == len(Code)


@pytest.mark.parametrize("code", Code)
def test_name_of_a_code_is_plain_and_leads_back_to_it(code: Code) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code.slug)
    assert code_named(code.slug) is code


@pytest.mark.parametrize("slug", ["", "no-such-code", "TAG", "Tag"])
def test_name_of_no_code_leads_nowhere(slug: str) -> None:
    assert code_named(slug) is None


@pytest.mark.parametrize("code", Code)
def test_finding_is_as_bad_as_its_code(code: Code) -> None:
    assert Finding(code, "r.yml", "", "").severity in Severity
    assert Finding(code, "r.yml", "", "").severity is code.severity


def test_findings_are_ordered_by_file_then_by_place_as_numbers() -> None:
    places = [("b.yml", 1, 1), ("a.yml", 10, 1), ("a.yml", 9, 12), ("a.yml", 9, 2)]
    findings = [Finding(Code.TAG, file, "", "", line=line, column=column) for file, line, column in places]
    ordered = sorted(findings, key=lambda finding: finding.order)
    assert [(finding.file, finding.line, finding.column) for finding in ordered] == places[::-1]
