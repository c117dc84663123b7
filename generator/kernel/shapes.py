"""Solids of the parts, each measured against the volume worked out for it.

A solid has the part's axes: z along the axis, +y the side of the radial cuts. The seam of every
turned face lies on -y, away from the cuts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache
from math import cos, isclose, pi, sin, sqrt
from typing import Final, NamedTuple

from generator.errors import ExportError
from generator.model.assembly import X_AND_Z_OF, Placed, Point
from generator.model.outline import Corner, Outline
from generator.model.part import (
    CrossHole,
    Cut,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)


def missing_library(reason: ImportError) -> ExportError:
    """Return the error that tells how to get the CAD kernel going.

    Example:
        >>> print(missing_library(ImportError("libGL.so.1: cannot open shared object file")))
        solids need the system library libGL.so.1: install libgl1 (Debian, Ubuntu) or mesa-libGL \
(Fedora)
    """
    if "libGL.so.1" in str(reason):
        return ExportError(
            "solids need the system library libGL.so.1: "
            "install libgl1 (Debian, Ubuntu) or mesa-libGL (Fedora)"
        )
    return ExportError(f"solids need cadquery, which cannot be loaded: {reason}")


try:
    import cadquery as cq
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.Message import Message, Message_Printer
except ImportError as reason:
    raise missing_library(reason) from reason

Message.DefaultMessenger_s().RemovePrinters(Message_Printer.get_type_descriptor_s())

VOLUME_SLACK: Final = 1e-6
"""Largest relative difference between a measured volume and the one worked out."""
INTEGRATION: Final = 1e-3
"""Asked of the kernel's adaptive integration, which comes out far closer: about 1e-9."""


class Properties(NamedTuple):
    """What the kernel measures on a shape."""

    volume_mm3: float
    area_mm2: float
    centroid_mm: Point


@lru_cache(maxsize=64)
def measured(shape: cq.Shape) -> Properties:
    """Return volume, surface area and centroid of a shape."""
    volume, area = filled(shape), GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape.wrapped, area)
    return Properties(volume.Mass(), area.Mass(), cq.Vector(volume.CentreOfMass()).toTuple())


