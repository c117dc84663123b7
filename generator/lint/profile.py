"""The half section of a turned part as a closed chain of straight runs, read from its profile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final, Literal

from generator.lint.sheet import Cutting, Point

SAME_MM: Final = 1e-6
Kind = Literal["face", "cylinder", "slope"]


@dataclass(frozen=True, slots=True)
class Run:
    """A straight run of the half section, from one corner to the next.

    Attributes:
        start: Number of the corner it begins at.
        end: Number of the corner it leads to.
        kind: "face" across the axis, "cylinder" along it, "slope" else.
        inside: Whether it bounds a hole; a face bounds none.
    """

    start: int
    end: int
    kind: Kind
    inside: bool


@dataclass(frozen=True, slots=True)
class Section:
    """A half section.

    Attributes:
        name: Name of the part.
        corners: z from the finished face, positive into the part, and r of each corner.
        runs: The runs; those along the axis itself are left out.
    """

    name: str
    corners: tuple[Point, ...]
    runs: tuple[Run, ...]

    @property
    def front_mm(self) -> float:
        """Where the part begins."""
        return min(z for z, _ in self.corners)

    @property
    def rear_mm(self) -> float:
        """Where it ends."""
        return max(z for z, _ in self.corners)

    @property
    def radius_mm(self) -> float:
        """Its largest radius."""
        return max(r for _, r in self.corners)

    def distance_mm(self, run: Run, z: float, r: float) -> float:
        """Return how far a point lies from a run."""
        (az, ar), (bz, br) = self.corners[run.start], self.corners[run.end]
        dz, dr = bz - az, br - ar
        share = ((z - az) * dz + (r - ar) * dr) / (dz**2 + dr**2)
        share = min(1.0, max(0.0, share))
        return hypot(az + share * dz - z, ar + share * dr - r)

    def deep_end(self, run: Run) -> tuple[int, float]:
        """Return the corner at the bottom of a hole, and the position of the face it opens to.

        The bottom is where the hole goes on narrower, or ends.
        """
        after, before = self._neighbour(run.end, run), self._neighbour(run.start, run)
        ends = ((run.end, after), (run.start, before))
        radius = self.corners[run.start][1]
        deep = min(ends, key=lambda end: self.corners[end[1]][1] - radius)[0]
        other = run.start if deep == run.end else run.end
        forward = self.corners[other][0] > self.corners[deep][0]
        return deep, self.rear_mm if forward else self.front_mm

    def _neighbour(self, corner: int, run: Run) -> int:
        """Return the corner next to an end of a run, away from the run."""
        count = len(self.corners)
        return (corner + 1) % count if corner == run.end else (corner - 1) % count


def section_of(cutting: Cutting) -> Section | None:
    """Return the half section that a turning profile holds, None where it holds no sound one."""
    chains = [chain for chain in cutting.chains if chain.layer == "PROFILE_HALF"]
    if len(chains) != 1 or any(vertex[2] for vertex in chains[0].vertices):
        return None
    name = cutting.file.replace("\\", "/").rsplit("/", 1)[-1].removesuffix("-turning.dxf")
    return section_from(name, [(-x + 0.0, y) for x, y, _ in chains[0].vertices])


def section_from(name: str, points: Sequence[Point]) -> Section | None:
    """Return the half section with these corners; those within a straight run are left out."""
    corners = _turning(points)
    if len(corners) < 3:
        return None
    following = [*corners[1:], corners[0]]
    area = sum(az * br - bz * ar for (az, ar), (bz, br) in zip(corners, following, strict=True))
    runs = []
    for n, ((az, ar), (bz, br)) in enumerate(zip(corners, following, strict=True)):
        if max(ar, br) < SAME_MM:
            continue
        level, steep = abs(br - ar) < SAME_MM, abs(bz - az) < SAME_MM
        kind: Kind = "face" if steep else "cylinder" if level else "slope"
        inside = kind != "face" and (bz - az) * area > 0
        runs.append(Run(n, (n + 1) % len(corners), kind, inside))
    return Section(name, tuple(corners), tuple(runs))


def _turning(points: Sequence[Point]) -> list[Point]:
    """Return the corners at which the chain turns."""
    kept: list[Point] = [point for n, point in enumerate(points) if _apart(point, points[n - 1])]
    while True:
        count = len(kept)
        straight = next((n for n in range(count) if _is_straight(kept, n)), None)
        if straight is None or count < 4:
            return kept
        del kept[straight]


def _apart(a: Point, b: Point) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) > SAME_MM


def _is_straight(points: Sequence[Point], n: int) -> bool:
    (az, ar), (bz, br), (cz, cr) = points[n - 1], points[n], points[(n + 1) % len(points)]
    turn = (bz - az) * (cr - br) - (br - ar) * (cz - bz)
    along = (bz - az) * (cz - bz) + (br - ar) * (cr - br)
    return along > 0 and abs(turn) < 1e-9 * max(1.0, along)
