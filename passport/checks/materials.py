"""Species and papers: names that the tables do not know, and listed species of which no paper is recorded.

What customs would ask; by the table as of the day it was last gone through, so that nothing changes overnight.
"""

from __future__ import annotations

from collections.abc import Iterator

from passport.analysis.materials import materials
from passport.findings import Code, Finding, Path
from passport.near import nearest
from passport.records.catalogue import Archive
from passport.reference.cites import AS_OF, is_known, known_names


def of_instrument(archive: Archive, stem: str) -> Iterator[Finding]:
    """Look at the species of each part."""
    filed = archive.instruments[stem]
    for material in materials(filed.record, archive.wood, AS_OF):
        own = getattr(filed.record.parts, str(material.path[-1])).species
        if own and not is_known(own):
            yield _unknown(filed.file, (*material.path, "species"), own)
        entry = material.listing
        if entry is not None and entry.appendix != "none" and not material.has_paper:
            listed = f"CITES Appendix {entry.appendix} {entry.annotation}".rstrip()
            where = (
                f"its lot {material.lot} names no paper" if material.lot else "it names no lot that could hold a paper"
            )
            what = f"{material.part} of {material.scientific}, {listed}: {where}"
            first = "" if material.lot else "begin a lot for it (passport new lot), and "
            todo = f"{first}write felling paper, permit or invoice under papers: of the lot. CITES: {entry.words}"
            yield Finding(Code.PAPERS_MISSING, filed.file, what, todo, material.path)


def of_others(archive: Archive) -> Iterator[Finding]:
    """Look at the species of each lot."""
    for filed in archive.wood.values():
        name = filed.record.species
        if name and not is_known(name):
            yield _unknown(filed.file, ("species",), name)


def _unknown(file: str, path: Path, name: str) -> Finding:
    offer = nearest(name, known_names(), "a declaration cannot say whether it is listed: ask your management authority")
    return Finding(Code.UNKNOWN_SPECIES, file, f"“{name}” is no species that the tables know", offer, path)
