"""The edges of a part as curves in space: rims, edges of cuts, and threads.

A curve is a function of one parameter, so that it can be followed as closely as is wanted. Where a
curve bends, the parameter is an angle about its bend.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import acos, asin, atan2, ceil, cos, hypot, pi, sin, sqrt, tau
from typing import Final

import numpy as np

from generator.documents.layout import Array
from generator.documents.sight import FLAT, hexagon, ledge_top_mm, slot_centres_mm, slot_floor_mm
from generator.documents.view import is_inside, is_outside, thread_major_mm
from generator.model.outline import Corner, Outline, Segment
from generator.model.part import (
    CrossHole,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)

CREST_MM: Final = 1.2
"""Least distance on paper of the rings that stand for a thread."""
ROOT_ARC: Final = (np.radians(100.0), np.radians(370.0))
"""Three quarters of a circle stand for the thread in a hole (ISO 6410-1)."""


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """A curve in the axes of a part.

    Attributes:
        at: Returns the points for an array of parameters; shape (n, 3).
        start: Where the parameter begins.
        end: Where it ends.
        bend_mm: Radius of its bend, the parameter then being an angle; 0 for a straight line.
        style: How it is drawn.
        closed: Whether it returns to where it began.
        cut: Whether it bounds a cut; other edges end where a cut takes them away.
    """

    at: Callable[[Array], Array]
    start: float
    end: float
    bend_mm: float
    style: str = "outline"
    closed: bool = False
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Crests:
    """Where a male thread runs.

    Attributes:
        front_mm: Where it begins.
        rear_mm: Where it ends.
        radius_mm: Its major radius.
        pitch_mm: Its pitch.
    """

    front_mm: float
    rear_mm: float
    radius_mm: float
    pitch_mm: float


def part_edges(part: Part, eye: Array, crests: Crests | None, scale: float) -> Iterator[Edge]:
    """Yield every edge of a part, seen or not.

    Args:
        part: The part.
        eye: Direction toward the eye in the part's axes.
        crests: Where it carries a male thread.
        scale: Paper length over true length.
    """
    outline = part.outline
    segments = list(outline.segments())
    for before, after in zip(segments, [*segments[1:], segments[0]], strict=True):
        bends = abs(_turn(before, after)) > FLAT and not before.runs_on_in(after)
        if before.end.r_mm > FLAT and bends:
            yield ring(before.end.z_mm, before.end.r_mm)
    for segment in segments:
        if is_outside(segment) and not segment.is_arc:
            yield from _contours(segment, eye)
    yield from _globes(segments, eye)
    for cut in part.cuts:
        match cut:
            case CrossHole():
                yield from _hole_edges(cut, outline)
            case Slot():
                yield from _slot_edges(cut, outline)
            case SideFlat():
                yield from _side_flat_edges(cut, outline)
            case DriverSlot():
                yield from _driver_edges(cut, outline)
            case HexSocket():
                yield from _socket_edges(cut, outline)
    if crests:
        yield from _crest_rings(crests, scale)
    for thread in part.threads:
        if not thread.external and thread.opens == "rear":  # a register hides that of the nose
            yield from _root_ring(outline, thread.major_mm / 2)


def _turn(before: Segment, after: Segment) -> float:
    """Return how much the half section turns from one run to the next."""
    az, ar = before.end.z_mm - before.start.z_mm, before.end.r_mm - before.start.r_mm
    bz, br = after.end.z_mm - after.start.z_mm, after.end.r_mm - after.start.r_mm
    return az * br - ar * bz


def ring(
    z_mm: float,
    r_mm: float,
    span: tuple[float, float] = (0.0, tau),
    style: str = "outline",
    *,
    cut: bool = False,
) -> Edge:
    """Return a circle about the axis, or an arc of one."""

    def at(u: Array) -> Array:
        return np.column_stack([r_mm * np.cos(u), r_mm * np.sin(u), np.full(len(u), z_mm)])

    closed = span[1] - span[0] >= tau - FLAT
    return Edge(at, *span, r_mm, style, closed, cut)


def line(start: tuple[float, float, float], end: tuple[float, float, float]) -> Edge:
    """Return a straight edge of a cut."""
    a, b = np.array(start), np.array(end)
    return Edge(lambda u: a + u[:, None] * (b - a), 0.0, 1.0, 0.0, cut=True)


def _contours(segment: Segment, eye: Array) -> Iterator[Edge]:
    """Yield the two lines along which a cone or cylinder turns away from the eye."""
    a, b, c = (float(each) for each in eye)
    slope = (segment.end.r_mm - segment.start.r_mm) / (segment.end.z_mm - segment.start.z_mm)
    across = hypot(a, b)
    if abs(slope * c) >= across:
        return
    for sign in (1, -1):
        angle = atan2(b, a) + sign * acos(slope * c / across)
        start, end = (
            np.array([p.r_mm * cos(angle), p.r_mm * sin(angle), p.z_mm])
            for p in (segment.start, segment.end)
        )
        yield Edge(partial(_along, start, end), 0.0, 1.0, 0.0)


def _globes(segments: list[Segment], eye: Array) -> Iterator[Edge]:
    """Yield the circle in which a ball turns away from the eye; no other arc is drawn yet."""
    arcs = [s for s in segments if s.is_arc]
    if not arcs:
        return
    radius, centre = arcs[0].end.arc_mm, (arcs[0].start.z_mm + arcs[-1].end.z_mm) / 2
    away = eye / np.linalg.norm(eye)
    level = np.cross(away, np.array([0.0, 0.0, 1.0]))
    level = level / np.linalg.norm(level)
    upright = np.cross(away, level)

    def at(u: Array) -> Array:
        round_it = np.cos(u)[:, None] * level + np.sin(u)[:, None] * upright
        return np.asarray(radius * round_it + np.array([0.0, 0.0, centre]))

    yield Edge(at, 0.0, tau, radius, closed=True)


def _along(start: Array, end: Array, u: Array) -> Array:
    return np.asarray(start + u[:, None] * (end - start))


def _chain(outline: Outline, *, inside: bool) -> tuple[Array, Array]:
    """Return positions and radii along the outside or the hole, rising."""
    runs = [s for s in outline.segments() if (is_inside(s) if inside else is_outside(s))]
    ends = [c for s in runs for c in ((s.end, s.start) if inside else (s.start, s.end))]
    pairs = sorted(zip(ends[::2], ends[1::2], strict=True), key=lambda pair: pair[0].z_mm)
    corners = [(c.z_mm, c.r_mm) for pair in pairs for c in pair]
    z, r = np.array(corners).reshape(-1, 2).T
    return z, r


def _hole_edges(hole: CrossHole, outline: Outline) -> Iterator[Edge]:
    """Yield the rims of a radial hole at the outside and at the bore, its thread and its ledge."""
    drilled = hole.diameter_mm / 2
    outside, bore = _chain(outline, inside=False), _chain(outline, inside=True)
    rims = [(outside, drilled, (0.0, tau), "outline")]
    if hole.thread:
        rims.append((outside, thread_major_mm(hole) / 2, ROOT_ARC, "thread"))
    if len(bore[0]):
        narrow = hole.through_mm / 2 if hole.ledge_mm else drilled
        rims.append((bore, narrow, (0.0, tau), "outline"))
    for side in (1.0, -1.0) if hole.both else (1.0,):
        for chain, radius, span, style in rims:
            at = partial(_rim, chain, radius, hole.z_mm, side=side)
            yield Edge(at, *span, radius, style, closed=style == "outline", cut=True)
    if hole.ledge_mm:
        for radius in (drilled, hole.through_mm / 2):
            at = partial(_flat, ledge_top_mm(hole, outline), radius, hole.z_mm)
            yield Edge(at, 0.0, tau, radius, closed=True, cut=True)


def _rim(
    chain: tuple[Array, Array], radius: float, z_mm: float, u: Array, *, side: float = 1.0
) -> Array:
    """Return points where an upright cylinder meets a turned surface, on the side of the cuts."""
    x, z = radius * np.cos(u), z_mm + radius * np.sin(u)
    y = side * np.sqrt(np.maximum(np.interp(z, *chain) ** 2 - x**2, 0.0))
    return np.column_stack([x, y, z])


def _slot_edges(slot: Slot, outline: Outline) -> Iterator[Edge]:
    """Yield the edges of a slot at the outside and at its floor, or on both sides of the bar."""
    half, floor = slot.width_mm / 2, slot_floor_mm(slot, outline)
    if slot.square:
        yield from _flat_edges(slot, outline, half, floor)
        return
    if slot.through(outline):
        yield from _through_edges(slot, outline, half)
        return
    centres, chain = slot_centres_mm(slot), _chain(outline, inside=False)
    ends = ((pi, tau), (0.0, pi))
    for centre, span in zip(centres, ends[:1] if slot.open else ends, strict=False):
        yield Edge(partial(_rim, chain, half, centre), *span, half, cut=True)
        yield Edge(partial(_flat, floor, half, centre), *span, half, cut=True)
    if slot.open:
        yield from _run_out_edges(slot, outline, chain, floor)
        return
    for x in (-half, half):
        ys = [sqrt(float(np.interp(z, *chain)) ** 2 - half**2) for z in centres]
        yield line((x, ys[0], centres[0]), (x, ys[1], centres[1]))
        yield line((x, floor, centres[0]), (x, floor, centres[1]))


def _run_out_edges(
    slot: Slot, outline: Outline, chain: tuple[Array, Array], floor: float
) -> Iterator[Edge]:
    """Yield the edges along a slot that is open at the rear, and those in the rear face."""
    half, start, end = slot.width_mm / 2, slot_centres_mm(slot)[0], outline.length_mm
    places = [start, *(float(z) for z in chain[0] if start < z < end), end]
    for x in (-half, half):
        for a, b in pairwise(places):
            # just before the end, for the chain ends there on the radius of the face
            ys = [sqrt(float(np.interp(z, *chain)) ** 2 - half**2) for z in (a, b - FLAT)]
            yield line((x, ys[0], a), (x, ys[1], b))
        yield line((x, floor, start), (x, floor, end))
        yield line((x, floor, end), (x, ys[1], end))
    yield line((-half, floor, end), (half, floor, end))


def _flat_edges(slot: Slot, outline: Outline, half: float, floor: float) -> Iterator[Edge]:
    """Yield the edges of a flat: its own, and the arcs of the bar above its ends."""
    ends = slot.front_mm, slot.front_mm + slot.length_mm
    radius = outline.radius_at_mm(sum(ends) / 2, inside=False)
    lip = asin(min(1.0, half / radius))
    for side in (1.0, -1.0)[: slot.count]:
        for z in ends:
            yield line((-half, side * floor, z), (half, side * floor, z))
            yield ring(z, radius, (side * pi / 2 - lip, side * pi / 2 + lip), cut=True)
        for x in (-half, half):
            yield line((x, side * floor, ends[0]), (x, side * floor, ends[1]))


def _through_edges(slot: Slot, outline: Outline, half: float) -> Iterator[Edge]:
    """Yield the edges of a slot right through, on both sides of the bar."""
    centres, chain = slot_centres_mm(slot), _chain(outline, inside=False)
    for side in (1.0, -1.0):
        for centre, span in zip(centres, ((pi, tau), (0.0, pi)), strict=True):
            yield Edge(partial(_rim, chain, half, centre, side=side), *span, half, cut=True)
        for x in (-half, half):
            ys = [side * sqrt(float(np.interp(z, *chain)) ** 2 - half**2) for z in centres]
            yield line((x, ys[0], centres[0]), (x, ys[1], centres[1]))


def _flat(y_mm: float, radius: float, z_mm: float, u: Array) -> Array:
    """Return points of a circle that lies level at a height."""
    return np.column_stack([radius * np.cos(u), np.full(len(u), y_mm), z_mm + radius * np.sin(u)])


def _side_flat_edges(cut: SideFlat, outline: Outline) -> Iterator[Edge]:
    """Yield the edges of a side flat: along both sides, and round the wall where it ends."""
    if cut.on_flange(outline):  # the step behind it is none of its edges
        runs = [s for s in outline.segments() if is_outside(s) and s.rear_mm <= cut.rear_mm + FLAT]
        outline = Outline((*(s.start for s in runs), runs[-1].end))
    chain = _chain(outline, inside=False)
    start, end = cut.reach_mm(outline)
    places = [start, *(float(z) for z in chain[0] if start < z < end), end]
    for turn in (-pi / 2, pi / 2) if cut.both else (0.0,):
        for a, b in pairwise(places):
            for x_sign in (1, -1):
                bend = 0.0 if np.ptp(np.interp([a, b], *chain)) < FLAT else cut.off_mm
                yield Edge(partial(_side, cut, chain, x_sign, turn), a, b, bend, cut=True)
        for z_mm in (cut.front_mm, cut.rear_mm):
            radius = float(np.interp(z_mm, *chain))
            half = cut.half_width_mm(radius)
            if half > FLAT:
                lip = asin(cut.off_mm / radius)
                ends = [radius * np.array([cos(a), sin(a)]) for a in (lip + turn, pi - lip + turn)]
                yield line(*((float(x), float(y), z_mm) for x, y in ends))
                if FLAT < z_mm < outline.length_mm - FLAT:
                    yield ring(z_mm, radius, (lip + turn, pi - lip + turn), cut=True)


def _side(cut: SideFlat, chain: tuple[Array, Array], x_sign: int, turn: float, u: Array) -> Array:
    """Return points of the edge of a side flat turned about the axis; u runs along the axis."""
    x = x_sign * np.sqrt(np.maximum(np.interp(u, *chain) ** 2 - cut.off_mm**2, 0.0))
    c, s, y = cos(turn), sin(turn), cut.off_mm
    return np.column_stack([c * x - s * y, s * x + c * y, u])


def _radii_at(outline: Outline, z_mm: float) -> tuple[float, float]:
    """Return the radii of hole and outside just before a position; 0 for no hole."""
    z_mm = min(z_mm, outline.length_mm) - FLAT
    inner = outline.radius_at_mm(z_mm, inside=True)
    outer = outline.radius_at_mm(z_mm, inside=False)
    return (inner if inner < outer - FLAT else 0.0), outer


def _driver_edges(cut: DriverSlot, outline: Outline) -> Iterator[Edge]:
    """Yield the edges of a slot across the rear face."""
    half, rear_mm = cut.width_mm / 2, outline.length_mm
    floor_mm = rear_mm - cut.depth_mm
    for z_mm in (floor_mm, rear_mm):
        inner, outer = _radii_at(outline, z_mm)
        if outer > half:
            near, far = sqrt(max(inner**2 - half**2, 0.0)), sqrt(outer**2 - half**2)
            for y in (-half, half):
                if near > 0:
                    yield line((near, y, z_mm), (far, y, z_mm))
                    yield line((-far, y, z_mm), (-near, y, z_mm))
                else:
                    yield line((-far, y, z_mm), (far, y, z_mm))
    inner, outer = _radii_at(outline, floor_mm)
    for radius in (inner, outer):
        if radius > half:
            lip = asin(half / radius)
            yield ring(floor_mm, radius, (-lip, lip), cut=True)
            yield ring(floor_mm, radius, (pi - lip, pi + lip), cut=True)
        elif radius > 0:
            yield ring(floor_mm, radius, cut=True)
    for s in outline.segments():
        if s.rear_mm > floor_mm + FLAT and s.length_mm > FLAT:
            yield from _wall_edges(s, half, floor_mm)


def _wall_edges(s: Segment, half: float, floor_mm: float) -> Iterator[Edge]:
    """Yield where the walls of a slot across the rear face meet a cone or cylinder beyond it."""
    front, rear = (s.start, s.end) if s.start.z_mm < s.end.z_mm else (s.end, s.start)
    slope = (rear.r_mm - front.r_mm) / (rear.z_mm - front.z_mm)
    start_mm = max(floor_mm, front.z_mm)
    first_mm = front.r_mm + slope * (start_mm - front.z_mm)
    if min(first_mm, rear.r_mm) <= half:
        return
    for x_sign in (1, -1):
        for y in (-half, half):
            at = partial(_wall_edge, Corner(start_mm, first_mm), slope, x_sign, y)
            yield Edge(at, 0.0, rear.z_mm - start_mm, abs(slope) / 4, cut=True)


def _wall_edge(start: Corner, slope: float, x_sign: int, y: float, u: Array) -> Array:
    """Return points where a wall at height y meets a cone; u runs along the axis."""
    radius = start.r_mm + slope * u
    x = x_sign * np.sqrt(np.maximum(radius**2 - y**2, 0.0))
    return np.column_stack([x, np.full(len(u), y), start.z_mm + u])


def _socket_edges(cut: HexSocket, outline: Outline) -> Iterator[Edge]:
    """Yield the edges of a hexagon socket: its mouth, its floor, its corners, a hole in it."""
    rear_mm, floor_mm = outline.length_mm, outline.length_mm - cut.depth_mm
    corner = cut.across_flats_mm / sqrt(3)
    points = [
        (corner * cos(n * pi / 3), corner * sin(n * pi / 3)) for n in range(len(hexagon(cut)))
    ]
    for (ax, ay), (bx, by) in zip(points, [*points[1:], points[0]], strict=True):
        for z_mm in (floor_mm, rear_mm):
            yield line((ax, ay, z_mm), (bx, by, z_mm))
        yield line((ax, ay, floor_mm), (ax, ay, rear_mm))
    inner, _ = _radii_at(outline, floor_mm)
    if inner > 0:
        yield ring(floor_mm, inner, cut=True)


def _crest_rings(crests: Crests, scale: float) -> Iterator[Edge]:
    """Yield rings along a male thread, some pitches apart."""
    step_mm = crests.pitch_mm * ceil(CREST_MM / (crests.pitch_mm * scale))
    count = int((crests.rear_mm - crests.front_mm) / step_mm - 0.5)
    slack_mm = crests.rear_mm - crests.front_mm - step_mm * max(count - 1, 0)
    for n in range(count):
        yield ring(crests.front_mm + slack_mm / 2 + n * step_mm, crests.radius_mm, style="thread")


def _root_ring(outline: Outline, major_mm: float) -> Iterator[Edge]:
    """Yield the root of the thread in a hole, where the bevel at its mouth is as wide."""
    for s in outline.segments():
        low, high = sorted((s.start.r_mm, s.end.r_mm))
        if is_inside(s) and low < major_mm < high and s.rear_mm > outline.length_mm / 2:
            share = (major_mm - s.start.r_mm) / (s.end.r_mm - s.start.r_mm)
            z_mm = s.start.z_mm + share * (s.end.z_mm - s.start.z_mm)
            yield ring(z_mm, major_mm, ROOT_ARC, "thread")
