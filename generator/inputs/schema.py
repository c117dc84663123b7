"""The JSON Schemas of parameter and workshop files, for editors that complete and validate them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any, get_type_hints

from pydantic.json_schema import GenerateJsonSchema

from generator.inputs.drawer import Shop
from generator.inputs.parameters import Parameters
from generator.inputs.profile import dataclasses_in, explanation
from generator.inputs.quantities import is_derived
from generator.inputs.validator import file_schema, schema_of

TITLES = {Parameters: "Spring-loaded centre", Shop: "Workshop"}


def schema(root: type = Parameters) -> dict[str, Any]:
    """Return the schema of a kind of file, made from the one that reads the file.

    Each key carries its explanation; a key that is derived when left out has no default.

    Args:
        root: The dataclass that describes the whole file: `Parameters` or `Shop`.
    """
    kinds = {str(kind.__doc__): kind for kind in _tables(root)}
    engine = file_schema() if root is Parameters else schema_of(root)
    made = _explained(GenerateJsonSchema().generate(engine), kinds)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **made,
        "title": TITLES[root],
    }


def _explained(node: Any, kinds: dict[str, type]) -> Any:
    """Return a part of the schema with explanations, and without what only marks a key."""
    if isinstance(node, list):
        return [_explained(each, kinds) for each in node]
    if not isinstance(node, dict):
        return node
    node = {key: _explained(each, kinds) for key, each in node.items() if key != "discriminator"}
    kind = kinds.get(str(node.get("description")))
    if kind is None or "properties" not in node:
        return node
    told = {key: _key(each, explanation(kind, key)) for key, each in node["properties"].items()}
    return {**node, "properties": told, "additionalProperties": False}


def _key(node: dict[str, Any], text: str) -> dict[str, Any]:
    default = node.get("default")
    dropped = {"title"} | ({"default"} if is_derived(default) or _is_table(default) else set())
    return {**{key: each for key, each in node.items() if key not in dropped}, "description": text}


def _is_table(default: Any) -> bool:
    return is_dataclass(default) or isinstance(default, dict) or default is None


def _tables(kind: type) -> Iterator[type]:
    """Yield a dataclass and every one below it."""
    yield kind
    hints = get_type_hints(kind, include_extras=True)
    for field in fields(kind):
        for nested in dataclasses_in(hints[field.name]):
            yield from _tables(nested)
