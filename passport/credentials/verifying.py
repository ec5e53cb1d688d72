"""Checking signed passports step by step: form, signature, key, issues before, pictures, newest.

Each step holds, does not hold, or is not checked here, and says why. The result is a value; it gives of a passport only
what its signature covered.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from passport.credentials.given import File, GivenPassport, document_of, passport_in
from passport.credentials.known import Known
from passport.credentials.multibase import digest, fingerprint
from passport.credentials.statements import Statement, chain, extended, is_statement, statement_of
from passport.credentials.strict import Json
from passport.credentials.words import RefusedError, Said, say

Result = Literal["holds", "fails", "unchecked"]
AFTER_SIGNATURE = ("key", "issues", "pictures", "newest")


@dataclass(frozen=True)
class Step:
    """One step of a check: its name, its result, and why."""

    name: str
    result: Result
    said: Said


@dataclass(frozen=True)
class Report:
    """What was found in one file; `document` is what the signature covered, None where it does not hold."""

    file: str
    steps: tuple[Step, ...]
    document: Json | None = None
    verdict: Said | None = None

    @property
    def fails(self) -> tuple[str, ...]:
        """Give the names of the steps that do not hold."""
        return tuple(step.name for step in self.steps if step.result == "fails")


@dataclass(frozen=True)
class _Table:
    """Everything that lies on the table: what is known, and what was given together."""

    known: Known
    keys: tuple[Statement, ...]
    loose_keys: tuple[Statement, ...]
    passports: tuple[GivenPassport, ...]
    pictures: tuple[tuple[str, str], ...]


def verify(files: Sequence[File], known: Known) -> tuple[Report, ...]:
    """Check files that were given together; every passport and statement, and what is neither, gets its report."""
    passports: list[GivenPassport] = []
    stated: list[tuple[str, Statement]] = []
    pictures: list[tuple[str, str]] = []
    broken: list[Report] = []
    for file in files:
        try:
            document = document_of(file)
            if document is None:
                pictures.append((file.name, digest(file.content)))
            elif is_statement(document):
                stated.append((file.name, statement_of(document)))
            else:
                passports.append(passport_in(file.name, document))
        except RefusedError as refused:
            broken.append(_broken(file.name, refused.said))
    loose = tuple({statement.digest: statement for _, statement in stated}.values())
    keys = extended(known.statements, loose)
    table = _Table(known, keys, loose, tuple(passports), tuple(pictures))
    return (
        *(_with_verdict(_report(table, passport), passport, table) for passport in passports),
        *(_statement_report(table, name, statement) for name, statement in stated),
        *broken,
        *_strays(table),
    )


def _broken(file: str, said: Said) -> Report:
    """Report a file that is refused; what is wrong with a statement's signature is said under that name."""
    name = said.code.partition(".")[0]
    form = Step("form", "holds", say("form.statement"))
    after = Step("signature", "unchecked", say("signature.unchecked"))
    steps = (Step("form", "fails", said), after) if name == "form" else (form, Step(name, "fails", said))
    return Report(file, steps, verdict=_do_not_rely(steps))


def _do_not_rely(steps: Iterable[Step]) -> Said:
    failing = (say(f"step.{step.name}").text for step in steps if step.result == "fails")
    return say("verdict.fails", steps=", ".join(failing))


def _report(table: _Table, given: GivenPassport) -> Report:
    form = Step("form", "holds", say("form.holds"))
    checked = given.checked
    if checked.fault is not None:
        rest = (Step(name, "unchecked", say(f"{name}.unchecked")) for name in AFTER_SIGNATURE)
        return Report(given.file, (form, Step("signature", "fails", checked.fault), *rest))
    code = "signature.added" if checked.has_additions else "signature.holds"
    signature = Step("signature", "holds", say(code, day=given.says.day))
    key = _key(table, given)
    steps = (form, signature, key, _issues(table, given), _pictures(table, given), _newest(table, given, key))
    return Report(given.file, steps, checked.document)


def _with_verdict(report: Report, given: GivenPassport, table: _Table) -> Report:
    results = {step.name: step.result for step in report.steps}
    signer = {"workshop": table.known.workshop, "fingerprint": fingerprint(given.checked.did)}
    if report.fails == ("newest",) and report.steps[-1].said.code != "newest.unlisted" and results["key"] == "holds":
        verdict = say("verdict.superseded", **signer)
    elif report.fails:
        verdict = _do_not_rely(report.steps)
    elif results["key"] == results["newest"] == "holds":
        verdict = say("verdict.holds", day=table.known.day, **signer)
    else:
        verdict = say("verdict.unchecked", **signer)
    return replace(report, verdict=verdict)


def _key(table: _Table, given: GivenPassport) -> Step:
    did, day = given.checked.did, given.says.day
    if given.says.issuer != did:
        return Step("key", "fails", say("key.issuer"))
    named = fingerprint(did)
    if not table.keys:
        return Step("key", "unchecked", say(_loose_code(table, did), fingerprint=named))
    found = next((statement for statement in table.keys if statement.did == did), None)
    if found is None:
        return Step("key", "fails", say("key.foreign", fingerprint=named, workshop=table.known.workshop))
    if day < found.day:
        return Step("key", "fails", say("key.early", fingerprint=named, day=day, since=found.day))
    after = next((statement for statement in table.keys if statement.number == found.number + 1), None)
    if after is not None and day > after.day:
        return Step("key", "fails", say("key.late", fingerprint=named, day=day, until=after.day))
    return Step("key", "holds", _key_words(found))


def _loose_code(table: _Table, did: str) -> str:
    """Tell whether statements that were given, of nobody knows whose, hold together and name the key."""
    try:
        is_there = any(statement.did == did for statement in chain(table.loose_keys))
    except RefusedError:
        is_there = False
    return "key.given" if is_there else "key.unknown"


