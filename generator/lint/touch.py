"""What touches what: boxes, straight runs and points, by arrays."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, cos, radians, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.lint.sheet import Bow, Box, Point, Sheet

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]
BOW_STEP_DEG: Final = 6.0


def bow_points(bow: Bow) -> list[Point]:
    """Return points along an arc, ends included."""
    sweep = (bow.end_deg - bow.start_deg) % 360 or 360.0
    count = ceil(sweep / BOW_STEP_DEG)
    angles = [radians(bow.start_deg + sweep * n / count) for n in range(count + 1)]
    (x, y), r = bow.centre, bow.radius_mm
    return [(x + r * cos(a), y + r * sin(a)) for a in angles]


def drawn(sheet: Sheet) -> tuple[Array, list[tuple[str, int]]]:
    """Return all straight runs of a sheet and the layer and owner of each.

    Arcs come as chords, fills as their edges.

    Returns:
        The runs, shape (runs, 4), columns x1, y1, x2, y2; and as many layers and owners.
    """
    runs: list[tuple[float, float, float, float]] = []
    of: list[tuple[str, int]] = []
    for stroke in sheet.strokes:
        runs.append((*stroke.start, *stroke.end))
        of.append((stroke.layer, stroke.owner))
    rings = [(bow_points(bow), bow.layer, bow.owner) for bow in sheet.bows]
    rings += [([*p.points, p.points[0]], p.layer, p.owner) for p in sheet.patches]
    for points, layer, owner in rings:
        for a, b in pairwise(points):
            runs.append((*a, *b))
            of.append((layer, owner))
    return rows(runs), of


def rows(values: Sequence[tuple[float, float, float, float]]) -> Array:
    """Return runs or boxes as an array of four columns, empty or not."""
    return np.array(values, dtype=np.float64).reshape(-1, 4)


def touched(boxes: Array, runs: Array) -> tuple[Indices, Indices]:
    """Return which boxes are entered by which runs: their numbers, pair by pair.

    Pairs whose own boxes meet are clipped against the four sides (Liang and Barsky).

    Example:
        >>> pairs = touched(rows([(0, 0, 1, 1)]), rows([(0.5, -1, 0.5, 3), (2, 0, 3, 0)]))
        >>> [each.tolist() for each in pairs]
        [[0], [0]]
    """
    low, high = np.minimum(runs[:, :2], runs[:, 2:]), np.maximum(runs[:, :2], runs[:, 2:])
    n, m = np.nonzero(
        (low[None, :, 0] < boxes[:, None, 2])
        & (boxes[:, None, 0] < high[None, :, 0])
        & (low[None, :, 1] < boxes[:, None, 3])
        & (boxes[:, None, 1] < high[None, :, 1])
    )
    box, run = boxes[n], runs[m]
    start, way = run[:, :2], run[:, 2:] - run[:, :2]
    still = np.abs(way) < 1e-12
    step = np.where(still, 1.0, way)
    one, other = (box[:, :2] - start) / step, (box[:, 2:] - start) / step
    near = np.where(still, -np.inf, np.minimum(one, other)).max(axis=1)
    far = np.where(still, np.inf, np.maximum(one, other)).min(axis=1)
    kept = np.minimum(far, 1.0) - np.maximum(near, 0.0) > 0
    return n[kept], m[kept]


def overlaps(first: Array, second: Array) -> Array:
    """Return how deep each box of the first reaches into each of the second; shape (first, second).

    The lesser of the depths along x and y; negative where they are apart.
    """
    low = np.maximum(first[:, None, :2], second[None, :, :2])
    high = np.minimum(first[:, None, 2:], second[None, :, 2:])
    return np.asarray((high - low).min(axis=2))


def grown(boxes: Array, by_mm: float) -> Array:
    """Return the boxes, larger by a margin on every side."""
    return np.asarray(boxes + np.array([-by_mm, -by_mm, by_mm, by_mm]))


def distances(point: Point, runs: Array) -> Array:
    """Return the distance of a point from each run; shape (runs,)."""
    start, way = runs[:, :2], runs[:, 2:] - runs[:, :2]
    long = np.maximum((way**2).sum(axis=1), 1e-18)
    share = np.clip(((np.array(point) - start) * way).sum(axis=1) / long, 0.0, 1.0)
    return np.asarray(np.hypot(*(start + share[:, None] * way - np.array(point)).T))


def encloses(outer: Box, inner: Box, slack_mm: float = 0.0) -> bool:
    """Tell whether one box holds another."""
    return (
        outer[0] - slack_mm <= inner[0]
        and outer[1] - slack_mm <= inner[1]
        and inner[2] <= outer[2] + slack_mm
        and inner[3] <= outer[3] + slack_mm
    )


def crossing(runs: Array) -> tuple[Flags, Flags]:
    """Tell which straight runs meet which others, and which lie upon others.

    Returns:
        Two arrays of shape (runs, runs).

    Example:
        >>> meet, upon = crossing(rows([(0, 0, 2, 2), (0, 2, 2, 0), (1, 1, 3, 3)]))
        >>> meet[0].tolist(), upon[0].tolist()
        ([False, True, False], [True, False, True])
    """
    start, way = runs[:, :2], runs[:, 2:] - runs[:, :2]
    apart = start[None, :] - start[:, None]
    turn = way[:, None, 0] * way[None, :, 1] - way[:, None, 1] * way[None, :, 0]
    along = apart[..., 0] * way[None, :, 1] - apart[..., 1] * way[None, :, 0]
    across = apart[..., 0] * way[:, None, 1] - apart[..., 1] * way[:, None, 0]
    size = np.hypot(*way.T)
    parallel = np.abs(turn) < 1e-9 * size[:, None] * size[None, :]
    part = np.where(parallel, 1.0, turn)
    t, s = along / part, across / part
    slack = 1e-9
    proper = ~parallel & (t > -slack) & (t < 1 + slack) & (s > -slack) & (s < 1 + slack)
    level = parallel & (np.abs(across) < 1e-9 * size[:, None])
    unit = way / size[:, None]
    first = (apart * unit[:, None]).sum(axis=2)
    last = first + (way[None, :] * unit[:, None]).sum(axis=2)
    low, high = np.minimum(first, last), np.maximum(first, last)
    upon = level & (np.minimum(high, size[:, None]) - np.maximum(low, 0.0) > 1e-6)
    return np.asarray(proper), np.asarray(upon)
