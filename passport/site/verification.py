"""The verification page: template, style, script and what is known, made into one file that needs nothing else.

Its own policy lets no other script run in it and no request leave it.
"""

from __future__ import annotations

import base64
import hashlib

from passport.site.pages import Press
from passport.site.templates import environment
from passport.views.addresses import VERIFICATION


def verification_page(press: Press, known: str) -> tuple[str, bytes]:
    """The page; `known` is JSON that may stand inside HTML."""
    templates = environment(press.archive, press.digest)
    script, style = (templates.get_template(f"verify.{ending}").render() for ending in ("js", "css"))
    page = templates.get_template("verify.html").render(
        workshop=press.workshop,
        known=known,
        script=script,
        style=style,
        script_hash=_hash(script),
        style_hash=_hash(style),
    )
    return f"{VERIFICATION}index.html", page.encode()


def _hash(content: str) -> str:
    """Name a script or style in a content security policy (W3C CSP 3, section 2.3.1)."""
    return f"sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}"
