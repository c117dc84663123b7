"""A part: a turned outline, the cuts that turning cannot make, and the threads it carries.

Every radial cut is made from the side +y, where the set screw is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import acos, asin, cos, isclose, log, pi, sin, sqrt
from typing import Literal

from generator.model.outline import Outline

QUADRATURE_POINTS = 64


def over_disc(radius_mm: float, height_mm: Callable[[float], float]) -> float:
    """Return the volume under a height h(y) over a disc, by Gauss-Chebyshev quadrature.

    The integral of 2 sqrt(R^2 - y^2) h(y) dy from -R to R; exact to rounding for the smooth
    heights of cylinders crossing at right angles.

    Source:
        Abramowitz and Stegun, Handbook of Mathematical Functions, eq. 25.4.40.

    Example:
        >>> round(over_disc(1.0, lambda y: 1.0) / pi, 12)
        1.0
    """
    n = QUADRATURE_POINTS
    angles = [k * pi / (n + 1) for k in range(1, n + 1)]
    return (
        2
        * radius_mm**2
        * sum(pi / (n + 1) * sin(a) ** 2 * height_mm(radius_mm * cos(a)) for a in angles)
    )


def strip_area_mm2(radius_mm: float, half_width_mm: float) -> float:
    """Return the area of a disc that lies within a strip through its centre.

    Example:
        >>> round(strip_area_mm2(1.0, 1.0) / pi, 12)
        1.0
    """
    h = min(half_width_mm, radius_mm)
    return 2 * (h * sqrt(radius_mm**2 - h**2) + radius_mm**2 * asin(h / radius_mm))


def segment_area_mm2(radius_mm: float, off_mm: float) -> float:
    """Return the area of a disc beyond a straight line at a distance from its centre.

    The line runs on the near side of the centre where the distance is negative.

    Example:
        >>> round(segment_area_mm2(1.0, 0.0) / pi, 12), segment_area_mm2(1.0, 1.0)
        (0.5, 0.0)
    """
    return radius_mm**2 * acos(off_mm / radius_mm) - off_mm * sqrt(radius_mm**2 - off_mm**2)


def mean_strip_area_mm2(first_mm: float, last_mm: float, half_width_mm: float) -> float:
    """Return the mean of the strip area of discs whose radius runs evenly between two radii.

    Example:
        >>> round(mean_strip_area_mm2(0.0, 1.0, 2.0) / pi, 12)  # a whole cone: a third
        0.333333333333
    """

    def integral(r: float) -> float:
        if r <= half_width_mm:
            return pi * r**3 / 3
        h, s = half_width_mm, sqrt(r**2 - half_width_mm**2)
        return 2 / 3 * (2 * h * r * s - h**3 * log((r + s) / h) + r**3 * asin(h / r))

    if isclose(first_mm, last_mm):
        return strip_area_mm2(last_mm, half_width_mm)
    return (integral(last_mm) - integral(first_mm)) / (last_mm - first_mm)


@dataclass(frozen=True, slots=True)
class CrossHole:
    """A radial hole: through one wall and tapped for the set screw, or plain for a pin.

    Attributes:
        name: What it is called on the sheet.
        z_mm: Position of its axis.
        diameter_mm: Its diameter; of a tapped hole, that of the tapping drill.
        thread: Designation of the thread cut in it; "" for a plain hole.
        both: Whether it goes on through the far wall.
        ledge_mm: What is left of the wall at the bore, on the axis of the hole, for a shouldered
            tip to be drawn tight on; 0 for a hole of one diameter.
        through_mm: Diameter of the hole through the ledge.
    """

    name: str
    z_mm: float
    diameter_mm: float
    thread: str = ""
    both: bool = False
    ledge_mm: float = 0.0
    through_mm: float = 0.0

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the hole takes out of the wall between bore and outside, or of both walls."""
        outside = outline.radius_at_mm(self.z_mm, inside=False)
        bore = outline.radius_at_mm(self.z_mm, inside=True)
        floor = bore + self.ledge_mm

        def wall(y: float) -> float:
            return sqrt(outside**2 - y**2) - (floor if self.ledge_mm else sqrt(bore**2 - y**2))

        volume = (1 + self.both) * over_disc(self.diameter_mm / 2, wall)
        if self.ledge_mm:
            volume += over_disc(self.through_mm / 2, lambda y: floor - sqrt(bore**2 - y**2))
        return volume


