"""A compression spring in section, as ISO 2162-1 draws it: cut coils and the half turns behind."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, degrees, floor, hypot
from typing import Final

import numpy as np

from generator.documents.drawing import Arc, Line, Mark, Point
from generator.documents.layout import Array
from generator.formulas.coils import front_end, rear_end
from generator.model.springs import CoilSpring

BOLD_WIRE_MM: Final = 2.0
"""Wire this thick on paper is drawn in thick lines; thinner wire would fill up."""


def spring_section(spring: CoilSpring, length_mm: float, scale: float) -> Iterator[Mark]:
    """Yield a spring cut along its axis; it starts at x = 0 and runs to the left.

    The wire of a right-hand spring is cut above the axis at every whole turn and below at every
    half turn, from the very end of the wire on, so the cuts on each side count the coils: a ground
    end is half a cut. A left-hand spring is the mirror image.

    Args:
        spring: The spring, without the one inside it.
        length_mm: Its length as it stands.
        scale: Paper length over true length.
    """
    wire = scale * spring.wire_mm
    style = "outline" if wire >= BOLD_WIRE_MM else "thin"
    upper = 1.0 if spring.hand == "right" else -1.0
    mean, length = upper * scale * spring.mean_mm / 2, scale * length_mm
    edge = mean + upper * wire / 2
    turns = spring.total_coils
    for half in range(floor(2 * turns + 1e-6) + 1):
        z = scale * place_mm(spring, length_mm, half / 2)
        y = mean if half % 2 == 0 else -mean
        yield _cut_wire((-z, y), wire / 2, length, style)
        if half % 2 == 0:
            share = min(1.0, 2 * turns - half)
            end_z = scale * place_mm(spring, length_mm, half / 2 + share / 2)
            yield from _strand((-z, y), (-end_z, mean * (1 - 2 * share)), wire / 2, length, style)
    if front_end(spring.ends).endswith("ground"):
        yield Line((0.0, edge), (0.0, -mean), style)
    if rear_end(spring.ends).endswith("ground"):
        up = 1.0 if round(2 * turns) % 2 == 0 else -1.0
        yield Line((-length, up * edge), (-length, -up * mean), style)


def upper_cut(spring: CoilSpring) -> float:
    """Return the turn, near the middle of a spring, at which its wire is cut above the axis."""
    return spring.total_coils // 2 + (0.0 if spring.hand == "right" else 0.5)


def knots(spring: CoilSpring) -> tuple[tuple[float, float, float], ...]:
    """Return turn, distance and share of the length at which the wire changes its slope.

    After so many turns the middle of the wire lies behind the front face by the distance and that
    share, 0 or 1, of the length of the spring. One closed turn at each end lies against its
    neighbour; a ground end is cut at the middle of the wire.
    """
    ends = (front_end(spring.ends), rear_end(spring.ends))
    closed = [float(end.startswith("closed")) for end in ends]
    if spring.total_coils <= sum(closed):
        closed = [0.0, 0.0]
    front, rear = (0.0 if end.endswith("ground") else spring.wire_mm / 2 for end in ends)
    return (
        (0.0, front, 0.0),
        (closed[0], front + closed[0] * spring.wire_mm, 0.0),
        (spring.total_coils - closed[1], -rear - closed[1] * spring.wire_mm, 1.0),
        (spring.total_coils, -rear, 1.0),
    )


def place_mm(spring: CoilSpring, length_mm: float, turn: float) -> float:
    """Return how far behind the front face the middle of the wire is after so many turns."""
    return float(places_mm(spring, length_mm, np.array([turn]))[0])


def places_mm(spring: CoilSpring, length_mm: float, turns: Array) -> Array:
    """Return how far behind the front face the middle of the wire is after each number of turns."""
    found = knots(spring)
    places = [at_mm + share * length_mm for _, at_mm, share in found]
    return np.interp(turns, [knot[0] for knot in found], places)


def _cut_wire(centre: Point, radius: float, length: float, style: str) -> Arc:
    """Return the cut of a wire, flat where a face of the spring takes a part of it off."""
    front, rear = -centre[0], length + centre[0]
    if front < radius - 1e-6:
        open_deg = degrees(acos(max(-1.0, front / radius)))
        return Arc(centre, radius, open_deg, 360.0 - open_deg, style)
    if rear < radius - 1e-6:
        open_deg = degrees(acos(max(-1.0, rear / radius)))
        return Arc(centre, radius, open_deg - 180.0, 180.0 - open_deg, style)
    return Arc(centre, radius, style=style)


def _strand(start: Point, end: Point, radius: float, length: float, style: str) -> Iterator[Line]:
    """Yield the two edges of the half turn behind the section, within the faces of the spring."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    span = hypot(dx, dy)
    if span < 1e-6:
        return
    nx, ny = -radius * dy / span, radius * dx / span
    for side in (1.0, -1.0):
        a = (start[0] + side * nx, start[1] + side * ny)
        b = (end[0] + side * nx, end[1] + side * ny)
        yield from _between(a, b, -length, 0.0, style)


def _between(a: Point, b: Point, low: float, high: float, style: str) -> Iterator[Line]:
    """Yield what of a line lies between two upright faces."""
    if a[0] == b[0]:
        if low <= a[0] <= high:
            yield Line(a, b, style)
        return
    shares = sorted((x - a[0]) / (b[0] - a[0]) for x in (low, high))
    first, last = max(0.0, shares[0]), min(1.0, shares[1])
    if first < last:
        points = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in (first, last)]
        yield Line(points[0], points[1], style)
