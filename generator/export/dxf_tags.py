"""Marks, dimensions and profiles as the tags of a DXF file: text, a code and a value in turn.

Colour, line type and width are those of the layer and left out, but for the tones of a plot. A
generator of handles names every entity; codes are those of the DXF reference for R2000 and later.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2
from typing import Final

from generator.documents.drawing import (
    BLACK,
    STYLES,
    Arc,
    Curve,
    Dimension,
    Drawing,
    Fill,
    Line,
    Mark,
    Point,
    Profile,
    Text,
)
from generator.documents.layout import bounds
from generator.documents.text import Box
from generator.units import MM_PER_INCH, number

SIGNS: Final = {
    "Ø": "%%c",
    "°": "%%d",
    "±": "%%p",
    "µ": "u",
}
DIMSTYLE: Final = "SHEET"
"""How dimensions look; a digit behind it says how many decimals they have."""
LINEAR, ANGULAR, OWN_BLOCK, PLACED_TEXT = 0, 2, 32, 128
MIDDLE: Final = 5
CURVE_PLACES: Final = 3
ALIGNMENTS: Final = {"left": 0, "centre": 1, "right": 2}
NOTE_MM: Final = 2.5
NOTE_STEP_MM: Final = 4.0


def ascii_text(text: str) -> str:
    r"""Return text in the spelling of DXF: signs as %% codes, other letters by code point.

    Example:
        >>> ascii_text("Ø8 ±0.1, 60°"), ascii_text("für 50 %")
        ('%%c8 %%p0.1, 60%%d', 'f\\U+00FCr 50 %')
    """
    spelled = text.replace("%%", "%%%%%%")
    spelled = "".join(SIGNS.get(letter, letter) for letter in spelled)
    return "".join(each if each.isascii() else f"\\U+{ord(each):04X}" for each in spelled)


def mark_tags(marks: Iterable[Mark], k: float, owner: str, handles: Iterator[str]) -> str:
    """Return marks in a layout or block as entities, paper millimetres times k.

    Args:
        marks: The marks.
        k: True length over paper length.
        owner: Handle of the layout or block.
        handles: Gives each entity its handle.
    """
    return "".join(_mark(mark, k, owner, next(handles)) for mark in marks)


def _mark(mark: Mark, k: float, owner: str, handle: str) -> str:
    style = STYLES[mark.style]
    width = f"370\n{round(100 * style.width_mm)}\n" if mark.style == "grid" else ""
    colour = f"420\n{int(style.colour[1:], 16)}\n" if style.colour != BLACK else ""

    def head(kind: str) -> str:
        return _head(kind, style.layer, owner, handle) + width + colour

    match mark:
        case Line():
            return head("LINE") + _line(_by(mark.start, k), _by(mark.end, k))
        case Arc():
            whole = mark.end_deg - mark.start_deg == 360
            circle = f"100\nAcDbCircle\n{_at(0, _by(mark.centre, k))} 40\n{mark.radius_mm * k}\n"
            if whole:
                return head("CIRCLE") + circle
            angles = f"100\nAcDbArc\n 50\n{mark.start_deg}\n 51\n{mark.end_deg}\n"
            return head("ARC") + circle + angles
        case Curve():
            return head("LWPOLYLINE") + _curve(mark, k)
        case Fill():
            corners = enumerate(_solid_order([_by(point, k) for point in mark.points]))
            return head("SOLID") + "100\nAcDbTrace\n" + "".join(_at(n, p) for n, p in corners)
        case Text():
            return head("TEXT") + _text(mark, k)


def _head(kind: str, layer: str, owner: str, handle: str) -> str:
    """Return how every entity begins."""
    return f"  0\n{kind}\n  5\n{handle}\n330\n{owner}\n100\nAcDbEntity\n  8\n{layer}\n"


def _at(number: int, point: Point) -> str:
    """Return the point of that number, 0 to 6; it lies in the plane of the drawing."""
    return f" 1{number}\n{point[0]}\n 2{number}\n{point[1]}\n 3{number}\n0.0\n"


def _line(start: Point, end: Point) -> str:
    return f"100\nAcDbLine\n{_at(0, start)}{_at(1, end)}"


def _curve(curve: Curve, k: float) -> str:
    """Return an open polyline; its corners are rounded, for there are many of them."""
    corners = (
        f" 10\n{number(x * k, CURVE_PLACES)}\n 20\n{number(y * k, CURVE_PLACES)}\n"
        for x, y in curve.points
    )
    return f"100\nAcDbPolyline\n 90\n{len(curve.points)}\n 70\n0\n{''.join(corners)}"


def _solid_order(points: list[Point]) -> list[Point]:
    """Return the corners in the order of a SOLID: third and fourth exchanged, or the same.

    Raises:
        ValueError: If there are not three or four.
    """
    if len(points) not in (3, 4):
        raise ValueError(f"a SOLID has three or four corners, not {len(points)}")
    return [points[0], points[1], points[-1], points[2]]


def _text(mark: Text, k: float) -> str:
    at = _by(mark.at, k)
    turn = f" 50\n{mark.rotation_deg}\n" if mark.rotation_deg else ""
    anchor = ALIGNMENTS[mark.anchor]
    return (
        f"100\nAcDbText\n{_at(0, at)} 40\n{mark.height_mm * k}\n  1\n{ascii_text(mark.text)}\n"
        f"{turn}  7\n{'BOLD' if mark.bold else 'REGULAR'}\n"
        + (f" 72\n{anchor}\n{_at(1, at)}" if anchor else "")
        + "100\nAcDbText\n"
    )


def _by(point: Point, k: float) -> Point:
    return point[0] * k, point[1] * k


def block_record_tags(name: str, handle: str, table: str) -> str:
    """Return the entry of a block in the table of blocks."""
    return (
        f"  0\nBLOCK_RECORD\n  5\n{handle}\n330\n{table}\n100\nAcDbSymbolTableRecord\n"
        f"100\nAcDbBlockTableRecord\n  2\n{name}\n340\n0\n 70\n0\n280\n1\n281\n0\n"
    )


def block_tags(name: str, content: str, record: str, handles: Iterator[str]) -> str:
    """Return an anonymous block about its entities."""
    return (
        _head("BLOCK", "0", record, next(handles))
        + f"100\nAcDbBlockBegin\n  2\n{name}\n 70\n1\n{_at(0, (0.0, 0.0))}  3\n{name}\n  1\n\n"
        + content
        + _head("ENDBLK", "0", record, next(handles))
        + "100\nAcDbBlockEnd\n"
    )


def true_length(drawing: Drawing) -> float:
    """Return what a millimetre of paper is worth in the file, in the unit of the sheet."""
    return 1 / drawing.scale / (MM_PER_INCH if drawing.unit == "inch" else 1.0)


def dimension_tags(
    dimension: Dimension, sheet: Drawing, block: str, owner: str, handle: str
) -> str:
    """Return a DIMENSION that is shown by its own block of marks.

    In a view at another scale than the sheet's, the measure is not the printed number, and the
    text is given literally.
    """
    k = true_length(sheet)
    angular = dimension.kind == "angular"
    text = dimension.pattern if dimension.scale == sheet.scale else dimension.text.text
    style = f"{DIMSTYLE}{dimension.spelling.decimals}"
    left, bottom, right, top = bounds([dimension.text])
    middle = _by(((left + right) / 2, (bottom + top) / 2), k)
    points = [_by(point, k) for point in dimension.points]
    *measured, last = points
    if angular:
        *measured, line, last = points
    kind = (ANGULAR if angular else LINEAR) | OWN_BLOCK | PLACED_TEXT
    body = (
        f"100\nAcDbDimension\n280\n0\n  2\n{block}\n  3\n{style}\n"
        f"{_at(0, line if angular else last)}{_at(1, middle)} 70\n{kind}\n 71\n{MIDDLE}\n"
        f" 42\n{_measure(dimension, points)}\n  1\n{ascii_text(text)}\n"
    )
    ends = "".join(_at(3 + n, point) for n, point in enumerate(measured))
    if angular:
        body += f"100\nAcDb2LineAngularDimension\n{ends}{_at(6, last)}"
    else:
        turn = 90.0 if dimension.kind == "vertical" else 0.0
        body += f"100\nAcDbAlignedDimension\n{ends} 50\n{turn}\n100\nAcDbRotatedDimension\n"
    return _head("DIMENSION", STYLES["dimension"].layer, owner, handle) + body


def _measure(dimension: Dimension, points: list[Point]) -> float:
    """Return the length measured, or the angle in radians."""
    (ax, ay), (bx, by) = points[:2]
    if dimension.kind != "angular":
        return abs(bx - ax) if dimension.kind == "horizontal" else abs(by - ay)
    (cx, cy), (dx, dy) = points[2:4]
    (ux, uy), (vx, vy) = (bx - ax, by - ay), (dx - cx, dy - cy)
    return abs(atan2(ux * vy - uy * vx, ux * vx + uy * vy))


def profile_tags(profile: Profile, owner: str, handles: Iterator[str]) -> str:
    """Return a profile: one closed polyline, its axis, and its notes one below the other."""
    vertices = "".join(
        f" 10\n{x}\n 20\n{y}\n" + (f" 42\n{bulge}\n" if bulge else "")
        for x, y, bulge in profile.vertices
    )
    left, below = min(x for x, _, _ in profile.vertices), _notes_top_mm(profile)
    notes = (
        _head("TEXT", "TEXT", owner, next(handles))
        + f"100\nAcDbText\n{_at(0, (left, below - NOTE_STEP_MM * n))} 40\n{NOTE_MM}\n"
        + f"  1\n{ascii_text(line)}\n100\nAcDbText\n"
        for n, line in enumerate(profile.notes)
    )
    return (
        _head("LWPOLYLINE", profile.layer, owner, next(handles))
        + f"100\nAcDbPolyline\n 90\n{len(profile.vertices)}\n 70\n1\n{vertices}"
        + _head("LINE", "AXIS", owner, next(handles))
        + _line(*profile.axis)
        + "".join(notes)
    )


def profile_box(profile: Profile) -> Box:
    """Return left, bottom, right and top of a profile with its axis and notes."""
    low = _notes_top_mm(profile) - NOTE_STEP_MM * len(profile.notes)
    return profile.axis[0][0], low, profile.axis[1][0], max(y for _, y, _ in profile.vertices)


def _notes_top_mm(profile: Profile) -> float:
    """Return the base line of the first note below a profile."""
    return min(0.0, *(y for _, y, _ in profile.vertices)) - 6.0