@dataclass(frozen=True, slots=True)
class Slot:
    """A milled slot along the axis: with a flat floor, or right through; or a flat milled across.

    A slot that is open at the rear runs out through the rear face; only its front end is round.

    Attributes:
        name: What it is called on the sheet.
        front_mm: Position of its end nearer the working end.
        length_mm: Overall length, over the ends.
        width_mm: Width: the diameter of the cutter; of a flat, its chord.
        depth_mm: Depth on the centre line, from the outside diameter to the floor; the diameter
            where the slot goes right through.
        square: Whether its ends are square, as those of a flat milled across are, and not round.
        both: Whether its like lies on the far side too; of flats alone.
        open: Whether it is open at the rear.
    """

    name: str
    front_mm: float
    length_mm: float
    width_mm: float
    depth_mm: float
    square: bool = False
    both: bool = False
    open: bool = False

    @property
    def rear_mm(self) -> float:
        """Position of its end toward the shank."""
        return self.front_mm + self.length_mm

    @property
    def count(self) -> int:
        """How many there are."""
        return 1 + self.both

    def floor_mm(self, outline: Outline) -> float:
        """Return how far its floor lies from the axis."""
        return self._radius_mm(outline) - self.depth_mm

    def through(self, outline: Outline) -> bool:
        """Tell whether it goes right through the bar it is milled into."""
        return self.depth_mm >= 2 * self._radius_mm(outline) - 1e-9

    def _radius_mm(self, outline: Outline) -> float:
        middle_mm = min(max(self.front_mm + self.length_mm / 2, 0.0), outline.length_mm)
        return outline.radius_at_mm(middle_mm, inside=False)

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the slot takes out of the solid cylinder it is milled into."""
        radius, half = self._radius_mm(outline), self.width_mm / 2
        floor = radius - self.depth_mm
        if self.square:
            return self.count * self.length_mm * segment_area_mm2(radius, floor)
        through = self.through(outline)

        def height(y: float) -> float:
            chord = sqrt(radius**2 - y**2)
            return 2 * chord if through else chord - floor

        area = strip_area_mm2(radius, half)
        if not through:
            area = area / 2 - 2 * half * floor
        if self.open:
            return over_disc(half, height) / 2 + self._run_out_mm3(outline, floor)
        return over_disc(half, height) + (self.length_mm - self.width_mm) * area

    def _run_out_mm3(self, outline: Outline, floor: float) -> float:
        """Return what it takes behind its round end, as far as the rear face and its chamfer."""
        half, start = self.width_mm / 2, self.front_mm + self.width_mm / 2
        volume = 0.0
        for s in outline.segments():
            front, rear = max(s.front_mm, start), min(s.rear_mm, self.rear_mm)
            if s.end.z_mm > s.start.z_mm and rear > front:
                slope = (s.end.r_mm - s.start.r_mm) / (s.end.z_mm - s.start.z_mm)
                r0, r1 = (s.start.r_mm + slope * (z - s.start.z_mm) for z in (front, rear))
                area = mean_strip_area_mm2(r0, r1, half) / 2 - 2 * half * floor
                volume += (rear - front) * area
        return volume


@dataclass(frozen=True, slots=True)
class DriverSlot:
    """A straight slot across the rear face, for a screwdriver.

    Attributes:
        name: What it is called on the sheet.
        width_mm: Width of the slot.
        depth_mm: Depth from the rear face.
    """

    name: str
    width_mm: float
    depth_mm: float

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the slot takes out of the rear end, chamfers and hole included."""
        floor, half = outline.length_mm - self.depth_mm, self.width_mm / 2
        volume = 0.0
        for s in outline.segments():
            if s.rear_mm > max(floor, s.front_mm):
                share = max(0.0, (floor - s.front_mm) / s.length_mm)
                front, rear = (s.start, s.end) if s.start.z_mm < s.end.z_mm else (s.end, s.start)
                radius = front.r_mm + share * (rear.r_mm - front.r_mm)
                area = mean_strip_area_mm2(radius, rear.r_mm, half)
                volume += area * (1 - share) * (s.end.z_mm - s.start.z_mm)
        return volume


