"""The solids of a pack: each made part, the assembly at preload, the surfaces for the page."""

from __future__ import annotations

from pathlib import Path

from generator.kernel.mesh import meshes
from generator.kernel.shapes import solid
from generator.kernel.step import write_assembly, write_step
from generator.model.instances import colour_of, instances
from generator.model.mesh import Mesh
from generator.model.tool import Tool


def write_solids(tool: Tool, folder: Path) -> tuple[Mesh, ...]:
    """Write the STEP files of a tool, each read back and measured; return its surfaces.

    Raises:
        ExportError: If a solid is invalid or a file does not read back as it was written.
    """
    placed = instances(tool, tool.orientations[0], compressed=False)
    standing = {place.part.name: place.part for place in placed}
    every = {**standing, **{part.name: part for part in tool.made_parts}}
    shapes = {name: solid(part) for name, part in every.items()}
    for part in tool.made_parts:
        write_step(part, shapes[part.name], folder / f"{part.name}.step", colour_of(part))
    write_assembly(placed, shapes, tool.name, folder / "assembly.step")
    return meshes(tool)
