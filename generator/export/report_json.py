"""The report as a JSON file."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.errors import ExportError


def json_text(data: Mapping[str, Any]) -> str:
    """Return the report as JSON text, a line end at its end.

    Raises:
        ValueError: If a number in it is not finite.
    """
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def write_json(data: Mapping[str, Any], path: Path) -> None:
    """Write the report.

    Raises:
        ExportError: If the file cannot be written.
    """
    try:
        path.write_text(json_text(data), encoding="utf-8", newline="\n")
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror or error}") from error
