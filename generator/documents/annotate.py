"""Dimensions, call-outs and symbols, and where they go about a view.

Every annotation is first asked for by what it shows; `annotate` then tries places for it, cheapest
first, and takes the cheapest where its letters touch nothing and nothing touches them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Final, Literal

import numpy as np

from generator.documents.drawing import (
    Anchor,
    Arc,
    Dimension,
    Fill,
    Line,
    Mark,
    Point,
    Text,
)
from generator.documents.layout import (
    Array,
    Run,
    as_rows,
    bounds,
    crossing,
    grown,
    overlapping,
    runs,
    touching,
)
from generator.documents.text import Box, text_box, width_mm
from generator.documents.view import View
from generator.units import number

HEIGHT_MM: Final = 3.5
ARROW_MM: Final = 3.0
GAP_MM: Final = 1.0
LIFT_MM: Final = 1.3
"""Height of a base line over the line it stands on; brackets hang below the base line."""

BEYOND_MM: Final = 1.5
FIRST_ROW_MM: Final = 9.0
ROW_MM: Final = 7.5
ROOM_MM: Final = 0.9
TIGHT_MM: Final = 0.3
OWN_ROOM_MM: Final = 0.3
FAR_MM: Final = 400.0
CROSSING_COST: Final = 20.0
ROW_COST: Final = 9.0
CROWD_COST: Final = 6.0
CROWD_MM: Final = 6.0
OVER_PART_COST: Final = 4.0
CHUNK: Final = 300
UPRIGHT_COST: Final = 6.0
GRAZING_COST: Final = 60.0
LEAST_FACING: Final = 0.35
NOTE_ROOM_MM: Final = 1.5
ELBOW_MM: Final = 1.5

Side = Literal["above", "below", "left", "right"]
Symbol = Literal["", "taper left", "taper right", "roughness", "runout"]


@dataclass(frozen=True, slots=True)
class Length:
    """A horizontal or vertical dimension outside the view.

    Attributes:
        start: One point measured.
        end: The other.
        side: The side of the view it belongs to.
        pattern: Its text, "<>" standing for the number.
    """

    start: Point
    end: Point
    side: Side
    pattern: str = "<>"


@dataclass(frozen=True, slots=True)
class Across:
    """A diameter measured on the part itself, its text on a shelf above or below.

    Attributes:
        stations: Places it may stand at: x, half the diameter on paper.
        pattern: Its text.
    """

    stations: tuple[tuple[float, float], ...]
    pattern: str


@dataclass(frozen=True, slots=True)
class Angle:
    """The angle between two edges that run together, shown beyond the end of the part.

    Attributes:
        first: The upper edge, from its end nearer the arc.
        second: The lower edge, likewise.
        pattern: Its text.
    """

    first: tuple[Point, Point]
    second: tuple[Point, Point]
    pattern: str = "<>°"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a call-out: a symbol, a text, or both. A run-out frame reads "0.02|A"."""

    text: str
    symbol: Symbol = ""


@dataclass(frozen=True, slots=True)
class Note:
    """A call-out on a leader.

    Attributes:
        anchors: Points the arrow may rest on.
        rows: What it says; the first row above the shelf, the others below.
        normals: For each anchor the direction that leads out of the part, degrees; empty where a
            leader may come from any side.
    """

    anchors: tuple[Point, ...]
    rows: tuple[Row, ...]
    normals: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Datum:
    """A datum letter in a frame on a triangle.

    Attributes:
        anchors: Points of the surface, each with the direction of its normal, degrees.
        letter: The letter.
    """

    anchors: tuple[tuple[Point, float], ...]
    letter: str


Ask = Length | Across | Angle | Note | Datum


@dataclass(frozen=True, slots=True)
class Placed:
    """An annotation in its place.

    Attributes:
        cost: How little this place is liked.
        marks: All its marks.
        dimension: The dimension, where it is one.
        lane: The dimension line, which no other may lie along.
        solid: Boxes of symbols that keep others off as letters do.
        foot: Where a leader or a datum rests on the part.
    """

    cost: float
    marks: tuple[Mark, ...]
    dimension: Dimension | None = None
    lane: Run | None = None
    solid: tuple[Box, ...] = ()
    foot: Point | None = None


@dataclass(frozen=True, slots=True)
class Cluster:
    """A view with its annotations, about the origin of the view."""

    marks: tuple[Mark, ...]
    dimensions: tuple[Dimension, ...]
    box: Box


