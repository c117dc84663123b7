"""The half section of a turned part: what solid, profile, papers and mass all read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, cos, hypot, pi, sin


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the half section.

    Attributes:
        z_mm: Position along the axis; 0 at the working end, positive toward the shank.
        r_mm: Distance from the axis.
        surface: Trade name of the surface that leads from the corner before to this one; "" for a
            face nobody speaks of.
        arc_mm: Radius of the arc that leads to it and bulges out of the metal; 0 for a straight
            run. A long arc has corners all along it, so near each other that whoever draws or
            measures may go by the chords.
    """

    z_mm: float
    r_mm: float
    surface: str = ""
    arc_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Segment:
    """One run of the half section, from one corner to the next."""

    start: Corner
    end: Corner

    @property
    def surface(self) -> str:
        """The name of the surface."""
        return self.end.surface

    @property
    def is_arc(self) -> bool:
        """Whether it bulges."""
        return self.end.arc_mm > 0

    def runs_on_in(self, after: Segment) -> bool:
        """Tell whether the next run is more of the same arc, so that no edge parts them."""
        return self.is_arc and (self.surface, self.end.arc_mm) == (after.surface, after.end.arc_mm)

    @property
    def bulge_mm3(self) -> float:
        """The volume that an arc sweeps out beyond its chord; 0 for a straight run.

        Source:
            Pappus; area and centroid of a circular segment as in every handbook:
            R^2 (phi - sin phi) / 2, and 4 R sin^3(phi / 2) / (3 (phi - sin phi)) from the centre.
        """
        if not self.is_arc:
            return 0.0
        radius, dz = self.end.arc_mm, self.end.z_mm - self.start.z_mm
        chord = hypot(dz, self.end.r_mm - self.start.r_mm)
        phi = 2 * asin(min(1.0, chord / 2 / radius))
        area = radius**2 * (phi - sin(phi)) / 2
        out = 2 * radius**3 * sin(phi / 2) ** 3 / 3 / area - radius * cos(phi / 2)
        middle = (self.start.r_mm + self.end.r_mm) / 2 + out * dz / chord
        return 2 * pi * middle * area

    @property
    def length_mm(self) -> float:
        """The length along the axis; 0 for a face."""
        return abs(self.end.z_mm - self.start.z_mm)

    @property
    def diameter_mm(self) -> float:
        """The larger of the two end diameters: the diameter, for a cylinder."""
        return 2 * max(self.start.r_mm, self.end.r_mm)

    @property
    def small_diameter_mm(self) -> float:
        """The smaller of the two end diameters."""
        return 2 * min(self.start.r_mm, self.end.r_mm)

    @property
    def front_mm(self) -> float:
        """The position of the end nearer the working end."""
        return min(self.start.z_mm, self.end.z_mm)

    @property
    def rear_mm(self) -> float:
        """The position of the end nearer the shank."""
        return max(self.start.z_mm, self.end.z_mm)


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed half section.

    Corners run clockwise with z to the right and r upward: up the front face, along the outside,
    down the rear face and back along the bore or the axis. The last corner leads to the first, so
    the chain cannot gape.

    Attributes:
        corners: At least three corners.
        planes: Named positions along the axis that are no corner, such as the gauge plane.
    """

    corners: tuple[Corner, ...]
    planes: tuple[tuple[str, float], ...] = ()

    def segments(self) -> Iterator[Segment]:
        """Yield the runs in order; the first one leads from the last corner to the first."""
        before = self.corners[-1]
        for corner in self.corners:
            yield Segment(before, corner)
            before = corner

    def surface(self, name: str) -> Segment:
        """Return the run with this surface name.

        Raises:
            KeyError: If the outline has no such surface.
        """
        before = self.corners[-1]
        for corner in self.corners:
            if corner.surface == name:
                return Segment(before, corner)
            before = corner
        raise KeyError(name)

    def has(self, name: str) -> bool:
        """Tell whether the outline has a surface of this name."""
        return any(corner.surface == name for corner in self.corners)

    def plane_mm(self, name: str) -> float:
        """Return the position of a named plane.

        Raises:
            KeyError: If the outline has no such plane.
        """
        return dict(self.planes)[name]

    @property
    def length_mm(self) -> float:
        """The overall length along the axis."""
        positions = [corner.z_mm for corner in self.corners]
        return max(positions) - min(positions)

    @property
    def diameter_mm(self) -> float:
        """The largest diameter."""
        return 2 * max(corner.r_mm for corner in self.corners)

    @property
    def volume_mm3(self) -> float:
        """The volume of the revolved section, the sum of its signed frusta and its bulges."""
        return abs(
            sum(
                pi
                * (s.end.z_mm - s.start.z_mm)
                * (s.start.r_mm**2 + s.start.r_mm * s.end.r_mm + s.end.r_mm**2)
                / 3
                + s.bulge_mm3
                for s in self.segments()
            )
        )

    @property
    def shortest_mm(self) -> float:
        """The length of the shortest run; a profile needs it above zero."""
        return min(
            hypot(s.end.z_mm - s.start.z_mm, s.end.r_mm - s.start.r_mm) for s in self.segments()
        )

    def radius_at_mm(self, z_mm: float, *, inside: bool) -> float:
        """Return the radius of the outside or of the bore at a position.

        Where a step makes two radii, the larger one outside and the smaller one inside.

        Raises:
            ValueError: If the position lies beyond the part.
        """
        radii = []
        for s in self.segments():
            if s.front_mm <= z_mm <= s.rear_mm and s.length_mm > 0:
                share = (z_mm - s.start.z_mm) / (s.end.z_mm - s.start.z_mm)
                radii.append(s.start.r_mm + share * (s.end.r_mm - s.start.r_mm))
        if not radii:
            raise ValueError(f"{z_mm=}")
        return min(radii) if inside else max(radii)
