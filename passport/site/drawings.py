"""How the stylesheet of the site has drawings look, for those that leave the site: on paper no stylesheet reaches them.

Reads the rules that are there and makes none.
"""

from __future__ import annotations

import re
from functools import cache

from passport.site.templates import shipped_root

STYLESHEET = "site_templates/theme/css/passport.css"
# What holds for other colours, widths or paper: a group of rules within a rule.
ELSEWHERE = re.compile(r"@(?:media|page)[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}")
ROOT = re.compile(r":root\s*\{([^}]*)\}")
VARIABLE = re.compile(r"(--[\w-]+):\s*([^;]+);")
USED = re.compile(r"var\((--[\w-]+)\)")
RULE = re.compile(r"(\.drawing[^{}]*)\{([^{}]*)\}")
# The typefaces that documents are set in, and what the palette of the screen is on white paper.
ON_PAPER = {
    "--figures": "'Passport Sans'",
    "--words": "'Passport Serif'",
    "--paper": "#fff",
    "--ink": "#000",
    "--grey": "#444",
}


@cache
def drawing_rules() -> str:
    """Give the rules for what is inside a drawing, every variable filled in; those of its frame on a page left out."""
    text = (shipped_root() / STYLESHEET).read_text(encoding="utf-8")
    screen = ELSEWHERE.sub("", text)
    light = ROOT.search(screen)
    values = {**dict(VARIABLE.findall(light[1] if light else "")), **ON_PAPER}
    rules = ((names, body) for names, body in RULE.findall(screen) if not re.search(r"\bsvg\b", names))
    filled = (f"{names.strip()}{{{USED.sub(lambda used: values[used[1]], body).strip()}}}" for names, body in rules)
    return f"text{{font-family:{ON_PAPER['--figures']}}}{''.join(filled)}"
