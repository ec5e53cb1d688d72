"""`passport schema`: write the schemas by which an editor completes records."""

from __future__ import annotations

from pathlib import Path

import click

from passport.cli.console import out
from passport.files import write_atomic
from passport.records.schema import schemas


@click.command(short_help="Help an editor complete fields.")
@click.option("--out", "folder", type=click.Path(path_type=Path), default=Path("records/schema"), show_default=True,
              help="The folder to write them to.")  # fmt: skip
def schema(folder: Path) -> None:
    """Write a JSON Schema for each kind of record, so that an editor completes fields and words."""
    for name, content in schemas():
        write_atomic(folder / name, content)
        out.print((folder / name).as_posix(), markup=False)
