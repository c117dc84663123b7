"""Hidden lines: what stands in front takes away what lies behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import Final

from generator.documents.drawing import Line, Mark, Point

Polygon = Sequence[Point]

EDGE_MM: Final = 0.03
"""A line this near the edge of what hides it goes too, so that no edge is drawn twice."""


def visible(marks: Iterable[Mark], solids: Sequence[Polygon]) -> list[Mark]:
    """Return the marks with their lines cut away within and along the solids.

    Arcs, fills and texts are returned as they are.

    Args:
        marks: What lies behind.
        solids: Closed polygons, their corners in order; they need not be convex.
    """
    framed = [(_frame(solid), solid) for solid in solids]
    kept: list[Mark] = []
    for mark in marks:
        if not isinstance(mark, Line):
            kept.append(mark)
            continue
        pieces = [mark]
        for frame, solid in framed:
            if _apart(mark, frame):
                continue
            pieces = [rest for piece in pieces for rest in _outside(piece, solid)]
        kept += pieces
    return kept


def _frame(solid: Polygon) -> tuple[float, float, float, float]:
    xs, ys = zip(*solid, strict=True)
    return min(xs) - EDGE_MM, min(ys) - EDGE_MM, max(xs) + EDGE_MM, max(ys) + EDGE_MM


def _apart(line: Line, frame: tuple[float, float, float, float]) -> bool:
    """Tell whether a line lies wholly to one side of a frame."""
    (x1, y1), (x2, y2) = line.start, line.end
    return (
        max(x1, x2) < frame[0]
        or min(x1, x2) > frame[2]
        or max(y1, y2) < frame[1]
        or min(y1, y2) > frame[3]
    )


def _outside(line: Line, solid: Polygon) -> Iterator[Line]:
    """Yield the pieces of a line that lie outside a polygon and off its edges."""
    (x1, y1), (x2, y2) = line.start, line.end
    length = hypot(x2 - x1, y2 - y1)
    if length < EDGE_MM:
        return
    cuts = sorted({0.0, 1.0, *_cuts(line, length, solid)})
    spans: list[list[float]] = []
    for low, high in pairwise(cuts):
        middle = (low + high) / 2
        if _covers(solid, (x1 + middle * (x2 - x1), y1 + middle * (y2 - y1))):
            continue
        if spans and spans[-1][1] == low:
            spans[-1][1] = high
        else:
            spans.append([low, high])
    if spans == [[0.0, 1.0]]:
        yield line
        return
    for low, high in spans:
        if (high - low) * length > 2 * EDGE_MM:
            yield Line(
                (x1 + low * (x2 - x1), y1 + low * (y2 - y1)),
                (x1 + high * (x2 - x1), y1 + high * (y2 - y1)),
                line.style,
            )


def _cuts(line: Line, length: float, solid: Polygon) -> Iterator[float]:
    """Yield where along a line an edge crosses it or a corner lies upon it, 0 to 1."""
    x1, y1 = line.start
    ux, uy = (line.end[0] - x1) / length, (line.end[1] - y1) / length
    seen = [((x - x1) * ux + (y - y1) * uy, (y - y1) * ux - (x - x1) * uy) for x, y in solid]
    for (along, off), (next_along, next_off) in zip(seen, (*seen[1:], seen[0]), strict=True):
        if abs(off) <= EDGE_MM and 0 < along < length:
            yield along / length
        if (off > 0) != (next_off > 0):
            at = along + (next_along - along) * off / (off - next_off)
            if 0 < at < length:
                yield at / length


def _covers(solid: Polygon, point: Point) -> bool:
    """Tell whether a point lies within a polygon or on its edge."""
    x, y = point
    within = False
    for (x1, y1), (x2, y2) in zip(solid, (*solid[1:], solid[0]), strict=True):
        dx, dy = x2 - x1, y2 - y1
        span = dx * dx + dy * dy
        share = max(0.0, min(1.0, ((x - x1) * dx + (y - y1) * dy) / span)) if span else 0.0
        if hypot(x - x1 - share * dx, y - y1 - share * dy) <= EDGE_MM:
            return True
        if (y1 > y) != (y2 > y) and x < x1 + dx * (y - y1) / dy:
            within = not within
    return within
