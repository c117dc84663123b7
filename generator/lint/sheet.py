"""What a DXF file holds, as plain values; a sheet in millimetres of paper, a profile in true ones.

Origin at the lower left corner of the sheet, x to the right, y upward.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

Point = tuple[float, float]
Box = tuple[float, float, float, float]

LOOSE: Final = -1
"""Owner of a mark that belongs to no dimension."""

UNITS_MM: Final = {1: 25.4, 4: 1.0}
"""Length of a drawing unit by $INSUNITS: inches and millimetres."""

PAPERS_MM: Final = (
    (297.0, 210.0),
    (420.0, 297.0),
    (594.0, 420.0),
    (279.4, 215.9),
    (431.8, 279.4),
)
"""A4, A3 and A2 (ISO 216), Letter and Tabloid (ANSI/ASME Y14.1), long side across."""

_RATIO: Final = re.compile(r"(?:^|[\s(])(\d+(?:\.\d+)?):(\d+(?:\.\d+)?)\)?$")


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong with a file.

    Attributes:
        file: The file.
        rule: Name of the rule.
        at: Where on the sheet, millimetres of paper; in a profile true millimetres. None for the
            file as a whole.
        what: What is wrong.
        right: What would be right.
    """

    file: str
    rule: str
    at: Point | None
    what: str
    right: str

    def __str__(self) -> str:
        """Return the fault on one line."""
        place = "" if self.at is None else f" at ({self.at[0]:.1f}, {self.at[1]:.1f})"
        return f"{self.file}: {self.rule}{place}: {self.what}; {self.right}"


@dataclass(frozen=True, slots=True)
class Letters:
    """One line of text.

    Attributes:
        text: What is written.
        box: Left, bottom, right and top of its letters.
        height_mm: Height of a capital letter.
        foot: Level of the base line; of upright text, its place across.
        upright: Whether it reads from the right.
        layer: Its layer.
        owner: Number of the dimension it belongs to, or LOOSE.
    """

    text: str
    box: Box
    height_mm: float
    foot: float
    upright: bool
    layer: str
    owner: int

    @property
    def middle(self) -> Point:
        """The middle of its box."""
        left, bottom, right, top = self.box
        return (left + right) / 2, (bottom + top) / 2


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line.

    Attributes:
        start: One end.
        end: The other.
        layer: Its layer.
        owner: Number of the dimension it belongs to, or LOOSE.
    """

    start: Point
    end: Point
    layer: str
    owner: int


@dataclass(frozen=True, slots=True)
class Bow:
    """A circular arc, anticlockwise; 0 and 360 make a circle."""

    centre: Point
    radius_mm: float
    start_deg: float
    end_deg: float
    layer: str
    owner: int


@dataclass(frozen=True, slots=True)
class Patch:
    """A filled triangle or quadrangle, such as an arrowhead."""

    points: tuple[Point, ...]
    layer: str
    owner: int


@dataclass(frozen=True, slots=True)
class Measure:
    """A dimension.

    Attributes:
        number: Its number in the file, from 0; its marks are owned by it.
        kind: "linear", "aligned", "angular", "diameter", "radius", "angular by points" or
            "ordinate".
        points: On paper, in the order of the codes 10, 13, 14, 15 and 16 of DXF.
        turn_deg: Direction that a linear one measures along.
        along_x: Whether an ordinate one measures along x.
        pattern: Text of the entity, in which "<>" stands for the number; empty for "<>" alone.
        stated: The measure that the file states, in drawing units or degrees; NaN for none.
        factor: What the measure is multiplied by before it is printed.
        layer: Its layer.
        text: What is written at it, or empty.
        at: The middle of that text.
    """

    number: int
    kind: str
    points: tuple[Point, Point, Point, Point, Point]
    turn_deg: float
    along_x: bool
    pattern: str
    stated: float
    factor: float
    layer: str
    text: str
    at: Point


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer as the file defines it; the width is in hundredths of a millimetre."""

    name: str
    line_type: str
    width: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A drawing.

    Attributes:
        file: The file.
        scale: Paper length over true length, from the title block; NaN where it is not told.
        unit_mm: Length of a drawing unit; NaN where the header does not state a known one.
        size_mm: Width and height by the extents of the header.
        letters: All text.
        strokes: All straight lines.
        bows: All arcs and circles.
        patches: All fills.
        measures: All dimensions.
        layers: The layers by name.
        strange: Kind and layer of entities that a sheet does not use.
        is_ascii: Whether all bytes of the file are ASCII.
    """

    file: str
    scale: float
    unit_mm: float
    size_mm: Point
    letters: tuple[Letters, ...]
    strokes: tuple[Stroke, ...]
    bows: tuple[Bow, ...]
    patches: tuple[Patch, ...]
    measures: tuple[Measure, ...]
    layers: tuple[Layer, ...]
    strange: tuple[tuple[str, str], ...]
    is_ascii: bool


@dataclass(frozen=True, slots=True)
class Chain:
    """A polyline of a cutting profile: x, y and bulge of each vertex, in true millimetres."""

    layer: str
    vertices: tuple[tuple[float, float, float], ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class Cutting:
    """A cutting profile.

    Attributes:
        file: The file.
        unit_mm: Length of a drawing unit; NaN where the header does not state a known one.
        extents: Left, bottom, right and top that the header states.
        chains: Its polylines.
        entities: Kind, layer and place of every entity, polylines included.
        notes: Its lines of text.
        is_ascii: Whether all bytes of the file are ASCII.
    """

    file: str
    unit_mm: float
    extents: Box
    chains: tuple[Chain, ...]
    entities: tuple[tuple[str, str, Point], ...]
    notes: tuple[str, ...]
    is_ascii: bool


def scale_in(texts: Iterable[tuple[str, Point]]) -> float | None:
    """Return the scale that a title block tells: the ratio nearest below the label "scale".

    Args:
        texts: Each text with its place, in any unit.

    Example:
        >>> scale_in([("scale", (10.0, 20.0)), ("1:2", (10.0, 15.0)), ("2:1", (90.0, 90.0))])
        0.5
    """
    known = list(texts)
    labels = [at for text, at in known if text.strip().lower() == "scale"]
    found = [
        (abs(at[0] - x) + abs(at[1] - y), ratio)
        for x, y in labels
        for text, at in known
        if at[1] < y and (ratio := ratio_in(text)) is not None
    ]
    return min(found)[1] if found else None


def ratio_in(text: str) -> float | None:
    """Return the scale that a text is or ends with, None where it tells none.

    Example:
        >>> ratio_in("Z (5:1)"), ratio_in("1:2"), ratio_in("1:20.020 on dia.")
        (5.0, 0.5, None)
    """
    found = _RATIO.search(text.strip())
    return float(found[1]) / float(found[2]) if found and float(found[2]) else None
