"""The page for a tablet, without its triangles, and the file that is made of both."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from struct import pack

from generator.errors import ExportError
from generator.model.mesh import Mesh


@dataclass(frozen=True, slots=True)
class Page:
    """A page in two pieces; the triangles of the parts stand between them as JSON.

    Attributes:
        before: What stands before them.
        after: What stands after them.
    """

    before: str
    after: str


def write_page(page: Page, meshes: Iterable[Mesh], path: Path) -> None:
    """Write a page with the triangles of the parts; the same bytes each time.

    Raises:
        ExportError: If the file cannot be written.
    """
    parts = [
        {"part": m.part, "corners": _coded(m.corners), "triangles": _coded(m.triangles)}
        for m in meshes
    ]
    text = "".join((page.before, json.dumps(parts, separators=(",", ":")), page.after))
    try:
        path.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror or error}") from error


def _coded(numbers: Sequence[int]) -> str:
    """Return whole numbers of 32 bits, the lowest byte first, in base64."""
    return b64encode(pack(f"<{len(numbers)}i", *numbers)).decode()
