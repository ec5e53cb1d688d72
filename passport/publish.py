"""The one build: load the records, check them, project them for an audience, and hand the pages out.

The command line and the MkDocs plugin both come through here, so that they give the same site.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path

from passport.checks import check
from passport.credentials.known import Known, for_page, known
from passport.errors import PassportError
from passport.files import File, Synced, sync, write_atomic
from passport.findings import Finding, Severity
from passport.kept import FOLDER, Chapter, Notebook, digest, form_of, state, states
from passport.pictures import published_copy
from passport.records.catalogue import Archive, load
from passport.records.filed import inputs_of
from passport.records.model.marks import Audience
from passport.scan import Scanned, own_words, scan, sought, texts_of
from passport.site import catalogue_data, data, pages, search, sitemap
from passport.site import folder as in_folder
from passport.site.pages import Press, Shared
from passport.site.shell import Shell
from passport.site.templates import template_roots
from passport.site.verification import verification_page
from passport.spread import spread
from passport.views.addresses import VERIFICATION
from passport.views.project import by_file, project
from passport.views.site_tree import SiteView
from passport.views.tree import InstrumentView

# Says that a folder is ours to bring up to date, and which of the sites it holds. It names no page.
MARKER = ".passport-site"
SEARCH_INDEX = "search/search_index.json"
SEARCH_SCRIPT = "search/search_index.js"
# More than these are not named one by one.
MOST_SAID = 20


class LeakError(PassportError):
    """Words of the shop's stood in the public site; the files concerned were taken out again."""

    def __init__(self, scanned: Scanned) -> None:
        files = sorted({hit.outgoing for hit in scanned.hits})
        where = "; ".join(f"{hit.record}, {hit.field}, stands in {hit.outgoing}" for hit in scanned.hits[:MOST_SAID])
        more = f"; and {len(scanned.hits) - MOST_SAID} more" if len(scanned.hits) > MOST_SAID else ""
        super().__init__(
            f"what is the shop’s alone stood in the public site: {where}{more}. "
            f"{'The page was' if len(files) == 1 else f'These {len(files)} files were'} taken out of the folder again",
            "find the words in the public text of the records and take them out, or open the field; then build again",
        )
        self.scanned = scanned


