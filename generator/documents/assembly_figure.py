"""The tool in section as a figure: the assembly without dimensions and title block."""

from __future__ import annotations

from typing import Final

from generator.documents.assembly_view import assembly_section
from generator.documents.drawing import Figure
from generator.documents.layout import bounds, moved
from generator.documents.title_block import scale_text
from generator.model.tool import Tool

SCALES: Final = (2.0, 1.0, 0.5, 0.2)
"""Those of ISO 5455 that are tried, the largest first."""

EDGE_MM: Final = 1.0


def assembly_figure(tool: Tool, width_mm: float, height_mm: float) -> Figure:
    """Return the tool in section with the plunger forward, in the largest scale that has room.

    Args:
        tool: The tool.
        width_mm: Width of the figure.
        height_mm: Most height that it may take.
    """
    orientation = tool.orientations[0]
    for scale in SCALES:
        marks = assembly_section(tool, orientation, scale).marks
        left, bottom, right, top = bounds(marks)
        wide, tall = right - left + 2 * EDGE_MM, top - bottom + 2 * EDGE_MM
        if wide <= width_mm and tall <= height_mm:
            break
    dx = (width_mm - wide) / 2 + EDGE_MM - left
    shifted = tuple(moved(mark, dx, EDGE_MM - bottom) for mark in marks)
    caption = (
        f"In section, plunger forward, {orientation.name}; phantom lines: plunger pushed home. "
        f"Scale {scale_text(scale)}."
    )
    return Figure("tool", "The tool", caption, width_mm, tall, shifted)
