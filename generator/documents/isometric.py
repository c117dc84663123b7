"""Isometric pictures without hidden lines: ISO 5456-3, lengths along the three axes true to scale.

The tool's axis runs down to the left and toward the reader, the side of the set screw is up. The
eye looks from the rear, so the drive of the plug and the mouth of the rear thread are seen.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, cos, dist, hypot, inf, radians, sin, sqrt
from typing import Final

import numpy as np

from generator.documents.drawing import Curve, Line, Mark, Point
from generator.documents.layout import Array
from generator.documents.part_edges import Crests, Edge, part_edges
from generator.documents.sight import FLAT, Flags, Solid
from generator.model.assembly import X_AND_Z_OF, Placed
from generator.model.outline import Corner, Outline
from generator.model.part import Part

EYE: Final = np.array([1.0, 1.0, 1.0])
"""Direction toward the eye in the tool's axes."""
WAYS: Final = np.array([[cos(radians(a)), sin(radians(a))] for a in (-30.0, 90.0, 210.0)])
"""Where the tool's x, y and z run on paper."""
WIDER: Final = sqrt(1.5)
"""How much larger a diameter is drawn than it is where lengths along the axes are true."""
NARROWER: Final = sqrt(0.5)
"""How far a circle about the axis reaches along it on paper, as a share of its radius."""

STEP_MM: Final = 0.5
"""Distance on paper of the points at which an edge is first looked at."""
PARTS: Final = 16
"""Into how many a step is divided where an edge passes out of sight."""
SPECK_MM: Final = 0.2
"""A stretch shorter than this on paper is left out."""
SAG_MM: Final = 0.02
"""How far a chord may leave its curve on paper."""
CHAMFER_MM: Final = 0.7
"""Edges closer than this on paper are drawn as one; from memory, unverified: ISO 128-2 keeps
parallel lines that far apart."""


def on_paper(points_mm: Array, scale: float) -> Array:
    """Return where points of the tool lie on paper.

    Example:
        >>> on_paper(np.array([[0.0, 5.0, 0.0]]), 2.0).round(9)
        array([[ 0., 10.]])
    """
    return np.asarray(scale * points_mm @ WAYS)


def turn_of(placed: Placed) -> Array:
    """Return the part's axes in those of the tool, a row each."""
    x, z = X_AND_Z_OF[placed.axis]
    return np.array([x, np.cross(z, x), z])


def picture(
    placed: Placed, crests: Crests | None, scale: float, apart_mm: float = CHAMFER_MM
) -> Iterator[Mark]:
    """Yield the visible edges of a part that stands alone, in its place.

    Args:
        placed: The part and where it stands.
        crests: Where it carries a male thread.
        scale: Paper length over true length.
        apart_mm: Edges closer than this on paper are drawn as one.
    """
    turn = turn_of(placed)
    origin = np.array(placed.origin_mm)
    solid = Solid(simplified(placed.part, apart_mm / scale), turn @ EYE)
    edges = list(part_edges(solid.part, solid.eye, crests, scale))
    for edge, start, end in stretches(edges, solid, scale):
        points = edge.at(np.linspace(start, end, _count(edge, end - start, scale) + 1))
        yield run(on_paper(points @ turn + origin, scale), edge.style)


def simplified(part: Part, least_mm: float) -> Part:
    """Return a part whose half section has no run shorter than a length, where that can be.

    A small chamfer or recess becomes the corner in which its neighbours meet; the flat of a point
    becomes its tip. An arc stays as it is.
    """
    corners = list(part.outline.corners)
    while len(corners) > 3:
        pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
        lengths = [inf if b.arc_mm else hypot(b.z_mm - a.z_mm, b.r_mm - a.r_mm) for a, b in pairs]
        n = int(np.argmin(lengths))
        if lengths[n] >= least_mm:
            break
        corners = [*corners[n:], *corners[:n]]
        corners[:2] = [_merged(corners[-1], *corners[:3])]
    return replace(part, outline=Outline(tuple(corners), part.outline.planes))


