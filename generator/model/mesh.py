"""The surface of a part as triangles, as plain values for a viewer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

STEP_MM: Final = 0.01
"""Coordinates are whole multiples of this, so that the same solid gives the same numbers."""

WHOLE: Final = ("plunger", "set-screw", "jam-screw", "cross-pin", "ball")
"""What is shown whole; the other parts lie round about them and are cut open."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """The surface of a part, cut open where it hides others; axes as the part's.

    Corners on a sharp edge stand there once for each face, so that the mean of the triangles about
    a corner is the normal of its face.

    Attributes:
        part: Name of the part.
        corners: x, y and z of each corner in hundredths of a millimetre, one after the other.
        triangles: Three corners, from 0, for each triangle, anticlockwise seen from outside.
    """

    part: str
    corners: tuple[int, ...]
    triangles: tuple[int, ...]