@dataclass(slots=True)
class _Room:
    """What has been placed so far; lives only while one view is annotated."""

    part: Array
    ink: Array
    letters: Array
    drawn: Array = field(default_factory=lambda: as_rows([]))
    lanes: Array = field(default_factory=lambda: as_rows([]))
    feet: Array = field(default_factory=lambda: as_rows([]))

    def add(self, placed: Placed) -> None:
        lines = as_rows([run for mark in placed.marks for run in runs(mark)])
        self.ink = np.concatenate([self.ink, lines])
        self.drawn = np.concatenate([self.drawn, lines])
        self.letters = np.concatenate([self.letters, _boxes(placed)])
        if placed.lane:
            self.lanes = np.concatenate([self.lanes, as_rows([placed.lane])])
        if placed.foot:
            self.feet = np.concatenate([self.feet, as_rows([(*placed.foot, 0.0, 0.0)])])

    def cost(self, placed: Placed, pending: Array, margin_mm: float) -> float | None:
        """Return the cost of a place, None where it would touch."""
        boxes = grown(_boxes(placed), margin_mm)
        lines = as_rows([run for mark in placed.marks for run in runs(mark)])
        if touching(grown(_letters(placed), OWN_ROOM_MM), lines).any():
            return None
        if overlapping(boxes, self.letters).any():
            return None
        if touching(boxes, np.concatenate([self.ink, pending])).any():
            return None
        if touching(grown(self.letters, margin_mm), lines).any():
            return None
        lane = as_rows([placed.lane] if placed.lane else [])
        if overlapping(_band(lane), _band(self.lanes)).any():
            return None
        cost = placed.cost
        cost += CROSSING_COST * float(crossing(lines, self.drawn).sum())
        cost += CROSSING_COST / 2 * float(crossing(lines, pending).sum())
        return cost

    def note_costs(self, boxes: Array, leaders: Array, part: Box) -> Array:
        """Return the cost of each place for a call-out, infinite where it would touch."""
        taken = touching(grown(boxes, NOTE_ROOM_MM), self.ink).any(axis=1)
        taken |= overlapping(grown(boxes, NOTE_ROOM_MM), self.letters).any(axis=1)
        taken |= overlapping(boxes, as_rows([part]))[:, 0]
        taken |= touching(grown(self.letters, ROOM_MM), leaders).any(axis=0)
        cost = CROSSING_COST * crossing(leaders, self.drawn).sum(axis=1)
        cost += OVER_PART_COST * crossing(leaders, self.part).sum(axis=1)
        return np.where(taken, np.inf, cost)


def _band(lanes: Array) -> Array:
    """Return dimension lines as strips half a row wide to either side."""
    ordered = np.column_stack(
        [
            np.minimum(lanes[:, 0], lanes[:, 2]),
            np.minimum(lanes[:, 1], lanes[:, 3]),
            np.maximum(lanes[:, 0], lanes[:, 2]),
            np.maximum(lanes[:, 1], lanes[:, 3]),
        ]
    )
    flat = (ordered[:, 3] - ordered[:, 1] < 1e-9)[:, None]
    across = np.array([0.05, -1.5, -0.05, 1.5])
    upright = np.array([-1.5, 0.05, 1.5, -0.05])
    return ordered + np.where(flat, across, upright)


def _letters(placed: Placed) -> Array:
    return as_rows([text_box(mark) for mark in placed.marks if isinstance(mark, Text)])


def _boxes(placed: Placed) -> Array:
    return np.concatenate([_letters(placed), as_rows(placed.solid)])


def annotate(view: View, asks: Sequence[Ask], fixed: Sequence[Mark] = ()) -> Cluster:
    """Return the view with all annotations placed.

    Args:
        view: The view.
        asks: What to show; dimensions of one side are ordered here, shortest span first.
        fixed: Marks that already have their place, such as a cutting plane.
    """
    marks = (*view.marks, *fixed)
    room = _Room(
        part=as_rows([r for m in view.marks if _is_edge(m) for r in runs(m)]),
        ink=as_rows([run for mark in marks if not _is_hatch(mark) for run in runs(mark)]),
        letters=as_rows([text_box(mark) for mark in marks if isinstance(mark, Text)]),
    )
    waiting = sorted(asks, key=_turn)
    done: list[Placed] = []
    for n, ask in enumerate(waiting):
        pending = as_rows([run for other in waiting[n + 1 :] for run in _to_come(other, ask)])
        if isinstance(ask, Note):
            placed = _note_place(ask, view, room)
        else:
            placed = _best(room, ask, view, pending)
        room.add(placed)
        done.append(placed)
    dimensions = tuple(placed.dimension for placed in done if placed.dimension)
    plain = (m for placed in done if not placed.dimension for m in placed.marks)
    every = (*marks, *(mark for placed in done for mark in placed.marks))
    solid = [box for placed in done for box in placed.solid]
    left, bottom, right, top = bounds(every)
    for box in solid:
        left, bottom = min(left, box[0]), min(bottom, box[1])
        right, top = max(right, box[2]), max(top, box[3])
    return Cluster((*marks, *plain), dimensions, (left, bottom, right, top))


