"""Builds the sample with MkDocs itself, from the shipped mkdocs.yml, into a folder of the test's own."""

from __future__ import annotations

import io
from pathlib import Path

import yaml
from mkdocs.commands.build import build
from mkdocs.config.base import load_config

from passport.mkdocs_plugin import PassportPlugin
from passport.publish import Edition
from passport.site.templates import shipped_root
from passport.views.site_tree import SiteView


def built(site: SiteView, folder: Path) -> Path:
    """The whole site in `folder`. The plugin is put in by hand, so that the package need not be installed."""
    settings = yaml.safe_load((shipped_root() / "mkdocs.yml").read_text(encoding="utf-8"))
    del settings["plugins"]["passport"]
    stream = io.BytesIO(yaml.safe_dump(settings).encode())
    stream.name = str(shipped_root() / "mkdocs.yml")
    config = load_config(stream, site_dir=str(folder.resolve()), strict=True)
    plugin = PassportPlugin()
    plugin.load_config({"audience": site.audience})
    plugin.prepared = Edition(site=site, records=0, findings=(), photos=folder.parent, folder=folder.parent)
    config.plugins["passport"] = plugin
    build(config)
    return folder