@dataclass(frozen=True, slots=True)
class HexSocket:
    """A hexagon socket in the rear face.

    Attributes:
        name: What it is called on the sheet.
        across_flats_mm: Width across flats.
        depth_mm: Depth from the rear face.
    """

    name: str
    across_flats_mm: float
    depth_mm: float

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the socket takes out around the hole through the part."""
        hole = outline.radius_at_mm(outline.length_mm - self.depth_mm / 2, inside=True)
        area = sqrt(3) / 2 * self.across_flats_mm**2
        return max(0.0, area - pi * hole**2) * self.depth_mm


@dataclass(frozen=True, slots=True)
class SideFlat:
    """A flat along the axis at one end of a part, or up to a step, on the side of the radial cuts.

    Attributes:
        name: What it is called on the sheet.
        front_mm: Where it begins: at the front end, or at the wall where it ends.
        length_mm: Its length along the axis.
        off_mm: How far from the axis it lies.
        both: Whether there are two of them on opposite sides, as of a tang; these lie a quarter
            of a turn from the side of the radial cuts.
    """

    name: str
    front_mm: float
    length_mm: float
    off_mm: float
    both: bool = False

    @property
    def rear_mm(self) -> float:
        """Where it ends toward the shank."""
        return self.front_mm + self.length_mm

    def on_flange(self, outline: Outline) -> bool:
        """Tell whether it takes the whole length of a flange at the front end."""
        ends = (s.rear_mm for s in outline.segments() if s.end.z_mm > s.start.z_mm)
        return self.front_mm <= 0 and any(isclose(end, self.rear_mm) for end in ends)

    def volume_mm3(self, outline: Outline) -> float:
        """Return what it takes off a solid end: half of what a strip down the middle leaves."""
        volume = 0.0
        for s in outline.segments():
            front, rear = max(s.front_mm, self.front_mm), min(s.rear_mm, self.rear_mm)
            if rear > front and s.diameter_mm > 0:
                slope = (s.end.r_mm - s.start.r_mm) / (s.end.z_mm - s.start.z_mm)
                r0, r1 = (s.start.r_mm + slope * (z - s.start.z_mm) for z in (front, rear))
                disc = pi * (r0**2 + r0 * r1 + r1**2) / 3
                left = mean_strip_area_mm2(r0, r1, self.off_mm)
                way = 1.0 if s.end.z_mm > s.start.z_mm else -1.0
                volume += (1 + self.both) * way * (rear - front) * (disc - left) / 2
        return volume

    def half_width_mm(self, radius_mm: float) -> float:
        """Return half its width where the part has a radius; 0 where it is out of reach."""
        return sqrt(max(0.0, radius_mm**2 - self.off_mm**2))

    def reach_mm(self, outline: Outline) -> tuple[float, float]:
        """Return the stretch along the axis over which metal reaches up to it."""
        low, high = self.front_mm, self.rear_mm
        for s in outline.segments():
            ends = sorted((s.start, s.end), key=lambda c: c.z_mm)
            a, b = ends
            if s.end.z_mm > s.start.z_mm and (a.r_mm - self.off_mm) * (b.r_mm - self.off_mm) < 0:
                at = a.z_mm + (self.off_mm - a.r_mm) * (b.z_mm - a.z_mm) / (b.r_mm - a.r_mm)
                low, high = (max(low, at), high) if b.r_mm > a.r_mm else (low, min(high, at))
        return low, high


Cut = CrossHole | Slot | DriverSlot | HexSocket | SideFlat


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread on a surface of the outline, which stands at its minor or major diameter.

    Attributes:
        surface: The surface of the outline that carries it.
        designation: Designation, such as "M10" or "3/8-16 UNC".
        tolerance_class: Such as "6H", "6g", "2B".
        major_mm: Major diameter.
        minor_mm: Basic minor diameter.
        full_mm: Length of full thread, from the end of the part that it opens to.
        external: Whether it is a male thread.
        opens: Which end that is.
    """

    surface: str
    designation: str
    tolerance_class: str
    major_mm: float
    minor_mm: float
    full_mm: float
    external: bool
    opens: Literal["front", "rear"] = "rear"

    def full_span_mm(self, outline: Outline) -> tuple[float, float]:
        """Return where full thread begins and ends, within its surface."""
        s = outline.surface(self.surface)
        if self.opens == "front":
            return s.front_mm, min(s.rear_mm, max(s.front_mm, self.full_mm))
        end_mm = max(corner.z_mm for corner in outline.corners)
        return max(s.front_mm, min(s.rear_mm, end_mm - self.full_mm)), s.rear_mm


@dataclass(frozen=True, slots=True)
class Part:
    """A part to be made.

    Attributes:
        name: Its name in every file.
        title: Its name for readers.
        outline: Its half section.
        material: What it is made of.
        density_g_per_cm3: Density of the material.
        cuts: What is cut after turning.
        threads: The threads it carries.
    """

    name: str
    title: str
    outline: Outline
    material: str
    density_g_per_cm3: float
    cuts: tuple[Cut, ...] = ()
    threads: tuple[Thread, ...] = ()

    @property
    def volume_mm3(self) -> float:
        """The volume of the finished part, threads taken as smooth."""
        return self.outline.volume_mm3 - sum(cut.volume_mm3(self.outline) for cut in self.cuts)

    @property
    def mass_g(self) -> float:
        """The mass of the finished part."""
        return self.volume_mm3 * self.density_g_per_cm3 / 1000


def cored(part: Part) -> Part:
    """Return a part with its male threads turned down to their cores.

    Outside of the core a screwed part is meant to stand in the metal that it is screwed into.
    """
    corners = list(part.outline.corners)
    for thread in part.threads:
        if not thread.external:
            continue
        last = next(n for n, corner in enumerate(corners) if corner.surface == thread.surface)
        start_mm = corners[last - 1].z_mm
        for n, corner in enumerate(corners[last - 1 :], last - 1):
            if corner.z_mm >= start_mm:
                corners[n] = replace(corner, r_mm=min(corner.r_mm, thread.minor_mm / 2))
    return replace(part, outline=replace(part.outline, corners=tuple(corners)))
