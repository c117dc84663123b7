"""A helical spring in an isometric picture: a wire wound about the axis, hidden lines removed.

The wire is round: what shows of it are the two lines along which it turns away from the eye, the
flats where its ends are ground, and the cuts at its two tips. It hides itself wherever a coil
passes before another one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, pi, sqrt, tau
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.documents.drawing import Mark
from generator.documents.isometric import EYE, SAG_MM, WIDER, on_paper, run
from generator.documents.layout import Array
from generator.documents.sight import FLAT, Flags
from generator.documents.spring_view import BOLD_WIRE_MM, places_mm
from generator.formulas.coils import front_end, rear_end
from generator.model.springs import CoilSpring

STEPS: Final = 64
"""Chords that a turn is parted into."""
PARTS: Final = 8
"""Into how many a chord is divided where a line passes out of sight."""
GRAZE: Final = 0.97
"""Share of the wire's radius that hides: points on the wire are not hidden by their own skin."""
TIP_TURNS: Final = 0.15
"""Length of wire that does not hide the cut at its tip."""
TIP_STEPS: Final = 24
SPECK_MM: Final = 0.4
"""A stretch shorter than this on paper is left out: coils that touch graze one another."""
LAP: Final = 0.1
"""How far a chord reaches beyond its ends, as a share of it, so that no ray slips between two."""

Places = NDArray[np.intp]
_Drawn = tuple[Array, Flags, Places | None]


@dataclass(frozen=True, slots=True, eq=False)
class Coil:
    """A wire wound about an axis, and what it hides.

    Attributes:
        centres_mm: Points along the middle of the wire, from the front on; shape (n, 3).
        radius_mm: Radius of the wire.
        front_mm: Where a ground front face cuts it off, or less than all of it.
        rear_mm: Where a ground rear face cuts it off, or more.
        mean_mm: Radius of the helix.
    """

    centres_mm: Array
    radius_mm: float
    front_mm: float
    rear_mm: float
    mean_mm: float

    def hides(self, points_mm: Array, own: Places | None = None) -> Flags:
        """Tell which points the wire hides from the eye.

        Each chord of the wire is taken as a cylinder; a ray meets it where it passes the chord
        more closely than the wire's radius.

        Args:
            points_mm: The points, shape (n, 3).
            own: For points on a tip, the chord they belong to; its neighbours do not hide them.
        """
        eye = EYE / np.linalg.norm(EYE)
        rows, at = self._pairs(points_mm)
        if own is not None:
            apart = np.abs(at - own[rows]) > TIP_TURNS * STEPS
            rows, at = rows[apart], at[apart]
        chords = np.diff(self.centres_mm, axis=0)
        lengths = np.linalg.norm(chords, axis=1)
        chords /= lengths[:, None]
        ends = on_paper(self.centres_mm, 1.0) / WIDER
        ways = np.diff(ends, axis=0)
        flat = np.hypot(*ways.T)
        off = (on_paper(points_mm, 1.0) / WIDER)[rows] - ends[at]
        aside = (off[:, 0] * ways[at, 1] - off[:, 1] * ways[at, 0]) / flat[at]
        met = np.flatnonzero(np.abs(aside) < GRAZE * self.radius_mm)
        rows, at, off, aside = rows[met], at[met], off[met], aside[met]
        half = np.sqrt((GRAZE * self.radius_mm) ** 2 - aside**2) * (lengths / flat)[at]
        share = (off * ways[at]).sum(axis=1) / (flat**2)[at]
        depths = self.centres_mm @ eye
        middle = depths[at] + share * np.diff(depths)[at] - (points_mm @ eye)[rows]
        # of the cylinder about a chord only what stands between the ends of the chord
        rise = np.diff(depths)[at]
        rise = np.where(np.abs(rise) < FLAT, FLAT, rise) / lengths[at] ** 2
        begin = ((points_mm[rows] - self.centres_mm[at]) * chords[at]).sum(axis=1) / lengths[at]
        bounds = np.sort([(-LAP - begin) / rise, (1 + LAP - begin) / rise], axis=0)
        z = points_mm[rows, 2]
        far = np.minimum.reduce([middle + half, bounds[1], (self.rear_mm - z) / eye[2]])
        near = np.maximum.reduce([middle - half, bounds[0], (self.front_mm - z) / eye[2]])
        least = (1 - GRAZE) * self.radius_mm
        hit = far - np.maximum(near, least) > least
        return np.asarray(np.bincount(rows[hit], minlength=len(points_mm)) > 0)

    def _pairs(self, points_mm: Array) -> tuple[Places, Places]:
        """Return which point and which chord may meet, pair by pair.

        A ray runs as far along the axis as across it in both other ways. About where it is
        nearest to the axis it is within the helix on no more than its radius over root two.
        """
        heights = self.centres_mm[:, 2]
        z = points_mm[:, 2]
        middle = z - (points_mm[:, 0] + points_mm[:, 1]) / 2
        spread = (self.mean_mm + self.radius_mm) / sqrt(2) + self.radius_mm
        low = np.maximum(middle - spread, z - self.radius_mm)
        first = np.maximum(np.searchsorted(heights, low) - 1, 0)
        last = np.minimum(np.searchsorted(heights, middle + spread) + 1, len(heights) - 1)
        counts = np.maximum(last - first, 0)
        rows = np.repeat(np.arange(len(z)), counts)
        starts = np.cumsum(counts) - counts
        return rows, np.arange(len(rows)) + (first - starts)[rows]


