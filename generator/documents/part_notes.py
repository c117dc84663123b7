"""What the sheet of a part says beyond its shape, and where its named surfaces lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.documents.drawing import Spelling, Unit
from generator.documents.numerals import toleranced
from generator.model.outline import Segment
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, SideFlat, Slot
from generator.model.shank import DRIVE_FLAT, KEY_SLOT

MILLED = (DRIVE_FLAT, KEY_SLOT)
"""What is milled into a body; any other slot is that of the plunger."""


@dataclass(frozen=True, slots=True)
class Runout:
    """A circular run-out of one surface to the axis of another.

    Attributes:
        tolerance_mm: The run-out allowed.
        datum: Name of the surface that is the datum; a part has one, marked A.
    """

    tolerance_mm: float
    datum: str


@dataclass(frozen=True, slots=True)
class PartNotes:
    """A part, and what its sheet says beyond its shape.

    Attributes:
        part: The part.
        stock: The bar it is cut from.
        quantity: How many to make.
        tolerances: Text behind the number of a dimension, by the name of its surface, cut or
            plane; "overall" for the whole length, and "slot length", "slot width", "slot depth"
            and "slot front" for a slot.
        roughness_um: Ra by the name of the surface.
        runout: Run-out by the name of the surface.
        notes: Lines beside the title block.
        finish: What is done to the surface as a whole.
        unit: What the sheet is dimensioned in; tolerances are written in it.
    """

    part: Part
    stock: str = ""
    quantity: int = 1
    tolerances: Mapping[str, str] = field(default_factory=dict)
    roughness_um: Mapping[str, float] = field(default_factory=dict)
    runout: Mapping[str, Runout] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    finish: str = "-"
    unit: Unit = "mm"

    def spelling(self, name: str) -> Spelling:
        """Return how the size of a surface is written: finer where it has a tolerance."""
        return toleranced(self.unit, self.tolerances.get(name, ""))


def surface(part: Part, name: str) -> Segment | None:
    """Return the run with this surface name, None where the part has no such surface."""
    return part.outline.surface(name) if part.outline.has(name) else None


def place_mm(part: Part, wish: str) -> float | None:
    """Return a position by name, None where the part has no such thing.

    "front" and "rear" are the ends of the part; "front of X" and "rear of X" those of a surface
    or slot; any other name is a plane or a cut.
    """
    outline = part.outline
    front = min(corner.z_mm for corner in outline.corners)
    if wish in ("front", "rear"):
        return front if wish == "front" else front + outline.length_mm
    end, _, name = wish.partition(" of ")
    for cut in part.cuts:
        if isinstance(cut, CrossHole) and wish == cut.name:
            return cut.z_mm
        if isinstance(cut, Slot) and name == (cut.name if cut.name in MILLED else "slot"):
            return cut.front_mm if end == "front" else cut.rear_mm
        if isinstance(cut, SideFlat) and name == cut.name:
            return cut.front_mm if end == "front" else cut.rear_mm
        if isinstance(cut, DriverSlot | HexSocket) and name == "driver":
            return front + outline.length_mm - cut.depth_mm
    run = surface(part, name) if name else None
    if run is not None:
        return run.front_mm if end == "front" else run.rear_mm
    return dict(outline.planes).get(wish)


def pattern(text: str, notes: PartNotes, name: str) -> str:
    """Return the text of a dimension with the tolerance of its surface behind it."""
    tolerance = notes.tolerances.get(name, "")
    return f"{text} {tolerance}".strip()
