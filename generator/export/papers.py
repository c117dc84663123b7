"""The papers of a pack: drawings, cutting profiles, the PDF and the report."""

from __future__ import annotations

from pathlib import Path

from generator.checks.finding import Finding
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.report import report, report_data
from generator.documents.tool_sheets import tool_sheets
from generator.export.dxf import write_drawing, write_profile
from generator.export.pdf import write_pdf
from generator.export.report_json import write_json
from generator.model.tool import Tool


def write_papers(tool: Tool, findings: tuple[Finding, ...], folder: Path) -> None:
    """Write every paper of a tool into a folder.

    Raises:
        ExportError: If a file cannot be written.
    """
    drawings = tool_sheets(tool, findings)
    for drawing in drawings:
        write_drawing(drawing, folder / f"{drawing.name}.dxf")
    for part in tool.made_parts:
        name = f"{part.name}-turning"
        write_profile(turning_profile(part, name), folder / f"{name}.dxf")
    write_profile(slot_profile(tool.plunger, "plunger-milling"), folder / "plunger-milling.dxf")
    write_pdf(drawings, report(tool, findings), folder / "sheets.pdf")
    write_json(report_data(tool, findings), folder / "report.json")
