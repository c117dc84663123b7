"""A part: a turned outline, the cuts that turning cannot make, and the threads it carries.

Every radial cut is made from the side +y, where the set screw is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import asin, cos, isclose, log, pi, sin, sqrt

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
    """A radial hole through one wall, tapped for the set screw.

    Attributes:
        name: What it is called on the sheet.
        z_mm: Position of its axis.
        diameter_mm: Diameter of the tapping drill.
        thread: Designation of the thread cut in it.
    """

    name: str
    z_mm: float
    diameter_mm: float
    thread: str

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the hole takes out of the wall between bore and outside."""
        outside = outline.radius_at_mm(self.z_mm, inside=False)
        bore = outline.radius_at_mm(self.z_mm, inside=True)
        return over_disc(
            self.diameter_mm / 2,
            lambda y: sqrt(outside**2 - y**2) - sqrt(bore**2 - y**2),
        )


@dataclass(frozen=True, slots=True)
class Slot:
    """A milled slot along the axis with round ends and a flat floor.

    Attributes:
        name: What it is called on the sheet.
        front_mm: Position of its end nearer the working end.
        length_mm: Overall length, over the round ends.
        width_mm: Width: the diameter of the cutter.
        depth_mm: Depth on the centre line, from the outside diameter to the floor.
    """

    name: str
    front_mm: float
    length_mm: float
    width_mm: float
    depth_mm: float

    def volume_mm3(self, outline: Outline) -> float:
        """Return what the slot takes out of the solid cylinder it is milled into."""
        radius = outline.radius_at_mm(self.front_mm + self.length_mm / 2, inside=False)
        half = self.width_mm / 2
        floor = radius - self.depth_mm
        ends = over_disc(half, lambda y: sqrt(radius**2 - y**2) - floor)
        cap = strip_area_mm2(radius, half) / 2 - 2 * half * floor
        return ends + (self.length_mm - self.width_mm) * cap


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


Cut = CrossHole | Slot | DriverSlot | HexSocket


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread on a surface of the outline, which stands at its minor or major diameter.

    Attributes:
        surface: The surface of the outline that carries it.
        designation: Designation, such as "M10" or "3/8-16 UNC".
        tolerance_class: Such as "6H", "6g", "2B".
        major_mm: Major diameter.
        minor_mm: Basic minor diameter.
        full_mm: Length of full thread, from the rear face of the part.
        external: Whether it is a male thread.
    """

    surface: str
    designation: str
    tolerance_class: str
    major_mm: float
    minor_mm: float
    full_mm: float
    external: bool


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
