"""The signs of a drawing: arrowheads, and the rows of a call-out."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final

from generator.documents.asks import Row
from generator.documents.drawing import PLAIN, Fill, Line, Mark, Point, Spelling, Text
from generator.documents.numerals import size_text
from generator.documents.text import width_mm

HEIGHT_MM: Final = 3.5
ARROW_MM: Final = 3.0
GAP_MM: Final = 1.0
LIFT_MM: Final = 1.3
"""Height of a base line over the line it stands on; brackets hang below the base line."""
BEYOND_MM: Final = 1.5
TICK_FOOT_MM: Final = 2.2
"""From the left of a roughness sign to its foot."""


def printed(pattern: str, value_mm: float, spelling: Spelling = PLAIN) -> str:
    """Return the text of a length: its pattern with the number in it.

    Example:
        >>> printed("Ø<> H7", 8.0), printed("(<>)", 14.5826), printed("<>", 8.0, Spelling("inch"))
        ('Ø8 H7', '(14.583)', '.315')
    """
    return pattern.replace("<>", size_text(value_mm, spelling))


def arrowhead(tip: Point, toward_deg: float, style: str = "dimension") -> Fill:
    """Return an arrowhead that points in a direction."""
    a = radians(toward_deg)
    back = (tip[0] - ARROW_MM * cos(a), tip[1] - ARROW_MM * sin(a))
    half = (0.5 * sin(a), -0.5 * cos(a))
    return Fill(
        (tip, (back[0] + half[0], back[1] + half[1]), (back[0] - half[0], back[1] - half[1])),
        style,
    )


def row_size(row: Row) -> tuple[float, float]:
    """Return width and height of a row of a call-out."""
    width = width_mm(row.text, HEIGHT_MM)
    match row.symbol:
        case "":
            return width, 5.8
        case "taper left" | "taper right":
            return width + 8.0, 5.8
        case "roughness":
            return width + 7.0, 8.5
        case "runout":
            value, datum = row.text.split("|")
            return 7.0 + width_mm(value, HEIGHT_MM) + width_mm(datum, HEIGHT_MM) + 8.0, 7.0


def row_marks(row: Row, x: float, y: float) -> Iterator[Mark]:
    """Yield the marks of a row that stands on the line y and begins at x."""
    match row.symbol:
        case "":
            yield Text((x, y + LIFT_MM), row.text, HEIGHT_MM)
        case "taper left" | "taper right":
            left = row.symbol == "taper left"
            tip, base = (x, x + 6.0) if left else (x + 6.0, x)
            middle = y + 2.6
            yield Line((tip, middle), (base, middle + 1.5), "dimension")
            yield Line((base, middle + 1.5), (base, middle - 1.5), "dimension")
            yield Line((base, middle - 1.5), (tip, middle), "dimension")
            yield Text((x + 8.0, y + LIFT_MM), row.text, HEIGHT_MM)
        case "roughness":
            width = width_mm(row.text, HEIGHT_MM)
            foot = x + TICK_FOOT_MM
            yield Line((foot, y), (foot - TICK_FOOT_MM, y + 3.8), "dimension")
            yield Line((foot - TICK_FOOT_MM, y + 3.8), (foot + 2.2, y + 3.8), "dimension")
            yield Line((foot, y), (foot + 4.2, y + 7.3), "dimension")
            yield Line((foot + 4.2, y + 7.3), (foot + 5.2 + width, y + 7.3), "dimension")
            yield Text((foot + 4.6, y + 2.4), row.text, HEIGHT_MM)
        case "runout":
            value, datum = row.text.split("|")
            ends = [x, x + 7.0]
            for cell in (value, datum):
                start = ends[-1]
                ends.append(start + width_mm(cell, HEIGHT_MM) + 4.0)
                yield Text(((start + ends[-1]) / 2, y + 1.75), cell, HEIGHT_MM, "centre")
            for end in ends:
                yield Line((end, y), (end, y + 7.0), "dimension")
            for level in (y, y + 7.0):
                yield Line((ends[0], level), (ends[-1], level), "dimension")
            yield Line((x + 2.2, y + 1.6), (x + 4.2, y + 4.2), "dimension")
            yield arrowhead((x + 5.2, y + 5.5), 52.4)
