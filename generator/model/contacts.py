"""What the proof of motion finds: how near parts come, where they collide, wrong assemblies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

TOUCHING_MM: Final = 1e-6
"""Parts nearer than this touch."""
LEAST_VOLUME_MM3: Final = 1e-6
"""Parts that share less than this touch and do not collide."""
FAR_MM: Final = 1.0
"""How far about the set screw the kernel looks; what is farther off is told as so far at least."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Two parts at the place of the stroke where they are nearest, or overlap most.

    Attributes:
        first: The name of one part.
        second: The name of the other.
        orientation: Which end is at work.
        sizes: At which sizes.
        travel_mm: How far the plunger is pushed in.
        clearance_mm: How far they are apart; 0 where they touch or overlap.
        volume_mm3: What they share.
        across_mm: Greatest extent of that along a radius, of the tool or of the screw.
        along_mm: Its extent along the axis.
    """

    first: str
    second: str
    orientation: str
    sizes: str
    travel_mm: float
    clearance_mm: float
    volume_mm3: float = 0.0
    across_mm: float = 0.0
    along_mm: float = 0.0

    @property
    def pair(self) -> str:
        """Both names."""
        return f"{self.first} and {self.second}"

    @property
    def collides(self) -> bool:
        """Whether the parts overlap."""
        return self.volume_mm3 > LEAST_VOLUME_MM3

    @property
    def touches(self) -> bool:
        """Whether the parts touch without overlapping."""
        return not self.collides and self.clearance_mm <= TOUCHING_MM


@dataclass(frozen=True, slots=True)
class Rolled:
    """The plunger put in turned half round about its axis, its slot away from the set screw.

    Attributes:
        orientation: Which end is at work.
        volume_mm3: The least that plunger and screw would share anywhere in the stroke, were the
            screw in its place.
        kept_out_mm: How far at least the plunger keeps the screw from its place.
    """

    orientation: str
    volume_mm3: float
    kept_out_mm: float


@dataclass(frozen=True, slots=True)
class Deep:
    """The set screw turned in until it meets the plunger.

    Attributes:
        orientation: Which end is at work.
        free_mm: How far it turns in from its place until it touches.
        floor_mm: How far it would have to go to the floor of the slot.
        further_mm: How much further it is then turned to see that it clamps.
        volume_mm3: What plunger and screw would share then.
    """

    orientation: str
    free_mm: float
    floor_mm: float
    further_mm: float
    volume_mm3: float

    @property
    def shoulder_first(self) -> bool:
        """Whether something above the tip meets the plunger before the tip meets the floor."""
        return self.free_mm < self.floor_mm - 1e-3


@dataclass(frozen=True, slots=True)
class Proof:
    """The proof of motion of a tool.

    Attributes:
        positions: How many positions of each stroke were looked at, ends included.
        sizes: The name of each set of sizes, and what is at which limit.
        orientations: Which ends were at work.
        nearest: Each pair at each set of sizes, where it is nearest.
        collisions: Each pair that collides, where it shares most.
        rolled: The plunger turned half round, for each end at work.
        deep: The set screw turned in too far, likewise.
        seats: The plunger and what pushes it, where they are nearest, likewise.
    """

    positions: int
    sizes: tuple[tuple[str, str], ...]
    orientations: tuple[str, ...]
    nearest: tuple[Contact, ...]
    collisions: tuple[Contact, ...]
    rolled: tuple[Rolled, ...]
    deep: tuple[Deep, ...]
    seats: tuple[Contact, ...]

    @property
    def stands(self) -> int:
        """How many times the tool was looked at."""
        return self.positions * len(self.sizes) * len(self.orientations)
