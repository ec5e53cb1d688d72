"""Private keys are locked so that other programs can unlock them, and nobody else can read them."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat, load_pem_private_key

from passport.credentials import secret
from passport.credentials.secret import KeyFolder, key_from, locked, new_key, refuse_weak, secret_of, unlocked
from passport.errors import PassportError

WORDS = "spruce maple ebony glue"
KEY = key_from(bytes(range(32)))
NAME = "AAAA BBBB CCCC DDDD EEEE"


def test_a_locked_key_is_opened_by_its_passphrase_alone() -> None:
    made = locked(KEY, WORDS)
    assert secret_of(unlocked(made, WORDS)) == bytes(range(32))
    with pytest.raises(ValueError, match=r"."):
        unlocked(made, WORDS + " ")
    assert made != locked(KEY, WORDS)


def test_the_library_reads_it_by_itself() -> None:
    key = load_pem_private_key(locked(KEY, WORDS), WORDS.encode())
    assert key.private_bytes(Encoding.Raw, PrivateFormat.Raw, NoEncryption()) == bytes(range(32))


@pytest.mark.skipif(shutil.which("openssl") is None, reason="no openssl on this machine")
def test_openssl_reads_it_and_says_how_it_is_locked(tmp_path: Path) -> None:
    path = tmp_path / "key.pem"
    path.write_bytes(locked(KEY, WORDS))
    read = subprocess.run(  # noqa: S603 - our own arguments
        ["openssl", "pkey", "-in", path, "-passin", f"pass:{WORDS}", "-outform", "DER"],  # noqa: S607 - found by its name
        capture_output=True, check=True,
    )  # fmt: skip
    assert read.stdout.endswith(bytes(range(32)))
    said = subprocess.run(["openssl", "asn1parse", "-in", path], capture_output=True, text=True, check=True)  # noqa: S603, S607
    assert ":PBES2" in said.stdout
    assert ":1.3.6.1.4.1.11591.4.11" in said.stdout or "scrypt" in said.stdout  # RFC 7914, section 7
    assert ":aes-256-cbc" in said.stdout


def test_an_accent_typed_as_two_signs_is_the_same_passphrase() -> None:
    assert unlocked(locked(KEY, "érable à la lune"), "e\u0301rable a\u0300 la lune")


@pytest.mark.parametrize(
    "content", [b"", b"nothing", KEY.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())]
)
def test_a_file_that_is_no_locked_key_is_said_to_be_none(tmp_path: Path, content: bytes) -> None:
    folder = KeyFolder(tmp_path)
    folder.file_of(NAME).write_bytes(content)
    with pytest.raises(PassportError, match=NAME):
        folder.fetch(NAME, "", WORDS)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_only_its_owner_may_read_a_kept_key(tmp_path: Path) -> None:
    folder = KeyFolder(tmp_path / "keys")
    folder.keep(NAME, KEY, WORDS)
    assert stat.S_IMODE(folder.file_of(NAME).stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.path.stat().st_mode) == 0o700


def test_a_key_is_never_written_over(tmp_path: Path) -> None:
    folder = KeyFolder(tmp_path)
    folder.keep(NAME, KEY, WORDS)
    before = folder.file_of(NAME).read_bytes()
    with pytest.raises(PassportError, match="there already"):
        folder.keep(NAME, new_key(), WORDS)
    assert folder.file_of(NAME).read_bytes() == before


def test_a_missing_key_and_another_key_are_told_apart(tmp_path: Path) -> None:
    folder = KeyFolder(tmp_path)
    with pytest.raises(PassportError, match="is not in") as missing:
        folder.fetch(NAME, "", WORDS)
    assert "restore" in missing.value.todo
    folder.keep(NAME, KEY, WORDS)
    with pytest.raises(PassportError, match="another key"):
        folder.fetch(NAME, "did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2", WORDS)


def test_a_short_passphrase_is_refused() -> None:
    with pytest.raises(PassportError):
        refuse_weak("a" * (secret.SHORTEST_PASSPHRASE - 1))
    refuse_weak("a" * secret.SHORTEST_PASSPHRASE)
