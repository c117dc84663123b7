"""Where marks lie on a sheet, what they touch, and the check that no text is touched."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import ceil, cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.documents.drawing import (
    Arc,
    Curve,
    Dimension,
    Drawing,
    Fill,
    Line,
    Mark,
    Point,
    Text,
)
from generator.documents.text import Box, text_box

Array = NDArray[np.float64]
Run = tuple[float, float, float, float]

ARC_STEP_DEG: Final = 10.0
CLEARANCE_MM: Final = 0.25
"""Least distance from a letter to anything else; from memory, unverified: ISO 3098-1 asks for two
line widths, 0.5 mm, between lines and letters."""


def arc_points(arc: Arc) -> list[Point]:
    """Return points along an arc, at most ten degrees apart, ends included."""
    sweep = (arc.end_deg - arc.start_deg) % 360 or 360.0
    count = max(1, ceil(sweep / ARC_STEP_DEG))
    angles = [radians(arc.start_deg + sweep * n / count) for n in range(count + 1)]
    x, y = arc.centre
    return [(x + arc.radius_mm * cos(a), y + arc.radius_mm * sin(a)) for a in angles]


def runs(mark: Mark) -> list[Run]:
    """Return the straight runs of a mark as x1, y1, x2, y2; none for text."""
    match mark:
        case Line():
            return [(*mark.start, *mark.end)]
        case Arc():
            points = arc_points(mark)
            return [(*a, *b) for a, b in pairwise(points)]
        case Curve():
            return [(*a, *b) for a, b in pairwise(mark.points)]
        case Fill():
            shifted = (*mark.points[1:], mark.points[0])
            return [(*a, *b) for a, b in zip(mark.points, shifted, strict=True)]
        case Text():
            return []


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """Return the mark shifted on the sheet."""
    match mark:
        case Line():
            return replace(mark, start=_by(mark.start, dx, dy), end=_by(mark.end, dx, dy))
        case Arc():
            return replace(mark, centre=_by(mark.centre, dx, dy))
        case Curve() | Fill():
            return replace(mark, points=tuple(_by(point, dx, dy) for point in mark.points))
        case Text():
            return replace(mark, at=_by(mark.at, dx, dy))


def moved_dimension(dimension: Dimension, dx: float, dy: float) -> Dimension:
    """Return the dimension shifted on the sheet."""
    return replace(
        dimension,
        points=tuple(_by(point, dx, dy) for point in dimension.points),
        text=replace(dimension.text, at=_by(dimension.text.at, dx, dy)),
        marks=tuple(moved(mark, dx, dy) for mark in dimension.marks),
    )


def _by(point: Point, dx: float, dy: float) -> Point:
    return point[0] + dx, point[1] + dy


def bounds(marks: Iterable[Mark]) -> Box:
    """Return left, bottom, right and top of all the marks.

    Raises:
        ValueError: If there are none.
    """
    xs: list[float] = []
    ys: list[float] = []
    for mark in marks:
        match mark:
            case Text():
                left, bottom, right, top = text_box(mark)
                xs += (left, right)
                ys += (bottom, top)
            case Line():
                xs += (mark.start[0], mark.end[0])
                ys += (mark.start[1], mark.end[1])
            case Arc():
                for x, y in arc_points(mark):
                    xs.append(x)
                    ys.append(y)
            case Curve() | Fill():
                xs += (x for x, _ in mark.points)
                ys += (y for _, y in mark.points)
    if not xs:
        raise ValueError("no marks")
    return min(xs), min(ys), max(xs), max(ys)


def as_rows(values: Sequence[Run]) -> Array:
    """Return the runs or boxes as an array of four columns, empty or not."""
    return np.array(values, dtype=np.float64).reshape(-1, 4)


def grown(boxes: Array, margin_mm: float) -> Array:
    """Return the boxes, larger by a margin on every side."""
    return np.asarray(boxes + np.array([-margin_mm, -margin_mm, margin_mm, margin_mm]))


def touching(boxes: Array, lines: Array) -> NDArray[np.bool_]:
    """Tell which boxes are touched by which straight runs; shape (boxes, runs)."""
    return touched(boxes[:, None], lines)


def spans(lines: Array) -> Array:
    """Return the boxes about straight runs."""
    return np.concatenate(
        [
            np.minimum(lines[..., :2], lines[..., 2:]),
            np.maximum(lines[..., :2], lines[..., 2:]),
        ],
        axis=-1,
    )


def near(boxes: Array, others: Array) -> NDArray[np.bool_]:
    """Tell which boxes come near any of the others: overlap the box about them all.

    Rows of NaN are as if they were not there.
    """
    low, high = np.fmin.reduce(others[:, :2]), np.fmax.reduce(others[:, 2:])
    return np.asarray(((boxes[:, :2] < high) & (boxes[:, 2:] > low)).all(axis=1))


def touched(boxes: Array, lines: Array) -> NDArray[np.bool_]:
    """Tell which box is touched by the straight run beside it; shapes (..., 4), as they broadcast.

    Separating axes: x, y and the normal of the run.
    """
    middles, halves = (boxes[..., 2:] + boxes[..., :2]) / 2, (boxes[..., 2:] - boxes[..., :2]) / 2
    centres, ways = (lines[..., 2:] + lines[..., :2]) / 2, (lines[..., 2:] - lines[..., :2]) / 2
    ex, ey = halves[..., 0], halves[..., 1]
    hx, hy = ways[..., 0], ways[..., 1]
    dx = centres[..., 0] - middles[..., 0]
    dy = centres[..., 1] - middles[..., 1]
    ax, ay = np.abs(hx), np.abs(hy)
    return np.asarray(
        (np.abs(dx) < ex + ax)
        & (np.abs(dy) < ey + ay)
        & (np.abs(dx * hy - dy * hx) < ex * ay + ey * ax)
    )


def overlapping(first: Array, second: Array) -> NDArray[np.bool_]:
    """Tell which boxes of the first overlap which of the second; shape (first, second)."""
    return np.asarray(
        (first[:, None, 0] < second[:, 2])
        & (second[:, 0] < first[:, None, 2])
        & (first[:, None, 1] < second[:, 3])
        & (second[:, 1] < first[:, None, 3])
    )


def crossing(first: Array, second: Array) -> NDArray[np.bool_]:
    """Tell which straight runs properly cross which others; shape (first, second)."""
    px, py, ux, uy = _ways(first[:, None])
    qx, qy, vx, vy = _ways(second)
    apart_x, apart_y = qx - px, qy - py
    turn = ux * vy - uy * vx
    along = apart_x * vy - apart_y * vx
    across = apart_x * uy - apart_y * ux
    begin_second, begin_first = -across, along
    apart_first = begin_second * (begin_second + turn)
    apart_second = begin_first * (begin_first - turn)
    return np.asarray((apart_first < -1e-9) & (apart_second < -1e-9))


def _ways(lines: Array) -> tuple[Array, Array, Array, Array]:
    """Return where straight runs begin, x and y, and how far they lead."""
    x, y = lines[..., 0], lines[..., 1]
    return x, y, lines[..., 2] - x, lines[..., 3] - y


def collisions(drawing: Drawing) -> tuple[str, ...]:
    """Return what touches what on a sheet: one line for each, none when the sheet is clean.

    Every text is held against every other text, every line, arc and fill of the sheet and the
    edge of the sheet; two dimension lines may not run one upon the other.
    """
    marks = [*drawing.marks, *(mark for each in drawing.dimensions for mark in each.marks)]
    texts = [mark for mark in marks if isinstance(mark, Text)]
    drawn = [(run, mark) for mark in marks if not isinstance(mark, Text) for run in runs(mark)]
    found = []
    boxes = grown(as_rows([text_box(text) for text in texts]), CLEARANCE_MM)
    lines = as_rows([run for run, _ in drawn])
    for i, j in zip(*np.nonzero(touching(boxes, lines)), strict=True):
        mark = drawn[j][1]
        found.append(f"{texts[i].text!r} lies on a line of style {mark.style!r} {drawn[j][0]}")
    for i, j in zip(*np.nonzero(np.triu(overlapping(boxes, boxes), 1)), strict=True):
        found.append(f"{texts[i].text!r} lies on {texts[j].text!r}")
    for text, box in zip(texts, boxes, strict=True):
        if box[0] < 0 or box[1] < 0 or box[2] > drawing.width_mm or box[3] > drawing.height_mm:
            found.append(f"{text.text!r} lies beyond the sheet")
    for run, mark in drawn:
        if (
            min(run) < -1e-9
            or max(run[0::2]) > drawing.width_mm + 1e-9
            or max(run[1::2]) > drawing.height_mm + 1e-9
        ):
            found.append(f"a line of style {mark.style!r} lies beyond the sheet")
    return tuple(dict.fromkeys([*found, *_coincident(drawing.dimensions)]))


def _coincident(dimensions: Sequence[Dimension]) -> Iterable[str]:
    """Yield the pairs of dimensions whose dimension lines lie one upon the other."""
    for n, a in enumerate(dimensions):
        for b in dimensions[n + 1 :]:
            if a.kind != b.kind or a.kind == "angular":
                continue
            along = 0 if a.kind == "horizontal" else 1
            if abs(a.points[2][1 - along] - b.points[2][1 - along]) > 1.0:
                continue
            a1, a2 = sorted(point[along] for point in a.points[:2])
            b1, b2 = sorted(point[along] for point in b.points[:2])
            if min(a2, b2) - max(a1, b1) > 0.01:
                yield f"dimension {a.text.text!r} runs upon {b.text.text!r}"
