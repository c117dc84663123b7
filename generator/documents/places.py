"""Where dimensions and datums may go, cheapest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, cos, degrees, hypot, nan, radians, sin
from typing import Final

import numpy as np

from generator.documents.asks import Across, Angle, Datum, Length, Placed, Places
from generator.documents.drawing import Anchor, Arc, Dimension, Fill, Line, Mark, Point, Text
from generator.documents.layout import Run, as_rows, runs
from generator.documents.numerals import angle_text
from generator.documents.symbols import (
    ARROW_MM,
    BEYOND_MM,
    GAP_MM,
    HEIGHT_MM,
    LIFT_MM,
    arrowhead,
    printed,
)
from generator.documents.text import Box, text_box, width_mm
from generator.documents.view import View

FIRST_ROW_MM: Final = 9.0
ROW_MM: Final = 7.5
ROW_COST: Final = 9.0
ROWS: Final = 16
UPRIGHT_COST: Final = 6.0
BEYOND_ENDS_MM: Final = (0.0, 4.0, 8.0, 14.0, 20.0, 28.0, 36.0, 46.0, 58.0, 72.0)
SHELVES_MM: Final = (3.0, 6.0, 9.0, 13.0, 18.0, 24.0, 31.0)
ACROSS_MM: Final = (4.0, 7.0, 10.0, 14.0, 18.0, 23.0, 28.0, 34.0, 40.0, 48.0)
NO_LANE: Final = (nan, nan, nan, nan)


def places(ask: Length | Across | Angle | Datum, view: View) -> Iterator[Places]:
    """Yield groups of places; none holds a cheaper one than the cheapest of the group before."""
    match ask:
        case Length():
            yield from _length_places(ask, view)
        case Across():
            yield _across_places(ask, view)
        case Angle():
            yield _listed(list(_angle_places(ask, view.scale)))
        case Datum():
            yield _listed(list(_datum_places(ask)))


def row_mm(row: int) -> float:
    """Return how far from the part the dimension line of a row lies, the nearest row being 0."""
    return FIRST_ROW_MM + ROW_MM * row


def _listed(placed: Sequence[Placed]) -> Places:
    """Return places as arrays that have been made already."""
    drawn = [[run for mark in each.marks for run in runs(mark)] for each in placed]
    boxes = [
        [*(text_box(mark) for mark in each.marks if isinstance(mark, Text)), *each.solid]
        for each in placed
    ]
    return Places(
        np.array([each.cost for each in placed]),
        as_rows([]),
        np.array(drawn),
        np.array(boxes),
        as_rows([each.lane or NO_LANE for each in placed]),
        placed.__getitem__,
    )


def _length_places(ask: Length, view: View) -> Iterator[Places]:
    """Yield the rows: the text within the span, beyond its ends, or upright farther off."""
    upright = ask.side in ("left", "right")
    a, b = ends = _ends(ask)
    out = 1.0 if ask.side in ("right", "above") else -1.0
    text = printed(ask.pattern, (b[0] - a[0]) / view.scale, ask.spelling)
    width = width_mm(text, HEIGHT_MM)
    spots = [] if upright and ask.level else list(_spots(a[0], b[0], width, upright=upright))
    shelves = list(_shelves(a[0], b[0])) if upright else []
    _, low, high = _measure_lines(a, b, 0.0, upright=upright)
    costs = np.array([cost for _, cost in (*spots, *shelves)])
    reaches = [(at - width / 2, at + width / 2) for at, _ in spots]
    reaches += [(shelf, shelf) for shelf, _ in shelves]
    first = [_lane(0.0, min(low, start), max(high, end), upright) for start, end in reaches]
    second: list[Run] = [
        *(NO_LANE for _ in spots),
        *((0.0, shelf, out * (width + 2.0), shelf) for shelf, _ in shelves),
    ]
    own = np.array([first, second]).transpose(1, 0, 2)
    along = np.array(text_box(_along(0.0, 0.0, text, upright=upright)))
    beyond = np.array(text_box(_beyond(0.0, 0.0, text, out)))
    ats = np.array([at for at, _ in (*spots, *shelves)])[:, None]
    way = np.array([0.0, 1.0, 0.0, 1.0] if upright else [1.0, 0.0, 1.0, 0.0])
    boxes = np.array([along] * len(spots) + [beyond] * len(shelves)) + ats * way
    boxes = boxes[:, None]
    outward = 1.0 - way
    for row in range(ROWS):
        level = _edge(ask, view) + out * row_mm(row)
        base = ROW_COST * row

        def make(n: int, level: float = level, base: float = base) -> Placed:
            if n < len(spots):
                at, penalty = spots[n]
                return _length_at(ask, view, ends, level, at, (text, width), base + penalty)
            shelf, penalty = shelves[n - len(spots)]
            return _shelved(ask, view, ends, level, shelf, text, base + penalty, out)

        drawn, _, _ = _measure_lines(a, b, level, upright=upright)
        moved = own + level * outward
        yield Places(
            base + costs,
            as_rows([run for mark in drawn for run in runs(mark)]),
            moved,
            boxes + level * outward,
            moved[:, 0],
            make,
        )


def _ends(ask: Length) -> tuple[Point, Point]:
    """Return the points measured, along the dimension line and across, lower one first."""
    upright = ask.side in ("left", "right")
    a, b = sorted(
        (_turned(point) if upright else point for point in (ask.start, ask.end)),
        key=lambda point: point[0],
    )
    return a, b


def span(ask: Length) -> tuple[float, float]:
    """Return where the dimension line begins and ends at the least."""
    a, b = _ends(ask)
    return a[0], b[0]


def _edge(ask: Length, view: View) -> float:
    return view.box[{"left": 0, "below": 1, "right": 2, "above": 3}[ask.side]]


def _spots(
    low: float, high: float, width: float, *, upright: bool
) -> Iterator[tuple[float, float]]:
    """Yield where the middle of the text may lie along the dimension line, and what it costs."""
    middle, length = (low + high) / 2, high - low
    if width + 2 * ARROW_MM + 1.0 <= length:
        slack = (length - width) / 2 - ARROW_MM - 0.5
        yield middle, 0.0
        yield middle - slack, 2.0
        yield middle + slack, 2.0
        yield middle - slack / 2, 1.0
        yield middle + slack / 2, 1.0
    elif width + 0.6 <= length:
        yield middle, 0.0
    beyond = width / 2 + ARROW_MM + 3.0
    turned = UPRIGHT_COST if upright and width > length else UPRIGHT_COST / 4 if upright else 0.0
    for extra in BEYOND_ENDS_MM:
        yield high + beyond + extra, 6.0 + turned + extra / 4
        yield low - beyond - extra, 6.5 + turned + extra / 4


def _shelves(low: float, high: float) -> Iterator[tuple[float, float]]:
    """Yield where a shelf may leave an upright dimension line, and what it costs."""
    for reach in SHELVES_MM:
        for end, way in ((high, 1.0), (low, -1.0)):
            yield end + way * reach, 5.0 + reach / 3


def _lane(level: float, low: float, high: float, upright: bool) -> Run:
    """Return the dimension line."""
    return (level, low, level, high) if upright else (low, level, high, level)


def _along(level: float, at: float, text: str, *, upright: bool) -> Text:
    """Return the text of a dimension on its line, about one place."""
    if upright:
        return Text((level - LIFT_MM, at), text, HEIGHT_MM, "centre", 90.0)
    return Text((at, level + LIFT_MM), text, HEIGHT_MM, "centre")


def _beyond(level: float, shelf: float, text: str, out: float) -> Text:
    """Return the text of a dimension on its shelf."""
    anchor: Anchor = "left" if out > 0 else "right"
    return Text((level + out, shelf + LIFT_MM), text, HEIGHT_MM, anchor)


def _turned(point: Point) -> Point:
    return point[1], point[0]


def _measure_lines(
    a: Point, b: Point, level: float, *, upright: bool
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
    marks, low, high = _measure_lines(a, b, level, upright=upright)
    lane = _lane(level, min(low, at - width / 2), max(high, at + width / 2), upright)
    letter = _along(level, at, text, upright=upright)
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
    marks, low, high = _measure_lines(a, b, level, upright=True)
    lane = _lane(level, min(low, shelf), max(high, shelf), upright=True)
    foot = level + out * (width + 2.0)
    letter = _beyond(level, shelf, text, out)
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
        ask.spelling,
    )
    return Placed(cost, tuple(marks), dimension, lane)


def _across_places(ask: Across, view: View) -> Places:
    """Return stations, shelves above and below, to the left and to the right."""
    texts = [printed(ask.pattern, 2 * r / view.scale, ask.spelling) for _, r in ask.stations]
    spots = [
        (order, (view.box[3] if up > 0 else view.box[1]) + up * reach, up, out)
        for order in range(len(ask.stations))
        for reach in ACROSS_MM
        for up in (1.0, -1.0)
        for out in (-1.0, 1.0)
    ]
    letters = {
        (order, out): text_box(_on_shelf((x, 0.0), text, out))
        for order, ((x, _), text) in enumerate(zip(ask.stations, texts, strict=True))
        for out in (-1.0, 1.0)
    }
    heads = [_across_heads(x, r) for x, r in ask.stations]
    head_runs = [[run for mark in pair for run in runs(mark)] for pair in heads]
    costs: list[float] = []
    own: list[list[Run]] = []
    boxes: list[list[Box]] = []
    for order, shelf, up, out in spots:
        x, r = ask.stations[order]
        left, low, right, high = letters[order, out]
        foot = x + out * (width_mm(texts[order], HEIGHT_MM) + 2.0)
        reach = abs(shelf - (view.box[3] if up > 0 else view.box[1]))
        costs.append(
            reach / 2 + 0.5 * order + (0.0 if up > 0 else 12.0) + (0.0 if out < 0 else 0.5)
        )
        own.append([(x, -up * r, x, shelf), (x, shelf, foot, shelf), *head_runs[order]])
        boxes.append([(left, low + shelf, right, high + shelf)])

    def make(n: int) -> Placed:
        order, shelf, up, out = spots[n]
        return _across_at(ask, view, order, shelf, up, out, costs[n])

    lanes = as_rows([each[0] for each in own])
    return Places(np.array(costs), as_rows([]), np.array(own), np.array(boxes), lanes, make)


def _on_shelf(at: Point, text: str, out: float) -> Text:
    anchor: Anchor = "left" if out > 0 else "right"
    return Text((at[0] + out, at[1] + LIFT_MM), text, HEIGHT_MM, anchor)


def _across_heads(x: float, r: float) -> tuple[Fill, Fill]:
    return arrowhead((x, r), 90.0), arrowhead((x, -r), -90.0)


def _across_at(
    ask: Across, view: View, order: int, shelf: float, up: float, out: float, cost: float
) -> Placed:
    """Return a diameter at one station, its text on a shelf."""
    x, r = ask.stations[order]
    text = printed(ask.pattern, 2 * r / view.scale, ask.spelling)
    foot = x + out * (width_mm(text, HEIGHT_MM) + 2.0)
    letter = _on_shelf((x, shelf), text, out)
    marks: tuple[Mark, ...] = (
        Line((x, -up * r), (x, shelf), "dimension"),
        Line((x, shelf), (foot, shelf), "dimension"),
        *_across_heads(x, r),
        letter,
    )
    points = ((x, -r), (x, r), (x, 0.0))
    dimension = Dimension("vertical", points, view.scale, ask.pattern, letter, marks, ask.spelling)
    return Placed(cost, marks, dimension, (x, -up * r, x, shelf))


def _angle_places(ask: Angle, scale: float) -> Iterator[Placed]:
    """Yield arcs farther and farther from the apex."""
    (p, p_far), (q, q_far) = ask.first, ask.second
    apex_x = p[0] + (p_far[0] - p[0]) * p[1] / (p[1] - p_far[1])
    apex = (apex_x, 0.0)
    crossed = (p[0] - apex_x) * (p_far[0] - apex_x) > 0 and abs(p[1]) < abs(p_far[1])
    slope = degrees(atan2(abs(p_far[1] - p[1]), abs(p_far[0] - p[0])))
    right = p[0] > p_far[0]
    text = ask.pattern.replace("<>", angle_text(2 * slope))
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