def _is_edge(mark: Mark) -> bool:
    return not isinstance(mark, Text) and mark.style == "outline"


def _is_hatch(mark: Mark) -> bool:
    """Tell a hatch line; nothing is placed upon the part, so hatch need not be looked at."""
    return not isinstance(mark, Text) and mark.style == "hatch"


def _turn(ask: Ask) -> tuple[int, float]:
    """Return when an annotation is placed: those bound to one place first."""
    match ask:
        case Datum():
            return 0, 0.0
        case Angle():
            return 1, 0.0
        case Across():
            return 2, float(len(ask.stations))
        case Length():
            return 3, hypot(ask.end[0] - ask.start[0], ask.end[1] - ask.start[1])
        case Note():
            widest = max(width_mm(row.text, HEIGHT_MM) for row in ask.rows)
            return 4, 1000.0 * len(ask.anchors) - widest


def _to_come(other: Ask, ask: Ask) -> Iterator[Run]:
    """Yield the lines an annotation still to be placed may need: its extension lines."""
    if not isinstance(other, Length):
        return
    ways = {"above": (0, FAR_MM), "below": (0, -FAR_MM), "left": (-FAR_MM, 0), "right": (FAR_MM, 0)}
    dx, dy = ways[other.side]
    for x, y in (other.start, other.end):
        yield x, y, x + dx, y + dy


def _best(room: _Room, ask: Length | Across | Angle | Datum, view: View, pending: Array) -> Placed:
    """Return the cheapest place that touches nothing, closer to its neighbours where it must be.

    The last resort is the very first place; the check of the sheet then names what it touches.
    """
    first: Placed | None = None
    for margin_mm in (ROOM_MM, TIGHT_MM):
        best: Placed | None = None
        best_cost = float("inf")
        for group in _places(ask, view):
            ordered = sorted(group, key=lambda p: p.cost)
            first = first or ordered[0]
            if ordered[0].cost >= best_cost:
                break
            for placed in ordered:
                if placed.cost >= best_cost:
                    break
                cost = room.cost(placed, pending, margin_mm)
                if cost is not None and cost < best_cost:
                    best, best_cost = placed, cost
        if best is not None:
            return best
    if first is None:
        raise ValueError("an annotation without a place")
    return first


def _places(ask: Length | Across | Angle | Datum, view: View) -> Iterable[list[Placed]]:
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


def printed(pattern: str, value: float) -> str:
    """Return the text of a dimension: its pattern with the number in it.

    Example:
        >>> printed("Ø<> H7", 8.0), printed("(<>)", 14.5826)
        ('Ø8 H7', '(14.583)')
    """
    return pattern.replace("<>", number(value))


def arrowhead(tip: Point, toward_deg: float, style: str = "dimension") -> Fill:
    """Return an arrowhead that points in a direction."""
    a = radians(toward_deg)
    back = (tip[0] - ARROW_MM * cos(a), tip[1] - ARROW_MM * sin(a))
    half = (0.5 * sin(a), -0.5 * cos(a))
    return Fill(
        (tip, (back[0] + half[0], back[1] + half[1]), (back[0] - half[0], back[1] - half[1])),
        style,
    )


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


def _row_size(row: Row) -> tuple[float, float]:
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
            foot = x + 2.2
            yield Line((foot, y), (foot - 2.2, y + 3.8), "dimension")
            yield Line((foot - 2.2, y + 3.8), (foot + 2.2, y + 3.8), "dimension")
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


ANGLES: Final = (62.0, 50.0, 38.0, 74.0, 118.0, 130.0, 142.0, 106.0)
"""Directions of leaders; none runs along the edge of a 60 or 90 degree cone."""

REACHES: Final = (6, 8, 10, 12, 14, 16, 19, 22, 25, 28, 32, 36, 40, 45, 50, 56, 62, 70, 80, 92, 110)


