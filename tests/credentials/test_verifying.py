"""What a check says of good, altered, foreign, superseded and malicious files, step by step."""

from __future__ import annotations

import re
import string

import pytest

from passport.credentials.verifying import Report, verify
from passport.credentials.words import words
from tests.credentials.cases import CASES, HOSTILE, KNOWN, THREE, Case, json_file

RESULTS = {
    "holds": re.compile(r"^(form\.(holds|statement)|signature\.(holds|added)|key\.(first|holds|afresh)"
                        r"|issues\.(first|all|listed)|pictures\.(all|none)|newest\.holds)$"),
    "unchecked": re.compile(r"^(\w+\.unchecked|form\.picture|key\.(given|unknown)|issues\.missing"
                            r"|pictures\.(some|missing)|newest\.(unknown|since))$"),
}  # fmt: skip


def codes(report: Report) -> list[str]:
    return [step.said.code for step in report.steps]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_each_step_says_what_was_found(case: Case) -> None:
    known, files, expected = case
    reports = verify(files, known)
    assert [codes(report) for report in reports] == expected
    for step in (step for report in reports for step in report.steps):
        wanted = next((result for result, pattern in RESULTS.items() if pattern.match(step.said.code)), "fails")
        assert step.result == wanted, step
        assert step.said.code.partition(".")[0] == step.name
        assert step.said.text


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_nothing_is_given_of_a_document_whose_signature_does_not_hold(case: Case) -> None:
    known, files, _ = case
    for report in verify(files, known):
        holds = any(step.name == "signature" and step.result == "holds" for step in report.steps)
        assert (report.document is not None) <= holds


def test_what_is_given_is_what_was_signed_and_no_more() -> None:
    without_proof = {name: value for name, value in THREE.items() if name != "proof"}
    added = {**THREE, "@context": [*THREE["@context"], {"claim": "https://elsewhere.example/"}]}
    for document in (THREE, added):
        (report,) = verify([json_file(document)], KNOWN)
        assert report.document == without_proof


VERDICTS = {
    "a good passport with all its pictures": "verdict.holds",
    "the first issue by itself, superseded since": "verdict.superseded",
    "where nothing is known": "verdict.unchecked",
    "younger than the list": "verdict.unchecked",
    "somebody else's passport": "verdict.fails",
    "signed with the workshop's key, and not in its list": "verdict.fails",
    "an altered value": "verdict.fails",
    "cut short": "verdict.fails",
    "an altered picture": "verdict.fails",
}


@pytest.mark.parametrize("name", VERDICTS)
def test_the_verdict_never_says_more_than_the_steps(name: str) -> None:
    known, files, _ = CASES[name]
    verdict = verify(files, known)[0].verdict
    assert verdict is not None
    assert verdict.code == VERDICTS[name]


def test_no_word_claims_what_a_signature_cannot_prove() -> None:
    text = " ".join(words().values()).lower()
    assert not re.search(r"\b(genuine|authentic|certified|guaranteed?|legal)\b", text)


def test_every_sentence_is_said_somewhere_and_filled_in() -> None:
    known_codes = {code for _, _, expected in CASES.values() for steps in expected for code in steps}
    elsewhere = {"key.chain", "key.afresh"}
    steps = {
        code
        for code in words()
        if code.partition(".")[0] in ("form", "signature", "key", "issues", "pictures", "newest")
    }
    assert steps - known_codes == elsewhere
    for code, sentence in words().items():
        assert all(name.isidentifier() for _, name, _, _ in string.Formatter().parse(sentence) if name is not None), (
            code
        )


def test_words_of_others_cannot_steer_a_terminal() -> None:
    known, files, _ = CASES["words that would steer a terminal or a page"]
    (report,) = verify(files, known)
    assert report.document is not None
    assert report.document["name"] == HOSTILE
    for said in (*(step.said for step in report.steps), report.verdict):
        assert said is None or said.text.isprintable()
