"""Where a call-out on a leader goes."""

from __future__ import annotations

from functools import cache
from math import atan2, degrees, radians
from typing import Final

import numpy as np

from generator.documents.asks import Note, Placed, Row
from generator.documents.drawing import Line, Mark, Point
from generator.documents.layout import Array
from generator.documents.room import Room
from generator.documents.symbols import TICK_FOOT_MM, arrowhead, row_marks, row_size
from generator.documents.text import Box
from generator.documents.view import View

CROWD_COST: Final = 12.0
CROWD_MM: Final = 6.0
CHUNK: Final = 128
GRAZING_COST: Final = 60.0
LEAST_FACING: Final = 0.35
ELBOW_MM: Final = 1.5
FOOT_CLEAR_MM: Final = 2.5
"""From here on a sign that stands on a surface must be clear of it; its foot touches it."""
ANGLES: Final = (62.0, 50.0, 38.0, 74.0, 118.0, 130.0, 142.0, 106.0)
"""Directions of leaders; none runs along the edge of a 60 or 90 degree cone."""
REACHES: Final = (6, 8, 10, 12, 14, 16, 19, 22, 25, 28, 32, 36, 40, 45, 50, 56, 62, 70, 80, 92, 110)


def note_place(ask: Note, view: View, room: Room) -> Placed:
    """Return a call-out on its surface, or at the cheapest of all leaders about its anchors.

    Leaders are short, leave the part at once, cross nothing and do not end upon the part.
    """
    standing = _standing(ask, room) if ask.standing else None
    if standing is not None:
        return standing
    sizes = [row_size(row) for row in ask.rows]
    width = max(size[0] for size in sizes)
    up, down = _note_height(ask.rows, sizes)
    reach, angle, out, ways = _note_grid()
    anchors = np.array(ask.anchors)
    order = np.repeat(np.arange(len(anchors)), len(reach))
    start = anchors[order]
    elbow = (anchors[:, None] + ways).reshape(-1, 2)
    reach, angle, out = (np.tile(each, len(anchors)) for each in (reach, angle, out))
    near = elbow[:, 0] + out * ELBOW_MM
    left = np.where(out > 0, near, near - width)
    boxes = np.column_stack([left, elbow[:, 1] - down, left + width, elbow[:, 1] + up])
    leaders = np.column_stack([start, elbow])
    liked = reach / 2 + 0.3 * order + np.where(angle < 0, 4.0, 0.0)
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
        some = some[room.clear_of_letters(boxes[some], leaders[some], view.box)]
        if not len(some):
            continue
        cost = liked[some] + room.note_costs(boxes[some], leaders[some])
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


def _standing(ask: Note, room: Room) -> Placed | None:
    """Return a sign that stands on its surface where that is free, None where it is not."""
    row = ask.rows[0]
    width, height = row_size(row)
    x, y = np.array(ask.standing).T
    left = x - TICK_FOOT_MM
    boxes = np.column_stack([left, y + FOOT_CLEAR_MM, left + width, y + height])
    free = np.flatnonzero(room.clear(boxes))
    if not len(free):
        return None
    at = int(free[0])
    foot = ask.standing[at]
    box = (float(left[at]), foot[1], float(left[at] + width), foot[1] + height)
    return Placed(0.0, tuple(row_marks(row, box[0], foot[1])), solid=(box,), foot=foot)


@cache
def _note_grid() -> tuple[Array, Array, Array, Array]:
    """Return reach, angle and direction of every leader tried, and how far it leads."""
    grid = [
        (reach, radians(sign * angle), 1.0 if angle < 90 else -1.0)
        for reach in REACHES
        for angle in ANGLES
        for sign in (1, -1)
    ]
    reach, angle, out = np.array(grid).T
    return reach, angle, out, np.column_stack([reach * np.cos(angle), reach * np.sin(angle)])


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
    return Placed(0.0, tuple(marks), solid=(box,), foot=anchor, leader=(*anchor, *elbow))
