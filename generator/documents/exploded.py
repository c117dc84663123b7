"""The tool drawn apart along its axis, isometric: how the parts go together, in their order.

Every part is moved so far from its neighbours that on paper none covers another, so each hides
itself alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import cos, radians, sin
from typing import Final

import numpy as np

from generator.documents.asks import Cluster
from generator.documents.balloons import Balloon, balloon_at, spread
from generator.documents.coil_picture import coil_picture
from generator.documents.drawing import Figure, Mark, Point, Text
from generator.documents.exploded_pieces import AIR_MM, Piece, pieces
from generator.documents.isometric import (
    EYE,
    NARROWER,
    WIDER,
    on_paper,
    picture,
    run,
    stretches,
    turn_of,
)
from generator.documents.layout import bounds, moved
from generator.documents.part_edges import line
from generator.documents.sight import Solid
from generator.documents.text import width_mm
from generator.model.assembly import Placed
from generator.model.part import Part, Slot
from generator.model.springs import CoilSpring
from generator.model.tool import Tool

OVERRUN_MM: Final = 6.0
MARGIN_MM: Final = 1.0
TRIES: Final = 6
THIN_SCALE: Final = 0.75
LEVEL_MM: Final = 13.0
"""From the widest part to the row of balloons."""
PITCH_MM: Final = 14.0
"""From balloon to balloon along the axis, so that a name clears the balloon beside it."""
BESIDE_MM: Final = 14.0
NAME_MM: Final = 3.5
NAME_GAP_MM: Final = 5.5
DOT_SHARE: Final = 0.75
UP: Final = (cos(radians(120.0)), sin(radians(120.0)))
"""The way on paper, square to the axis, in which the balloons stand."""
ALONG: Final = (cos(radians(30.0)), sin(radians(30.0)))
"""The way on paper in which the nose points."""


def exploded_view(tool: Tool, scale: float) -> Cluster:
    """Return the tool drawn apart, with item numbers and names.

    Args:
        tool: The tool.
        scale: Paper length over true length.
    """
    row, screws = pieces(tool, scale)
    marks = [*_drawn(row, screws, scale), *_labels(row, screws, scale)]
    return Cluster(tuple(marks), (), bounds(marks))


def exploded_figure(tool: Tool, wide_mm: float) -> Figure:
    """Return the tool drawn apart as a figure of a width, without numbers.

    Args:
        tool: The tool.
        wide_mm: Width of the figure.
    """
    room_mm, scale = wide_mm - 2 * MARGIN_MM, 1.0
    for _ in range(TRIES):  # gaps and overrun keep their size on paper
        scale *= room_mm / bare_width_mm(tool, scale)
    marks = tuple(_lighter(mark, scale) for mark in _drawn(*pieces(tool, scale), scale))
    left, bottom, _, top = bounds(marks)
    return Figure(
        "exploded",
        "The parts",
        "The parts in the order in which they go together.",
        wide_mm,
        top - bottom + 2 * MARGIN_MM,
        tuple(moved(mark, MARGIN_MM - left, MARGIN_MM - bottom) for mark in marks),
    )


def _lighter(mark: Mark, scale: float) -> Mark:
    """Return a mark in thin lines where thick ones would fill the small parts up."""
    return replace(mark, style="thin") if scale < THIN_SCALE and mark.style == "outline" else mark


def bare_width_mm(tool: Tool, scale: float) -> float:
    """Return the width on paper of the parts along the axis, with their centre line."""
    row, _ = pieces(tool, scale)
    edges = [
        (piece.placed.origin_mm[2] + c.z_mm, c.r_mm)
        for piece in row
        for c in piece.placed.part.outline.corners
    ]
    over_mm = OVERRUN_MM / scale
    front_mm = min(row[0].reach_mm[0] - over_mm, *(z - r for z, r in edges))
    rear_mm = max(row[-1].reach_mm[1] + over_mm, *(z + r for z, r in edges))
    return scale * ALONG[0] * (rear_mm - front_mm)


def _drawn(row: Sequence[Piece], screws: Sequence[Piece], scale: float) -> Iterator[Mark]:
    """Yield the parts and the centre lines between them."""
    for piece in row:
        if piece.spring is None:
            yield from picture(piece.placed, piece.crests, scale)
        else:
            ((x, y),) = on_paper(np.array([piece.placed.origin_mm]), scale)
            for mark in _spring_marks(piece.spring, scale):
                yield moved(mark, float(x), float(y))
    for screw in screws:
        yield from picture(screw.placed, screw.crests, scale, apart_mm=0.0)
    yield from _axis(row, scale)
    yield from _screw_axis(row, screws, scale)


@lru_cache(maxsize=16)
def _spring_marks(spring: CoilSpring, scale: float) -> tuple[Mark, ...]:
    """Return a spring at its free length; equal springs are drawn once."""
    return tuple(coil_picture(spring, spring.free_mm, scale))


def _axis(row: Sequence[Piece], scale: float) -> Iterator[Mark]:
    """Yield the common centre line where it is seen: before, between and behind the parts."""
    front_mm = row[0].reach_mm[0] - OVERRUN_MM / scale
    for piece in row:
        z_mm = piece.placed.origin_mm[2]
        face_mm = z_mm + min(c.z_mm for c in piece.placed.part.outline.corners)
        if piece.spring is not None:
            clear_mm = face_mm - NARROWER * piece.spring.outside_mm / 2
            yield _centre_line((0.0, 0.0, front_mm), (0.0, 0.0, clear_mm), scale)
        else:
            yield from _seen_line(piece.placed, front_mm - z_mm, face_mm - z_mm, scale)
        front_mm = z_mm + max(c.z_mm for c in piece.placed.part.outline.corners)
    end_mm = row[-1].reach_mm[1] + OVERRUN_MM / scale
    yield _centre_line((0.0, 0.0, front_mm), (0.0, 0.0, end_mm), scale)


def _screw_axis(row: Sequence[Piece], screws: Sequence[Piece], scale: float) -> Iterator[Mark]:
    """Yield the centre line of the screws, from their hole on; nothing where there are none."""
    if not screws:
        return
    body = next(piece.placed for piece in row if piece.item.name == "Body")
    _, y_mm, z_mm = screws[0].placed.origin_mm
    below_mm = body.part.outline.radius_at_mm(z_mm - body.origin_mm[2], inside=False)
    for piece in screws:
        y_mm = piece.placed.origin_mm[1]
        yield from _seen_line(piece.placed, below_mm - y_mm, 0.0, scale)
        below_mm = y_mm + piece.placed.part.outline.length_mm
    end_mm = below_mm + (OVERRUN_MM + AIR_MM) / scale
    yield _centre_line((0.0, below_mm, z_mm), (0.0, end_mm, z_mm), scale)


def _seen_line(placed: Placed, start_mm: float, end_mm: float, scale: float) -> Iterator[Mark]:
    """Yield what a part lets be seen of its own axis before it, between two positions on it."""
    turn = turn_of(placed)
    solid = Solid(placed.part, turn @ EYE)
    edge = line((0.0, 0.0, start_mm), (0.0, 0.0, end_mm))
    for _, start, end in stretches([edge], solid, scale):
        points = edge.at(np.array([start, end])) @ turn + np.array(placed.origin_mm)
        yield run(on_paper(points, scale), "centre")


def _centre_line(
    start_mm: tuple[float, float, float], end_mm: tuple[float, float, float], scale: float
) -> Mark:
    return run(on_paper(np.array([start_mm, end_mm]), scale), "centre")


def _labels(row: Sequence[Piece], screws: Sequence[Piece], scale: float) -> Iterator[Mark]:
    """Yield balloons and names: in a row along the axis, and beside the screws."""
    firsts = {piece.item.number: piece for piece in reversed(row)}
    shown = sorted(firsts.values(), key=_middle_mm, reverse=True)
    widest_mm = max(piece.placed.part.outline.diameter_mm for piece in row) / 2
    level = scale * WIDER * widest_mm + LEVEL_MM
    places = spread([-scale * _middle_mm(piece) for piece in shown], PITCH_MM)
    lines = [float(on_paper(np.array([each.placed.origin_mm]), scale)[0][0]) for each in screws]
    for piece, place in zip(shown, places, strict=True):
        right, y = _off_axis(place, level)
        left = right - NAME_GAP_MM - width_mm(_name(piece), NAME_MM)
        # a name that a screw's centre line would cross stands on the other side of the axis
        side = -1.0 if any(left - NAME_GAP_MM < x < right + NAME_GAP_MM for x in lines) else 1.0
        yield from _label(piece, _spot(piece, scale, side), _off_axis(place, side * level))
    for piece in screws:
        x_mm, y_mm, z_mm = piece.placed.origin_mm
        y_mm += piece.placed.part.outline.length_mm / 2
        ((x, y),) = on_paper(np.array([[x_mm, y_mm, z_mm]]), scale)
        yield from _label(piece, (float(x), float(y)), (float(x) - BESIDE_MM, float(y)))


def _middle_mm(piece: Piece) -> float:
    return piece.placed.origin_mm[2] + _pointed_mm(piece.placed.part)


def _name(piece: Piece) -> str:
    """Return what stands beside the balloon of a part."""
    item = piece.item
    return item.name if item.quantity == 1 else f"{item.name}, {item.quantity} off"


def _spot(piece: Piece, scale: float, side: float) -> Point:
    """Return where a part is pointed at: upon its surface, or on the edge of a spring."""
    outline, z_mm = piece.placed.part.outline, _pointed_mm(piece.placed.part)
    share = DOT_SHARE if piece.spring is None else 1.0
    aside = side * scale * share * WIDER * outline.radius_at_mm(z_mm, inside=False)
    return _off_axis(-scale * (piece.placed.origin_mm[2] + z_mm), aside)


def _pointed_mm(part: Part) -> float:
    """Return where along a part it is pointed at: behind its slot, on the face of a disc."""
    length_mm = part.outline.length_mm
    slots = [cut for cut in part.cuts if isinstance(cut, Slot)]
    if slots:
        return (slots[0].front_mm + slots[0].length_mm + length_mm) / 2
    return length_mm if length_mm < part.outline.diameter_mm / 2 else length_mm / 2


def _off_axis(along: float, aside: float) -> Point:
    """Return a point of the sheet so far along the axis toward the nose, and so far off it."""
    return along * ALONG[0] + aside * UP[0], along * ALONG[1] + aside * UP[1]


def _label(piece: Piece, at: Point, centre: Point) -> Iterator[Mark]:
    """Yield a balloon with the name of its item to the left."""
    item = piece.item
    yield from balloon_at(Balloon(item.number, at, piece.spring is None), centre)
    start = (centre[0] - NAME_GAP_MM, centre[1] - NAME_MM / 2)
    yield Text(start, _name(piece), NAME_MM, "right")