def _merged(before: Corner, a: Corner, b: Corner, after: Corner) -> Corner:
    """Return the corner that stands for two.

    On the axis, if one is; in their face, if they bound one; else on the run before or the one
    after, or on both, whichever is nearest.
    """
    if min(a.r_mm, b.r_mm) < FLAT:
        return replace(a if a.r_mm < FLAT else b, r_mm=0.0)
    middle = (a.z_mm + b.z_mm) / 2, (a.r_mm + b.r_mm) / 2
    places = [middle] if abs(b.z_mm - a.z_mm) < FLAT else []
    ux, uy = a.z_mm - before.z_mm, a.r_mm - before.r_mm
    vx, vy = after.z_mm - b.z_mm, after.r_mm - b.r_mm
    turn = ux * vy - uy * vx
    if abs(turn) > 0.1 * hypot(ux, uy) * hypot(vx, vy):
        share = ((b.z_mm - a.z_mm) * vy - (b.r_mm - a.r_mm) * vx) / turn
        places.append((a.z_mm + share * ux, max(a.r_mm + share * uy, 0.0)))
    if abs(ux) > FLAT:
        places.append((b.z_mm, a.r_mm + uy / ux * (b.z_mm - a.z_mm)))
    if abs(vx) > FLAT:
        places.append((a.z_mm, b.r_mm - vy / vx * (b.z_mm - a.z_mm)))
    z_mm, r_mm = min(places or [middle], key=lambda place: dist(place, middle))
    return Corner(z_mm, r_mm, a.surface)


def run(points: Array, style: str) -> Line | Curve:
    """Return points on paper joined by lines."""
    corners: tuple[Point, ...] = tuple((float(x), float(y)) for x, y in points)
    return Line(*corners, style) if len(corners) == 2 else Curve(corners, style)


def _count(edge: Edge, span: float, scale: float) -> int:
    """Return into how many chords a stretch of an edge is parted."""
    if edge.bend_mm == 0:
        return 1
    return max(2, ceil(span / sqrt(8 * SAG_MM / (WIDER * scale * edge.bend_mm))))


def stretches(
    edges: Sequence[Edge], solid: Solid, scale: float
) -> Iterator[tuple[Edge, float, float]]:
    """Yield the visible stretches of the edges of a solid: the edge, from where, to where.

    Args:
        edges: The edges.
        solid: The solid, the only thing that may hide them.
        scale: Paper length over true length.
    """
    steps = [_steps(edge, scale) for edge in edges]
    seen = _seen(edges, steps, solid)
    turns = [np.flatnonzero(flags[1:] != flags[:-1]) for flags in seen]
    shares = np.arange(1, PARTS) / PARTS
    finer = [
        (u[at, None] + shares * (u[at + 1] - u[at])[:, None]).ravel()
        for u, at in zip(steps, turns, strict=True)
    ]
    closer = _seen(edges, finer, solid)
    for edge, u, flags, at, more in zip(edges, steps, seen, turns, closer, strict=True):
        same = more.reshape(len(at), PARTS - 1) == flags[at, None]
        share = (np.cumprod(same, axis=1).sum(axis=1) + 0.5) / PARTS
        changes = u[at] + share * (u[at + 1] - u[at])
        speck = SPECK_MM * (edge.end - edge.start) / _length_mm(edge, u, scale)
        for start, end in _runs(edge, flags, changes):
            if end - start > speck:
                yield edge, start, end


def _steps(edge: Edge, scale: float) -> Array:
    """Return the parameters at which an edge is first looked at."""
    rough = np.linspace(edge.start, edge.end, 13)
    return np.linspace(
        edge.start, edge.end, max(2, ceil(_length_mm(edge, rough, scale) / STEP_MM)) + 1
    )


def _length_mm(edge: Edge, u: Array, scale: float) -> float:
    """Return a length on paper that an edge does not exceed by much."""
    return float(WIDER * scale * np.linalg.norm(np.diff(edge.at(u), axis=0), axis=1).sum()) + 1e-9


def _seen(edges: Sequence[Edge], places: Sequence[Array], solid: Solid) -> list[Flags]:
    """Tell for each edge which of its places are seen."""
    points = np.concatenate(
        [edge.at(u).reshape(-1, 3) for edge, u in zip(edges, places, strict=True)]
    )
    counts = [len(u) for u in places]
    own = np.repeat([edge.cut for edge in edges], counts)
    seen = ~solid.hides(points) & (own | ~solid.lacks(points))
    return np.split(seen, np.cumsum(counts)[:-1])


def _runs(edge: Edge, flags: Flags, changes: Array) -> Iterator[tuple[float, float]]:
    """Yield where an edge is seen, from where to where; a closed one past its end."""
    places = [float(change) for change in changes]
    whole = edge.end - edge.start
    if edge.closed and places and flags[0]:
        places = [*places[1:], places[0] + whole]
    else:
        places = [*([edge.start] if flags[0] else []), *places, *([edge.end] if flags[-1] else [])]
    yield from zip(places[::2], places[1::2], strict=True)
