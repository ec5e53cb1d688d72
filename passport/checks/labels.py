"""Family 2, references: the labels that were printed must lead to the pages of their instruments.

Words what `analysis.printed` decides; of several labels of one instrument, the first is reported.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from passport.analysis.printed import Fate, Judged, end_of, judged
from passport.findings import Code, Finding
from passport.records.catalogue import Archive
from passport.records.printed import FILE_NAME, FIRST_KIND, PrintedLabel

LOST = {
    Fate.NO_RECORD: ("which has no record any more", "put its record back; withdrawn is a status:"),
    Fate.SHOP_ONLY: ("which has no public page any more", "set publish: listed or unlisted"),
    Fate.NOW_UNLISTED: ("which was listed then and has an unlisted address now", "print it a new label: {command}"),
    Fate.UNREACHABLE: ("at an address that a stranger's phone cannot open", "print it a new label: {command}"),
}


def check(archive: Archive) -> Iterator[Finding]:
    """Report labels that lead nowhere, and those that need a redirect."""
    file = (archive.root / FILE_NAME).as_posix()
    found = judged(archive)
    yield from _lost(found, file)
    yield from _moved(found, file)


def _lost(found: tuple[Judged, ...], file: str) -> Iterator[Finding]:
    # What else may be wrong, a record unread or an unlisted one without its address, is reported where it stands.
    lost = [each for each in found if each.leads_nowhere and each.fate in LOST]
    for each in {each.label.id: each for each in reversed(lost)}.values():
        why, todo = LOST[each.fate]
        what = f"a label printed on {each.label.date} leads to {each.label.id}, {why}"
        todo = todo.format(command=_command(each.label))
        yield Finding(Code.LABEL_WITHOUT_PAGE, file, what, todo, line=each.label.line, column=1)


def _moved(found: tuple[Judged, ...], file: str) -> Iterator[Finding]:
    """Report a change of host once, and each instrument whose own part of the address has changed."""
    groups: dict[str, list[Judged]] = defaultdict(list)
    for each in found:
        if each.has_moved:
            groups[each.base if each.end == end_of(each.now) else each.label.id].append(each)
    for name, group in groups.items():
        first = group[0]
        if name == first.base:
            count = "1 label" if len(group) == 1 else f"{len(group)} labels"
            what = f"{count} printed with {name}, which is no longer the address on labels"
            todo = (
                "passport labels --redirects FOLDER writes what its host needs; when it sends visitors on, "
                f"list {name} under former_addresses: in workshop.yml"
            )
        else:
            what = f"a label printed on {first.label.date} leads to a former page address of {name}"
            command = _command(first.label)
            todo = f"print it a new label: {command}; or send visitors on: passport labels --redirects FOLDER"
        yield Finding(Code.LABEL_MOVED, file, what, todo, line=first.label.line, column=1)


def _command(label: PrintedLabel) -> str:
    """Give what prints another of the same kind."""
    return f"passport label {label.id}" + ("" if label.kind == FIRST_KIND else f" --kind {label.kind}")
