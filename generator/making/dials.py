"""The dials of the user's slides: what they show for a cut, in his unit and divisions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.formulas import dial
from generator.inputs.workshop import Workshop
from generator.units import MM_PER_INCH

Reads = Literal["diameter", "radius"]


@dataclass(frozen=True, slots=True)
class Dial:
    """The dial of a slide.

    Attributes:
        name: Of which slide.
        division_mm: What one division is worth, as it reads.
        reads: Whether it counts what comes off the diameter or off the radius; a slide that moves
            along its work counts plain movement, as "radius" does.
    """

    name: str
    division_mm: float
    reads: Reads = "radius"

    @property
    def unit(self) -> Literal["mm", "in"]:
        """The unit in which it counts."""
        return "in" if dial.is_inch(division_mm=self.division_mm) else "mm"

    @property
    def mm_per_unit(self) -> float:
        """What one of its units is in millimetres."""
        return MM_PER_INCH if self.unit == "in" else 1.0

    def reading_mm(self, moved_mm: float) -> float:
        """Return what the dial turns by for a movement of the slide."""
        return dial.reading_mm(radial_mm=moved_mm, reads_diameter=self.reads == "diameter")

    def divisions(self, moved_mm: float) -> float:
        """Return the divisions of a movement of the slide."""
        return dial.divisions(reading_mm=self.reading_mm(moved_mm), division_mm=self.division_mm)


def cross_slide(workshop: Workshop) -> Dial:
    """Return the dial of the cross-slide."""
    return Dial("cross-slide", workshop.dial_division_mm, workshop.dial)


def compound_slide(workshop: Workshop) -> Dial:
    """Return the dial of the compound slide."""
    return Dial("compound", workshop.compound_division_mm)
