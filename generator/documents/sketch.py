"""Sketches of set-ups: boxes, and dimensions that carry their words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.documents.drawing import Line, Mark, Point, Text
from generator.documents.symbols import ARROW_MM, arrowhead
from generator.documents.text import width_mm

HEIGHT_MM: Final = 2.5
"""Height of the letters, as in the plots."""

LIFT_MM: Final = 1.7
BESIDE_MM: Final = 1.4
OVER_MM: Final = 1.0
"""How far an extension line goes beyond its dimension line."""

OFF_MM: Final = 0.6
"""Between what is measured and its extension line."""


def box(left: float, bottom: float, right: float, top: float, style: str) -> Iterator[Line]:
    """Yield the four sides of a rectangle."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    for n, corner in enumerate(corners):
        yield Line(corner, corners[(n + 1) % 4], style)


def level(x1: float, x2: float, y: float, text: str, *, beside: str = "") -> Iterator[Mark]:
    """Yield a level dimension line with its words above it, or beside it where it is too short.

    Args:
        x1: Where it begins.
        x2: Where it ends.
        y: How high it lies.
        text: Its words.
        beside: "left" or "right" to set the words beyond that end.
    """
    left, right = sorted((x1, x2))
    inside = right - left >= 2 * ARROW_MM + 1.0
    wide = width_mm(text, HEIGHT_MM)
    if not beside and wide + 2.0 > right - left:
        beside = "right"
    yield from _arrows((left, y), (right, y), 0.0, inside=inside)
    tail = 0.0 if inside else 2 * ARROW_MM
    if beside == "right":
        start = right + tail
        yield Line((right, y), (start + BESIDE_MM, y), "dimension")
        yield Text((start + 2 * BESIDE_MM, y - HEIGHT_MM / 2), text, HEIGHT_MM)
    elif beside == "left":
        start = left - tail
        yield Line((left, y), (start - BESIDE_MM, y), "dimension")
        yield Text((start - 2 * BESIDE_MM, y - HEIGHT_MM / 2), text, HEIGHT_MM, "right")
    else:
        yield Text(((left + right) / 2, y + LIFT_MM), text, HEIGHT_MM, "centre")


def upright(y1: float, y2: float, x: float, text: str, *, side: str = "right") -> Iterator[Mark]:
    """Yield an upright dimension line, its words level beside it."""
    low, high = sorted((y1, y2))
    inside = high - low >= 2 * ARROW_MM + 1.0
    yield from _arrows((x, low), (x, high), 90.0, inside=inside)
    way = 1.0 if side == "right" else -1.0
    at = ((low + high) / 2) - HEIGHT_MM / 2 if inside else low - 2 * ARROW_MM - HEIGHT_MM / 2
    anchor = "left" if way > 0 else "right"
    if anchor == "left":
        yield Text((x + BESIDE_MM, at), text, HEIGHT_MM, "left")
    else:
        yield Text((x - BESIDE_MM, at), text, HEIGHT_MM, "right")


def _arrows(start: Point, end: Point, way_deg: float, *, inside: bool) -> Iterator[Mark]:
    """Yield a dimension line with its arrowheads, outside where there is no room within."""
    if inside:
        yield Line(start, end, "dimension")
        yield arrowhead(end, way_deg)
        yield arrowhead(start, way_deg + 180)
        return
    dx, dy = (2 * ARROW_MM, 0.0) if way_deg == 0 else (0.0, 2 * ARROW_MM)
    yield Line((start[0] - dx, start[1] - dy), (end[0] + dx, end[1] + dy), "dimension")
    yield arrowhead(start, way_deg)
    yield arrowhead(end, way_deg + 180)


def extension(at: Point, to: Point) -> Line:
    """Return an extension line from what is measured to beyond its dimension line."""
    dx, dy = to[0] - at[0], to[1] - at[1]
    long = (dx * dx + dy * dy) ** 0.5 or 1.0
    ux, uy = dx / long, dy / long
    return Line(
        (at[0] + OFF_MM * ux, at[1] + OFF_MM * uy),
        (to[0] + OVER_MM * ux, to[1] + OVER_MM * uy),
        "dimension",
    )
