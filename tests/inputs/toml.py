"""Writing a parameter table as TOML, for the tests that need a file."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any


def written(table: Mapping[str, Any]) -> str:
    """Return a table as TOML text, inner tables in braces."""
    return "".join(f"{key} = {_literal(value)}\n" for key, value in table.items())


def _literal(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {_literal(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_literal(each) for each in value) + "]"
    return json.dumps(value, ensure_ascii=False)
