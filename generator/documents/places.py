"""Where dimensions and datums may go, cheapest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final

from generator.documents.asks import Across, Angle, Datum, Length, Placed
from generator.documents.drawing import Anchor, Arc, Dimension, Fill, Line, Mark, Point, Text
from generator.documents.layout import Run
from generator.documents.symbols import (
    ARROW_MM,
    BEYOND_MM,
    GAP_MM,
    HEIGHT_MM,
    LIFT_MM,
    arrowhead,
    printed,
)
from generator.documents.text import width_mm
from generator.documents.view import View

FIRST_ROW_MM: Final = 9.0
ROW_MM: Final = 7.5
ROW_COST: Final = 9.0
UPRIGHT_COST: Final = 6.0


def places(ask: Length | Across | Angle | Datum, view: View) -> Iterable[list[Placed]]:
    """Return groups of places; none holds a cheaper one than the cheapest of the group before."""
    match ask:
        case Length():
            return (list(_length_places(ask, view, row)) for row in range(16))
        case Across():
            return iter([list(_across_places(ask, view))])
        case Angle():
            return iter([list(_angle_places(ask, view.scale))])
        case Datum():
            return iter([list(_datum_places(ask))])


def _length_places(ask: Length, view: View, row: int) -> Iterator[Placed]:
    """Yield the places in one row: the text within the span, beyond its ends, or farther off."""
    upright = ask.side in ("left", "right")
    a, b = sorted(
        (_turned(point) if upright else point for point in (ask.start, ask.end)),
        key=lambda point: point[0],
    )
    edge = view.box[{"left": 0, "below": 1, "right": 2, "above": 3}[ask.side]]
    out = 1.0 if ask.side in ("right", "above") else -1.0
    span = b[0] - a[0]
    text = printed(ask.pattern, span / view.scale)
    width = width_mm(text, HEIGHT_MM)
    level = edge + out * (FIRST_ROW_MM + ROW_MM * row)
    base = ROW_COST * row
    middle = (a[0] + b[0]) / 2
    places: list[tuple[float, float]] = []
    if width + 2 * ARROW_MM + 1.0 <= span:
        slack = (span - width) / 2 - ARROW_MM - 0.5
        places += [(middle, 0.0), (middle - slack, 2.0), (middle + slack, 2.0)]
        places += [(middle - slack / 2, 1.0), (middle + slack / 2, 1.0)]
    elif width + 0.6 <= span:
        places.append((middle, 0.0))
    beyond = width / 2 + ARROW_MM + 3.0
    for extra in (0.0, 4.0, 8.0, 14.0, 20.0, 28.0, 36.0, 46.0, 58.0, 72.0):
        turned = UPRIGHT_COST if upright and width > span else 0.0
        places.append((b[0] + beyond + extra, 6.0 + turned + extra / 4))
        places.append((a[0] - beyond - extra, 6.5 + turned + extra / 4))
    for at, penalty in places:
        yield _length_at(ask, view, (a, b), level, at, (text, width), base + penalty)
    if upright:
        for reach in (3.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0):
            for end, way in ((b[0], 1.0), (a[0], -1.0)):
                shelf = end + way * reach
                cost = base + 5.0 + reach / 3
                yield _shelved(ask, view, (a, b), level, shelf, text, cost, out)


def _turned(point: Point) -> Point:
    return point[1], point[0]


def _measure_lines(
    a: Point, b: Point, level: float, width: float, *, upright: bool
) -> tuple[list[Mark], float, float]:
    """Return extension lines, dimension line and arrowheads, and where the line ends."""

    def put(x: float, y: float) -> Point:
        return (y, x) if upright else (x, y)

    marks: list[Mark] = []
    for x, y in (a, b):
        way = 1.0 if level > y else -1.0
        if abs(level - y) > GAP_MM + BEYOND_MM:
            marks.append(
                Line(put(x, y + way * GAP_MM), put(x, level + way * BEYOND_MM), "dimension")
            )
    tight = b[0] - a[0] < 2 * ARROW_MM + 1.0
    low, high = (a[0] - 2 * ARROW_MM, b[0] + 2 * ARROW_MM) if tight else (a[0], b[0])
    towards = (0.0, 180.0) if tight else (180.0, 0.0)
    for x, angle in zip((a[0], b[0]), towards, strict=True):
        marks.append(arrowhead(put(x, level), 90.0 - angle if upright else angle))
    return marks, low, high


def _length_at(
    ask: Length,
    view: View,
    ends: tuple[Point, Point],
    level: float,
    at: float,
    label: tuple[str, float],
    cost: float,
) -> Placed:
    """Return the dimension with its text along the dimension line, centred at one place."""
    upright = ask.side in ("left", "right")
    (a, b), (text, width) = ends, label
    marks, low, high = _measure_lines(a, b, level, width, upright=upright)
    low, high = min(low, at - width / 2), max(high, at + width / 2)
    if upright:
        letter = Text((level - LIFT_MM, at), text, HEIGHT_MM, "centre", 90.0)
        lane = (level, low, level, high)
    else:
        letter = Text((at, level + LIFT_MM), text, HEIGHT_MM, "centre")
        lane = (low, level, high, level)
    marks += [Line(lane[:2], lane[2:], "dimension"), letter]
    return _dimension(ask, view, ends, level, marks, letter, lane, cost)


def _shelved(
    ask: Length,
    view: View,
    ends: tuple[Point, Point],
    level: float,
    shelf: float,
    text: str,
    cost: float,
    out: float,
) -> Placed:
    """Return an upright dimension with its text level on a shelf beyond one end."""
    a, b = ends
    width = width_mm(text, HEIGHT_MM)
    marks, low, high = _measure_lines(a, b, level, width, upright=True)
    low, high = min(low, shelf), max(high, shelf)
    lane = (level, low, level, high)
    foot = level + out * (width + 2.0)
    anchor: Anchor = "left" if out > 0 else "right"
    letter = Text((level + out, shelf + LIFT_MM), text, HEIGHT_MM, anchor)
    marks += [
        Line(lane[:2], lane[2:], "dimension"),
        Line((level, shelf), (foot, shelf), "dimension"),
        letter,
    ]
    return _dimension(ask, view, ends, level, marks, letter, lane, cost)


def _dimension(
    ask: Length,
    view: View,
    ends: tuple[Point, Point],
    level: float,
    marks: list[Mark],
    letter: Text,
    lane: Run,
    cost: float,
) -> Placed:
    """Return a placed length; both points are put level with the one nearer the line."""
    upright = ask.side in ("left", "right")
    a, b = ends
    foot = min((a[1], b[1]), key=lambda y: abs(level - y))
    flat = ((a[0], foot), (b[0], foot), (b[0], level))
    points = tuple(_turned(point) for point in flat) if upright else flat
    dimension = Dimension(
        "vertical" if upright else "horizontal",
        points,
        view.scale,
        ask.pattern,
        letter,
        tuple(marks),
    )
    return Placed(cost, tuple(marks), dimension, lane)


def _across_places(ask: Across, view: View) -> Iterator[Placed]:
    """Yield stations, shelves above and below, to the left and to the right."""
    for number_, (x, r) in enumerate(ask.stations):
        text = printed(ask.pattern, 2 * r / view.scale)
        width = width_mm(text, HEIGHT_MM)
        for reach in (4.0, 7.0, 10.0, 14.0, 18.0, 23.0, 28.0, 34.0, 40.0, 48.0):
            for up in (1.0, -1.0):
                shelf = (view.box[3] if up > 0 else view.box[1]) + up * reach
                for out in (-1.0, 1.0):
                    foot = x + out * (width + 2.0)
                    anchor: Anchor = "left" if out > 0 else "right"
                    letter = Text((x + out, shelf + LIFT_MM), text, HEIGHT_MM, anchor)
                    marks: tuple[Mark, ...] = (
                        Line((x, -up * r), (x, shelf), "dimension"),
                        Line((x, shelf), (foot, shelf), "dimension"),
                        arrowhead((x, r), 90.0),
                        arrowhead((x, -r), -90.0),
                        letter,
                    )
                    cost = reach / 2 + 0.5 * number_ + (0.0 if up > 0 else 12.0)
                    yield Placed(
                        cost + (0.0 if out < 0 else 0.5),
                        marks,
                        Dimension(
                            "vertical",
                            ((x, -r), (x, r), (x, 0.0)),
                            view.scale,
                            ask.pattern,
                            letter,
                            marks,
                        ),
                        (x, -up * r, x, shelf),
                    )


def _angle_places(ask: Angle, scale: float) -> Iterator[Placed]:
    """Yield arcs farther and farther from the apex."""
    (p, p_far), (q, q_far) = ask.first, ask.second
    apex_x = p[0] + (p_far[0] - p[0]) * p[1] / (p[1] - p_far[1])
    apex = (apex_x, 0.0)
    crossed = (p[0] - apex_x) * (p_far[0] - apex_x) > 0 and abs(p[1]) < abs(p_far[1])
    slope = degrees(atan2(abs(p_far[1] - p[1]), abs(p_far[0] - p[0])))
    right = p[0] > p_far[0]
    text = printed(ask.pattern, 2 * slope)
    base = abs(p[0] - apex_x) if not crossed else 0.0
    for reach in (11.0, 14.0, 18.0, 23.0, 29.0, 36.0):
        radius = base / cos(radians(slope)) + reach
        low, high = (-slope, slope) if right else (180 - slope, 180 + slope)
        marks: list[Mark] = [Arc(apex, radius, low, high, "dimension")]
        for corner, sign in ((p, -1.0 if crossed else 1.0), (q, 1.0 if crossed else -1.0)):
            angle = radians(sign * slope if right else 180 - sign * slope)
            away = hypot(corner[0] - apex[0], corner[1]) + GAP_MM
            start = away if not crossed else GAP_MM
            marks.append(
                Line(
                    (apex[0] + start * cos(angle), apex[1] + start * sin(angle)),
                    (
                        apex[0] + (radius + BEYOND_MM) * cos(angle),
                        apex[1] + (radius + BEYOND_MM) * sin(angle),
                    ),
                    "dimension",
                )
            )
        bend = degrees(ARROW_MM / radius) / 2
        for angle, turn in ((high, 90.0), (low, -90.0)):
            tip = (apex[0] + radius * cos(radians(angle)), radius * sin(radians(angle)))
            marks.append(arrowhead(tip, angle + turn - (bend if turn > 0 else -bend)))
        way = 1.0 if right else -1.0
        anchor: Anchor = "left" if right else "right"
        letter = Text((apex[0] + way * (radius + 1.8), -HEIGHT_MM / 2), text, HEIGHT_MM, anchor)
        marks.append(letter)
        points = (p, p_far, q, q_far, (apex[0] + way * radius, 0.0))
        yield Placed(
            reach,
            tuple(marks),
            Dimension("angular", points, scale, ask.pattern, letter, tuple(marks)),
            solid=(),
        )


def _datum_places(ask: Datum) -> Iterator[Placed]:
    """Yield the places along a surface."""
    for order, (foot, normal) in enumerate(ask.anchors):
        a = radians(normal)
        ux, uy = cos(a), sin(a)
        for reach in (7.0, 10.0, 14.0):
            base = (foot[0] + ux * 2.6, foot[1] + uy * 2.6)
            head = (foot[0] + ux * reach, foot[1] + uy * reach)
            up = 1.0 if uy > 0 else -1.0
            low = head[1] if up > 0 else head[1] - 6.0
            x = head[0] - 3.0
            marks: tuple[Mark, ...] = (
                Fill(
                    (
                        base,
                        (foot[0] - uy * 1.6, foot[1] + ux * 1.6),
                        (foot[0] + uy * 1.6, foot[1] - ux * 1.6),
                    )
                ),
                Line(base, head, "dimension"),
                Line((x, low), (x + 6.0, low), "dimension"),
                Line((x + 6.0, low), (x + 6.0, low + 6.0), "dimension"),
                Line((x + 6.0, low + 6.0), (x, low + 6.0), "dimension"),
                Line((x, low + 6.0), (x, low), "dimension"),
                Text((head[0], low + 1.25), ask.letter, HEIGHT_MM, "centre"),
            )
            box = (x, low, x + 6.0, low + 6.0)
            yield Placed(reach + 0.5 * order, marks, solid=(box,), foot=foot)
