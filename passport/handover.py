"""What is handed over of one instrument: its public view checked, signed elsewhere, and set as a booklet.

Joins the rooms for one instrument as `publish` does for the site.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from passport.checks import check
from passport.credentials.issued import FROM_BACKUP, Issue, issue_at, places_of, statements
from passport.credentials.issuing import drafted
from passport.credentials.known import for_page, known
from passport.credentials.words import words
from passport.documents.booklet import Attached, Contents, Proof, booklet
from passport.errors import PassportError
from passport.findings import Severity
from passport.kept import FOLDER, Notebook
from passport.labels.code import as_svg, encode
from passport.publish import BuildStoppedError, published_picture
from passport.records.catalogue import Archive
from passport.records.dates import parse_date
from passport.reference.cites import AS_OF, DEFERENCE
from passport.site.drawings import drawing_rules
from passport.site.pages import Press
from passport.site.verification import verification_page
from passport.stocks import Paper
from passport.views.numbers import date_text
from passport.views.project import case_label, public_view
from passport.views.tree import InstrumentView, WorkshopView

# The name of the page that checks passports, where it lies beside them.
VERIFIER = "verify.html"


@dataclass(frozen=True)
class Handover:
    """One instrument as it may be handed over: its public view, and the published copies of its pictures by path."""

    workshop: WorkshopView
    view: InstrumentView
    pictures: Mapping[str, bytes]


def handover(archive: Archive, stem: str, notebook: Notebook) -> Handover:
    """Check and project one instrument; BuildStoppedError where its record, or one it speaks of, has an error."""
    files = {filed.file for filed in archive.spoken_of(stem)}
    errors = [found for found in check(archive, notebook) if found.file in files and found.severity is Severity.ERROR]
    if errors:
        raise BuildStoppedError(tuple(errors))
    workshop, view, sources = public_view(archive, stem)
    cache = archive.root.parent / FOLDER
    large = {photo.large for photo in view.photos}
    shown = [source for source in sources if source.name in large]
    pictures = {
        each.name: published_picture(archive.root / "photos" / each.file, each.longest_px, cache) for each in shown
    }
    return Handover(workshop, view, pictures)


@dataclass(frozen=True)
class Booklet:
    """A finished booklet, and what whoever made it should know of its passport."""

    content: bytes
    note: str


def booklet_of(archive: Archive, stem: str, paper: Paper, notebook: Notebook) -> Booklet:
    """Set the booklet of an instrument, with the newest passport inside, if one was issued.

    It bears the day of the last entry in the record, so that one record and one passport give one booklet.
    BuildStoppedError and PassportError as of `handover`.
    """
    made = handover(archive, stem, notebook)
    places = places_of(archive.root, stem)
    issue = issue_at(places[-1]) if places else None
    address = case_label(archive, stem).address
    contents = Contents(
        workshop=made.workshop,
        address=address,
        code=as_svg(encode(address)),
        pictures=made.pictures,
        rules=drawing_rules(),
        as_of=date_text(parse_date(AS_OF.isoformat())),
        deference=DEFERENCE,
        proof=_proof(archive, made.workshop, issue, notebook) if issue else None,
    )
    day = date.fromisoformat(made.view.changed) if made.view.changed else archive.today
    content = booklet(made.view, contents, day, paper)
    return Booklet(content, _note(archive, made, issue))


def _proof(archive: Archive, workshop: WorkshopView, issue: Issue, notebook: Notebook) -> Proof:
    page = verification_page(
        Press({}, workshop, "public", archive.root.parent), for_page(known(archive.root, notebook))
    )
    place, fingerprint = issue.place, _fingerprint(archive, issue)
    filled = words()["booklet.attached"].format(number=place.number, day=place.day, file=place.file.name, page=VERIFIER)
    told = (filled, words()["covered.proof"], words()["booklet.compare"])
    signed = Attached(place.file.name, "application/json", "data", "The signed passport.", place.file.read_bytes())
    checks = Attached(VERIFIER, "text/html", "supplement", "A page that checks signed passports.", page[1])
    return Proof(fingerprint, told, (signed, checks))


def _fingerprint(archive: Archive, issue: Issue) -> str:
    issuer = issue.document["issuer"]["id"]
    for statement in statements(archive.root):
        if statement.did == issuer:
            return statement.fingerprint
    what = f"the passport “{issue.place.file}” was signed with a key that no statement of the workshop is about"
    raise PassportError(what, FROM_BACKUP)


def _note(archive: Archive, made: Handover, issue: Issue | None) -> str:
    """Say where the booklet and the passport in it do not go together."""
    stem = made.view.id
    if issue is None:
        return f"no signed passport is in it, since none was issued; make one first: passport issue {stem}"
    key, day = statements(archive.root)[-1], archive.today.isoformat()
    draft = drafted(archive.root, made.view, made.workshop, made.pictures, key, day)
    if draft.unchanged is None:
        since = f"issue {issue.place.number} of {issue.place.day}"
        return f"the record has changed since {since}, which is in it; make a new one first: passport issue {stem}"
    return ""
