"""Marks as SVG: the lines of a sheet at true scale, and for a page its texts with them."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from math import cos, radians, sin
from typing import Final

from generator.documents.drawing import (
    BLACK,
    STYLES,
    Arc,
    Curve,
    Drawing,
    Fill,
    Line,
    Mark,
    Point,
    Style,
    Text,
)
from generator.documents.text import em_mm
from generator.export.columns import POINT_MM, letters_mm

PLACES: Final = 4
ANCHORS: Final = {"centre": "middle", "right": "end"}


def all_marks(drawing: Drawing) -> tuple[Mark, ...]:
    """Return every mark of a sheet, those of its dimensions too."""
    return (*drawing.marks, *(mark for each in drawing.dimensions for mark in each.marks))


def linework_svg(marks: Iterable[Mark], *, width_mm: float, height_mm: float) -> str:
    """Return lines, arcs and fills as an SVG picture; texts are left out.

    Raises:
        KeyError: If a mark has a style that is not tabulated.
    """
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm}mm" height="{height_mm}mm" '
        f'viewBox="0 0 {width_mm} {height_mm}">{paths(marks, height_mm)}</svg>'
    )


def paths(marks: Iterable[Mark], height_mm: float) -> str:
    """Return lines, arcs, curves and fills, a path for each style; y counts down from a height.

    Tones lie lowest, in their order, then coloured lines, black lines, black fills.

    Raises:
        KeyError: If a mark has a style that is not tabulated.
    """
    drawn: dict[str, list[str]] = {name: [] for name in STYLES}
    filled: list[str] = []
    toned: list[str] = []
    for mark in marks:
        match mark:
            case Line():
                start, end = _point(mark.start, height_mm), _point(mark.end, height_mm)
                drawn[mark.style].append(f"M{start}L{end}")
            case Arc():
                drawn[mark.style].append(_arc(mark, height_mm))
            case Curve():
                drawn[mark.style].append("M" + "L".join(_point(p, height_mm) for p in mark.points))
            case Fill():
                path = area(mark.points, height_mm)
                colour = STYLES[mark.style].colour
                if colour == BLACK:
                    filled.append(path)
                else:
                    toned.append(f'<path d="{path}" fill="{colour}"/>')
            case Text():
                pass
    order = sorted(drawn, key=lambda name: STYLES[name].colour == BLACK)
    toned += [_path(name, drawn[name]) for name in order if drawn[name]]
    if filled:
        toned.append(f'<path d="{"".join(filled)}" fill="black"/>')
    return "".join(toned)


def area(points: Iterable[Point], height_mm: float) -> str:
    """Return the outline of an area as the data of a path."""
    return "M" + "L".join(_point(p, height_mm) for p in points) + "Z"


def texts(marks: Iterable[Mark], height_mm: float) -> str:
    """Return the texts, each as wide as it was placed, whatever typeface shows it."""
    return "".join(
        _text(mark, height_mm) for mark in marks if isinstance(mark, Text) and mark.text.strip()
    )


def _text(text: Text, height_mm: float) -> str:
    x, y = _number(text.at[0]), _number(height_mm - text.at[1])
    size_mm = em_mm(text.height_mm, bold=text.bold)
    wide_mm = letters_mm(text.text, size_mm / POINT_MM, bold=text.bold)
    told = [f'x="{x}" y="{y}" font-size="{_number(size_mm)}" textLength="{_number(wide_mm)}"']
    if len(text.text) > 1:
        told.append('lengthAdjust="spacingAndGlyphs"')
    if text.anchor != "left":
        told.append(f'text-anchor="{ANCHORS[text.anchor]}"')
    if text.bold:
        told.append('font-weight="bold"')
    if text.rotation_deg:
        told.append(f'transform="rotate({_number(-text.rotation_deg)} {x} {y})"')
    return f"<text {' '.join(told)}>{escape(text.text)}</text>"


def _path(name: str, runs: list[str]) -> str:
    """Return the path of one style; whole lines have round ends, so that corners close."""
    style = STYLES[name]
    ends = 'stroke-linecap="round" stroke-linejoin="round"'
    if style.dashes_mm:
        ends = f'stroke-dasharray="{" ".join(_number(dash) for dash in style.dashes_mm)}"'
    return (
        f'<path d="{"".join(runs)}" fill="none" stroke="{_stroke(style)}" '
        f'stroke-width="{_number(style.width_mm)}" {ends}/>'
    )


def _stroke(style: Style) -> str:
    return "black" if style.colour == BLACK else style.colour


def _arc(arc: Arc, height_mm: float) -> str:
    """Return an arc; a full circle in two halves, since one run cannot end where it began."""
    sweep = (arc.end_deg - arc.start_deg) % 360 or 360.0
    pieces = 2 if sweep > 359.999 else 1
    radius = _number(arc.radius_mm)
    text = f"M{_point(_on(arc, arc.start_deg), height_mm)}"
    for n in range(1, pieces + 1):
        end = _point(_on(arc, arc.start_deg + sweep * n / pieces), height_mm)
        text += f"A{radius} {radius} 0 {int(sweep / pieces > 180)} 0 {end}"
    return text


def _on(arc: Arc, angle_deg: float) -> Point:
    x, y = arc.centre
    angle = radians(angle_deg)
    return x + arc.radius_mm * cos(angle), y + arc.radius_mm * sin(angle)


def _point(point: Point, height_mm: float) -> str:
    """Return a point as SVG counts it, y downward."""
    return f"{_number(point[0])} {_number(height_mm - point[1])}"


def _number(value: float) -> str:
    text = f"{value:.{PLACES}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
