"""`passport build` and `passport serve`: the site, from the records, in one go."""

from __future__ import annotations

import logging
import sys
from pathlib import Path
from typing import cast

import click

from passport import mkdocs_plugin
from passport.cli.console import err, out
from passport.cli.options import RECORDS
from passport.publish import BuildStoppedError, edition, offline_edition
from passport.records.catalogue import find_root
from passport.records.model.marks import Audience
from passport.report import print_findings, summary

PORTS = 65536
FOLDERS = {
    "public": Path("site"),
    "shop": Path("site-shop"),
    "public offline": Path("site-offline"),
    "shop offline": Path("site-shop-offline"),
}
AUDIENCE = click.option("--audience", type=click.Choice(("public", "shop")), default="public", show_default=True,
                        help="For everyone, or the shop's own copy.")  # fmt: skip


@click.command(short_help="Check the records and build the site.")
@AUDIENCE
@RECORDS
@click.option(
    "--out", "folder", type=click.Path(path_type=Path), help="The folder to build into, if not the usual one."
)
@click.option("--offline", is_flag=True, help="A copy that opens from a folder or a stick, without a server.")
@click.option("--with-errors", is_flag=True, help="Build although records have errors; their pages say so.")
def build(audience: str, records: Path, folder: Path | None, offline: bool, with_errors: bool) -> None:  # noqa: FBT001 - click passes flags so
    """Check the records and build the site; with errors the old site stays as it is.

    The usual folders are site and site-shop, and site-offline and site-shop-offline for copies to hand on. A copy of
    the public site leaves out what is not listed: in a folder anyone could see it.
    """
    root = find_root(records)
    try:
        made = edition(root, cast("Audience", audience), with_errors=with_errors)
    except BuildStoppedError as stopped:
        print_findings(err, stopped.findings)
        err.print(f"{stopped.what}\n  → {stopped.todo}", markup=False)
        sys.exit(1)
    made = offline_edition(made) if offline else made
    target = folder or FOLDERS[made.name]
    done = mkdocs_plugin.build(made, root, target)
    err.print(summary(made.findings, made.records), markup=False)
    files = done.synced
    err.print(f"{files.written} files written, {files.kept} as they were, {files.removed} taken away.", markup=False)
    if done.scanned is not None:
        err.print(str(done.scanned), markup=False)
    out.print(f"{(target / 'index.html').as_posix()}", markup=False)


@click.command(short_help="Show the site while you write.")
@AUDIENCE
@RECORDS
@click.option(
    "--at", "address", default="127.0.0.1:8000", show_default=True, help="Address and port to show the site at."
)
def serve(audience: str, records: Path, address: str) -> None:
    """Show the site on this machine and build it again whenever a record is saved."""
    host, _, port = address.rpartition(":")
    if not host or not port.isdecimal() or not 0 < int(port[:6]) < PORTS:
        raise click.BadParameter("write address and port, such as 127.0.0.1:8000", param_hint="--at")
    root = find_root(records)
    logging.basicConfig(level=logging.WARNING, format="%(message)s")
    err.print(
        f"http://{address}/ shows the site, built again whenever a record is saved. Ctrl-C ends it.", markup=False
    )
    mkdocs_plugin.serve(root, cast("Audience", audience), address)