class BuildStoppedError(PassportError):
    """The records have errors, so nothing was built; `findings` says which."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        super().__init__(
            "the site was not built, because the records have errors", "mend them, or build with --with-errors"
        )
        self.findings = findings


@dataclass(frozen=True)
class Edition:
    """What is to be handed out: the views, what the checks said, and the workshop's folder.

    `archive` is there where what is handed out must not hold anything of the shop's alone. `inputs` names for each
    instrument all that its page comes from; without it a page is always made anew. An edition that is `offline` opens
    from a folder, without a server. `known` is what the page that checks passports knows.
    """

    site: SiteView
    records: int
    findings: tuple[Finding, ...]
    photos: Path
    folder: Path
    inputs: Mapping[str, str] = field(default_factory=dict)
    archive: Archive | None = None
    notebook: Notebook = field(default_factory=Notebook)
    offline: bool = False
    known: str = field(default_factory=lambda: for_page(Known()))

    @property
    def name(self) -> str:
        """Say which of the sites this is: public, shop, public offline, shop offline."""
        return f"{self.site.audience} offline" if self.offline else self.site.audience


def offline_edition(made: Edition) -> Edition:
    """Give what is handed out in a folder: without the unlisted, whose addresses a folder would tell."""
    return replace(made, site=in_folder.without_unlisted(made.site), offline=True)


def edition(records: Path, audience: Audience, *, with_errors: bool = False, is_draft: bool = False) -> Edition:
    """Load, check and project; BuildStoppedError where a record has an error and that was not asked for.

    A draft is only shown on this machine: it is made in spite of errors, and its pages say what they are.
    """
    notebook = Notebook(records.parent)
    archive = load(records, notebook=notebook)
    findings = check(archive, notebook)
    if not (with_errors or is_draft) and any(finding.severity is Severity.ERROR for finding in findings):
        raise BuildStoppedError(findings)
    site = project(archive, findings, audience, notebook, is_draft=is_draft)
    said = by_file(findings)
    inputs = {
        stem: digest([archive.inputs_of(stem), is_draft, *said.get(archive.instruments[stem].file, ())])
        for stem in site.instruments
    }
    # A draft says on its pages what is wrong, in the record's own words; it is shown on this machine alone.
    watched = archive if audience == "public" and not is_draft else None
    held = for_page(known(records, notebook))
    photos = archive.root / "photos"
    return Edition(site, archive.count, findings, photos, records.parent, inputs, watched, notebook, known=held)


@dataclass(frozen=True)
class Staged:
    """What MkDocs has built aside: its folder, the theme around a page by depth, the addresses of its own pages."""

    folder: Path
    shells: dict[int, Shell]
    hand_written: list[str]


@dataclass(frozen=True)
class Written:
    """Files that were made together, each with the state it was left in."""

    files: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class HandedOut:
    """How many files of a site were written, and what the last look at them found; `scanned` for the public alone.

    A file in which words of the shop's were found is not among those that are there.
    """

    synced: Synced
    scanned: Scanned | None

    def refuse_leaks(self) -> None:
        """Raise LeakError where anything was found."""
        if self.scanned is not None and self.scanned.hits:
            raise LeakError(self.scanned)


def hand_out(made: Edition, staged: Staged, out: Path) -> HandedOut:
    """Bring the folder `out` up to date: what MkDocs staged, the pages, their data and the pictures."""
    claim(out, made.name)
    press = Press(staged.shells, made.site.workshop, made.site.audience, made.folder)
    shelf = _Shelf(out, made.notebook.chapter(f"written {made.name} {out.resolve()}", Written))
    files = chain(
        _plain_files(made, staged), _shared_pages(made, press, shelf), _instrument_files(made, press, shelf),
        _pictures(made, shelf),
    )  # fmt: skip
    done = sync(out, in_folder.files(made.site, files) if made.offline else files)
    shelf.note()
    try:
        return HandedOut(done, _looked_through(made, out))
    finally:
        made.notebook.save()


def _looked_through(made: Edition, out: Path) -> Scanned | None:
    """Look for the shop's words in everything that was handed out; what holds any does not stay there."""
    if made.archive is None:
        return None
    folders = (root for root in template_roots(made.folder) for root in (root, root.parent / "pages"))
    templates = (file for folder in folders for file in sorted(folder.glob("*.*")))
    ours = own_words(text for file in templates for text in texts_of(file.name, file.read_bytes()) or ())
    scanned = scan(made.archive, sought(made.archive, ours, made.notebook), out, dict(states(out)), made.notebook)
    for name in {hit.outgoing for hit in scanned.hits}:
        (out / name).unlink()
    return scanned


class _Shelf:
    """Knows which files of the site were made from what, and whether they still stand as they were left."""

    def __init__(self, out: Path, chapter: Chapter[Written]) -> None:
        self._out = out
        self._chapter = chapter
        self._states = dict(states(out))
        self._new: dict[str, tuple[str, tuple[str, ...]]] = {}

    def standing(self, name: str, inputs: str) -> tuple[str, ...]:
        """Give the files made under a name from the same inputs; none where one of them is not as it was left."""
        kept = self._chapter.get(name, inputs) if inputs else None
        is_whole = kept is not None and all(self._states.get(file) == left for file, left in kept.files)
        return tuple(file for file, _ in kept.files) if kept is not None and is_whole else ()

    def put(self, name: str, inputs: str, files: Iterable[str]) -> None:
        """Remember what was made, to be noted once it is written."""
        if inputs:
            self._new[name] = inputs, tuple(files)

    def note(self) -> None:
        """Write down the state in which everything new was left."""
        for name, (inputs, files) in self._new.items():
            left = tuple((file, state((self._out / file).stat())) for file in files)
            self._chapter.put(name, inputs, Written(left))


