"""Where the templates are found: the workshop's own folder, then ours in a checkout, then ours in a wheel.

It alone makes the Jinja environment: autoescape is always on and a name the view does not have is an error.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from passport.errors import PassportError
from passport.site import typography

PAGE_TEMPLATES = Path("site_templates") / "passport"


def shipped_root() -> Path:
    """The folder that holds our mkdocs.yml and site_templates/, in a checkout or in an installed wheel."""
    package = Path(__file__).resolve().parents[1]
    for root in (package.parent, package / "shipped"):
        if (root / "mkdocs.yml").is_file() and (root / PAGE_TEMPLATES).is_dir():
            return root
    raise PassportError("The page templates are missing from this installation.", "Install instrument-passport again.")


def template_roots(archive: Path | None = None) -> list[Path]:
    """The folders searched for a page template, the workshop's own first; it may replace any single file."""
    own = [archive / PAGE_TEMPLATES] if archive is not None else []
    return list(dict.fromkeys([*own, shipped_root() / PAGE_TEMPLATES]))


@lru_cache(maxsize=2)
def environment(archive: Path | None, edition: str) -> Environment:  # noqa: ARG001 - what is kept is good for one
    """The environment all pages of an edition are set with."""
    made = Environment(
        loader=FileSystemLoader(template_roots(archive)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["figures"] = typography.figures
    made.filters["fractions"] = typography.fractions
    made.filters["run_in"] = typography.run_in
    made.filters["with_unit"] = typography.with_unit
    made.tests["figure"] = typography.is_number
    return made
