"""`passport key`: keys made, listed, followed, printed and typed in again, and what goes wrong said plainly."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest

from passport.credentials.issued import statements
from passport.records import catalogue
from tests.cli.running import Run
from tests.cli.secrets import WORDS, signing

KEYS = Path("records") / "issued" / "keys"


def today(monkeypatch: pytest.MonkeyPatch, day: str) -> None:
    class Calendar(catalogue.date):
        @classmethod
        def today(cls) -> Calendar:
            return cls.fromisoformat(day)

    monkeypatch.setattr(catalogue, "date", Calendar)


def test_a_key_is_made_with_one_to_follow_and_no_secret_is_printed(shop: Path, run: Run) -> None:
    done = signing(run, "key", "new")
    assert done.code == 0
    (statement,) = statements(shop / "records")
    assert done.out.strip().startswith(KEYS.as_posix())
    assert statement.fingerprint in done.err
    assert sorted(path.stem for path in (shop / "keys").iterdir()) == sorted(
        name.replace(" ", "") for name in (statement.fingerprint, statement.next_fingerprint)
    )
    assert WORDS not in done.out + done.err
    assert not any(b"PRIVATE" in path.read_bytes() for path in (shop / "records").rglob("*") if path.is_file())
    assert run("check", "--strict").code == 0


def test_the_key_to_follow_takes_over_and_all_are_listed(keyed: Path, run: Run) -> None:
    (first,) = statements(keyed / "records")
    assert signing(run, "key", "succeed").code == 0
    assert statements(keyed / "records")[0].did == first.did
    assert statements(keyed / "records")[1].fingerprint == first.next_fingerprint
    listed = run("key", "list", "--keys", "keys").out.splitlines()
    assert [line.split()[0] for line in listed[:2]] == ["1", "2"]
    assert len(listed) == 3


def test_a_lost_key_is_followed_from_paper(keyed: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    (first,) = statements(keyed / "records")
    assert signing(run, "key", "backup", "--out", "paper.pdf").out.strip() == "paper.pdf"
    sheet = pypdf.PdfReader(io.BytesIO((keyed / "paper.pdf").read_bytes())).pages[1].extract_text()
    rows = re.findall(r"^[1-8] ((?:[0-9a-f] ?){10})$", sheet, re.MULTILINE)
    for path in (keyed / "keys").iterdir():
        path.unlink()
    assert "restore" in signing(run, "key", "succeed").err
    # Somebody slips in the first row and types it again.
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(["0000 0000 00", *rows]) + "\n"))
    assert signing(run, "key", "restore").code == 0
    assert signing(run, "key", "succeed").code == 0
    after = statements(keyed / "records")
    assert [made.did for made in after] == [first.did, after[1].signer]
    assert after[1].did == after[1].signer


def test_a_paper_of_another_workshop_is_refused(shop: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    from passport.credentials.paper import rows_of  # noqa: PLC0415 - used here alone

    signing(run, "key", "new")
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join(rows_of(bytes(32))) + "\n"))
    done = signing(run, "key", "restore")
    assert done.code == 1
    assert len(list((shop / "keys").iterdir())) == 2


@pytest.mark.parametrize(
    ("words", "arguments"),
    [("another passphrase", ("key", "succeed")), ("another passphrase", ("key", "backup")), (WORDS, ("key", "new"))],
)
def test_a_wrong_passphrase_or_a_second_first_key_changes_nothing(
    keyed: Path, run: Run, words: str, arguments: tuple[str, ...]
) -> None:
    before = sorted(path for path in keyed.rglob("*"))
    done = signing(run, *arguments, words=words)
    assert done.code == 1
    assert "→" in done.err
    assert sorted(path for path in keyed.rglob("*")) == before


def test_a_key_may_begin_afresh_when_it_is_asked_for(keyed: Path, run: Run) -> None:
    assert signing(run, "key", "new", "--afresh").code == 0
    assert [made.begins for made in statements(keyed / "records")] == [True, True]


def test_a_clock_in_the_past_is_refused(keyed: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    today(monkeypatch, "2001-01-01")
    for command in (("succeed",), ("new", "--afresh")):
        done = signing(run, "key", *command)
        assert done.code == 1
        assert "2001-01-01" in done.err
    assert len(statements(keyed / "records")) == 1


def test_an_altered_statement_is_found(keyed: Path, run: Run) -> None:
    (path,) = (keyed / KEYS).iterdir()
    path.write_bytes(path.read_bytes().replace(b"Tamm & Penn", b"Tamm & Venn"))
    done = run("key", "list", "--keys", "keys")
    assert done.code == 1
    assert "backup" in done.err


@pytest.mark.parametrize("words", ["short", ""])
def test_a_short_passphrase_makes_no_key(shop: Path, run: Run, words: str) -> None:
    assert signing(run, "key", "new", words=words).code == 1
    assert not (shop / "keys").exists()


def test_keys_and_their_paper_stay_out_of_the_records(shop: Path, run: Run) -> None:
    assert signing(run, "key", "new", keys=shop / "records" / "keys").code == 1
    signing(run, "key", "new")
    assert signing(run, "key", "backup", "--out", "records/paper.pdf").code == 1
    assert not list((shop / "records").rglob("*.pdf"))


def test_keys_and_their_paper_stay_out_of_a_site(shop: Path, run: Run) -> None:
    run("build")
    for command in ("new", "restore"):
        done = signing(run, "key", command, keys=shop / "site" / "keys")
        assert done.code == 1
        assert "lies in the site" in done.err
    signing(run, "key", "new")
    assert signing(run, "key", "backup", "--out", "site/paper.pdf").code == 1
    assert not [path for path in (shop / "site").rglob("*") if path.suffix in (".pem", ".pdf")]


@pytest.mark.usefixtures("shop")
def test_a_descriptor_that_is_not_open_is_said_to_be_so(run: Run) -> None:
    done = run("key", "new", "--keys", "keys", "--passphrase-fd", "987")
    assert done.code == 1
    assert "987" in done.err


@pytest.mark.usefixtures("shop")
def test_nothing_is_listed_while_there_is_no_key(run: Run) -> None:
    done = run("key", "list", "--keys", "keys")
    assert (done.code, done.out) == (1, "")
    assert "passport key new" in done.err
