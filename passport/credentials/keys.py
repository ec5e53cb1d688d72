"""The workshop's row of keys: the first, those that follow, and a new beginning where all is lost.

Makes a key and the statement about it; the key that is to follow is made with it, and named in it by its digest.
"""

from __future__ import annotations

from pathlib import Path

from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from passport.credentials.integrity import did_of_key, sign
from passport.credentials.issued import statement_path, statements, text_of
from passport.credentials.multibase import fingerprint
from passport.credentials.paper import ROWS, Sheet, backup, part_of
from passport.credentials.payload import key_statement, moment
from passport.credentials.secret import KeyFolder, key_from, new_key, secret_of
from passport.credentials.statements import Statement, digest_of_key, statement_of
from passport.errors import PassportError
from passport.files import write_new
from passport.stocks import Paper

NONE_YET = "this workshop has no key to sign with yet"


def present(root: Path) -> Statement:
    """Give the statement about the key that signs now; PassportError while there is none."""
    known = statements(root)
    if not known:
        raise PassportError(NONE_YET, "make one: passport key new")
    return known[-1]


def signing_key(root: Path) -> str:
    """Give what is printed of the key that signs now; nothing while there is none."""
    known = statements(root)
    return known[-1].fingerprint if known else ""


def begin(root: Path, folder: KeyFolder, passphrase: str, workshop: str, day: str, *, afresh: bool) -> Statement:
    """Make the first key; or, where the keys before are lost for good, one that begins afresh."""
    known = statements(root)
    if known and not afresh:
        todo = "follow it with: passport key succeed; if it and the key to follow are lost: passport key new --afresh"
        raise PassportError(f"there is a key already, {known[-1].fingerprint}", todo)
    if known:
        _refuse_past(known[-1], day)
    key = new_key()
    folder.keep(fingerprint(did_of_key(key)), key, passphrase)
    return _stated(root, folder, passphrase, key, workshop, day, number=len(known) + 1, before="")


def succeed(root: Path, folder: KeyFolder, passphrase: str, workshop: str, day: str) -> Statement:
    """Let the key made for it follow the present one, which has named it; the new key speaks for itself."""
    now = present(root)
    _refuse_past(now, day)
    if not now.next_fingerprint:
        raise PassportError("the present key names none to follow it", "begin afresh: passport key new --afresh")
    key = folder.fetch(now.next_fingerprint, "", passphrase)
    if digest_of_key(did_of_key(key)) != now.next_key:
        raise PassportError("the key to follow is not the one that was named", "bring it back: passport key restore")
    return _stated(root, folder, passphrase, key, workshop, day, number=now.number + 1, before=now.digest)


def _stated(
    root: Path,
    folder: KeyFolder,
    passphrase: str,
    key: Ed25519PrivateKey,
    workshop: str,
    day: str,
    *,
    number: int,
    before: str,
) -> Statement:
    """Make the key to follow, then put down the statement: so no statement names a key that nobody has."""
    following = new_key()
    next_did = did_of_key(following)
    folder.keep(fingerprint(next_did), following, passphrase)
    unsigned = key_statement(
        issuer=did_of_key(key),
        workshop=workshop,
        day=day,
        did=did_of_key(key),
        number=number,
        next_key=digest_of_key(next_did),
        before=before,
    )
    signed = sign(unsigned, key, moment(day))
    write_new(statement_path(root, number, day), text_of(signed))
    return statement_of(signed)


def _refuse_past(now: Statement, day: str) -> None:
    if day < now.day:
        what = f"this computer says it is {day}, but the present key was made on {now.day}"
        raise PassportError(what, "set the computer's clock; nothing was written")


def on_paper(root: Path, folder: KeyFolder, passphrase: str, paper: Paper) -> bytes:
    """Give the paper backup of the keys that are here: the one that signs now and the one to follow."""
    now = present(root)
    wanted = ((now.fingerprint, now.did, False), (now.next_fingerprint, "", True))
    sheets = [
        Sheet(name, secret_of(folder.fetch(name, did, passphrase)), is_next)
        for name, did, is_next in wanted
        if name and folder.holds(name)
    ]
    if not sheets:
        raise PassportError(
            f"neither the present key nor the one to follow is in “{folder.path}”", "name its folder: --keys"
        )
    return backup(sheets, now.workshop, paper)


def restore(root: Path, folder: KeyFolder, passphrase: str, rows: list[str]) -> str:
    """Keep a key again that was typed from its paper; gives its fingerprint."""
    if len(rows) != ROWS:
        raise PassportError(f"a key has {ROWS} rows", "type all of them")
    key = key_from(b"".join(part_of(number, row) for number, row in enumerate(rows, start=1)))
    name = fingerprint(did_of_key(key))
    if name not in {
        known for statement in statements(root) for known in (statement.fingerprint, statement.next_fingerprint)
    }:
        raise PassportError(f"this is the key {name}, which is none of this workshop's", "take the right sheet")
    folder.keep(name, key, passphrase)
    return name
