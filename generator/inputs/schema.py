"""The JSON Schema of the parameter file, for editors that complete and validate it."""

from __future__ import annotations

from typing import Any

from generator.inputs.profile import adapter
from generator.inputs.quantities import is_derived


def schema() -> dict[str, Any]:
    """Return the schema; a key that is derived when left out has no default in it."""
    made = adapter().json_schema()
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Spring-loaded centre",
    }
    return {**head, **_without_marks({**made, **head})}


def _without_marks(node: Any) -> Any:
    """Return a part of the schema without defaults that only mark a derived key."""
    if isinstance(node, dict):
        if "default" in node and is_derived(node["default"]):
            node = {key: value for key, value in node.items() if key != "default"}
        return {key: _without_marks(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_without_marks(value) for value in node]
    return node
