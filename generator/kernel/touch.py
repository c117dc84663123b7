"""Two solids held against each other: their distance and what they share."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import cadquery as cq
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.TopTools import TopTools_ListOfShape

from generator.errors import ExportError
from generator.kernel.shapes import filled, location, solid
from generator.model.assembly import Placed

DIGITS: Final = 9


def distance_mm(first: cq.Shape, second: cq.Shape) -> float:
    """Return the least distance of two shapes, 0 where they touch or overlap.

    It is rounded far below what counts as touching, so that the noise of the kernel does not tell
    which of two equal distances is the nearer.

    Raises:
        ExportError: If the kernel finds none.
    """
    found = BRepExtrema_DistShapeShape(first.wrapped, second.wrapped)
    if not found.IsDone():
        raise ExportError("the kernel finds no distance between two parts")
    return round(float(found.Value()), DIGITS)


def shared(first: cq.Shape, second: cq.Shape) -> cq.Shape:
    """Return what two solids share; both are left as they are."""
    one, other = TopTools_ListOfShape(), TopTools_ListOfShape()
    one.Append(first.wrapped)
    other.Append(second.wrapped)
    common = BRepAlgoAPI_Common()
    common.SetArguments(one)
    common.SetTools(other)
    common.SetNonDestructive(True)
    common.Build()
    return cq.Shape.cast(common.Shape())


def volume_mm3(shape: cq.Shape) -> float:
    """Return the volume of what may be nothing."""
    return float(filled(shape).Mass()) if shape.Solids() else 0.0


def standing(place: Placed, core_mm: float = 0.0) -> cq.Shape:
    """Return the solid of a part in its place; with a core given, only what lies within it."""
    return (_core(place, core_mm) if core_mm else solid(place.part)).moved(location(place))


@lru_cache(maxsize=16)
def _core(place: Placed, core_mm: float) -> cq.Shape:
    """Return what of a screwed part lies within the core of its thread."""
    length_mm = place.part.outline.length_mm
    inside = cq.Solid.makeCylinder(core_mm / 2, length_mm + 2, cq.Vector(0, 0, -1))
    return shared(solid(place.part), inside)
