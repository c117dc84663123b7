"""What the proof of motion looks at: the tool at positions over its stroke, at limits of size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from generator.model.assembly import Axis, Placed
from generator.model.instances import standing
from generator.model.limit_sizes import Sizes
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Thread

POSITIONS: Final = 25
PRESSED_MM: Final = 0.02
"""What of a pin's diameter may stand in the wall that it is pressed into."""
ROLLED: Final[Mapping[Axis, Axis]] = {"rear": "rear, rolled", "front": "front, rolled"}


@dataclass(frozen=True, slots=True)
class Stand:
    """The tool at one position of its stroke.

    Attributes:
        travel_mm: How far the plunger is pushed in.
        placed: Every part in its place.
    """

    travel_mm: float
    placed: Mapping[str, Placed]


@dataclass(frozen=True, slots=True)
class Stroke:
    """The tool from one end of its stroke to the other.

    Attributes:
        orientation: Which end is at work.
        sizes: At which sizes.
        stands: Its positions; the first has the plunger out, the last has it pushed home.
        cores_mm: Diameter of the core of each part screwed or pressed into another: outside of it,
            it is meant to stand in the other's metal.
        gap_mm: How far the set screw is meant to stand off the floor of the slot; 0 for a pin.
        across: The names of the parts that stand across the tool; first the one in the slot.
    """

    orientation: str
    sizes: str
    stands: tuple[Stand, ...]
    cores_mm: Mapping[str, float]
    gap_mm: float
    across: tuple[str, ...]

    @property
    def crossing(self) -> str:
        """The name of the part that stands in the slot."""
        return self.across[0]

    @property
    def one_sided(self) -> bool:
        """Whether a screw is turned in from one side, to a slot that lies on that side alone."""
        return "set screw" in self.across

    @property
    def behind(self) -> str:
        """The name of what the springs press on the plunger: a button, or the first spring."""
        return "button" if "button" in self.stands[0].placed else "spring 1"

    @property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """The names of every two parts."""
        names = list(self.stands[0].placed)
        return tuple((first, second) for i, first in enumerate(names) for second in names[i + 1 :])


def stroke(sizes: Sizes, o: Orientation, positions: int = POSITIONS) -> Stroke:
    """Return the positions of a stroke, both ends among them."""
    tool = sizes.tool
    travels = (o.travel_mm * k / (positions - 1) for k in range(positions))
    stands = tuple(_stand(tool, o, each) for each in travels)
    screw = tool.parameters.set_screw
    across = tuple(
        name for name, place in stands[0].placed.items() if place.axis in ("outward", "inward")
    )
    gap_mm = 0.0 if screw is None else screw.gap_mm
    return Stroke(o.name, sizes.name, stands, _cores(tool), gap_mm, across)


def rolled(whole: Stroke) -> Stroke:
    """Return a stroke with the plunger put in turned half round about its axis."""

    def turned(stand: Stand) -> Stand:
        plunger = stand.placed["plunger"]
        wrong = replace(plunger, axis=ROLLED[plunger.axis])
        return replace(stand, placed={**stand.placed, "plunger": wrong})

    return replace(whole, stands=tuple(turned(stand) for stand in whole.stands))


def _stand(tool: Tool, o: Orientation, travel_mm: float) -> Stand:
    placed = standing(tool, o, travel_mm=travel_mm)
    return Stand(travel_mm, {place.name: place for place in placed})


def _cores(tool: Tool) -> dict[str, float]:
    p = tool.parameters
    cores_mm: dict[str, float] = {}
    if p.plug is not None:
        plug_mm = Thread.find(p.plug.thread).minor_mm
        cores_mm |= {"plug": plug_mm, "plug 2": plug_mm}
    if p.set_screw is not None:
        screw_mm = Thread.find(p.set_screw.thread).minor_mm
        cores_mm |= {"set screw": screw_mm, "jam screw": screw_mm}
    if p.bush is not None:
        cores_mm["nose bush"] = Thread.find(p.bush.thread).minor_mm
    if p.cross_pin is not None:
        cores_mm["cross pin"] = p.cross_pin.diameter_mm - PRESSED_MM
    return cores_mm
