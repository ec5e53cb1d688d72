"""Where a passphrase comes from, and where the locked keys lie: options of the commands that sign.

A passphrase is never an argument, which other programs could see, and is never printed.
"""

from __future__ import annotations

import os
from pathlib import Path

import click

from passport.credentials.secret import KeyFolder, refuse_weak
from passport.errors import PassportError
from passport.publish import MARKER

ELSEWHERE = "keep private keys in another place"
KEYS = click.option(
    "--keys", "folder", type=click.Path(path_type=Path), envvar="PASSPORT_KEYS",
    help="The folder of the locked private keys, outside the records; or set PASSPORT_KEYS.",
)  # fmt: skip
PASSPHRASE_FD = click.option(
    "--passphrase-fd", "descriptor", type=click.IntRange(0), help="Read the passphrase from this file descriptor."
)


def key_folder(folder: Path | None, root: Path) -> KeyFolder:
    """Give the folder of the locked keys; PassportError where it lies inside the archive or inside a site."""
    path = folder or Path(click.get_app_dir("instrument-passport")) / "keys"
    refuse_open_place(path, root)
    return KeyFolder(path)


def refuse_open_place(path: Path, root: Path) -> None:
    """Raise PassportError for what is secret and would lie where others look, or where a build clears it away."""
    whole = path.resolve()
    if whole.is_relative_to(root.resolve()):
        raise PassportError(f"“{path}” lies in the records, which are copied and shown", ELSEWHERE)
    site = next((folder for folder in whole.parents if (folder / MARKER).is_file()), None)
    if site is not None:
        raise PassportError(f"“{path}” lies in the site “{site.name}”, which others may see", ELSEWHERE)


def passphrase(descriptor: int | None, *, is_new: bool = False) -> str:
    """Give the passphrase, from whoever types or from a file descriptor; a new one is asked for twice."""
    words = _read(descriptor) if descriptor is not None else _asked(is_new=is_new)
    if is_new:
        refuse_weak(words)
    return words


def _read(descriptor: int) -> str:
    try:
        with os.fdopen(descriptor, encoding="utf-8", closefd=False) as file:
            return file.readline().rstrip("\r\n")
    except (OSError, UnicodeDecodeError) as error:
        raise PassportError(f"no passphrase can be read from file descriptor {descriptor}", "open it first") from error


def _asked(*, is_new: bool) -> str:
    words: str = click.prompt(
        "Passphrase for the private keys", hide_input=True, confirmation_prompt=is_new and "The same again", err=True
    )
    return words