def _key_words(found: Statement) -> Said:
    facts = {"fingerprint": found.fingerprint, "workshop": found.workshop, "since": found.day}
    if found.number == 1:
        return say("key.first", **facts)
    return say("key.afresh" if found.begins else "key.holds", number=str(found.number), **facts)


def _issues(table: _Table, given: GivenPassport) -> Step:
    """Walk back from issue to issue as far as they are here."""
    by_digest = {each.digest: each for each in table.passports if each.checked.document is not None}
    here, count = given, 0
    while here.says.before:
        number = here.says.number - 1
        before = by_digest.get(here.says.before)
        if number < 1 or (before and not _is_before(before, here)):
            return Step("issues", "fails", say("issues.odd"))
        if before is None:
            return _issue_not_here(table, here)
        if table.keys and before.checked.did not in {statement.did for statement in table.keys}:
            return Step("issues", "fails", say("issues.foreign", number=str(number)))
        here, count = before, count + 1
    if here.says.number != 1:
        return Step("issues", "fails", say("issues.odd"))
    return Step("issues", "holds", say("issues.all", count=str(count)) if count else say("issues.first"))


def _is_before(before: GivenPassport, here: GivenPassport) -> bool:
    said, after = before.says, here.says
    return said.stem == after.stem and said.number == after.number - 1 and said.day <= after.day


def _issue_not_here(table: _Table, here: GivenPassport) -> Step:
    number = here.says.number - 1
    listed = table.known.issues.get(here.says.before)
    if listed is not None:
        result: Result = "holds" if listed.number == number else "fails"
        code = "issues.listed" if listed.number == number else "issues.odd"
        return Step("issues", result, say(code, number=str(number), day=listed.day))
    others = {(each.says.stem, each.says.number) for each in table.passports if each.checked.document is not None}
    if (here.says.stem, number) in others:
        return Step("issues", "fails", say("issues.other", number=str(number)))
    return Step("issues", "unchecked", say("issues.missing", number=str(number)))


def _pictures(table: _Table, given: GivenPassport) -> Step:
    wanted, vouched_for = given.says.pictures, _vouched_for(table, given)
    for name, content in table.pictures:
        if name in wanted and content not in vouched_for:
            return Step("pictures", "fails", say("pictures.wrong", name=name))
    here = {content for _, content in table.pictures}
    found, count = sum(signed in here for signed in wanted.values()), len(wanted)
    if not wanted:
        return Step("pictures", "holds", say("pictures.none"))
    if found == count:
        return Step("pictures", "holds", say("pictures.all", count=str(count)))
    code = "pictures.some" if found else "pictures.missing"
    return Step("pictures", "unchecked", say(code, found=str(found), count=str(count)))


def _vouched_for(table: _Table, given: GivenPassport) -> frozenset[str]:
    """Give the digests of the pictures in a passport and in the other issues here, which may reuse a name."""
    issues = (each for each in table.passports if each.says.stem == given.says.stem and _counts(table, each))
    return frozenset(signed for each in (given, *issues) for signed in each.says.pictures.values())


def _newest(table: _Table, given: GivenPassport, key: Step) -> Step:
    newer = [each for each in table.passports if _supersedes(table, each, given)]
    if newer:
        last = max(newer, key=lambda each: each.says.number)
        return Step("newest", "fails", say("newest.given", number=str(last.says.number), day=last.says.day))
    if key.result != "holds":
        return Step("newest", "unchecked", say("newest.unknown"))
    listed, day = table.known.issues.get(given.digest), table.known.day
    if listed is None:
        is_too_old = given.says.day < day
        return Step("newest", "fails" if is_too_old else "unchecked",
                    say("newest.unlisted" if is_too_old else "newest.since", day=day))  # fmt: skip
    if listed.newest_number > given.says.number:
        return Step("newest", "fails", say("newest.later", number=str(listed.newest_number), day=listed.newest_day))
    return Step("newest", "holds", say("newest.holds", day=day))


def _supersedes(table: _Table, newer: GivenPassport, given: GivenPassport) -> bool:
    is_later = newer.says.stem == given.says.stem and newer.says.number > given.says.number
    return is_later and _counts(table, newer)


def _counts(table: _Table, other: GivenPassport) -> bool:
    """Tell whether a passport may say something about another one: not if altered, nor if somebody else's."""
    return other.checked.document is not None and _key(table, other).result != "fails"


def _statement_report(table: _Table, file: str, statement: Statement) -> Report:
    form = Step("form", "holds", say("form.statement"))
    signature = Step("signature", "holds", say("signature.holds", day=statement.day))
    named = {"fingerprint": statement.fingerprint, "workshop": table.known.workshop}
    if not table.keys:
        key = Step("key", "unchecked", say("key.given", **named))
    elif any(each.digest == statement.digest for each in table.keys):
        key = Step("key", "holds", _key_words(statement))
    else:
        key = Step("key", "fails", say("key.foreign", **named))
    steps = (form, signature, key)
    return Report(file, steps, verdict=_do_not_rely(steps) if key.result == "fails" else None)


def _strays(table: _Table) -> Iterable[Report]:
    """Report the files that no passport speaks of, be it by their name or by what is in them."""
    spoken_of = {word for each in table.passports for picture in each.says.pictures.items() for word in picture}
    for name, content in table.pictures:
        if name not in spoken_of and content not in spoken_of:
            steps = (Step("form", "unchecked", say("form.picture")), Step("pictures", "fails", say("pictures.stray")))
            yield Report(name, steps, verdict=_do_not_rely(steps))
