"""Where the post stands, in words and a drawing.

For the shop alone. The sums are done in `analysis.template`; here they are worded.
"""

from __future__ import annotations

from passport.analysis.latest import knowledge_of
from passport.analysis.template import PostPlace, post_place
from passport.figures.post_template import PostLines, post_plan
from passport.records.catalogue import Archive
from passport.reference.cautions import DEFERENCE
from passport.views.numbers import tenths
from passport.views.template import KNIVES, drawing, heading, shop_desk, used_rows, worked_out
from passport.views.tree import TemplateView, Worked

FOOT = (
    "Looked at from the front, neck end up. The foot is drawn as long as feet usually are (assumed); its outer edge, "
    "its back and the nick are what counts."
)


def post_template(archive: Archive, stem: str) -> TemplateView:
    """Give the place of the post; PassportError where it cannot be told."""
    desk = shop_desk(archive)
    known = knowledge_of(desk.archive, stem)
    place = worked_out("post", stem, lambda: post_place(known))
    title = f"Post of {stem}"
    drawings = (drawing(post_plan(f"{title}, looked at from the front", _post_lines(place))),)
    return TemplateView(
        id=stem,
        title=title,
        lines=heading(desk, stem),
        pieces=drawings,
        whole=drawings,
        overview=(),
        used=(*used_rows(place.used), *_post_sums(place)),
        tables=(),
        notes=_post_notes(place),
        cautions=("Slacken the strings before the post is moved.", KNIVES, DEFERENCE),
    )


def _post_lines(place: PostPlace) -> PostLines:
    return PostLines(
        centre_x=place.centre_x_mm,
        centre_y=place.centre_y_mm,
        diameter=place.diameter_mm,
        foot_span=place.foot_span_mm,
        foot_thickness=place.foot_thickness_mm,
        nick_x=place.nick_x_mm,
        diameter_words=tenths(place.diameter_mm),
        behind_words=tenths(place.behind_foot_mm),
        inset_words=tenths(place.inset_mm),
        from_joint_words=tenths(place.centre_x_mm),
        to_nick_words=tenths(place.to_f_hole_mm or 0.0),
    )


def _post_sums(place: PostPlace) -> tuple[Worked, ...]:
    sums = [
        Worked("Middle of the post from the joint", tenths(place.centre_x_mm), "mm", "worked out",
               "foot span/2 − inside the foot’s edge − diameter/2"),
        Worked("Middle of the post behind the nick line", tenths(place.centre_y_mm), "mm", "worked out",
               "foot thickness/2 + behind the foot + diameter/2", "the foot stands with its middle on the nick line"),
    ]  # fmt: skip
    if place.nick_x_mm is not None:
        sums.append(
            Worked("Inner nick from the joint", tenths(place.nick_x_mm), "mm", "worked out",
                   "x of the post’s middle + root of ((to the f-hole + diameter/2)² − (behind the nick line)²)")
        )  # fmt: skip
    return tuple(sums)


def _post_notes(place: PostPlace) -> tuple[str, ...]:
    notes = [
        FOOT,
        "The length is that of the post that was fitted: cut the new one longer and fit its ends to belly and back.",
    ]
    if place.to_f_hole_mm is None:
        notes.append("How far the post stands from the f-hole is not recorded, so the nick is not drawn.")
    elif place.nick_x_mm is None:
        notes.append("The recorded distance to the f-hole is too short for where the post stands: measure it again.")
    return tuple(notes)
