"""What is claimed in a passport: what the public page records, nothing worked out, nothing of the shop's."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import rdflib

from passport.checks import check
from passport.credentials.integrity import sign
from passport.credentials.multibase import digest
from passport.credentials.payload import MADE_HERE, SERVICED_HERE, payload, picture_names
from passport.credentials.strict import canonical, read
from passport.credentials.vocabulary import TERMS
from passport.errors import PassportError
from passport.records.catalogue import load
from passport.views.project import project
from passport.views.site_tree import SiteView
from tests import archives
from tests.archives import LISTED, SECRET, TAIL, UNLISTED
from tests.credentials.test_integrity import KEY

DID = "did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"
# Terms of the context https://www.w3.org/ns/credentials/v2 that a passport uses; from memory of the published file.
CREDENTIALS = "https://www.w3.org/2018/credentials#"
SECURITY = "https://w3id.org/security#"
OF_THE_STANDARD = {
    "id": "@id",
    "type": "@type",
    "name": "https://schema.org/name",
    **{
        name: f"{CREDENTIALS}{name}"
        for name in ("VerifiableCredential", "issuer", "validFrom", "relatedResource", "credentialSubject")
    },
    "digestMultibase": f"{SECURITY}digestMultibase",
    "mediaType": "https://schema.org/encodingFormat",
}


def site(root: Path, audience: Any = "public") -> SiteView:
    archive = load(root, date(2026, 11, 25))
    return project(archive, check(archive), audience)


def passport(made: SiteView, stem: str, **changes: Any) -> dict[str, Any]:
    view = replace(made.instruments[stem], **changes)
    pictures = {photo.large: photo.large.encode() for photo in view.photos}
    return payload(view, made.workshop, issuer=DID, day="2026-11-25", number=1, before="", pictures=pictures)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> SiteView:
    return site(archives.write(tmp_path_factory.mktemp("small") / "records"))


@pytest.fixture(scope="module")
def demo() -> SiteView:
    return site(archives.DEMO)


def words_in(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        yield from value
        for inner in value.values():
            yield from words_in(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from words_in(inner)
    elif isinstance(value, str):
        yield value


def test_the_frame_is_that_of_the_standard(small: SiteView) -> None:
    # W3C Verifiable Credentials Data Model 2.0, sections 4.3 to 4.9 and 5.3.
    made = passport(small, LISTED)
    assert made["@context"][0] == "https://www.w3.org/ns/credentials/v2"
    assert made["type"][0] == "VerifiableCredential"
    assert made["issuer"]["id"] == DID
    assert made["validFrom"] == "2026-11-25T00:00:00Z"
    assert made["relatedResource"][0]["id"] == made["@context"][0]


def test_values_keep_their_digits_and_have_their_unit(small: SiteView) -> None:
    subject = passport(small, LISTED)["credentialSubject"]
    reference = subject["setups"][0]
    assert {"name": "String length", "value": "328 mm"} in reference["values"]
    heights = [value["value"] for value in reference["values"] if value["name"].startswith("String height")]
    assert heights == ["5.0 mm", "4.7 mm", "4.2 mm", "3.5 mm"]
    assert subject["plates"][0]["thickness"]["rows"][1] == ["160", "2.7", "2.8", "3.0", "3.0", "2.7"]


@pytest.mark.parametrize("stem", [LISTED, UNLISTED])
def test_nothing_of_the_shops_and_no_address_is_in_it(small: SiteView, stem: str) -> None:
    text = json.dumps(passport(small, stem))
    assert stem in text
    assert SECRET not in text
    assert TAIL not in text


def test_what_the_shop_sees_is_refused(tmp_path: Path) -> None:
    shop = site(archives.write(tmp_path / "records"), "shop")
    with pytest.raises(PassportError):
        passport(shop, LISTED)


def test_pictures_are_held_by_their_digest(small: SiteView) -> None:
    view = small.instruments[LISTED]
    (picture,) = passport(small, LISTED)["credentialSubject"]["pictures"]
    assert picture["digestMultibase"] == digest(view.photos[0].large.encode())
    assert (picture["name"],) == picture_names(view) == (f"{LISTED}-01.jpg",)


def test_of_other_hands_work_only_what_was_done_here_is_claimed(demo: SiteView) -> None:
    stem = next(stem for stem, view in demo.instruments.items() if not view.maker and view.setup)
    view = demo.instruments[stem]
    before = replace(view.history[0], title="Made by somebody", by="")
    history = (before, *view.history)
    theirs = passport(demo, stem, maker_line="attributed to somebody", label_text="Somebody, 1890", history=history)
    assert theirs["credentialSubject"]["claim"] == SERVICED_HERE
    assert theirs["credentialSubject"]["setups"]
    assert not [word for word in words_in(theirs) if "somebody" in word.lower()]
    ours = passport(demo, stem, maker="Tamm & Penn", maker_line="attributed to somebody")
    assert ours["credentialSubject"]["claim"] == MADE_HERE
    assert set(ours["credentialSubject"]) - set(theirs["credentialSubject"]) >= {"maker", "identity"}
    assert view.parts == () or "parts" in ours["credentialSubject"]


def test_every_public_instrument_of_the_demo_can_be_signed_and_read_again(demo: SiteView) -> None:
    assert len(demo.instruments) > 10
    for stem in demo.instruments:
        signed = sign(passport(demo, stem), KEY, "2026-11-25T00:00:00Z")
        assert read(canonical(signed)) == signed


def test_as_linked_data_it_says_the_same(small: SiteView) -> None:
    # rdflib reads JSON-LD 1.1; the standard's context is not fetched, the few terms used of it are put in its place.
    made = passport(small, LISTED)
    text = json.dumps({**made, "@context": [OF_THE_STANDARD, made["@context"][1]]})
    graph = rdflib.Graph().parse(data=text, format="json-ld")
    (subject,) = graph.subjects(rdflib.RDF.type, rdflib.URIRef(f"{TERMS}Instrument"))
    assert str(graph.value(subject, rdflib.URIRef(f"{TERMS}number"))) == LISTED
    assert {str(value) for value in graph.objects(None, rdflib.URIRef(f"{TERMS}value"))} >= {"328 mm", "4.2 mm"}
    (rows,) = graph.objects(None, rdflib.URIRef(f"{TERMS}rows"))
    assert json.loads(str(rows)) == made["credentialSubject"]["plates"][0]["thickness"]["rows"]


def test_the_same_view_gives_the_same_bytes(small: SiteView) -> None:
    assert canonical(passport(small, LISTED)) == canonical(passport(small, LISTED))