def filled(shape: cq.Shape) -> GProp_GProps:
    """Return the kernel's integral over the volume of a shape."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, INTEGRATION)
    return properties


@lru_cache(maxsize=64)
def blank(part: Part) -> cq.Solid:
    """Return a part as turned, before its cuts: its finished solid and more, never less.

    A shape is built once and kept: the proof of motion, the files and the next build of `watch`
    share it. Nothing may change one.

    Raises:
        ExportError: If it is not one valid solid of the volume worked out for the outline.
    """
    return _proved(part, lambda: (_revolved(part.outline), part.outline.volume_mm3))


@lru_cache(maxsize=64)
def solid(part: Part) -> cq.Solid:
    """Return the solid of a part: the revolved outline less the cuts; threads are smooth.

    Raises:
        ExportError: If it is not one valid solid of the volume worked out for the part.
    """
    if not part.cuts:
        return blank(part)
    turned = blank(part)

    def cut() -> tuple[cq.Shape, float]:
        cutters = (_cutter(each, part.outline) for each in part.cuts)
        return turned.cut(*cutters), part.volume_mm3

    return _proved(part, cut)


def _proved(part: Part, build: Callable[[], tuple[cq.Shape, float]]) -> cq.Solid:
    """Return the one solid that is built, if it is valid and of the volume worked out for it."""
    try:
        shape, expected_mm3 = build()
        solids = shape.Solids()
    except Exception as reason:  # the kernel's errors have no base class of their own
        raise ExportError(f"{part.name}: the kernel makes no solid of it ({reason})") from reason
    if len(solids) != 1:
        raise ExportError(f"{part.name}: the cuts leave {len(solids)} pieces")
    if not solids[0].isValid() or not expected_mm3 > 0:
        raise ExportError(f"{part.name}: the outline and its cuts make no valid solid")
    compare(part.name, filled(solids[0]).Mass(), expected_mm3)
    return solids[0]


def _revolved(outline: Outline) -> cq.Solid:
    section = cq.Wire.assembleEdges(list(_edges(outline)))
    return cq.Solid.revolve(section, [], 360.0, cq.Vector(0, 0, 0), cq.Vector(0, 0, 1))


def _edges(outline: Outline) -> Iterator[cq.Edge]:
    """Yield the half section on -y, each arc in one piece however many corners it has."""

    def at(corner: Corner) -> cq.Vector:
        return cq.Vector(0.0, -corner.r_mm, corner.z_mm)

    segments = list(outline.segments())
    arc: list[Corner] = []
    for s, after in zip(segments, [*segments[1:], segments[0]], strict=True):
        if not s.is_arc:
            yield cq.Edge.makeLine(at(s.start), at(s.end))
            continue
        arc = arc or [s.start]
        arc.append(s.end)
        if not s.runs_on_in(after):
            yield cq.Edge.makeThreePointArc(at(arc[0]), at(arc[len(arc) // 2]), at(arc[-1]))
            arc = []


def _cutter(cut: Cut, outline: Outline) -> cq.Shape:
    """Return the body that a cut takes away, standing out of the part where the tool comes in."""
    clear = outline.diameter_mm
    rear = max(corner.z_mm for corner in outline.corners)
    match cut:
        case CrossHole():
            return _hole(cut, outline, clear)
        case Slot():
            radius = outline.radius_at_mm(cut.front_mm + cut.length_mm / 2, inside=False)
            low = -clear if cut.through(outline) else radius - cut.depth_mm
            if cut.square:
                size, lows = (2 * clear, clear, cut.length_mm), (low, -low - clear)[: cut.count]
                corners = [cq.Vector(-clear, each, cut.front_mm) for each in lows]
                boxes = [cq.Solid.makeBox(*size, corner) for corner in corners]
                return cq.Compound.makeCompound(boxes)
            run_mm = cut.length_mm + clear if cut.open else cut.length_mm
            section = _stadium(replace(cut, length_mm=run_mm), low)
            return cq.Solid.extrudeLinear(section, [], cq.Vector(0, clear - low, 0))
        case SideFlat():
            ends = cut.front_mm, cut.rear_mm
            start, end = ends[0] - clear * (ends[0] <= 0), ends[1] + clear * (ends[1] >= rear)
            if not cut.both:
                corner = cq.Vector(-clear, cut.off_mm, start)
                return cq.Solid.makeBox(2 * clear, clear, end - start, corner)
            places = [cq.Vector(x, -clear, start) for x in (cut.off_mm, -cut.off_mm - clear)]
            boxes = [cq.Solid.makeBox(clear, 2 * clear, end - start, each) for each in places]
            return cq.Compound.makeCompound(boxes)
        case DriverSlot():
            corner = cq.Vector(-clear, -cut.width_mm / 2, rear - cut.depth_mm)
            return cq.Solid.makeBox(2 * clear, cut.width_mm, 2 * cut.depth_mm, corner)
        case HexSocket():
            r, z = cut.across_flats_mm / sqrt(3), rear - cut.depth_mm
            corners = [(r * cos(k * pi / 3), r * sin(k * pi / 3), z) for k in range(6)]
            section = cq.Wire.makePolygon(corners, close=True)
            return cq.Solid.extrudeLinear(section, [], cq.Vector(0, 0, 2 * cut.depth_mm))


def _hole(cut: CrossHole, outline: Outline, clear: float) -> cq.Solid:
    """Return what a radial hole takes away, from the outside to the bore or through both walls."""
    outward = cq.Vector(0, 1, 0)

    def cylinder(diameter_mm: float, low: float) -> cq.Solid:
        start = cq.Vector(0, low, cut.z_mm)
        return cq.Solid.makeCylinder(diameter_mm / 2, clear - low, start, outward)

    if not cut.ledge_mm:
        return cylinder(cut.diameter_mm, -clear if cut.both else 0.0)
    floor = outline.radius_at_mm(cut.z_mm, inside=True) + cut.ledge_mm
    wide, narrow = cylinder(cut.diameter_mm, floor), cylinder(cut.through_mm, 0.0)
    return wide.fuse(narrow).Solids()[0]


def _stadium(slot: Slot, y: float) -> cq.Wire:
    """Return the outline of a slot at the height y of its floor."""
    half = slot.width_mm / 2
    front, rear = slot.front_mm + half, slot.front_mm + slot.length_mm - half
    a, b, c, d = (
        cq.Vector(x, y, z) for x, z in ((half, front), (half, rear), (-half, rear), (-half, front))
    )
    return cq.Wire.assembleEdges(
        [
            cq.Edge.makeLine(a, b),
            cq.Edge.makeThreePointArc(b, cq.Vector(0, y, rear + half), c),
            cq.Edge.makeLine(c, d),
            cq.Edge.makeThreePointArc(d, cq.Vector(0, y, front - half), a),
        ]
    )


def location(place: Placed) -> cq.Location:
    """Return where a part stands in the tool."""
    x, z = X_AND_Z_OF[place.axis]
    return cq.Location(cq.Plane(place.origin_mm, xDir=x, normal=z))


def compare(what: str, volume_mm3: float, expected_mm3: float) -> None:
    """Hold a measured volume against the one worked out.

    Raises:
        ExportError: If they differ.
    """
    if not isclose(volume_mm3, expected_mm3, rel_tol=VOLUME_SLACK):
        raise ExportError(f"{what}: {volume_mm3:.6f} mm3 where {expected_mm3:.6f} were worked out")
