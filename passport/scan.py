"""A last look at what goes out, for words that are the shop's alone.

May see the records and the finished files, and changes neither. It is a backstop: what may go out is decided by the
marks of the fields, in `records.public`; here nothing is known of them.
"""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from passport.findings import Path as Place
from passport.kept import Notebook, digest
from passport.pdf import words_of_pdf
from passport.pictures import hidden_words
from passport.records.catalogue import Archive
from passport.records.dates import Date
from passport.records.model.marks import Record
from passport.records.model.values import Value
from passport.records.vocabulary import vocabulary
from passport.records.walk import fields_of
from passport.reference import cautions, kinds, terms, woods
from passport.spread import spread
from passport.units import Amount
from passport.views.visible import visible

# What is shorter stands by chance in many a page: a year, a size, a first name.
SHORTEST = 6
TAG = re.compile(r"<[^>]*>")
IN_QUOTES = re.compile(r"""=\s*(?:"([^"]*)"|'([^']*)')""")
WORD = re.compile(r"\w+")
ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})")
# A number is set with narrow spaces between its thousands.
IN_A_NUMBER = re.compile(r"(?<=\d)[\u00a0\u2009\u202f](?=\d)")
MARKED_UP = {".html", ".xml", ".svg"}
PLAIN = {".json", ".js", ".md", ".txt", ".csv", ".css", ""}
PICTURES = {".jpg", ".jpeg", ".png", ".webp", ".gif"}


@dataclass(frozen=True)
class Hidden:
    """What a record holds that the public may not see: its file, and each field with what stands in it.

    A record that `is_private` holds nothing but what must not get out.
    """

    file: str
    texts: tuple[tuple[str, str], ...]
    is_private: bool = False


@dataclass(frozen=True)
class Hit:
    """A file that was to go out, and the record and field whose words stand in it; the words are not repeated."""

    outgoing: str
    record: str
    field: str


@dataclass(frozen=True)
class Scanned:
    """What was looked for in how many files, what could not be looked for, and what was found."""

    files: int
    unread: int
    looked_for: int
    too_short: int
    in_own_words: int
    hits: tuple[Hit, ...]

    def __str__(self) -> str:
        """Say it as a workshop owner wants to hear it."""
        found = f"{len(self.hits)} of them found" if self.hits else "none of them found"
        left = f"; {self.too_short} more are too short to look for" if self.too_short else ""
        own = f", {self.in_own_words} are in words that the pages use anyway" if self.in_own_words else ""
        unread = f"; {self.unread} files hold no words" if self.unread else ""
        what = f"{self.looked_for} entries of the shop’s alone"
        return f"Looked in {self.files} files for {what}: {found}{left}{own}{unread}."


@dataclass(frozen=True)
class Sought:
    """The shop's words in the form they are looked for in, each with its record and field; which are private."""

    words: Mapping[str, tuple[str, str]]
    private: frozenset[str] = frozenset()
    too_short: int = 0
    in_own_words: int = 0

    @cached_property
    def by_longest(self) -> Mapping[str, tuple[str, ...]]:
        """Give what is sought by its longest word, so that a page is gone through once for all of them."""
        found: dict[str, list[str]] = {}
        for words in self.words:
            found.setdefault(max(words.split(), key=len), []).append(words)
        return {longest: tuple(each) for longest, each in found.items()}

    @cached_property
    def digest(self) -> str:
        """Name what is sought."""
        return digest(sorted(self.words))

    def found_in(self, name: str, content: bytes) -> tuple[str, ...] | None:
        """Give which of the words stand in a file, its name included; None where a file holds no words to read."""
        texts = texts_of(name, content)
        if texts is None:
            return None
        return tuple(sorted({words for text in texts for words in self._in(normal(text))}))

    def _in(self, text: str) -> Iterator[str]:
        framed = f" {text} "
        for longest in self.by_longest.keys() & set(text.split()):
            yield from (words for words in self.by_longest[longest] if f" {words} " in framed)


