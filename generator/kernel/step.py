"""STEP files of the parts and of the tool, each read back.

The same solids give the same bytes, in any process and in any order.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

import cadquery as cq
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
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

from generator.errors import ExportError
from generator.kernel.shapes import Properties, compare, filled, location, measured
from generator.model.assembly import Placed
from generator.model.part import Part

STEEL: Final = (0.66, 0.69, 0.72)
WRITER_SETTINGS: Final = {
    "write.step.schema": "AP242DIS",
    "write.step.unit": "MM",
    "xstep.cascade.unit": "MM",
}
SOURCE: Final = "springcentre"

Colour = tuple[float, float, float]


def write_step(part: Part, shape: cq.Shape, path: Path, colour: Colour = STEEL) -> None:
    """Write the solid of a part as a STEP file (AP242, mm) and read it back.

    Raises:
        ExportError: If the file was not written, or reads back with another volume.
    """
    document = TDocStd_Document(TCollection_ExtendedString(SOURCE))
    _add(document, part.name, shape)
    _write(document, part.name, [(shape, colour)], 0, path)
    compare(str(path), read_volume_mm3(path), part.volume_mm3)


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
        product = products[place.part.name]
        instance = tree.AddComponent(root, product, location(place).wrapped)
        _set_name(instance, place.name)
    tree.UpdateAssemblies()
    _describe(root, name, _together(placed, shapes))
    coloured = [(shapes[key], colour) for key, colour in colours.items()]
    _write(document, name, coloured, len(placed), path)
    compare(str(path), read_volume_mm3(path), sum(place.part.volume_mm3 for place in placed))


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
    return float(sum(filled(each).Mass() * count for each, count in solids.items()))
