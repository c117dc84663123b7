"""Where the parts stand in the tool, whose z runs along its axis to the rear, set screw on +y."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from generator.model.part import Part

Point = tuple[float, float, float]
Axis = Literal["rear", "front", "outward", "inward", "rear, rolled", "front, rolled"]

X_AND_Z_OF: Final[dict[Axis, tuple[Point, Point]]] = {
    "rear": ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "front": ((-1.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
    "outward": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
    "inward": ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
    "rear, rolled": ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "front, rolled": ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
}
"""Where the part's x and z point in the tool; all are turns, none a mirror image."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A part in its place in the tool.

    Attributes:
        name: The name of the instance: "spring 2". Equal parts share a product, not a name.
        part: The part.
        origin_mm: Where its z = 0 on its axis stands in the tool.
        axis: Where its +z points: "rear" as drawn, +z of the tool; "front" turned about the y axis
            so that cuts stay on +y, -z; "outward" +y, a set screw with its tip at z = 0; "inward"
            -y; "rolled" half round about its own axis, as it should not be: cuts on -y.
        colour: Red, green and blue (sRGB), 0 to 1.
    """

    name: str
    part: Part
    origin_mm: Point
    axis: Axis
    colour: tuple[float, float, float]

    def in_tool_mm(self, point_mm: Point) -> Point:
        """Return where a point of the part stands in the tool.

        Example:
            >>> from generator.model.outline import Corner, Outline
            >>> pin = Outline((Corner(0.0, 0.0), Corner(0.0, 2.0), Corner(9.0, 2.0)))
            >>> screw = Part("screw", "Screw", pin, "steel", 7.85)
            >>> Placed("screw", screw, (0, 3, 16), "outward", (0, 0, 0)).in_tool_mm((0, 0, 9))
            (0.0, 12.0, 16.0)
        """
        (ax, ay, az), (cx, cy, cz) = X_AND_Z_OF[self.axis]
        bx, by, bz = cy * az - cz * ay, cz * ax - cx * az, cx * ay - cy * ax
        (ox, oy, oz), (x, y, z) = self.origin_mm, point_mm
        return (
            ox + x * ax + y * bx + z * cx,
            oy + x * ay + y * by + z * cy,
            oz + x * az + y * bz + z * cz,
        )
