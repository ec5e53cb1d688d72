"""The two sizes of paper that documents are set on, as the typesetter names them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from passport.stocks import Paper

TYPST_PAPERS: Mapping[Paper, str] = MappingProxyType({"a4": "a4", "letter": "us-letter"})