def normal(text: str) -> str:
    """Give the words of a text as they are compared: without signs, capitals and ways of writing a letter."""
    joined = IN_A_NUMBER.sub("", text)
    return " ".join(WORD.findall(unicodedata.normalize("NFKC", joined).casefold().replace("_", " ")))


def texts_of(name: str, content: bytes) -> list[str] | None:
    """Give the texts in a finished file by its ending, its name first; None where it is of a kind that holds none."""
    ending = Path(name).suffix.lower()
    if ending in MARKED_UP:
        text = html.unescape(content.decode("utf-8", "replace"))
        # All that stands in quotes goes as one text: to take each for itself costs more than the whole page.
        return [name, TAG.sub(" ", text), " ".join(map("".join, IN_QUOTES.findall(text)))]
    if ending in PLAIN:
        text = content.decode("utf-8", "replace")
        return [name, ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)]
    if ending in PICTURES:
        return [name, *hidden_words(content)]
    if ending == ".pdf":
        inside = words_of_pdf(content)
        attached = (texts_of(file, data) or [] for file, data in inside.attached)
        return [name, *inside.texts, *(text for texts in attached for text in texts)]
    return None


def own_words(texts: Iterable[str]) -> frozenset[str]:
    """Give the words of the pages themselves: of the templates, given as texts, of the trade and of the form."""
    trade = (
        *(f"{term.words} {term.term} {term.meaning}" for term in (*terms.EVENTS.values(), *terms.CONDITIONS.values())),
        *cautions.CAUTIONS.values(), *woods.WOODS, *(wood.common for wood in woods.WOODS.values()),
        *kinds.KIND_WORDS.values(),
    )  # fmt: skip
    everything = (*texts, *trade, *vocabulary())
    return frozenset(word for text in everything for word in normal(text).split() if word.isalpha())


def sought(archive: Archive, ours: Collection[str], notebook: Notebook) -> Sought:
    """Give what the public must not see of an archive; what each instrument hides is kept under its digest.

    What is said in `ours` alone, the pages' own words, is no secret and cannot be looked for.
    """
    shown = visible(archive, "public")
    inputs = {stem: archive.inputs_of(stem) for stem in archive.instruments}
    chapter = notebook.chapter("hidden", tuple[Hidden, ...])
    own = chapter.fill(inputs, lambda new: spread(_hidden_of_instrument, (archive, shown), new))
    hidden = [*(each for found in own.values() for each in found), *_hidden_of_others(archive, shown)]
    return _sorted_out(hidden, frozenset(ours))


def _hidden_of_instrument(archives: tuple[Archive, Archive], stem: str) -> tuple[Hidden, ...]:
    """Give what is hidden of an instrument and in its private record; of one without a page, all of it."""
    archive, shown = archives
    filed = archive.instruments[stem]
    public = shown.instruments[stem].record if stem in shown.instruments else None
    found = [Hidden(filed.file, _differing(filed.record, public))]
    private = archive.private.get(stem)
    if private is not None:
        # The end of an unlisted address is no secret from whoever was given the address.
        secret = private.record.model_copy(update={"page": None, "id": None})
        found.append(Hidden(private.file, _differing(secret, None), is_private=True))
    return tuple(found)


def _hidden_of_others(archive: Archive, shown: Archive) -> Iterator[Hidden]:
    for folder in ("wood", "varnish", "models"):
        shown_here = getattr(shown, folder)
        for name, filed in getattr(archive, folder).items():
            public = shown_here[name].record if name in shown_here else None
            yield Hidden(filed.file, _differing(filed.record, public))
    for filed, public in ((archive.workshop, shown.workshop), (archive.gauges, shown.gauges)):
        yield Hidden(filed.file, _differing(filed.record, public.record))


def _differing(whole: Record, public: Record | None) -> tuple[tuple[str, str], ...]:
    """Give the texts of a record that its public part does not hold anywhere."""
    held = {text for _, text in texts_in(public)} if public is not None else set()
    return tuple((".".join(map(str, place)), text) for place, text in texts_in(whole) if text not in held)


