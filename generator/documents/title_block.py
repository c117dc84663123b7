"""The title block: what it says of tool, part and sheet, and how it is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from generator.documents.drawing import Arc, Line, Mark, Point, Text, Unit
from generator.documents.numerals import general, general_text, roughness_text, size_text
from generator.documents.text import width_mm, wrapped
from generator.units import number

BLOCK_MM: Final = (180.0, 40.0)
"""Size of the title block; its width is that of ISO 7200."""

UNITS: Final[dict[Unit, str]] = {"mm": "mm", "inch": "inches"}
MICRO: Final[dict[Unit, str]] = {"mm": "µm", "inch": "µin"}
EDGES_MM: Final = (0.2, 0.4)
"""How far edges are broken; common practice, no source."""

SURFACES_UM: Final = 3.2
"""Ra of surfaces without their own; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Header:
    """What the title block says of the tool.

    Attributes:
        tool: Name of the tool.
        title: What the sheet shows.
        revision: Revision of the parameter file.
        parameters_hash: Twelve hexadecimal digits of the parameters.
        failed: Names of checks that failed.
        changed: Limits of checks that were changed, each as a phrase.
        warning: What every sheet must say; "" for nothing.
        projection: How end views lie to the main view.
        general_tolerance: What holds where no tolerance is given.
        sheets: "A" for A4 and A3, "US" for Letter and Tabloid.
        unit: What the sheets are dimensioned in.
        number: Which of the tool's sheets this is, from 1.
        of: How many sheets the tool has.
    """

    tool: str
    title: str
    revision: str = "A"
    parameters_hash: str = ""
    failed: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    warning: str = ""
    projection: Literal["first", "third"] = "first"
    general_tolerance: str = "ISO 2768-m"
    sheets: Literal["A", "US"] = "A"
    unit: Unit = "mm"
    number: int = 1
    of: int = 1


@dataclass(frozen=True, slots=True)
class Legend:
    """What the title block says of the part."""

    material: str
    stock: str
    mass: str
    quantity: str
    finish: str = "-"


def scale_text(scale: float) -> str:
    """Return a scale as ISO 5455 writes it.

    Example:
        >>> scale_text(2.0), scale_text(0.5)
        ('2:1', '1:2')
    """
    return f"{number(scale)}:1" if scale >= 1 else f"1:{number(1 / scale)}"


def rectangle(left: float, bottom: float, right: float, top: float, style: str) -> Iterator[Line]:
    """Yield the four sides of a rectangle."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield Line(a, b, style)


def title_block(
    header: Header, legend: Legend, size: str, scale: float, dimensions: str, corner: Point
) -> Iterator[Mark]:
    """Yield the title block with its lower left corner at a point."""
    x, y = corner
    unit = header.unit
    edges = [size_text(edge_mm, general(unit)) for edge_mm in EDGES_MM]
    table = (
        (("title", header.title, 100.0), ("tool", header.tool, 80.0)),
        (
            ("material", legend.material, 54.0),
            ("stock", legend.stock, 54.0),
            ("finish", legend.finish, 32.0),
            ("mass", legend.mass, 23.0),
            ("number off", legend.quantity, 17.0),
        ),
        (
            ("scale", scale_text(scale), 15.0),
            ("size", size, 20.0),
            ("sheet", f"{header.number} of {header.of}", 18.0),
            ("rev", header.revision, 12.0),
            ("projection", "", 34.0),
            ("parameters", header.parameters_hash, 39.0),
            ("dimensions", dimensions, 42.0),
        ),
        (
            ("tolerances unless stated", general_text(header.general_tolerance, unit), 66.0),
            ("edges unless stated", f"broken {edges[0]} to {edges[1]}", 60.0),
            ("surfaces unless stated", f"{roughness_text(SURFACES_UM, unit)} {MICRO[unit]}", 54.0),
        ),
    )
    width, height = BLOCK_MM
    yield Line((x, y), (x, y + height), "frame")
    yield Line((x, y + height), (x + width, y + height), "frame")
    tall = height / len(table)
    for n, cells in enumerate(table):
        floor = y + height - tall * (n + 1)
        if n < len(table) - 1:
            yield Line((x, floor), (x + width, floor), "grid")
        start = x
        for label, value, room in cells:
            if start > x:
                yield Line((start, floor), (start, floor + tall), "grid")
            yield Text((start + 1.5, floor + tall - 3.4), label, 1.8)
            if label == "projection":
                yield from projection_symbol(
                    header.projection, (start + room / 2 + 7.0, floor + tall / 2 - 1.0)
                )
            else:
                yield from _cell(value, start, floor, room, bold=label == "title")
            start += room


def _cell(value: str, start: float, floor: float, room: float, *, bold: bool) -> Iterator[Text]:
    """Yield the value of a cell: smaller, then in two lines, where it is long."""
    for height in (3.5, 3.0, 2.5):
        if width_mm(value, height, bold=bold) <= room - 3.0:
            yield Text((start + 1.5, floor + 1.8), value, height, bold=bold)
            return
    lines = wrapped(value, room - 3.0, 1.9, bold=bold)[:2]
    for n, line in enumerate(reversed(lines)):
        yield Text((start + 1.5, floor + 1.0 + 2.7 * n), line, 1.9, bold=bold)


def projection_symbol(projection: Literal["first", "third"], centre: Point) -> Iterator[Line | Arc]:
    """Yield the truncated cone of ISO 5456-2: the small end always looks to the left."""
    x, y = centre
    cone, ring = (x - 6.0, x + 5.0) if projection == "first" else (x + 5.0, x - 6.0)
    narrow, wide = 1.6, 3.2
    for sign in (1, -1):
        yield Line((cone - 3.5, y + sign * narrow), (cone + 3.5, y + sign * wide), "grid")
    yield Line((cone - 3.5, y - narrow), (cone - 3.5, y + narrow), "grid")
    yield Line((cone + 3.5, y - wide), (cone + 3.5, y + wide), "grid")
    yield Arc((ring, y), narrow, style="grid")
    yield Arc((ring, y), wide, style="grid")
    yield Line((cone - 4.5, y), (cone + 4.5, y), "centre")
    yield Line((ring - 4.2, y), (ring + 4.2, y), "centre")
    yield Line((ring, y - 4.2), (ring, y + 4.2), "centre")
