"""The verification page: template, style, script and what is known, made into one file that needs nothing else.

Its own policy lets no other script run in it and no request leave it.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable

from passport.site.pages import Press
from passport.site.templates import environment
from passport.views.addresses import VERIFICATION

# The parts of the script, each resting on those before it.
PARTS = ("reader", "checks", "page")


def verification_page(press: Press, known: str) -> tuple[str, bytes]:
    """The page; `known` is JSON that may stand inside HTML."""
    templates = environment(press.archive, press.digest)
    parts = (templates.get_template(f"verify_{part}.js").render() for part in PARTS)
    script, style = _joined(parts), templates.get_template("verify.css").render()
    page = templates.get_template("verify.html").render(
        workshop=press.workshop,
        audience=press.audience,
        known=known,
        script=script,
        style=style,
        script_hash=_hash(script),
        style_hash=_hash(style),
    )
    return f"{VERIFICATION}index.html", page.encode()


def _joined(parts: Iterable[str]) -> str:
    """Make one script of its parts, whose names stay its own: a browser's window has a `status` too."""
    return "\n".join(('(function () {\n"use strict";\n', *parts, "})();"))


def _hash(content: str) -> str:
    """Name a script or style in a content security policy (W3C CSP 3, section 2.3.1)."""
    return f"sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}"
