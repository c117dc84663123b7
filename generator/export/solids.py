"""Solids of the parts and their STEP files, each read back; the one module with a CAD kernel.

A solid has the part's axes: z along the axis, +y the side of the radial cuts. The seam of every
turned face lies on -y, away from the cuts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from math import cos, isclose, pi, sin, sqrt
from pathlib import Path
from typing import Any, Final, NamedTuple

from generator.errors import ExportError
from generator.model.assembly import X_AND_Z_OF, Placed, Point
from generator.model.outline import Outline
from generator.model.part import CrossHole, Cut, DriverSlot, HexSocket, Part, Slot


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
    from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.Interface import Interface_Static
    from OCP.Message import Message, Message_Printer
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPConstruct import STEPConstruct, STEPConstruct_Styles
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Reader
    from OCP.StepRepr import (
        StepRepr_HArray1OfRepresentationItem,
        StepRepr_NextAssemblyUsageOccurrence,
    )
    from OCP.StepVisual import (
        StepVisual_ColourRgb,
        StepVisual_MechanicalDesignGeometricPresentationRepresentation,
    )
    from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDF import TDF_Label
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_Area, XCAFDoc_Centroid, XCAFDoc_DocumentTool, XCAFDoc_Volume
    from OCP.XSControl import XSControl_WorkSession
except ImportError as reason:
    raise missing_library(reason) from reason

Message.DefaultMessenger_s().RemovePrinters(Message_Printer.get_type_descriptor_s())

STEEL: Final = (0.66, 0.69, 0.72)
VOLUME_SLACK: Final = 1e-6
"""Largest relative difference between a measured volume and the one worked out."""
INTEGRATION: Final = 1e-3
"""Asked of the kernel's adaptive integration, which comes out far closer: about 1e-9."""
WRITER_SETTINGS: Final = {
    "write.step.schema": "AP242DIS",
    "write.step.unit": "MM",
    "xstep.cascade.unit": "MM",
}
SOURCE: Final = "springcentre"

Colour = tuple[float, float, float]


class Properties(NamedTuple):
    """What the kernel measures on a shape."""

    volume_mm3: float
    area_mm2: float
    centroid_mm: Point


@lru_cache(maxsize=64)
def measured(shape: cq.Shape) -> Properties:
    """Return volume, surface area and centroid of a shape."""
    volume, area = _filled(shape), GProp_GProps()
    BRepGProp.SurfaceProperties_s(shape.wrapped, area)
    return Properties(volume.Mass(), area.Mass(), cq.Vector(volume.CentreOfMass()).toTuple())


def _filled(shape: cq.Shape) -> GProp_GProps:
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, properties, INTEGRATION)
    return properties


def solid(part: Part) -> cq.Solid:
    """Return the solid of a part: the revolved outline less the cuts; threads are smooth.

    Raises:
        ExportError: If it is not one valid solid of the volume worked out for the part.
    """
    try:
        shape = _revolved(part.outline)
        if part.cuts:
            shape = shape.cut(*(_cutter(cut, part.outline) for cut in part.cuts))
        solids, expected_mm3 = shape.Solids(), part.volume_mm3
    except Exception as reason:  # the kernel's errors have no base class of their own
        raise ExportError(f"{part.name}: the kernel makes no solid of it ({reason})") from reason
    if len(solids) != 1:
        raise ExportError(f"{part.name}: the cuts leave {len(solids)} pieces")
    if not solids[0].isValid() or not expected_mm3 > 0:
        raise ExportError(f"{part.name}: the outline and its cuts make no valid solid")
    _compare(part.name, measured(solids[0]).volume_mm3, expected_mm3)
    return solids[0]


def _revolved(outline: Outline) -> cq.Solid:
    section = cq.Wire.makePolygon([(0.0, -c.r_mm, c.z_mm) for c in outline.corners], close=True)
    return cq.Solid.revolve(section, [], 360.0, cq.Vector(0, 0, 0), cq.Vector(0, 0, 1))


