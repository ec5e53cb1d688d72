"""When a part of an instrument was first worked, or exchanged for another: from then on its wood is in use.

Sees records, gives the entry that shows it. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from passport.analysis.timeline import Happening, of_kind
from passport.records.model.instrument import Instrument

# The first work that shows a part was there, and the work by which a part was exchanged later.
FIRST_WORK = {
    "top": ("arching_done", "graduation_done", "f_holes_cut", "before_closing", "top_glued", "coat"),
    "back": ("arching_done", "graduation_done", "back_glued", "top_glued", "coat"),
    "ribs": ("ribs_bent", "linings_fitted", "rib_garland_complete", "back_glued", "top_glued", "coat"),
    "blocks": ("blocks_fitted", "rib_garland_complete", "back_glued", "top_glued", "coat"),
    "linings": ("linings_fitted", "top_glued"),
    "bass_bar": ("bass_bar_fitted", "top_glued"),
    "neck": ("scroll_carved", "neck_set", "neck_shaped", "setup_complete"),
    "board": ("fingerboard_fitted", "setup_complete"),
}
EXCHANGED = {
    "ribs": ("rib_patch",), "blocks": ("block_replaced",), "linings": ("lining_replaced",),
    "bass_bar": ("bass_bar_replaced",), "neck": ("neck_graft", "scroll_graft"), "board": ("fingerboard_replaced",),
    "soundpost": ("soundpost_replaced",), "bridge": ("bridge_replaced", "bridge_swapped"),
    "nut": ("nut_replaced",), "saddle": ("saddle_replaced",), "fittings": ("pegs_replaced", "tailpiece_replaced"),
}  # fmt: skip


def first_work(record: Instrument, part: str, found: Sequence[Happening]) -> Happening | None:
    """Give what shows that a part was there: the last exchange of it, else the first work on it in our own shop."""
    exchanged = of_kind(found, *EXCHANGED.get(part, ()))
    if exchanged:
        return exchanged[-1]
    plate = part if part in ("top", "back") else ""
    works = [work for work in of_kind(found, *FIRST_WORK.get(part, ()), "finished", part=plate) if work.date.latest]
    if record.origin != "made_here" or part not in FIRST_WORK:
        return None
    return min(works, key=lambda work: str(work.date.latest), default=None)
