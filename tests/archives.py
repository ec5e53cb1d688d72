"""A small archive of an invented workshop, written where a test wants it, and records read from a few lines of text."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TypeVar

from PIL import Image

from passport import mkdocs_plugin
from passport.files import Synced
from passport.publish import edition
from passport.records.catalogue import Archive, load
from passport.records.model.marks import Audience, Record
from passport.records.reader import read
from passport.records.validation import validated
from passport.views.site_tree import SiteView

R = TypeVar("R", bound=Record)

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "records"
LISTED, OTHER, UNLISTED, SHOP_ONLY = "ZVSPYJH", "PB8ANDH", "HHK53U9", "P2UVXQF"
TAIL = "P8AH6Q8FX4KEQZV65"
SITE = "https://passports.tammpenn-harrowmere.net/"
# Stands in everything that the public must not see, and nowhere else.
SECRET = "shopsecret"  # noqa: S105 - a word to look for, no password

WORKSHOP = f"""\
schema: 1
name: Tamm & Penn
place: Harrowmere
contact: "Tamm & Penn, 3 Sawpit Lane, Harrowmere"
site_address: {SITE}
a4: 440
people:
  Ilse: {{name: Ilse Tamm, does: bodies, contact: {SECRET}-1}}
  Jory: {{name: Jory Penn, does: set-up}}
note: {SECRET}-2
"""
GAUGES = """\
schema: 1
gauges:
  rule_05: {what: steel rule, resolution: 0.5, uncertainty: 0.25, unit: mm}
"""
MODEL = """\
schema: 1
model: harrow-1
kind: violin
size: 4/4
title: Harrow
outline:
  upper: [[355, 14], [352, 40], [330, 70], [290, 84], [240, 76], [228, 79]]
  middle: [[228, 79], [200, 60], [180, 56], [160, 60], [132, 92]]
  lower: [[132, 92], [120, 93], [75, 103], [30, 90], [6, 50], [0, 0]]
targets: {body_length: {caliper: 355}, string_height: {G: 5.0, E: 3.5}}
"""
LOT = f"""\
schema: 1
lot: SP09B
species: Picea abies
wood: spruce
origin: north slope above Harrowmere
supplier: {SECRET}-3
price: 4711
currency: EUR
pieces: 9
note: {SECRET}-4
"""
BATCH = f"""\
schema: 1
batch: OV20-3
made: 2020-03-02
by: Ilse
purpose: colour
base: oil
recipe:
  ingredients: [{{what: {SECRET}-5, mass: 40}}]
  cook: [{{after: 1, temperature: 220, what: {SECRET}-6}}]
hazards: [drying_oil]
note: {SECRET}-7
"""
VIOLIN = f"""\
schema: 1
id: {LISTED}
kind: violin
size: 4/4
model: harrow-1
serial: TP 88
origin: made_here
publish: listed
made: {{finished: 2021-11, place: Harrowmere, hands: {{body: Ilse}}}}
parts:
  top: {{lot: SP09B, wedge: 4, pieces: 2, density: 390}}
  ribs: {{species: Acer pseudoplatanus}}
plates:
  top:
    thickness:
      285: [2.6, 2.5, 2.6, 2.5, 2.6]
      160: [2.7, 2.8, 3.0, 3.0, 2.7]
varnish:
  - {{date: 2021-06-21, coat: 1, batch: OV20-3, area: all}}
setups:
  - sheet: S1
    taken: {{date: 2021-11-18, when: delivered, by: Jory}}
    role: reference
    state: {{strings: at_pitch}}
    string_length: 328
    string_height: {{G: 5.0, D: 4.7, A: 4.2, E: 3.5, to: underside}}
  - sheet: S2
    taken: {{date: 2024-08-06, when: as_received, by: Ilse}}
    state: {{strings: at_pitch}}
    string_length: 327.25
    heard: {SECRET}-8
