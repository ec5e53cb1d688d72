"""JSON Schemas of the record kinds, made from the model, so that an editor completes fields and words.

JSON Schema draft 2020-12.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from passport.records.catalogue import FILES, FOLDERS

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NAMES: Mapping[str, str] = {
    "instruments": "instrument",
    "wood": "wood",
    "varnish": "varnish",
    "models": "model",
    "private": "private",
}


def schemas() -> Iterator[tuple[str, bytes]]:
    """Give the file name and the content of every kind's schema."""
    kinds = {
        **{NAMES[folder]: kind for folder, kind in FOLDERS.items()},
        **{name.removesuffix(".yml"): kind for name, kind in FILES.items()},
    }
    for name, kind in kinds.items():
        schema = {"$schema": DIALECT, **_demanding(kind.model_json_schema(by_alias=True))}
        yield f"{name}.json", (json.dumps(schema, ensure_ascii=False, indent=1) + "\n").encode()


def _demanding(node: Any) -> Any:
    """Turn the model's own mark for needed fields into the standard's `required`, everywhere below a node."""
    if isinstance(node, list):
        return [_demanding(item) for item in node]
    if not isinstance(node, dict):
        return node
    properties = node.get("properties", {})
    needed = [name for name, field in properties.items() if isinstance(field, dict) and field.get("needed")]
    plain = {key: _demanding(value) for key, value in node.items() if key not in ("needed", "default")}
    return {**plain, "required": needed} if needed else plain