def coil_of(spring: CoilSpring, length_mm: float) -> Coil:
    """Return the wire of a spring at a length, its front face at z = 0, without one inside it."""
    turns = np.linspace(0.0, spring.total_coils, ceil(STEPS * spring.total_coils) + 1)
    sign = 1.0 if spring.hand == "right" else -1.0
    angles = sign * (pi / 2 + tau * turns)
    mean = spring.mean_mm / 2
    centres = np.column_stack(
        [mean * np.cos(angles), mean * np.sin(angles), places_mm(spring, length_mm, turns)]
    )
    ground = [end.endswith("ground") for end in (front_end(spring.ends), rear_end(spring.ends))]
    return Coil(
        centres,
        spring.wire_mm / 2,
        0.0 if ground[0] else -spring.wire_mm,
        length_mm if ground[1] else length_mm + spring.wire_mm,
        mean,
    )


def coil_picture(spring: CoilSpring, length_mm: float, scale: float) -> Iterator[Mark]:
    """Yield the visible lines of a spring that stands alone, its front face at the origin.

    Args:
        spring: The spring, without the one inside it.
        length_mm: Its length as it stands.
        scale: Paper length over true length.
    """
    coil = coil_of(spring, length_mm)
    style = "outline" if scale * spring.wire_mm >= BOLD_WIRE_MM else "thin"
    for points, kept, own in _lines(coil, spring):
        for stretch in _visible(coil, points, kept, own, scale):
            yield run(stretch, style)


def _lines(coil: Coil, spring: CoilSpring) -> Iterator[_Drawn]:
    """Yield the lines of a wire: points, whether each is there, and the chord of a tip."""
    centres = coil.centres_mm
    along = np.gradient(centres, axis=0)
    along /= np.linalg.norm(along, axis=1)[:, None]
    aside = np.cross(along, EYE)
    aside *= coil.radius_mm / np.linalg.norm(aside, axis=1)[:, None]
    for sign in (1.0, -1.0):
        points = centres + sign * aside
        yield points, _between(coil, points), None
    out = np.column_stack([centres[:, :2] / coil.mean_mm, np.zeros(len(centres))])
    tips = ((front_end(spring.ends), coil.front_mm, 0), (rear_end(spring.ends), coil.rear_mm, -1))
    for end, face_mm, tip in tips:
        if end.endswith("ground"):
            yield from _flat(coil, out, face_mm, tip)
        yield _tip(coil, along, out, tip)


def _flat(coil: Coil, out: Array, face_mm: float, tip: int) -> Iterator[_Drawn]:
    """Yield the rim of the flat that a ground face cuts on the wire, and its edge at the tip."""
    height = np.abs(coil.centres_mm[:, 2] - face_mm)
    width = np.sqrt(np.maximum(coil.radius_mm**2 - height**2, 0.0))
    there = width > 0
    there[1:-1] |= there[:-2] | there[2:]  # the two lines run together where the flat ends
    sides = []
    for sign in (1.0, -1.0):
        points = coil.centres_mm + sign * width[:, None] * out
        points[:, 2] = face_mm
        sides.append(points[tip])
        yield points, there, None
    edge = np.linspace(sides[0], sides[1], 3)
    yield edge, np.full(3, True), np.full(3, tip % len(out))


def _tip(coil: Coil, along: Array, out: Array, tip: int) -> _Drawn:
    """Return the round cut at one tip of the wire."""
    angles = np.linspace(0.0, tau, TIP_STEPS + 1)[:, None]
    ways = np.cos(angles) * out[tip] + np.sin(angles) * np.cross(along[tip], out[tip])
    points = coil.centres_mm[tip] + coil.radius_mm * ways
    outward = along[tip] if tip else -along[tip]
    seen = (ways @ EYE > 0) | bool(outward @ EYE > 0)
    return points, _between(coil, points) & seen, np.full(len(points), tip % len(out))


def _between(coil: Coil, points: Array) -> Flags:
    """Tell which points lie between the two faces of a spring."""
    return np.asarray(
        (points[:, 2] >= coil.front_mm - 1e-9) & (points[:, 2] <= coil.rear_mm + 1e-9)
    )


def _visible(
    coil: Coil, points: Array, kept: Flags, own: Places | None, scale: float
) -> Iterator[Array]:
    """Yield the visible stretches of a line on paper, thinned to as few chords as it needs."""
    seen = kept.copy()
    seen[kept] = ~coil.hides(points[kept], None if own is None else own[kept])
    turns = np.flatnonzero(seen[1:] != seen[:-1])
    shares = np.arange(1, PARTS) / PARTS
    steps = points[turns + 1] - points[turns]
    finer = (points[turns, None] + shares[:, None] * steps[:, None]).reshape(-1, 3)
    beside = None if own is None else np.repeat(own[turns], PARTS - 1)
    more = np.repeat(kept[turns] & kept[turns + 1], PARTS - 1) | _between(coil, finer)
    more = (more & ~coil.hides(finer, beside)).reshape(len(turns), PARTS - 1)
    same = np.cumprod(more == seen[turns, None], axis=1).sum(axis=1)
    ends = points[turns] + ((same + 0.5) / PARTS)[:, None] * steps
    bend = WIDER * scale * coil.mean_mm
    stride = max(1, int(np.sqrt(8 * SAG_MM / bend) / (tau / STEPS))) if own is None else 1
    starts = [0, *(turns + 1)]
    for n, (first, last) in enumerate(zip(starts, [*(turns + 1), len(points)], strict=True)):
        if not seen[first]:
            continue
        middle = points[first:last:stride]
        before = ends[n - 1 : n] if n else points[:0]
        after = ends[n : n + 1] if n < len(ends) else points[last - 1 : last]
        line = on_paper(np.concatenate([before, middle, after]), scale)
        lengths = np.hypot(*np.diff(line, axis=0).T)
        line = line[np.concatenate([[True], lengths > 1e-6])]
        if len(line) > 1 and lengths.sum() > SPECK_MM:
            yield line
