"""The parts of a tool as triangles, those that hide others cut open by half."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Final

import cadquery as cq
from OCP.BRep import BRep_Tool
from OCP.BRepBuilderAPI import BRepBuilderAPI_Copy
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.TopAbs import TopAbs_REVERSED
from OCP.TopLoc import TopLoc_Location

from generator.errors import ExportError
from generator.kernel.shapes import solid
from generator.model.mesh import STEP_MM, WHOLE, Mesh
from generator.model.part import Part
from generator.model.tool import Tool

DEFLECTION_MM: Final = 0.02
ANGLE_RAD: Final = 0.2
"""Between neighbouring triangles of a round face."""


def meshes(tool: Tool) -> tuple[Mesh, ...]:
    """Return every part of a tool but its springs, each once.

    Raises:
        ExportError: If the kernel makes no triangles of a part.
    """
    return tuple(mesh(part) for part in tool.solid_parts)


@lru_cache(maxsize=64)
def mesh(part: Part) -> Mesh:
    """Return a part as triangles; without its half x > 0, unless it is shown whole.

    A copy is divided, since the triangles stay with a shape and would show in what is made of it
    afterwards.

    Raises:
        ExportError: If the kernel makes no triangles of it.
    """
    try:
        copy = cq.Shape.cast(BRepBuilderAPI_Copy(_shown(part).wrapped, False, False).Shape())
        BRepMesh_IncrementalMesh(copy.wrapped, DEFLECTION_MM, False, ANGLE_RAD, False)
        return _joined(part.name, (_face(face) for face in copy.Faces()))
    except ExportError:
        raise
    except Exception as reason:  # the kernel's errors have no base class of their own
        raise ExportError(f"{part.name}: the kernel divides it into no triangles") from reason


def _shown(part: Part) -> cq.Shape:
    """Return the solid of a part as it is shown: its half, or the whole where it cannot be cut.

    A part whose walls cross, as a refused tool may have one, is not cut rightly by the kernel.
    """
    whole = solid(part)
    if part.name in WHOLE:
        return whole
    half = whole.cut(_half_space(part))
    return half if half.isValid() else whole


def _half_space(part: Part) -> cq.Solid:
    """Return a box round all of a part that has x > 0."""
    wide, ends = 2 * part.outline.diameter_mm, [c.z_mm for c in part.outline.corners]
    long = max(ends) - min(ends) + 2
    return cq.Solid.makeBox(wide, 2 * wide, long, cq.Vector(0, -wide, min(ends) - 1))


Triangles = tuple[list[int], list[tuple[int, int, int]]]


def _face(face: cq.Face) -> Triangles:
    """Return the corners of a face and its triangles, turned so that they are seen outside."""
    place = TopLoc_Location()
    made: Any = BRep_Tool.Triangulation_s(face.wrapped, place)
    if made is None:
        raise ExportError("a face without triangles")
    corners: list[int] = []
    for number in range(1, made.NbNodes() + 1):
        point = made.Node(number).Transformed(place.Transformation())
        corners += (round(c / STEP_MM) for c in (point.X(), point.Y(), point.Z()))
    triangles = [made.Triangle(number).Get() for number in range(1, made.NbTriangles() + 1)]
    if face.wrapped.Orientation() == TopAbs_REVERSED:
        triangles = [(a, c, b) for a, b, c in triangles]
    return corners, triangles


def _joined(name: str, faces: Iterator[Triangles]) -> Mesh:
    """Return the faces of a part as one; triangles that rounding has closed up are left out."""
    corners: list[int] = []
    triangles: list[int] = []
    for found, of_face in faces:
        before = len(corners) // 3
        corners += found
        for triangle in of_face:
            places = [before + number - 1 for number in triangle]
            if len({tuple(corners[3 * place : 3 * place + 3]) for place in places}) == 3:
                triangles += places
    return Mesh(name, tuple(corners), tuple(triangles))