def texts_in(value: Any, place: Place = ()) -> Iterator[tuple[Place, str]]:
    """Give everything written in a record as text, each with its place."""
    if isinstance(value, (Record, dict, tuple)):
        for name, inner in _inside(value):
            yield from texts_in(inner, (*place, name))
    elif value is not None:
        yield from ((place, text) for text in _as_texts(value) if text)


def _inside(group: Record | dict[str, Any] | tuple[Any, ...]) -> Iterable[tuple[str | int, Any]]:
    if isinstance(group, Record):
        return fields_of(group)
    return group.items() if isinstance(group, dict) else enumerate(group)


def _as_texts(value: object) -> tuple[str | None, ...]:
    """Give what is written of a single value; a day is also looked for in the words that pages give it.

    A month or a year alone is no secret: it stands in every day of it.
    """
    if isinstance(value, Value):
        return value.value.written, value.note, value.accepted, value.gauge
    if isinstance(value, Date):
        return tuple(dict.fromkeys((value.text, value.words()))) if value.is_exact else ()
    return (value.written if isinstance(value, Amount) else str(value),)


def _sorted_out(hidden: Iterable[Hidden], ours: frozenset[str]) -> Sought:
    """Leave out what cannot be looked for, and count it: what is short, and what is said in the trade's own words."""
    words: dict[str, tuple[str, str]] = {}
    short, plain, private = set(), set(), set()
    for each in hidden:
        for name, text in each.texts:
            form = normal(text)
            if len(form.replace(" ", "")) < SHORTEST:
                short.add(form)
            elif ours.issuperset(form.split()):
                plain.add(form)
            else:
                words.setdefault(form, (each.file, name))
                private |= {form} if each.is_private else set()
    return Sought(words, frozenset(private), len(short), len(plain))


@dataclass(frozen=True)
class _Looked:
    """What was found in a file the last time; `is_read` tells whether it holds words at all."""

    is_read: bool
    words: tuple[str, ...] = ()


def scan(archive: Archive, looked_for: Sought, folder: Path, files: Mapping[str, str], notebook: Notebook) -> Scanned:
    """Look for the shop's words in finished files of a folder, each given with its state.

    A file that is as it was, searched for the same words, is not read again. Words that a public field holds too, of
    another record perhaps, are no secret; those of a private record are, unless they are all that the field holds.
    """
    chapter = notebook.chapter(f"scanned {folder.resolve()}", _Looked)
    inputs = {name: digest([looked_for.digest, state]) for name, state in files.items()}
    seen = chapter.fill(inputs, lambda new: spread(_look, (looked_for, folder), new))
    suspects = {words for looked in seen.values() for words in looked.words}
    secret = suspects - _held_in_public(archive, suspects, looked_for.private)
    hits = [
        Hit(name, *looked_for.words[words])
        for name, looked in seen.items()
        for words in looked.words
        if words in secret
    ]
    unread = sum(not looked.is_read for looked in seen.values())
    return Scanned(
        len(files) - unread, unread, len(looked_for.words), looked_for.too_short, looked_for.in_own_words, tuple(hits)
    )


def _look(shared: tuple[Sought, Path], name: str) -> _Looked:
    looked_for, folder = shared
    found = looked_for.found_in(name, (folder / name).read_bytes())
    return _Looked(found is not None, found or ())


def _held_in_public(archive: Archive, suspects: set[str], private: frozenset[str]) -> set[str]:
    """Give those of the words that a public field holds; records are gone through only as long as any are left."""
    shown = visible(archive, "public")
    left = set(suspects)
    for filed in (*shown.others(), *shown.instruments.values()):
        if not left:
            break
        held = {normal(text) for _, text in texts_in(filed.record)}
        framed = f" {' | '.join(held)} "
        left = {words for words in left - held if words in private or f" {words} " not in framed}
    return suspects - left
