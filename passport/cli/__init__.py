"""The command line: one module a command, wiring only; results on stdout, problems on stderr.

Exit status: 0 nothing wrong, 1 findings or a refusal, 2 a command that is not understood, 3 a fault of our own.
"""

from __future__ import annotations

import gc
import os
import sys

import click
from rich.markup import escape

from passport import __version__
from passport.cli.booklet import booklet
from passport.cli.build import build, serve
from passport.cli.calibrate import calibrate
from passport.cli.check import check
from passport.cli.compare import compare
from passport.cli.console import err, use_utf8
from passport.cli.explain import explain
from passport.cli.export import export
from passport.cli.issue import issue
from passport.cli.key import key
from passport.cli.label import label
from passport.cli.labels import labels
from passport.cli.materials import materials
from passport.cli.new import init, new, page
from passport.cli.schema import schema
from passport.cli.template import template
from passport.cli.verify import verify_files
from passport.errors import PassportError
from passport.spread import one_thread

OUR_FAULT = 3
OBJECTS_BETWEEN_LOOKS = 100_000


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="passport")
def passport() -> None:
    """Keep one record per instrument, check it, and publish it as pages that the label in the case leads to."""


for command in (
    check,
    compare,
    template,
    build,
    serve,
    label,
    labels,
    booklet,
    materials,
    calibrate,
    new,
    page,
    init,
    key,
    issue,
    verify_files,
    explain,
    export,
    schema,
):
    passport.add_command(command)


def main() -> None:
    """Run the command line; a fault is said in a sentence, never as a traceback unless PASSPORT_DEBUG is set."""
    use_utf8()
    # Records hold no circles; looking for some after every few hundred objects costs a quarter of the time.
    gc.set_threshold(OBJECTS_BETWEEN_LOOKS)
    one_thread()
    try:
        passport()
    except PassportError as error:
        err.print(f"[bold red]error[/] {escape(error.what)}", highlight=False, soft_wrap=True)
        if error.todo:
            err.print(f"  → {error.todo}", highlight=False, soft_wrap=True, markup=False)
        sys.exit(1)
    except Exception as error:
        if os.environ.get("PASSPORT_DEBUG"):
            raise
        err.print(f"this is a fault in passport itself, not in your records: {error!r}", markup=False, soft_wrap=True)
        err.print("  → run it again with PASSPORT_DEBUG=1 and send us what it prints", markup=False, soft_wrap=True)
        sys.exit(OUR_FAULT)