def _cutter(cut: Cut, outline: Outline) -> cq.Solid:
    """Return the body that a cut takes away, standing out of the part where the tool comes in."""
    clear = outline.diameter_mm
    rear = max(corner.z_mm for corner in outline.corners)
    match cut:
        case CrossHole():
            axis = cq.Vector(0, 0, cut.z_mm), cq.Vector(0, 1, 0)
            return cq.Solid.makeCylinder(cut.diameter_mm / 2, clear, *axis)
        case Slot():
            floor = outline.radius_at_mm(cut.front_mm + cut.length_mm / 2, inside=False)
            section = _stadium(cut, floor - cut.depth_mm)
            return cq.Solid.extrudeLinear(section, [], cq.Vector(0, clear, 0))
        case DriverSlot():
            corner = cq.Vector(-clear, -cut.width_mm / 2, rear - cut.depth_mm)
            return cq.Solid.makeBox(2 * clear, cut.width_mm, 2 * cut.depth_mm, corner)
        case HexSocket():
            r, z = cut.across_flats_mm / sqrt(3), rear - cut.depth_mm
            corners = [(r * cos(k * pi / 3), r * sin(k * pi / 3), z) for k in range(6)]
            section = cq.Wire.makePolygon(corners, close=True)
            return cq.Solid.extrudeLinear(section, [], cq.Vector(0, 0, 2 * cut.depth_mm))


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


def write_step(part: Part, shape: cq.Shape, path: Path, colour: Colour = STEEL) -> None:
    """Write the solid of a part as a STEP file (AP242, mm) and read it back.

    Raises:
        ExportError: If the file was not written, or reads back with another volume.
    """
    document = TDocStd_Document(TCollection_ExtendedString(SOURCE))
    _add(document, part.name, shape)
    _write(document, part.name, [(shape, colour)], 0, path)
    _compare(str(path), read_volume_mm3(path), part.volume_mm3)


def write_assembly(
    placed: Sequence[Placed], shapes: Mapping[str, cq.Shape], name: str, path: Path
) -> None:
    """Write a tool as a STEP assembly (AP242, mm) and read it back.

    Args:
        placed: The instances; those with parts of one name share a product and its colour, that of
            the first of them.
        shapes: The solid of each part, by the name of the part.
        name: The name of the assembly.
        path: The file.

    Raises:
        ExportError: If the file was not written, or reads back with another volume.
    """
    document = TDocStd_Document(TCollection_ExtendedString(SOURCE))
    tree = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    root = tree.NewShape()
    colours: dict[str, Colour] = {}
    for place in placed:
        colours.setdefault(place.part.name, place.colour)
    products = {key: _add(document, key, shapes[key]) for key in colours}
    for place in placed:
        x, z = X_AND_Z_OF[place.axis]
        location = cq.Location(cq.Plane(place.origin_mm, xDir=x, normal=z))
        instance = tree.AddComponent(root, products[place.part.name], location.wrapped)
        _set_name(instance, place.name)
    tree.UpdateAssemblies()
    _describe(root, name, _together(placed, shapes))
    coloured = [(shapes[key], colour) for key, colour in colours.items()]
    _write(document, name, coloured, len(placed), path)
    _compare(str(path), read_volume_mm3(path), sum(place.part.volume_mm3 for place in placed))


def _together(placed: Iterable[Placed], shapes: Mapping[str, cq.Shape]) -> Properties:
    """Return the properties of the whole from those of its parts."""
    each = [(place, measured(shapes[place.part.name])) for place in placed]
    volume = sum(p.volume_mm3 for _, p in each)
    moments = [[p.volume_mm3 * c for c in place.in_tool_mm(p.centroid_mm)] for place, p in each]
    x, y, z = (sum(column) / volume for column in zip(*moments, strict=True))
    return Properties(volume, sum(p.area_mm2 for _, p in each), (x, y, z))


def _add(document: TDocStd_Document, name: str, shape: cq.Shape) -> TDF_Label:
    """Add a product to a document and return its label."""
    label = XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).AddShape(shape.wrapped, False)
    _describe(label, name, measured(shape))
    return label


def _describe(label: TDF_Label, name: str, properties: Properties) -> None:
    """Give a product its name and the properties by which a reader can prove its geometry."""
    _set_name(label, name)
    XCAFDoc_Volume.Set_s(label, properties.volume_mm3)
    XCAFDoc_Area.Set_s(label, properties.area_mm2)
    centroid = (round(c, 9) + 0.0 for c in properties.centroid_mm)
    XCAFDoc_Centroid.Set_s(label, cq.Vector(*centroid).toPnt())


def _set_name(label: TDF_Label, name: str) -> None:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(_encoded(name)))