def _note_place(ask: Note, view: View, room: _Room) -> Placed:
    """Return a call-out at the cheapest of all leaders about its anchors.

    Leaders are short, leave the part at once, cross nothing and do not end upon the part.
    """
    sizes = [_row_size(row) for row in ask.rows]
    width = max(size[0] for size in sizes)
    up, down = _note_height(ask.rows, sizes)
    grid = _note_grid()
    anchors = np.array(ask.anchors)
    order = np.repeat(np.arange(len(anchors)), len(grid))
    start = anchors[order]
    reach, angle, out = np.tile(grid, (len(anchors), 1)).T
    elbow = start + np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])
    near = elbow[:, 0] + out * ELBOW_MM
    left = np.where(out > 0, near, near - width)
    boxes = np.column_stack([left, elbow[:, 1] - down, left + width, elbow[:, 1] + up])
    leaders = np.column_stack([start, elbow])
    liked = reach / 2 + 0.3 * order + np.where(angle < 0, 6.0, 0.0)
    if ask.normals:
        facing = np.cos(angle - np.radians(np.array(ask.normals))[order])
        liked += np.where(facing < LEAST_FACING, GRAZING_COST, 0.0)
    if len(room.feet):
        apart = np.hypot(*(start[:, None, :] - room.feet[None, :, :2]).transpose(2, 0, 1))
        liked += np.where(apart.min(axis=1) < CROWD_MM, CROWD_COST, 0.0)
    ranking = np.argsort(liked, kind="stable")
    best, best_cost = int(ranking[-1]), float("inf")
    for at in range(0, len(ranking), CHUNK):
        some = ranking[at : at + CHUNK]
        if liked[some[0]] >= best_cost:
            break
        cost = liked[some] + room.note_costs(boxes[some], leaders[some], view.box)
        cheapest = int(np.argmin(cost))
        if cost[cheapest] < best_cost:
            best, best_cost = int(some[cheapest]), float(cost[cheapest])
    return _note_at(
        ask,
        (float(start[best, 0]), float(start[best, 1])),
        (float(elbow[best, 0]), float(elbow[best, 1])),
        float(out[best]),
        (
            float(boxes[best, 0]),
            float(boxes[best, 1]),
            float(boxes[best, 2]),
            float(boxes[best, 3]),
        ),
        sizes,
    )


@cache
def _note_grid() -> Array:
    """Return reach, angle and direction of every leader tried."""
    return np.array(
        [
            (reach, radians(sign * angle), 1.0 if angle < 90 else -1.0)
            for reach in REACHES
            for angle in ANGLES
            for sign in (1, -1)
        ]
    )


def _note_height(rows: tuple[Row, ...], sizes: list[tuple[float, float]]) -> tuple[float, float]:
    """Return how far a call-out reaches above and below its shelf."""
    if rows[0].symbol == "runout":
        return 3.5 + sum(size[1] for size in sizes[1:]), 3.5
    return sizes[0][1], sum(size[1] for size in sizes[1:]) + 0.3


def _note_at(
    ask: Note,
    anchor: Point,
    elbow: Point,
    out: float,
    box: Box,
    sizes: list[tuple[float, float]],
) -> Placed:
    """Return a call-out with its shelf at one place; rows above a frame stand on it."""
    first, *rest = ask.rows
    framed = first.symbol == "runout"
    start = elbow[0] + out * ELBOW_MM
    marks: list[Mark] = [
        arrowhead(anchor, degrees(atan2(anchor[1] - elbow[1], anchor[0] - elbow[0]))),
        Line(anchor, elbow, "dimension"),
    ]
    if framed:
        near = start if out > 0 else start - sizes[0][0]
        marks.append(Line(elbow, (start, elbow[1]), "dimension"))
        marks += row_marks(first, near, elbow[1] - 3.5)
        level = elbow[1] + 3.5
        for row, size in zip(rest, sizes[1:], strict=True):
            marks += row_marks(row, near, level)
            level += size[1]
    else:
        far = box[2] if out > 0 else box[0]
        marks.append(Line(elbow, (far, elbow[1]), "dimension"))
        marks += row_marks(first, box[0], elbow[1])
        level = elbow[1]
        for row, size in zip(rest, sizes[1:], strict=True):
            level -= size[1]
            marks += row_marks(row, box[0], level)
    return Placed(0.0, tuple(marks), solid=(box,), foot=anchor)


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
