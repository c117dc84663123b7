"""Parameters back into the table of a file: only what is not as it would be if left out."""

from __future__ import annotations

from dataclasses import MISSING, Field, fields, is_dataclass
from typing import Any

from generator.inputs.quantities import is_derived


def table_of(described: Any) -> dict[str, Any]:
    """Return the table that the reader would make of a dataclass of the inputs.

    Args:
        described: Parameters, a workshop, or one of their tables.
    """
    table: dict[str, Any] = {}
    for field in fields(described):
        value = getattr(described, field.name)
        if is_derived(value) or value is None or value == _default(field):
            continue
        table[field.name] = _plain(value)
    return table


def _default(field: Field[Any]) -> Any:
    if field.default_factory is not MISSING:
        return field.default_factory()
    return field.default


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return table_of(value)
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    return value
