"""What is private and may get out by another way than the pages: by public words, by version control.

Words things for a maker to decide; what may be published is decided by the marks of the fields.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from passport.findings import Code, Finding, Path
from passport.git import tracked
from passport.records.catalogue import Archive
from passport.records.model.workshop import Private
from passport.records.printed import FILE_NAME as PRINTED
from passport.records.public import public_texts

MAIL = re.compile(r"[\w.+-]+@[\w-]+\.\w+")
# Nine digits or more with an area code: no measure and no date is written so.
PHONE = re.compile(r"(?<![\w.])(?:\+|0)\d(?:[ /()-]{0,2}\d){7,}(?!\w)")
SIGN = r"(?:€|\$|£|(?:EUR|USD|GBP|CHF|AUD|CAD|JPY|SEK|NOK|DKK|PLN|CZK)\b)"
PRICE = re.compile(rf"(?<!\w){SIGN} ?\d|\d ?{SIGN}")
PATTERNS = ((MAIL, "a mail address"), (PHONE, "a telephone number"), (PRICE, "a price"))
# A single short name stands in too many words.
SHORTEST_NAME = 4


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Look for contacts and prices in the public words of an instrument, and for names out of its private record."""
    filed = archive.instruments[stem]
    if filed.record.published == "shop_only":
        return
    private = archive.private[stem].record if stem in archive.private else None
    yield from _told(filed.file, public_texts(filed.record), _holders(private) if private else ())


def of_others(archive: Archive) -> Iterator[Finding]:
    """Look for contacts and prices in the public words of lots, batches and models, and for private files in git."""
    for folder in (archive.wood, archive.varnish, archive.models):
        for filed in folder.values():
            yield from _told(filed.file, public_texts(filed.record), ())
    workshop = archive.workshop
    kept = () if workshop.record.private_in_git else tracked(archive.root, "private", PRINTED)
    if kept:
        what = f"version control keeps {len(kept)} private files of this archive, {kept[0]} first"
        todo = (
            "take them out of it (git rm --cached -r private) and name them in .gitignore; whoever has a copy of the "
            "repository has them still. If it is meant so, write private_in_git: and why"
        )
        yield Finding(Code.PRIVATE_IN_GIT, workshop.file, what, todo)


def _holders(private: Private) -> tuple[str, ...]:
    """Give the names of those who had the instrument; of a person the family name alone too."""
    names = [holder.name for holder in (*(private.owners or ()), *(private.renters or ())) if holder.name]
    families = [words[-1] for name in names if len(words := name.split()) == len(("first", "family"))]
    return tuple(dict.fromkeys(name for name in (*names, *families) if len(name) >= SHORTEST_NAME))


def _told(file: str, texts: Iterable[tuple[Path, str]], names: tuple[str, ...]) -> Iterator[Finding]:
    for path, text in texts:
        told = [what for pattern, what in PATTERNS if pattern.search(text)]
        # The name is not repeated: what a terminal or a log shows may be seen by others.
        told += ["a name out of its private record"] if any(_names(name, text) for name in names) else []
        if told:
            what = f"this goes onto the public page and holds {' and '.join(told)}"
            todo = "write it into the private record, or into a field or an entry of the shop’s"
            yield Finding(Code.PRIVATE_IN_TEXT, file, what, todo, path)


def _names(name: str, text: str) -> bool:
    return re.search(rf"(?<!\w){re.escape(name)}(?!\w)", text, re.IGNORECASE) is not None
