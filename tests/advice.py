"""What an advice says: the parameters it names and the numbers it gives for them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Final

from generator.inputs.schema import schema

TABLES: Final = (
    "mount|body|bore|plunger|slot|set_screw|springs|separator|button|plug|taps|machine|workshop|making"
    "|alignment|pick_up|support|cross_pin|shoulder|disc|screwed_tips|bush"
)
KEY: Final = rf"(?:{TABLES})(?:\[\d+\])?(?:\.[a-z_A-Z]+)+"
NAMED: Final = re.compile(rf"\[\[?(?P<table>[a-z_]+)\]|\b(?P<key>{KEY}|(?:springs|taps)\[\d+\])")
NUMBER: Final = re.compile(
    rf"\b(?P<key>{KEY})\)? (?:to|comes to|of|of at most|at) (?P<number>-?\d+(?:\.\d+)?)(?= |$|,)"
)


def named(advice: str) -> tuple[str, ...]:
    """Return the keys and tables that an advice names."""
    return tuple(found["table"] or found["key"] for found in NAMED.finditer(advice))


def alternatives(advice: str) -> Iterator[dict[str, float]]:
    """Yield each way out that an advice gives in numbers: dotted keys with their values.

    Ways are parted by "or"; what "and" joins belongs together.
    """
    for way in re.split(r"; |,? or ", advice):
        pairs = {
            re.sub(r"\[(\d+)\]", lambda n: f".{int(n[1]) - 1}", found["key"]): float(
                found["number"]
            )
            for found in NUMBER.finditer(way)
        }
        if pairs:
            yield pairs


@cache
def _schema() -> dict[str, Any]:
    return schema()


def in_schema(key: str) -> bool:
    """Tell whether the schema of the parameter file has a key."""
    whole = _schema()
    nodes = list(_forms(whole, whole))
    for step in re.sub(r"\[\d+\]", "", key).split("."):
        nodes = [
            form
            for node in nodes
            if step in node.get("properties", {})
            for form in _forms(node["properties"][step], whole)
        ]
    return bool(nodes)


def _forms(node: Mapping[str, Any], whole: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Yield a node of the schema and what it refers to or chooses from."""
    yield node
    if "$ref" in node:
        yield from _forms(whole["$defs"][node["$ref"].rsplit("/", 1)[1]], whole)
    for several in ("anyOf", "oneOf", "allOf"):
        for each in node.get(several, ()):
            yield from _forms(each, whole)
    for each in node.get("prefixItems", ()):
        yield from _forms(each, whole)
    if isinstance(node.get("items"), Mapping):
        yield from _forms(node["items"], whole)
