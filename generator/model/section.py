"""The half section of a turned solid, and what two of them on one axis do to each other.

Solids of revolution about one axis overlap, and are as far apart, as their half sections are.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, inf, pi
from typing import Final

from generator.model.outline import Outline

Line = tuple[float, float, float, float]
"""A straight run of a half section: z and r of one end, z and r of the other."""
Strip = tuple[float, float, float, float]
"""Metal between two positions: inner and outer radius at the first, and at the second."""

SAME_MM: Final = 1e-9
"""Positions closer than this are one."""


@dataclass(frozen=True, slots=True)
class Overlap:
    """What two turned solids share.

    Attributes:
        volume_mm3: The volume of it.
        across_mm: Its greatest extent along a radius.
        along_mm: Its extent along the axis.
    """

    volume_mm3: float
    across_mm: float
    along_mm: float


@dataclass(frozen=True, slots=True)
class Section:
    """A half section as slices between positions along the axis, and as the lines around it.

    Attributes:
        lines: The lines around it, without the axis.
        at_mm: The positions that part the slices.
        slices: The strips of metal of each slice, one slice fewer than positions.
    """

    lines: tuple[Line, ...]
    at_mm: tuple[float, ...]
    slices: tuple[tuple[Strip, ...], ...]

    @property
    def front_mm(self) -> float:
        """Its foremost position."""
        return self.at_mm[0]

    @property
    def rear_mm(self) -> float:
        """Its rearmost position."""
        return self.at_mm[-1]

    @property
    def radius_mm(self) -> float:
        """Its largest radius."""
        return max(max(line[1], line[3]) for line in self.lines)

    @property
    def volume_mm3(self) -> float:
        """The volume of the solid that the section sweeps out."""
        return sum(
            _volume_mm3(strip, rear - front)
            for (front, rear), strips in zip(pairwise(self.at_mm), self.slices, strict=True)
            for strip in strips
        )

    def turned(self) -> Section:
        """Return it end for end about z = 0."""
        return section((-a, b, -c, d) for a, b, c, d in self.lines)

    def within(self, radius_mm: float) -> Section | None:
        """Return what lies within a radius, such as the core of a thread; None for nothing."""
        lines = tuple(_cut(self, radius_mm))
        return section(lines) if lines else None


def section(lines: Iterable[Line]) -> Section:
    """Return the half section that lines enclose with the axis, in any order and sense.

    Faces square to the axis need not be among them; they follow from the others.

    Raises:
        ValueError: If they enclose nothing.
    """
    kept = tuple(line for line in lines if abs(line[2] - line[0]) > SAME_MM)
    at_mm: list[float] = []
    for z in sorted(z for line in kept for z in (line[0], line[2])):
        if not at_mm or z - at_mm[-1] > SAME_MM:
            at_mm.append(z)
    if len(at_mm) < 2:
        raise ValueError("no section")
    slices = tuple(tuple(_strips(kept, front, rear)) for front, rear in pairwise(at_mm))
    return Section((*kept, *_faces(at_mm, slices)), tuple(at_mm), slices)


def _faces(at_mm: list[float], slices: tuple[tuple[Strip, ...], ...]) -> Iterator[Line]:
    """Yield the faces square to the axis: where there is metal on one side of a position alone."""
    before = [(), *([strip[2:] for strip in strips] for strips in slices)]
    after = [*([strip[:2] for strip in strips] for strips in slices), ()]
    for z, front, rear in zip(at_mm, before, after, strict=True):
        radii = sorted(r for strip in (*front, *rear) for r in strip)
        for inner, outer in pairwise(radii):
            middle = (inner + outer) / 2
            if outer - inner > SAME_MM and _holds(front, middle) != _holds(rear, middle):
                yield z, inner, z, outer


def _holds(strips: Iterable[tuple[float, ...]], radius: float) -> bool:
    return any(inner < radius < outer for inner, outer in strips)


def section_of(outline: Outline) -> Section:
    """Return the half section of an outline."""
    return section((s.start.z_mm, s.start.r_mm, s.end.z_mm, s.end.r_mm) for s in outline.segments())


def _strips(lines: tuple[Line, ...], front: float, rear: float) -> Iterator[Strip]:
    """Yield the metal between two neighbouring positions, by counting lines from the axis."""
    ends = sorted(
        (_radius_at(line, front) + _radius_at(line, rear), _radius_at(line, front), line)
        for line in lines
        if min(line[0], line[2]) <= front + SAME_MM and max(line[0], line[2]) >= rear - SAME_MM
    )
    radii = [(first, double - first) for double, first, _ in ends]
    if len(radii) % 2:
        radii.insert(0, (0.0, 0.0))
    for (inner_front, inner_rear), (outer_front, outer_rear) in zip(
        radii[::2], radii[1::2], strict=True
    ):
        yield inner_front, outer_front, inner_rear, outer_rear


def _radius_at(line: Line, z: float) -> float:
    z0, r0, z1, r1 = line
    return r0 + (r1 - r0) * (z - z0) / (z1 - z0)


def _cut(whole: Section, radius: float) -> Iterator[Line]:
    """Yield the lines around what lies within a radius: two a strip, inner and outer."""
    for (front, rear), strips in zip(pairwise(whole.at_mm), whole.slices, strict=True):
        for strip in strips:
            for z0, z1, (a, b, c, d) in _parts(front, rear, strip, (0.0, radius, 0.0, radius)):
                yield z0, a, z1, c
                yield z0, b, z1, d


def overlap(first: Section, second: Section, moved_mm: float) -> Overlap:
    """Return what two sections share, the second one moved along the axis.

    Exact for straight lines: between two positions where no line bends or crosses another, radii
    run evenly.

    Example:
        >>> from generator.model.outline import Corner
        >>> pin = section_of(Outline((Corner(0, 0), Corner(0, 2), Corner(9, 2), Corner(9, 0))))
        >>> ring = section_of(Outline((Corner(0, 1), Corner(0, 3), Corner(9, 3), Corner(9, 1))))
        >>> shared = overlap(pin, ring, 5.0)
        >>> round(shared.volume_mm3 / pi, 9), shared.across_mm, shared.along_mm
        (12.0, 1.0, 4.0)
    """
    volume, across, front_mm, rear_mm = 0.0, 0.0, inf, -inf
    start = max(0, bisect_right(first.at_mm, second.front_mm + moved_mm) - 1)
    for i in range(start, len(first.slices)):
        front, rear = first.at_mm[i], first.at_mm[i + 1]
        if front >= second.rear_mm + moved_mm:
            break
        j = max(0, bisect_right(second.at_mm, front - moved_mm) - 1)
        while j < len(second.slices) and second.at_mm[j] + moved_mm < rear:
            z0, z1 = second.at_mm[j] + moved_mm, second.at_mm[j + 1] + moved_mm
            a, b = max(front, z0), min(rear, z1)
            if b > a:
                for one in first.slices[i]:
                    mine = _between(one, front, rear, a, b)
                    for other in second.slices[j]:
                        theirs = _between(other, z0, z1, a, b)
                        for y0, y1, shared in _parts(a, b, mine, theirs):
                            volume += _volume_mm3(shared, y1 - y0)
                            across = max(across, shared[1] - shared[0], shared[3] - shared[2])
                            front_mm, rear_mm = min(front_mm, y0), max(rear_mm, y1)
            j += 1
    return Overlap(volume, across, max(0.0, rear_mm - front_mm))


def _between(strip: Strip, front: float, rear: float, a: float, b: float) -> Strip:
    """Return a strip cut down to two positions within its own."""
    if a == front and b == rear:
        return strip
    inner0, outer0, inner1, outer1 = strip
    share, other = (a - front) / (rear - front), (b - front) / (rear - front)
    return (
        inner0 + share * (inner1 - inner0),
        outer0 + share * (outer1 - outer0),
        inner0 + other * (inner1 - inner0),
        outer0 + other * (outer1 - outer0),
    )


def _parts(
    front: float, rear: float, one: Strip, other: Strip
) -> Iterator[tuple[float, float, Strip]]:
    """Yield what two strips between the same positions share, parted where their lines cross."""
    if max(one[1], one[3]) <= min(other[0], other[2]) or max(other[1], other[3]) <= min(
        one[0], one[2]
    ):
        return
    shares = {0.0, 1.0}
    for mine in (0, 1):
        for theirs in (0, 1):
            gap0, gap1 = one[mine] - other[theirs], one[mine + 2] - other[theirs + 2]
            if gap0 * gap1 < 0:
                shares.add(gap0 / (gap0 - gap1))
    for a, b in pairwise(sorted(shares)):
        p, q = _between(one, 0.0, 1.0, a, b), _between(other, 0.0, 1.0, a, b)
        inner0, outer0 = max(p[0], q[0]), min(p[1], q[1])
        inner1, outer1 = max(p[2], q[2]), min(p[3], q[3])
        if outer0 + outer1 > inner0 + inner1:
            length = rear - front
            yield (
                front + a * length,
                front + b * length,
                (inner0, max(outer0, inner0), inner1, max(outer1, inner1)),
            )


def _volume_mm3(strip: Strip, length: float) -> float:
    """Return the volume that a strip sweeps out, a frustum less a frustum."""
    inner0, outer0, inner1, outer1 = strip
    outer = outer0**2 + outer0 * outer1 + outer1**2
    inner = inner0**2 + inner0 * inner1 + inner1**2
    return pi * length * (outer - inner) / 3


def distance_mm(first: Section, second: Section, moved_mm: float) -> float:
    """Return the least distance of two sections that do not overlap, the second one moved.

    Example:
        >>> from generator.model.outline import Corner
        >>> pin = section_of(Outline((Corner(0, 0), Corner(0, 2), Corner(9, 2), Corner(9, 0))))
        >>> distance_mm(pin, pin, 12.0), distance_mm(pin, pin, 9.0)
        (3.0, 0.0)
    """
    least = inf
    for line in first.lines:
        z0, r0, z1, r1 = line
        zs, zl = (z0, z1) if z0 < z1 else (z1, z0)
        rs, rl = (r0, r1) if r0 < r1 else (r1, r0)
        for a, b, c, d in second.lines:
            a, c = a + moved_mm, c + moved_mm
            off_z = max((a if a < c else c) - zl, zs - (c if c > a else a), 0.0)
            off_r = max((b if b < d else d) - rl, rs - (d if d > b else b), 0.0)
            if off_z >= least or off_r >= least or hypot(off_z, off_r) >= least:
                continue
            least = min(
                least,
                _to_line(z0, r0, a, b, c, d),
                _to_line(z1, r1, a, b, c, d),
                _to_line(a, b, z0, r0, z1, r1),
                _to_line(c, d, z0, r0, z1, r1),
            )
    return least


def _to_line(z: float, r: float, z0: float, r0: float, z1: float, r1: float) -> float:
    """Return the distance of a point from a straight run."""
    run, rise = z1 - z0, r1 - r0
    share = ((z - z0) * run + (r - r0) * rise) / (run * run + rise * rise)
    share = min(1.0, max(0.0, share))
    return hypot(z - z0 - share * run, r - r0 - share * rise)
