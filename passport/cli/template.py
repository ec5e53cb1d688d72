"""`passport template`: full-size templates for the bench."""

from __future__ import annotations

from pathlib import Path

import click

from passport.cli.console import out
from passport.cli.options import RECORDS
from passport.cli.typed import typed_heights_mm, typed_instrument, typed_mm
from passport.documents.template import template_pdf, template_svg
from passport.files import write_atomic
from passport.records.catalogue import Archive, find_root, load
from passport.stocks import PAPERS, Paper
from passport.views.bar_template import bar_template
from passport.views.bridge_template import bridge_template
from passport.views.post_template import post_template
from passport.views.tree import TemplateView

ENDINGS = (".pdf", ".svg")


@click.command(short_help="Draw a bridge, post or bar at full size.")
@click.argument("number", metavar="ID")
@click.argument("what", type=click.Choice(["bridge", "post", "bar"]))
@click.option(
    "--projection", default="", help="Of a bridge: today's projection in mm; the latest recorded unless given."
)
@click.option("--heights", default="", help='Of a bridge: string heights wanted, to the underside: "G 5.0, D 4.7".')
@click.option("--paper", type=click.Choice(PAPERS), default="a4", show_default=True, help="Of a .pdf.")
@click.option("--out", "target", type=click.Path(path_type=Path), required=True, help="A .pdf or .svg to write.")
@RECORDS
def template(number: str, what: str, projection: str, heights: str, paper: Paper, target: Path, records: Path) -> None:
    """Draw a template for the instrument ID at full size: the bridge to cut today, the post's place, the bar's line."""
    if target.suffix.lower() not in ENDINGS:
        raise click.BadParameter("the file must end in .pdf or .svg", param_hint="--out")
    if what != "bridge" and (projection or heights):
        raise click.UsageError("--projection and --heights are for a bridge")
    archive = load(find_root(records))
    view = _view(archive, typed_instrument(archive, number), what, projection, heights)
    write_atomic(target, template_pdf(view, paper) if target.suffix.lower() == ".pdf" else template_svg(view))
    out.print(target.as_posix(), markup=False)


def _view(archive: Archive, stem: str, what: str, projection: str, heights: str) -> TemplateView:
    if what == "post":
        return post_template(archive, stem)
    if what == "bar":
        return bar_template(archive, stem)
    given_mm = typed_mm(projection, "the projection") if projection else None
    return bridge_template(archive, stem, given_mm, typed_heights_mm(heights))
