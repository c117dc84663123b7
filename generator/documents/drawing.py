"""A drawing as plain values, in millimetres of paper; writers render it and decide nothing.

Origin at the lower left corner of the sheet, x to the right, y upward. Text is Unicode; a writer
that needs other spellings for the diameter, degree or plus-minus signs translates them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Point = tuple[float, float]
Anchor = Literal["left", "centre", "right"]
Unit = Literal["mm", "inch"]

BLACK: Final = "#000000"


@dataclass(frozen=True, slots=True)
class Style:
    """How a kind of line is drawn.

    Attributes:
        layer: Layer of the line in a DXF file.
        width_mm: Width on paper, from the series of ISO 128-2.
        dashes_mm: Dash, gap, dash, gap...; empty for a continuous line.
        colour: Of lines and fills, as red, green and blue in hexadecimal.
    """

    layer: str
    width_mm: float
    dashes_mm: tuple[float, ...] = ()
    colour: str = BLACK


STYLES: dict[str, Style] = {
    "outline": Style("OUTLINE", 0.5),
    "thin": Style("THIN", 0.25),
    "thread": Style("THREAD", 0.25),
    "hidden": Style("HIDDEN", 0.25, (3.0, 1.5)),
    "centre": Style("CENTRE", 0.25, (8.0, 1.5, 1.5, 1.5)),
    "phantom": Style("PHANTOM", 0.25, (8.0, 1.5, 1.5, 1.5, 1.5, 1.5)),
    "hatch": Style("HATCH", 0.18),
    "dimension": Style("DIMENSION", 0.25),
    "text": Style("TEXT", 0.25),
    "frame": Style("FRAME", 0.5),
    "grid": Style("FRAME", 0.25),
    "scale": Style("HATCH", 0.13, colour="#b8b8b8"),
    "light": Style("HATCH", 0.18, colour="#e1e9f0"),
    "middle": Style("HATCH", 0.18, colour="#8fadc6"),
    "warm": Style("HATCH", 0.18, colour="#e8c79b"),
    "paper": Style("HATCH", 0.13, colour="#ffffff"),
    "cut": Style("OUTLINE", 1.0),
}
"""The last six are for plots and sketches: the lines of a scale, tones that a grey print keeps
apart, the paper where it covers a tone, and the edges that an operation cuts."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    style: str = "outline"


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc, anticlockwise from start to end; 0 and 360 make a full circle."""

    centre: Point
    radius_mm: float
    start_deg: float = 0.0
    end_deg: float = 360.0
    style: str = "outline"


@dataclass(frozen=True, slots=True)
class Curve:
    """An open run of short straight lines, drawn as one, that stands for a smooth curve."""

    points: tuple[Point, ...]
    style: str = "outline"


@dataclass(frozen=True, slots=True)
class Fill:
    """A filled polygon, such as an arrowhead; on a sheet it has three or four corners."""

    points: tuple[Point, ...]
    style: str = "dimension"


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text.

    Attributes:
        at: The point on the base line that the anchor names.
        text: What is written.
        height_mm: Height of a capital letter.
        anchor: Which end of the text lies at the point.
        rotation_deg: 0, or 90 to read from the right.
        bold: Whether it is set bold.
        style: Name of its style, which gives the layer.
    """

    at: Point
    text: str
    height_mm: float = 3.5
    anchor: Anchor = "left"
    rotation_deg: float = 0.0
    bold: bool = False
    style: str = "text"


Mark = Line | Arc | Curve | Fill | Text


@dataclass(frozen=True, slots=True)
class Spelling:
    """How a size is written.

    Attributes:
        unit: Unit of the number.
        decimals: Most decimals of a number in millimetres, all decimals of one in inches.
    """

    unit: Unit = "mm"
    decimals: int = 3


PLAIN: Final = Spelling()


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension: what it measures, and the marks that show it.

    Attributes:
        kind: "horizontal" and "vertical" measure along one axis of the sheet, "angular" the angle
            between two lines.
        points: On paper: the two points measured, then a point on the dimension line; for an
            angle the two ends of the first line, the two of the second, a point on the arc.
        scale: Paper length over true length of the view it stands in.
        pattern: The text, in which "<>" stands for the measured number.
        text: The line of text as placed, already holding the number.
        marks: Extension lines, dimension line, arrowheads and the text.
        spelling: How its number is written; an angle is in degrees in any unit.
    """

    kind: Literal["horizontal", "vertical", "angular"]
    points: tuple[Point, ...]
    scale: float
    pattern: str
    text: Text
    marks: tuple[Mark, ...]
    spelling: Spelling = PLAIN


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sheet.

    Attributes:
        name: Name of the file, without its ending.
        title: What the sheet shows.
        width_mm: Width of the sheet.
        height_mm: Height of the sheet.
        scale: Paper length over true length of the main view.
        marks: Everything that is no dimension.
        dimensions: The dimensions.
        unit: Unit of its sizes, in which a DXF file measures too.
    """

    name: str
    title: str
    width_mm: float
    height_mm: float
    scale: float
    marks: tuple[Mark, ...]
    dimensions: tuple[Dimension, ...]
    unit: Unit = "mm"


@dataclass(frozen=True, slots=True)
class Figure:
    """A plot within the text of the report, at true size.

    Attributes:
        name: Names it among the figures of a report, such as "force".
        title: What stands over it.
        caption: One sentence that says what it shows.
        width_mm: Its width, 175 at most.
        height_mm: Its height.
        marks: What is drawn; origin at its lower left corner.
    """

    name: str
    title: str
    caption: str
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Profile:
    """A closed profile for a cutting machine, in true millimetres.

    Attributes:
        name: Name of the file, without its ending.
        layer: Layer of the closed outline.
        vertices: x, y and bulge of each vertex; bulge as in DXF, 0 for a straight run, the
            tangent of a quarter of the included angle of an arc, positive anticlockwise.
        axis: Two ends of the axis, drawn on its own layer.
        notes: Lines of text on a layer of their own, below the profile: units, origin, direction.
    """

    name: str
    layer: str
    vertices: tuple[tuple[float, float, float], ...]
    axis: tuple[Point, Point]
    notes: tuple[str, ...]