def _plain_files(made: Edition, staged: Staged) -> Iterator[File]:
    """Give what MkDocs staged, and the data that search and catalogue go by."""
    yield MARKER, made.name.encode()
    for path in sorted(path for path in staged.folder.rglob("*") if path.is_file()):
        name = path.relative_to(staged.folder).as_posix()
        yield from _search_index(made, path.read_bytes()) if name == SEARCH_INDEX else [(name, path.read_bytes())]
    yield catalogue_data.LISTED_PATH, catalogue_data.listed_js(made.site)
    yield catalogue_data.FACETS_PATH, catalogue_data.facets_js(made.site)
    found = sitemap.sitemap(made.site, staged.hand_written)
    if found:
        yield "sitemap.xml", found


def _shared_pages(made: Edition, press: Press, shelf: _Shelf) -> Iterator[File]:
    """Give the pages that are made from several records, made anew only where they would say something else."""
    verification = Shared(VERIFICATION, made.known, lambda: verification_page(press, made.known))
    for shared in (*pages.shared_pages(press, made.site), verification):
        inputs = digest([press.digest, form_of(shared.of)]) if made.inputs else ""
        standing = shelf.standing(shared.path, inputs)
        yield from ((file, None) for file in standing)
        if not standing:
            name, content = shared.make()
            shelf.put(shared.path, inputs, [name])
            yield name, content


def _instrument_files(made: Edition, press: Press, shelf: _Shelf) -> Iterator[File]:
    """Give the page and the data of each instrument, made anew only where something they come from has changed."""
    inputs = {stem: digest([known, press.digest]) for stem, known in made.inputs.items()}
    new = []
    for stem in (card.line.id for card in made.site.cards):
        standing = shelf.standing(stem, inputs.get(stem, ""))
        yield from ((file, None) for file in standing)
        new += [] if standing else [stem]
    for stem, files in zip(new, spread(_leaf, (press, made.site.instruments), new), strict=True):
        shelf.put(stem, inputs.get(stem, ""), (name for name, _ in files))
        yield from files


def _leaf(shared: tuple[Press, Mapping[str, InstrumentView]], stem: str) -> list[tuple[str, bytes]]:
    """Make the page of one instrument, the same as data, and the page of its sums."""
    press, instruments = shared
    view = instruments[stem]
    sums = [pages.sums_page(press, view)] if view.sums_path else []
    return [pages.instrument_page(press, view), (view.data_path, data.record_json(view)), *sums]


def _pictures(made: Edition, shelf: _Shelf) -> Iterator[File]:
    """Give the published copies of all pictures that are shown."""
    for picture in (picture for card in made.site.cards for picture in card.pictures):
        source = made.photos / picture.file
        inputs = digest([inputs_of(source), picture.longest_px])
        if shelf.standing(picture.name, inputs):
            yield picture.name, None
        else:
            shelf.put(picture.name, inputs, [picture.name])
            yield picture.name, published_picture(source, picture.longest_px, made.folder / FOLDER)


def _search_index(made: Edition, index: bytes) -> Iterator[tuple[str, bytes]]:
    """Give the theme's search index with our entries, and again as a script for a site opened from a folder."""
    whole = search.merged(index, search.entries(made.site))
    whole = in_folder.index(whole) if made.offline else whole
    yield SEARCH_INDEX, whole
    yield SEARCH_SCRIPT, search.as_script(whole)


def claim(out: Path, name: str) -> None:
    """Make sure that a folder may be overwritten: it is new, empty, or holds the site of the same name."""
    marker = out / MARKER
    if marker.is_file():
        theirs = marker.read_text(encoding="utf-8").strip()
        if theirs != name:
            raise PassportError(f"“{out}” holds the {theirs} site", f"build the {name} site into another folder")
    elif out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise PassportError(
            f"“{out}” holds something else than a site of ours", "name a new or an empty folder with --out"
        )


def published_picture(source: Path, longest_px: int, cache: Path) -> bytes:
    """Give the published copy of a picture; made once for the same picture and size."""
    digest = hashlib.sha256(source.read_bytes() + f"/{longest_px}".encode()).hexdigest()
    kept = cache / "pictures" / f"{digest}.jpg"
    if not kept.is_file():
        write_atomic(kept, published_copy(source, longest_px))
    return kept.read_bytes()
