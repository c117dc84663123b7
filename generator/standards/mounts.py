"""Tabulated shapes of the end by which a machine holds a tool, beside the Morse tapers."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan
from typing import ClassVar

from generator.standards.rows import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class MorseTang(Row):
    """The tang of a Morse taper shank, named as its taper is.

    Attributes:
        end_mm: From the gauge plane to the end of the tang.
        diameter_mm: Greatest diameter of the neck that the tang is milled from.
        thickness_mm: Thickness of the tang, at most.
        thickness_tolerance_mm: How much thinner it may be.
        flat_mm: Length of its flats, from the end.
        root_radius_mm: Radius that the cutter leaves between flats and taper.
    """

    FILE: ClassVar = "morse_tangs.csv"

    end_mm: float
    diameter_mm: float
    thickness_mm: float
    thickness_tolerance_mm: float
    flat_mm: float
    root_radius_mm: float

    @property
    def neck_mm(self) -> float:
        """Length of the neck: the flats and the radius of the cutter before them."""
        return self.flat_mm + self.root_radius_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class ChuckTaper(Row):
    """The short taper that a drill chuck sits on, Jacobs or B, as it stands on the arbor.

    Attributes:
        cone: What cone it is: "Jacobs", which has a rate of its own in each size, or the Morse
            taper that a B taper is a piece of: "MT1".
        large_diameter_mm: Diameter of its large end.
        small_diameter_mm: Diameter of its small end.
        length_mm: Length from one to the other.
    """

    FILE: ClassVar = "chuck_tapers.csv"

    cone: str
    large_diameter_mm: float
    small_diameter_mm: float
    length_mm: float

    @property
    def taper(self) -> float:
        """Taper on diameter: millimetres a millimetre of length."""
        return (self.large_diameter_mm - self.small_diameter_mm) / self.length_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class ChuckThread(Row):
    """The threaded stub that a drill chuck screws on to, named by its thread.

    Attributes:
        stub_mm: Usual length of the stub.
    """

    FILE: ClassVar = "chuck_threads.csv"

    stub_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class R8Shank(Row):
    """The shank of a milling spindle R8: a steep cone in front, a parallel body behind it.

    Attributes:
        included_angle_deg: Included angle of the cone.
        large_diameter_mm: Diameter of the cone's large end.
        body_greatest_mm: Greatest diameter of the body.
        body_least_mm: Least diameter of the body.
        guide_mm: Length at the rear of the body that the spindle guides; between it and the cone
            the body may be turned down.
        overall_mm: From the large end to the rear end.
        drawbar_thread: Thread of the draw-bar.
        metric_drawbar_thread: The metric one that some spindles have in its place.
        slot_width_mm: Width of the slot for the spindle's key.
        slot_depth_mm: Depth of that slot below the body.
        slot_length_mm: Length of that slot, which is open at the rear end.
    """

    FILE: ClassVar = "r8.csv"

    included_angle_deg: float
    large_diameter_mm: float
    body_greatest_mm: float
    body_least_mm: float
    guide_mm: float
    overall_mm: float
    drawbar_thread: str
    metric_drawbar_thread: str
    slot_width_mm: float
    slot_depth_mm: float
    slot_length_mm: float

    @property
    def taper(self) -> float:
        """Taper on diameter: millimetres a millimetre of length."""
        return 2 * tan(radians(self.included_angle_deg / 2))

    @property
    def cone_mm(self) -> float:
        """Length of the cone from its large end down to the body at its greatest."""
        return (self.large_diameter_mm - self.body_greatest_mm) / self.taper


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainShank(Row):
    """A standard straight shank, found by standard and diameter: "DIN 6535 HA 12".

    Attributes:
        standard: Whose length and zone: "DIN 6535 HA", "ISO 3338-1".
        diameter_mm: Nominal diameter.
        length_mm: Length, at least.
        zone: ISO 286 zone of the diameter.
    """

    FILE: ClassVar = "plain_shanks.csv"
    LENGTH_TOLERANCE_MM: ClassVar = 2.0
    """How much longer it may be: DIN 6535 (1992); for ISO 3338-1 from memory, unverified."""

    standard: str
    diameter_mm: float
    length_mm: float
    zone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShankFlat(Row):
    """The flat on a standard straight shank that a holder's screw bears on.

    Attributes:
        diameter_mm: Nominal diameter of the shank.
        length_mm: Length of the shank.
        flat_mm: Length of the flat along the shank.
        middle_mm: From the end of the shank to the middle of the flat.
        over_flat_mm: From the flat to the other side of the shank, at most; h11.
    """

    FILE: ClassVar = "shank_flats.csv"
    FLAT_TOLERANCE_MM: ClassVar = 0.05
    """How much longer the flat may be: a drill maker's extract of DIN 6535."""
    MIDDLE_TOLERANCE_MM: ClassVar = 1.0
    """How much nearer to the end its middle may be: the same extract."""

    diameter_mm: float
    length_mm: float
    flat_mm: float
    middle_mm: float
    over_flat_mm: float

    @property
    def depth_mm(self) -> float:
        """How deep the flat is cut below the round of the shank."""
        return self.diameter_mm - self.over_flat_mm
