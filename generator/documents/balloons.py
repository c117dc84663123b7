"""Item numbers in circles, in one row above a view (ISO 6433)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, pi, sin
from typing import Final

from generator.documents.drawing import Arc, Fill, Line, Mark, Point, Text
from generator.documents.symbols import HEIGHT_MM, arrowhead
from generator.documents.text import Box

RADIUS_MM: Final = 4.0
PITCH_MM: Final = 11.0
ABOVE_MM: Final = 14.0
LEAN_MM: Final = -7.0
"""How far a balloon stands to the right of its point, so that no leader runs along an edge."""

DOT_MM: Final = 0.65
DOT_ROOM_MM: Final = 2.0
"""A surface narrower than this on paper gets an arrow on its edge, not a dot within."""


@dataclass(frozen=True, slots=True)
class Balloon:
    """An item number and what it points at.

    Attributes:
        number: The number.
        at: The point, on paper.
        dotted: Whether the leader ends in a dot upon a surface, or in an arrow on an edge.
    """

    number: int
    at: Point
    dotted: bool


def balloon_marks(balloons: Sequence[Balloon], box: Box, end: float) -> Iterator[Mark]:
    """Yield the balloons in a row above a box, left to right as their points lie.

    Args:
        balloons: The balloons, their points from left to right.
        box: Left, bottom, right and top of the view.
        end: Where on paper the row ends at the latest.
    """
    level = box[3] + ABOVE_MM
    last = end - RADIUS_MM - PITCH_MM * (len(balloons) - 1)
    places = spread([b.at[0] + LEAN_MM for b in balloons])
    for n, (each, x) in enumerate(zip(balloons, places, strict=True)):
        yield from balloon_at(each, (min(x, last + PITCH_MM * n), level))


def balloon_at(balloon: Balloon, centre: Point) -> Iterator[Mark]:
    """Yield one balloon about a centre, with its leader."""
    x, y = centre
    dx, dy = balloon.at[0] - x, balloon.at[1] - y
    span = hypot(dx, dy)
    edge = (x + RADIUS_MM * dx / span, y + RADIUS_MM * dy / span)
    yield Arc(centre, RADIUS_MM, style="dimension")
    yield Text((x, y - HEIGHT_MM / 2), str(balloon.number), HEIGHT_MM, "centre")
    yield Line(edge, balloon.at, "dimension")
    if balloon.dotted:
        yield from _dot(balloon.at)
    else:
        yield arrowhead(balloon.at, degrees(atan2(dy, dx)))


def spread(wanted: Sequence[float], pitch_mm: float = PITCH_MM) -> list[float]:
    """Return places at least a pitch apart, in order, as near the wanted ones as can be.

    Least squares: neighbours that would stand too close share the mean of what they want.

    Example:
        >>> spread([0.0, 1.0, 40.0])
        [-5.0, 6.0, 40.0]
    """
    groups: list[tuple[float, int]] = []
    for n, place in enumerate(wanted):
        groups.append((place - n * pitch_mm, 1))
        while len(groups) > 1 and groups[-2][0] > groups[-1][0]:
            (a, m), (b, k) = groups[-2:]
            groups[-2:] = [((a * m + b * k) / (m + k), m + k)]
    starts = [start for start, count in groups for _ in range(count)]
    return [start + n * pitch_mm for n, start in enumerate(starts)]


def _dot(at: Point) -> Iterator[Fill]:
    """Yield an octagon as three quadrilaterals."""
    x, y = at
    ring = [
        (x + DOT_MM * cos((2 * n + 1) * pi / 8), y + DOT_MM * sin((2 * n + 1) * pi / 8))
        for n in range(8)
    ]
    for n in (1, 3, 5):
        yield Fill((ring[0], ring[n], ring[n + 1], ring[n + 2]))