history:
  - {{date: 2021-11-18, event: setup_complete, sheet: S1}}
  - {{date: 2021-11-25, event: sold, note: {SECRET}-9}}
  - {{date: 2024-08-09, event: seam_reglued, by: Ilse, said: {SECRET}-10, did: seam closed, next_check: 2031-01-01}}
photos:
  - {{file: front.jpg, view: front, date: 2021-11-19}}
  - {{file: {SECRET}-11.jpg, view: damage, caption: {SECRET}-12}}
note: {SECRET}-13
"""
SECOND = f"""\
schema: 1
id: {OTHER}
kind: violin
size: 3/4
serial: TP 90
origin: made_here
publish: listed
made: {{finished: 2022-02-01}}
parts:
  top: {{lot: SP09B, wedge: 5}}
"""
HIDDEN = f"""\
schema: 1
id: {UNLISTED}
kind: violin
size: 4/4
model: harrow-1
serial: TP 95
origin: made_here
publish: unlisted
made: {{finished: 2023-11-02}}
parts:
  top: {{lot: SP09B, wedge: 6}}
varnish:
  - {{date: 2023-06-21, coat: 1, batch: OV20-3}}
photos:
  - {{file: front.png, view: front}}
"""
KEPT = f"""\
schema: 1
id: {SHOP_ONLY}
kind: cello
size: 4/4
serial: {SECRET}-14
origin: customer
parts:
  top: {{lot: SP09B, wedge: 7, note: {SECRET}-15}}
"""


@cache
def demo() -> Archive:
    """Give the demo's archive, read once; nothing may change it."""
    return load(DEMO)


def picture(kind: str = "JPEG", size: tuple[int, int] = (60, 40), colour: str = "saddlebrown") -> bytes:
    """A plain picture file."""
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, kind)
    return out.getvalue()


def small_files() -> dict[str, bytes]:
    """Every file of the small archive, by its name below the records folder."""
    texts = {
        "workshop.yml": WORKSHOP,
        "gauges.yml": GAUGES,
        "models/harrow-1.yml": MODEL,
        "wood/SP09B.yml": LOT,
        "varnish/OV20-3.yml": BATCH,
        f"instruments/{LISTED}.yml": VIOLIN,
        f"instruments/{OTHER}.yml": SECOND,
        f"instruments/{UNLISTED}.yml": HIDDEN,
        f"instruments/{SHOP_ONLY}.yml": KEPT,
        f"private/{UNLISTED}.yml": f"schema: 1\nid: {UNLISTED}\npage: {TAIL}\nlocation: {SECRET}-16\n",
        f"private/{LISTED}.yml": f"schema: 1\nid: {LISTED}\nowners:\n  - {{name: {SECRET}-17, since: 2021-11-25}}\n",
    }
    pictures = {
        f"photos/{LISTED}/front.jpg": picture(),
        f"photos/{LISTED}/{SECRET}-11.jpg": picture(colour="navy"),
        f"photos/{UNLISTED}/front.png": picture("PNG", colour="darkred"),
    }
    return {**{name: text.encode() for name, text in texts.items()}, **pictures}


def write(root: Path, changes: Mapping[str, str | bytes | None] = {}) -> Path:
    """Write the small archive into `root`; `changes` replaces files by name, and leaves out those that are None."""
    for name, content in {**small_files(), **changes}.items():
        if content is not None:
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content.encode() if isinstance(content, str) else content)
    return root


def record(kind: type[R], text: str) -> R:
    """Read one record from its text, which must be without fault."""
    reading = read(text.encode(), "record.yml")
    made, findings = validated(kind, reading.tree, "record.yml")
    assert (reading.findings, findings) == ((), ())
    return made


def build(root: Path, out: Path, audience: Audience = "public", *, with_errors: bool = False) -> Synced:
    """Build the site of the archive at `root` as the command line does."""
    return mkdocs_plugin.build(edition(root, audience, with_errors=with_errors), root, out).synced


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by name."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def whole(site: SiteView) -> SiteView:
    """The site with the page of every instrument made."""
    return replace(site, instruments=dict(site.instruments))
