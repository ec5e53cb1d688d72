"""Options that several commands share.

Declares them; decides nothing.
"""

from __future__ import annotations

from pathlib import Path

import click

RECORDS = click.option(
    "--records", type=click.Path(path_type=Path), default=Path("records"), show_default=True, help="The records folder."
)
