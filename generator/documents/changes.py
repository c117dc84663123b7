"""What changed from one design of a tool to the next, in a line."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from generator.model.tool import Tool
from generator.units import number

MOST_SHOWN = 6


def changes(former: Tool | None, tool: Tool) -> str:
    """Return the parameters and results that differ, such as "travel 12 -> 13 mm"."""
    if former is None:
        return tool.name
    before, after = _leaves(former), _leaves(tool)
    told = [
        f"{key} {_said(before.get(key))} -> {_said(after.get(key))}"
        for key in dict.fromkeys((*before, *after))
        if before.get(key) != after.get(key)
    ]
    if not told:
        return "nothing changed"
    more = f" and {len(told) - MOST_SHOWN} more" if len(told) > MOST_SHOWN else ""
    return ", ".join(told[:MOST_SHOWN]) + more


def _leaves(tool: Tool) -> dict[str, Any]:
    """Return the parameters that were given, then results, then derived parameters, by name."""
    every = dict(_walk(tool.parameters, ""))
    given = {key: value for key, value in every.items() if key not in tool.derived}
    results = {
        f"{what} {o.name}": value
        for o in tool.orientations
        for what, value in (
            ("travel mm", o.travel_mm),
            ("preload N", o.preload_N),
            ("full force N", o.full_force_N),
        )
    }
    return {**given, **results, **every}


def _walk(value: Any, path: str) -> list[tuple[str, Any]]:
    if is_dataclass(value):
        dot = f"{path}." if path else ""
        return [
            leaf
            for field in fields(value)
            for leaf in _walk(getattr(value, field.name), f"{dot}{field.name}")
        ]
    if isinstance(value, tuple) and value and is_dataclass(value[0]):
        return [
            leaf
            for place, entry in enumerate(value, 1)
            for leaf in _walk(entry, f"{path}[{place}]")
        ]
    return [(path, value)]


def _said(value: Any) -> str:
    return number(value, 2) if isinstance(value, float) else str(value)
