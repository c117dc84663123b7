"""Dimensions, call-outs and symbols, and where they go about a view.

Every annotation is first asked for by what it shows; `annotate` then tries places for it, cheapest
first, and takes the cheapest where its letters touch nothing and nothing touches them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import Final, get_args

import numpy as np

from generator.documents.asks import (
    Across,
    Angle,
    Ask,
    Cluster,
    Datum,
    Length,
    Note,
    Placed,
    Places,
    Side,
)
from generator.documents.drawing import Dimension, Mark, Text
from generator.documents.layout import Array, Run, as_rows, crossing, runs
from generator.documents.leaders import note_place
from generator.documents.places import places, row_mm, span
from generator.documents.room import ROOM_MM, TIGHT_MM, Room, Runs
from generator.documents.symbols import row_size
from generator.documents.text import text_box
from generator.documents.view import OVERRUN_MM, View

FAR_MM: Final = 400.0
CHUNK: Final = 48
LAP_MM: Final = 0.2
ANGLE_MM: Final = 40.0
NOTE_TURN: Final = 4
TRIES: Final = 4
"""How often a view is annotated at the most, until no leader crosses another."""
SIDES: Final[tuple[Side, ...]] = get_args(Side)


def annotate(view: View, asks: Sequence[Ask], fixed: Sequence[Mark] = ()) -> Cluster:
    """Return the view with all annotations placed.

    Call-outs whose leaders cross come first in another try; the try with fewest crossings counts.

    Args:
        view: The view.
        asks: What to show; dimensions of one side are ordered here, shortest span first.
        fixed: Marks that already have their place, such as a cutting plane.
    """
    first: tuple[Ask, ...] = ()
    best: Cluster | None = None
    fewest = 0
    for _ in range(TRIES):
        cluster, crossed = _annotated(view, asks, fixed, first)
        if best is None or len(crossed) < fewest:
            best, fewest = cluster, len(crossed)
        if not crossed:
            break
        first = tuple(dict.fromkeys((*crossed, *first)))
    assert best is not None
    return best


def _annotated(
    view: View, asks: Sequence[Ask], fixed: Sequence[Mark], first: Sequence[Ask]
) -> tuple[Cluster, list[Ask]]:
    """Return the view with all annotations, and the call-outs whose leaders cross, last first.

    Args:
        view: The view.
        asks: What to show.
        fixed: Marks that already have their place.
        first: Call-outs that are placed before all others, in this order.
    """
    marks = (*view.marks, *fixed)
    drawn = [(mark, runs(mark)) for mark in marks if not _is_hatch(mark)]
    room = Room(
        part=Runs(as_rows([run for mark, its in drawn if _is_edge(mark) for run in its])),
        ink=Runs(as_rows([run for _, its in drawn for run in its])),
        letters=as_rows([text_box(mark) for mark in marks if isinstance(mark, Text)]),
    )
    turns = {ask: (NOTE_TURN, -1e9 + n) for n, ask in enumerate(first)}
    waiting = sorted(asks, key=lambda ask: turns.get(ask) or _turn(ask))
    leaders: list[tuple[Run, Ask]] = []
    done: list[Placed] = []
    for n, ask in enumerate(waiting):
        pending = as_rows([run for other in waiting[n + 1 :] for run in extension_runs(other)])
        if isinstance(ask, Note):
            placed = note_place(ask, view, room)
        else:
            placed = _best(room, ask, view, pending)
        room.add(placed)
        done.append(placed)
        if placed.leader:
            leaders.append((placed.leader, ask))
        if isinstance(ask, Length | Across) and ask.datum and placed.dimension:
            hung = _best(room, _at_ends(placed.dimension, ask.datum), view, pending)
            room.add(hung)
            done.append(hung)
    dimensions = tuple(placed.dimension for placed in done if placed.dimension)
    plain = (m for placed in done if not placed.dimension for m in placed.marks)
    runs_of = as_rows([run for run, _ in leaders])
    crossed = crossing(runs_of, runs_of)
    guilty = [ask for (_, ask), hits in zip(leaders, crossed, strict=True) if hits.any()]
    return Cluster((*marks, *plain), dimensions, room.box()), guilty[::-1]


def _at_ends(dimension: Dimension, letter: str) -> Datum:
    """Return the datum that hangs on an end of an upright dimension line (ISO 5459)."""
    (_, y1), (_, y2), (x, _) = dimension.points
    return Datum((((x, min(y1, y2)), -90.0), ((x, max(y1, y2)), 90.0)), letter)


def sketched(view: View, asks: Sequence[Ask], _: Sequence[Mark] = ()) -> Cluster:
    """Return the view without annotations, in the box that it needs with them at the least.

    Its centre line overruns it, and dimensions of one side that share a stretch lie in a row each.
    """
    reach = {
        side: row_mm(rows - 1) if rows else 0.0
        for side in SIDES
        for rows in (_rows(span(a) for a in asks if isinstance(a, Length) and a.side == side),)
    }
    box = (
        view.box[0] - max(OVERRUN_MM, reach["left"]),
        view.box[1] - reach["below"],
        view.box[2] + max(OVERRUN_MM, reach["right"]),
        view.box[3] + reach["above"],
    )
    return Cluster((), (), box)


def _rows(spans: Iterable[tuple[float, float]]) -> int:
    """Return how many spans at the most share a stretch."""
    found = list(spans)
    return max((sum(a <= low + LAP_MM < b for a, b in found) for low, _ in found), default=0)


def _is_edge(mark: Mark) -> bool:
    return mark.style == "outline"


def _is_hatch(mark: Mark) -> bool:
    """Tell a hatch line; it lies within the part, so it need not be looked at."""
    return mark.style == "hatch"


def _turn(ask: Ask) -> tuple[int, float]:
    """Return when an annotation is placed: those bound to one place first, signs of finish last."""
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
            sizes = [row_size(row) for row in ask.rows]
            area = max(size[0] for size in sizes) * sum(size[1] for size in sizes)
            finish = all(row.symbol in ("roughness", "runout") for row in ask.rows)
            return NOTE_TURN + finish, 10_000.0 * len(ask.anchors) - area


def extension_runs(ask: Ask) -> Iterator[Run]:
    """Yield the extension lines that an annotation still to be placed may need."""
    if isinstance(ask, Angle):
        for (x, y), (far_x, far_y) in (ask.first, ask.second):
            reach = ANGLE_MM / max(hypot(x - far_x, y - far_y), 1e-9)
            yield x, y, x + reach * (x - far_x), y + reach * (y - far_y)
            yield x, y, x + reach * (x - far_x), -y - reach * (y - far_y)
    if not isinstance(ask, Length):
        return
    ways = {"above": (0, FAR_MM), "below": (0, -FAR_MM), "left": (-FAR_MM, 0), "right": (FAR_MM, 0)}
    dx, dy = ways[ask.side]
    for x, y in (ask.start, ask.end):
        yield x, y, x + dx, y + dy


def _best(room: Room, ask: Length | Across | Angle | Datum, view: View, pending: Array) -> Placed:
    """Return the cheapest place that touches nothing, closer to its neighbours where it must be.

    The last resort is the very first place; the check of the sheet then names what it touches.
    """
    for margin_mm in (ROOM_MM, TIGHT_MM):
        best: tuple[Places, int] | None = None
        best_cost = float("inf")
        for group in places(ask, view):
            ranking = np.argsort(group.costs, kind="stable")
            if group.costs[ranking[0]] >= best_cost:
                break
            shared = room.shared_cost(group.shared, pending, margin_mm)
            for at in range(0, len(ranking), CHUNK):
                some = ranking[at : at + CHUNK]
                if group.costs[some[0]] + shared >= best_cost:
                    break
                costs = room.costs(group, some, pending, margin_mm) + shared
                cheapest = int(np.argmin(costs))
                if costs[cheapest] < best_cost:
                    best, best_cost = (group, int(some[cheapest])), float(costs[cheapest])
        if best is not None:
            return best[0].make(best[1])
    nearest = next(places(ask, view))
    return nearest.make(int(np.argmin(nearest.costs)))
