"""The solids of a pack: each made part, the assembly at preload, the surfaces for the page."""

from __future__ import annotations

from pathlib import Path

from generator.kernel.mesh import meshes
from generator.kernel.shapes import solid
from generator.kernel.step import write_assembly, write_step
from generator.model.instances import COLOURS, instances
from generator.model.mesh import Mesh
from generator.model.tool import Tool


def write_solids(tool: Tool, folder: Path) -> tuple[Mesh, ...]:
    """Write the STEP files of a tool, each read back and measured; return its surfaces.

    Raises:
        ExportError: If a solid is invalid or a file does not read back as it was written.
    """
    placed = instances(tool, tool.orientations[0], compressed=False)
    shapes = {part.name: solid(part) for part in {p.part.name: p.part for p in placed}.values()}
    for part in tool.made_parts:
        write_step(part, shapes[part.name], folder / f"{part.name}.step", COLOURS[part.name])
    write_assembly(placed, shapes, tool.name, folder / "assembly.step")
    return meshes(tool)
