"""Pages for the tests: whole documents with surfaces that no CAD kernel made."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, sin
from pathlib import Path
from typing import Any

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import Document
from generator.documents.report import report_data
from generator.documents.stroke_section import StrokeSection, stroke_section
from generator.documents.stroke_view import StrokeView, stroke_view
from generator.documents.subjects import study
from generator.documents.tool_sheets import tool_sheets
from generator.export.html import page
from generator.export.page import write_page
from generator.inputs.profile import read_profile
from generator.model.mesh import STEP_MM, Mesh
from generator.model.part import Part
from generator.model.tool import Tool, design

ROOT = Path(__file__).parents[2]
AROUND = 12


@dataclass(frozen=True, slots=True)
class Written:
    """A page, and what it was made of."""

    path: Path
    tool: Tool
    document: Document
    data: dict[str, Any]
    view: StrokeView
    section: StrokeSection

    @property
    def address(self) -> str:
        return self.path.as_uri()


def revolved(part: Part) -> Mesh:
    """Return the half x < 0 of a part as turned, coarse and without its cuts."""
    corners: list[int] = []
    triangles: list[int] = []
    ring = [*part.outline.corners, part.outline.corners[0]]
    for a, b in pairwise(ring):
        for step in range(AROUND):
            angles = [pi / 2 + pi * (step + k) / AROUND for k in (0, 1)]
            first = len(corners) // 3
            for corner in (a, b):
                for angle in angles:
                    x, y = corner.r_mm * cos(angle), corner.r_mm * sin(angle)
                    corners += (round(c / STEP_MM) for c in (x, y, corner.z_mm))
            triangles += (first, first + 1, first + 2, first + 2, first + 1, first + 3)
    return Mesh(part.name, tuple(corners), tuple(triangles))


@lru_cache
def _told(name: str) -> tuple[Tool, Document, dict[str, Any]]:
    """Return the tool of a profile, its document with an operation in it, and its report."""
    tool = design(read_profile(ROOT / "profiles" / f"{name}.toml"))
    findings, told = run_checks(tool), study(tool)
    sheets = tool_sheets(tool, findings)
    document = bench(tool, findings, told, sheets)
    return tool, document, report_data(tool, findings, told)


def written(name: str, folder: Path, *, inches: bool = False, **changes: Any) -> Written:
    """Write the page of a profile; changes are those of its document."""
    tool, document, data = _told(name)
    view, section = stroke_view(tool), stroke_section(tool)
    assert view is not None
    folder.mkdir(exist_ok=True)
    path = folder / f"{name}.html"
    made = page(replace(document, **changes), (view, section), inches=inches)
    write_page(made, (revolved(part) for part in tool.solid_parts), path)
    return Written(path, tool, document, data, view, section)
