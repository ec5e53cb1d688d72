"""`passport issue`: what is public, signed, frozen beside its pictures, and never written again."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pypdf
import pytest

from passport.credentials.integrity import check
from passport.credentials.issued import Issue, issue_at, places_of, statements
from passport.credentials.multibase import digest
from passport.credentials.strict import canonical, read
from tests import archives
from tests.archives import LISTED, OTHER, SECRET, SHOP_ONLY, TAIL, UNLISTED, contents
from tests.cli.running import Run
from tests.cli.secrets import WORDS, signing
from tests.cli.test_key import today

ISSUED = Path("records") / "issued"


def issues(shop: Path, stem: str) -> list[Issue]:
    return [issue_at(place) for place in places_of(shop / "records", stem)]


def changed(shop: Path, *, old: str, new: str) -> None:
    archives.write(shop / "records", {f"instruments/{LISTED}.yml": archives.VIOLIN.replace(old, new)})


def test_what_is_public_is_signed_and_lies_with_its_pictures(keyed: Path, run: Run) -> None:
    done = signing(run, "issue", "zvs-pyj-h")
    assert done.code == 0
    path = keyed / done.out.strip()
    assert path.parent.parent == keyed / ISSUED / LISTED
    found = check(read(path.read_bytes()))
    (key,) = statements(keyed / "records")
    assert (found.fault, found.did) == (None, key.did)
    assert key.fingerprint in done.err
    assert found.document is not None
    pictures = found.document["credentialSubject"]["pictures"]
    assert len(pictures) == 1
    for picture in pictures:
        assert digest((path.parent / picture["name"]).read_bytes()) == picture["digestMultibase"]
    assert len(list(path.parent.iterdir())) == 1 + len(pictures)
    assert run("check", "--strict").code == 0


@pytest.mark.parametrize("stem", [LISTED, UNLISTED])
def test_nothing_of_the_shops_lies_in_what_is_issued(keyed: Path, run: Run, stem: str) -> None:
    assert signing(run, "issue", stem).code == 0
    for name, content in contents(keyed / ISSUED).items():
        assert SECRET.encode() not in content, name
        assert TAIL.encode() not in content, name
        assert WORDS.encode() not in content, name


def test_without_a_change_nothing_is_issued_again(keyed: Path, run: Run) -> None:
    first = signing(run, "issue", LISTED)
    before = contents(keyed / ISSUED)
    again = run("issue", LISTED, "--keys", "keys")
    assert (again.code, again.out) == (0, first.out)
    assert again.err
    assert contents(keyed / ISSUED) == before


def test_a_change_makes_the_next_issue_which_names_the_one_before(keyed: Path, run: Run) -> None:
    signing(run, "issue", LISTED)
    before = contents(keyed / ISSUED / LISTED)
    changed(keyed, old="328", new="328.0")
    assert signing(run, "issue", LISTED).code == 0
    first, second = issues(keyed, LISTED)
    assert second.document["issueBefore"] == {"digestMultibase": digest(canonical(first.document))}
    assert (first.place.number, second.place.number) == (1, 2)
    assert contents(keyed / ISSUED / LISTED).items() >= before.items()


def test_a_new_key_is_reason_for_a_new_issue(keyed: Path, run: Run) -> None:
    signing(run, "issue", OTHER)
    signing(run, "key", "succeed")
    assert signing(run, "issue", OTHER).code == 0
    assert len(issues(keyed, OTHER)) == 2


def test_what_is_kept_in_the_shop_is_not_issued(keyed: Path, run: Run) -> None:
    done = signing(run, "issue", SHOP_ONLY)
    assert done.code == 1
    assert "publish" in done.err
    (keyed / "records" / "private" / f"{UNLISTED}.yml").unlink()
    assert f"passport page {UNLISTED}" in signing(run, "issue", UNLISTED).err
    assert {path.name for path in (keyed / ISSUED).iterdir()} == {"keys"}


@pytest.mark.parametrize("broken", [f"instruments/{LISTED}.yml", "wood/SP09B.yml"])
def test_a_record_with_an_error_is_not_issued_and_the_error_is_shown(keyed: Path, run: Run, broken: str) -> None:
    path = keyed / "records" / broken
    path.write_text(path.read_text(encoding="utf-8") + "nonsense: 1\n", encoding="utf-8")
    done = signing(run, "issue", LISTED)
    assert (done.code, done.out) == (1, "")
    assert "nonsense" in done.err
    # Another one's error keeps nobody else from a passport.
    if broken.startswith("instruments"):
        assert signing(run, "issue", OTHER).code == 0


def test_without_a_key_or_with_a_wrong_passphrase_nothing_is_issued(shop: Path, run: Run) -> None:
    assert "passport key new" in signing(run, "issue", LISTED).err
    signing(run, "key", "new")
    assert signing(run, "issue", LISTED, words="another passphrase").code == 1
    assert signing(run, "issue", LISTED, keys=shop / "elsewhere").code == 1
    assert {path.name for path in (shop / ISSUED).iterdir()} == {"keys"}


def test_a_clock_in_the_past_issues_nothing(keyed: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    signing(run, "issue", LISTED)
    changed(keyed, old="328", new="328.0")
    today(monkeypatch, "2025-01-01")
    done = signing(run, "issue", LISTED)
    assert done.code == 1
    assert "2025-01-01" in done.err
    assert len(issues(keyed, LISTED)) == 1


def test_an_altered_issue_is_not_built_upon(keyed: Path, run: Run) -> None:
    path = keyed / signing(run, "issue", LISTED).out.strip()
    path.write_bytes(path.read_bytes().replace(b"328 mm", b"329 mm"))
    done = signing(run, "issue", LISTED)
    assert done.code == 1
    assert "altered" in done.err
    assert len(list((keyed / ISSUED / LISTED).iterdir())) == 1


def test_a_missing_issue_is_not_passed_over(keyed: Path, run: Run) -> None:
    folder = (keyed / signing(run, "issue", LISTED).out.strip()).parent
    folder.rename(folder.with_name("002-2026-01-01"))
    (folder.with_name("002-2026-01-01") / f"{LISTED}-001.json").rename(
        folder.with_name("002-2026-01-01") / f"{LISTED}-002.json"
    )
    done = signing(run, "issue", LISTED)
    assert done.code == 1
    assert "issue 1" in done.err


def test_the_passport_is_text_that_a_person_can_read(keyed: Path, run: Run) -> None:
    text = (keyed / signing(run, "issue", LISTED).out.strip()).read_text(encoding="utf-8")
    assert "\\u" not in text
    assert len(text.splitlines()) > 50
    assert json.loads(text)["credentialSubject"]["number"] == LISTED


def test_the_card_that_is_printed_names_the_key(keyed: Path, run: Run) -> None:
    (key,) = statements(keyed / "records")
    assert run("label", LISTED, "--kind", "card", "--out", "card.pdf").code == 0
    text = pypdf.PdfReader(io.BytesIO((keyed / "card.pdf").read_bytes())).pages[0].extract_text()
    assert key.fingerprint in text.replace("\u00a0", " ")
