"""The papers of a pack: drawings, cutting profiles, the PDF, the page and the report."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from generator.checks.finding import Finding, Verdict
from generator.documents.bench import bench
from generator.documents.drawing import Drawing
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.report import report_data
from generator.documents.stroke_section import stroke_section
from generator.documents.stroke_view import stroke_view
from generator.documents.study import Study
from generator.documents.subjects import motion, study
from generator.documents.tool_sheets import tool_sheets
from generator.export.dxf import write_drawing, write_profile
from generator.export.html import page
from generator.export.page import Page
from generator.export.pdf import write_pdf
from generator.export.report_json import write_json
from generator.model.contacts import Proof
from generator.model.tool import Tool


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a tool before its motion is proved.

    Two are equal if the sheets drawn from them are.

    Attributes:
        key: Its parameters, and the findings that are marked on every sheet.
        tool: The tool.
        findings: What the checks found.
    """

    key: str
    tool: Tool = field(compare=False)
    findings: tuple[Finding, ...] = field(compare=False)


def prepare_papers(tool: Tool, findings: tuple[Finding, ...]) -> None:
    """Draw the sheets and study the tool, for `write_papers` to find them ready.

    Args:
        tool: The tool.
        findings: What the checks found so far.
    """
    known = _known(tool, findings)
    _sheets(known)
    _study(known)


def write_papers(tool: Tool, findings: tuple[Finding, ...], folder: Path, proof: Proof) -> Page:
    """Write every paper of a tool into a folder; return the page, which lacks the solids.

    Raises:
        ExportError: If a file cannot be written.
    """
    known = _known(tool, findings)
    drawings = _sheets(known)
    for drawing in drawings:
        write_drawing(drawing, folder / f"{drawing.name}.dxf")
    for part in tool.made_parts:
        name = f"{part.name}-turning"
        write_profile(turning_profile(part, name), folder / f"{name}.dxf")
    if tool.parameters.slot is not None:
        write_profile(slot_profile(tool.plunger, "plunger-milling"), folder / "plunger-milling.dxf")
    told = replace(_study(known), motion=motion(tool, proof))
    document = bench(tool, findings, told, drawings)
    write_pdf(document, folder / "bench.pdf")
    write_json(report_data(tool, findings, told), folder / "report.json")
    view = stroke_view(tool)
    return page(
        document,
        None if view is None else (view, stroke_section(tool)),
        inches=tool.parameters.making.units == "inch",
    )


def _known(tool: Tool, findings: tuple[Finding, ...]) -> Known:
    marked = [f for f in findings if f.verdict is Verdict.FAIL or f.limit.changed]
    return Known(repr((tool.parameters, marked)), tool, findings)


@lru_cache(maxsize=1)
def _sheets(known: Known) -> tuple[Drawing, ...]:
    return tool_sheets(known.tool, known.findings)


@lru_cache(maxsize=1)
def _study(known: Known) -> Study:
    return study(known.tool)
