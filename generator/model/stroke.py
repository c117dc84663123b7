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
        cores_mm: Diameter of the core of each screwed part: outside of it, it is meant to stand in
            the thread of the body.
    """

    orientation: str
    sizes: str
    stands: tuple[Stand, ...]
    cores_mm: Mapping[str, float]
    gap_mm: float

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
    return Stroke(o.name, sizes.name, stands, _cores(tool), tool.parameters.set_screw.gap_mm)


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
    plug_mm = Thread.find(p.plug.thread).minor_mm
    screw_mm = Thread.find(p.set_screw.thread).minor_mm
    return {"plug": plug_mm, "plug 2": plug_mm, "set screw": screw_mm}