def _write(
    document: TDocStd_Document,
    title: str,
    coloured: Iterable[tuple[cq.Shape, Colour]],
    instances: int,
    path: Path,
) -> None:
    """Write a document so that the same document gives the same bytes."""
    session = XSControl_WorkSession()
    writer = STEPCAFControl_Writer(session, False)
    writer.SetPropsMode(True)
    writer.SetColorMode(False)
    for key, value in WRITER_SETTINGS.items():
        Interface_Static.SetCVal_s(key, value)
    if not writer.Transfer(document, STEPControl_AsIs):
        raise ExportError(f"{path}: the kernel cannot put it into STEP")
    model = writer.ChangeWriter().Model(False)
    for shape, colour in coloured:
        _paint(session, model, shape, colour)
    _number_instances(model, instances)
    _set_header(APIHeaderSection_MakeHeader(model), title, path.name)
    if writer.Write(str(path)) != IFSelect_RetDone:
        raise ExportError(f"{path}: cannot be written")


def _paint(session: XSControl_WorkSession, model: Any, shape: cq.Shape, colour: Colour) -> None:
    """Add the colour of a product; the kernel's own way orders colours by memory address."""
    styles = STEPConstruct_Styles(session)
    item = STEPConstruct.FindEntity_s(session.TransferWriter().FinderProcess(), shape.wrapped)
    paint = StepVisual_ColourRgb()
    paint.Init(TCollection_HAsciiString(""), *colour)
    style = styles.AddStyle(item, styles.MakeColorPSA(item, paint, None, None, 0.0), None)
    items = StepRepr_HArray1OfRepresentationItem(1, 1)
    items.SetValue(1, style)
    view = StepVisual_MechanicalDesignGeometricPresentationRepresentation()
    view.Init(TCollection_HAsciiString(""), items, styles.FindContext(shape.wrapped))
    model.AddWithRefs(view)  # slow to call from Python, some 4 ms; once for each product


def _number_instances(model: Any, count: int) -> None:
    """Number the instances from 1 in each file; the kernel counts on from file to file."""
    number, index = 0, 0
    while number < count:
        index += 1
        entity = model.Value(index)
        if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
            number += 1
            entity.SetId(TCollection_HAsciiString(str(number)))


def _set_header(header: APIHeaderSection_MakeHeader, title: str, file: str) -> None:
    """Fill the header without clock, user, host or folder."""
    nothing, source = TCollection_HAsciiString(""), TCollection_HAsciiString(SOURCE)
    header.SetDescriptionValue(1, TCollection_HAsciiString(_encoded(title)))
    header.SetName(TCollection_HAsciiString(_encoded(file)))
    header.SetTimeStamp(nothing)
    header.SetAuthorValue(1, nothing)
    header.SetOrganizationValue(1, nothing)
    header.SetAuthorisation(nothing)
    header.SetOriginatingSystem(source)
    header.SetPreprocessorVersion(source)


def _encoded(text: str) -> str:
    r"""Return a text with letters beyond ASCII as a STEP file spells them (ISO 10303-21).

    Example:
        >>> _encoded("60°")
        '60\\X2\\00B0\\X0\\'
    """
    size = {char: 2 if ord(char) < 0x10000 else 4 for char in text}
    return "".join(
        char if char.isascii() else f"\\X{size[char]}\\{ord(char):0{2 * size[char]}X}\\X0\\"
        for char in text
    )


def read_volume_mm3(path: Path) -> float:
    """Return the volume of all solids in a STEP file.

    Raises:
        ExportError: If the file cannot be read, holds no solid, or holds one that is not valid.
    """
    reader = STEPControl_Reader()
    if (
        reader.ReadFile(str(path)) != IFSelect_RetDone
        or reader.StepModel().GlobalCheck().HasFailed()
    ):
        raise ExportError(f"{path}: does not read back")  # going on could crash the kernel
    if not reader.TransferRoots():
        raise ExportError(f"{path}: reads back without a shape")
    shapes = cq.Shape.cast(reader.OneShape())
    solids = Counter(each.located(cq.Location()) for each in shapes.Solids())
    if not solids or not all(each.isValid() for each in solids):
        raise ExportError(f"{path}: reads back without a valid solid")
    return float(sum(_filled(each).Mass() * count for each, count in solids.items()))


def _compare(what: str, volume_mm3: float, expected_mm3: float) -> None:
    if not isclose(volume_mm3, expected_mm3, rel_tol=VOLUME_SLACK):
        raise ExportError(f"{what}: {volume_mm3:.6f} mm3 where {expected_mm3:.6f} were worked out")
