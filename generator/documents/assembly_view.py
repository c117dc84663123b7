"""The assembly cut along its axis, each part hiding what lies behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import acos, cos, degrees, inf, pi, sin, sqrt
from typing import Final

from generator.documents.clip import Polygon, visible
from generator.documents.drawing import Arc, Fill, Line, Mark, Point
from generator.documents.hatch import hatched
from generator.documents.layout import moved
from generator.documents.spring_view import spring_section
from generator.documents.view import (
    OVERRUN_MM,
    View,
    flat_boxes,
    is_outside,
    lowered,
    outside,
    section,
)
from generator.model import parts, screwed
from generator.model.assembly import Placed
from generator.model.instances import instances
from generator.model.outline import Corner, Outline
from generator.model.part import DriverSlot, Part, SideFlat, Slot
from generator.model.tips import reverse
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Thread

DISC_HATCH_MM: Final = 1.2
"""Closer than that of the body, which a disc touches."""

SOCKET_MM: Final = 11.0
"""How far the face of the socket is drawn above the taper."""

BLACK_MM: Final = 2.0
"""A section thinner than this on paper is filled in (ISO 128-50)."""

MARGIN_MM: Final = 3.5
WAVE_MM: Final = 0.5
BALL_SIDES: Final = 72
"""As many sides stand for a ball where it hides what lies behind."""


def assembly_section(tool: Tool, orientation: Orientation, scale: float) -> View:
    """Return the tool with the plunger forward, the nose to the right, x = -scale * z.

    Body, plug, nose bush, button and separators are cut; plunger and set screw are not, but for the
    plunger's slot and centre holes. In phantom lines stands the outer end, pushed home.
    """
    placed = {each.name: each for each in instances(tool, orientation, compressed=False)}
    x = scale * orientation.projection_extended_mm
    discs = [p for name, p in placed.items() if name.startswith(("button", "separator"))]
    springs = [p for name, p in placed.items() if name.startswith("spring")]
    screws = standing_across(placed.values())
    upright = [screw_outline(each, scale) for each in screws]
    sliding = [each for _, each in sliding_faces(tool, orientation, scale)]
    cylinder = [_shifted(each, x) for each in sliding]
    disc_solids = [_block(each, scale) for each in discs]
    spring_solids = [_block(each, scale) for each in springs]
    fixed = plugs(tool, placed[tool.abutment.name])
    plug_solids = [plug_solid(each, scale) for each in fixed]

    shifted = [moved(mark, x, 0.0) for mark in sliding_marks(tool, orientation, scale)]
    nested = tool.button is None and orientation.inner.sink is not None
    marks = visible(shifted, [*upright, *(spring_solids if nested else ())])
    for disc in discs:
        marks += visible(disc_marks(disc, scale), cylinder)
    standing = dict(zip((one.label for one in tool.in_place), springs, strict=True))
    for one in tool.in_place:
        each, inner = standing[one.label], standing.get(f"{one.label} inner")
        coils = spring_section(one.spring, each.part.outline.length_mm, scale)
        at = -scale * each.origin_mm[2]
        before = [*cylinder, *disc_solids, *plug_solids]
        if inner is not None:
            before.append(_block(inner, scale))
        marks += visible((moved(mark, at, 0.0) for mark in coils), before)
    for plug in fixed:
        marks += plug_marks(tool, plug, scale)
    if "nose bush" in placed:
        marks += visible(bush_marks(placed["nose bush"], scale), cylinder)
        plug_solids.append(bush_solid(placed["nose bush"], scale))
    hiding = [*upright, *cylinder, *disc_solids, *spring_solids, *plug_solids]
    body = section(tool.body, scale)
    marks += visible(without_axis(body.marks), hiding)
    for each in screws:
        marks += screw_marks(tool, each, scale)
    marks += _pushed_home(orientation, scale)
    marks += _socket_face(tool.body, scale)
    left, bottom, _, top = body.box
    head = max((y for outline in upright for _, y in outline), default=top)
    out = x + scale * orientation.outer.stands_mm
    box = (left, bottom, max(out, body.box[2]), max(top, head))
    marks.append(Line((left - OVERRUN_MM, 0.0), (box[2] + OVERRUN_MM, 0.0), "centre"))
    for each, outline in zip(screws[:1], upright[:1], strict=True):
        at, foot = -scale * each.origin_mm[2], min(y for _, y in outline) - OVERRUN_MM
        marks.append(Line((at, foot), (at, box[3] + OVERRUN_MM), "centre"))
    return View(scale, tuple(marks), box)


def standing_plunger(tool: Tool, orientation: Orientation) -> Part:
    """Return the plunger with its z = 0 at the end at work, turned about where that is needed."""
    part = tool.plunger
    if orientation.which == "as drawn":
        return part
    length = part.outline.length_mm
    return replace(
        part,
        outline=Outline(tuple(reverse(list(part.outline.corners), length))),
        cuts=tuple(
            replace(cut, front_mm=length - cut.front_mm - cut.length_mm)
            for cut in part.cuts
            if isinstance(cut, Slot | SideFlat)
        ),
    )


def sliding_faces(
    tool: Tool, orientation: Orientation, scale: float
) -> Iterator[tuple[str, list[Point]]]:
    """Yield what plunger, screwed tip and ball hide, each with its colour; the end at work at 0."""
    back = -scale * screwed.front_mm(tool.parameters)
    for face in plunger_faces(standing_plunger(tool, orientation), scale):
        yield "plunger", _shifted(face, back)
    for tip in tool.tips[orientation.tip : orientation.tip + 1]:
        yield from (("tip", face) for face in plunger_faces(tip, scale))
    yield from (("ball", face) for face in ball_faces(tool, orientation, scale))


def sliding_marks(tool: Tool, orientation: Orientation, scale: float) -> Iterator[Mark]:
    """Yield plunger, screwed tip and ball, each before the one it is in; the end at work at 0."""
    back = -scale * screwed.front_mm(tool.parameters)
    faces = list(sliding_faces(tool, orientation, scale))
    tips, balls = ([face for name, face in faces if name == kind] for kind in ("tip", "ball"))
    plunger = plunger_marks(standing_plunger(tool, orientation), scale)
    yield from visible([moved(mark, back, 0.0) for mark in plunger], [*tips, *balls])
    for tip in tool.tips[orientation.tip : orientation.tip + 1]:
        yield from visible(plunger_marks(tip, scale), balls)
    yield from ball_marks(tool, orientation, scale)


def standing_across(placed: Iterable[Placed]) -> list[Placed]:
    """Return what stands across the tool, such as the set screw, the one in the slot first."""
    return [each for each in placed if each.axis == "outward"]


def _slot(plunger: Part) -> Slot | None:
    return next((cut for cut in plunger.cuts if isinstance(cut, Slot)), None)


def _driver_mm(plug: Part) -> float:
    """Return the depth of a slot across the rear of the plug, which lies open in the section."""
    return sum(cut.depth_mm for cut in plug.cuts if isinstance(cut, DriverSlot))


def _shifted(polygon: Polygon, dx: float) -> list[Point]:
    return [(x + dx, y) for x, y in polygon]


def _block(placed: Placed, scale: float) -> list[Point]:
    """Return the rectangle that a part fills in the section."""
    outline = placed.part.outline
    right = -scale * placed.origin_mm[2]
    left = right - scale * outline.length_mm
    r = scale * outline.diameter_mm / 2
    return [(left, -r), (right, -r), (right, r), (left, r)]


def plugs(tool: Tool, placed: Placed) -> list[Placed]:
    """Return the plug, and behind it the second one that locks it, where there is one."""
    if not parts.second_plug_mm(tool.parameters):
        return [placed]
    x, y, z = placed.origin_mm
    return [placed, replace(placed, origin_mm=(x, y, z + placed.part.outline.length_mm))]


def plug_solid(placed: Placed, scale: float) -> list[Point]:
    """Return what a plug hides in the section: all but the slot across its rear."""
    outline, at = placed.part.outline, placed.origin_mm[2]
    end = outline.length_mm - _driver_mm(placed.part)
    half = [(c.z_mm, c.r_mm) for c in outline.corners[:4] if c.z_mm < end]
    half.append((end, outline.radius_at_mm(end, inside=False)))
    upper = [(-scale * (at + z), scale * r) for z, r in half]
    return [*upper, *((x, -y) for x, y in reversed(upper))]


def without_axis(marks: Sequence[Mark]) -> list[Mark]:
    """Return the marks without centre lines."""
    return [mark for mark in marks if mark.style != "centre"]


def _wall_mm(plunger: Part, slot: Slot) -> float:
    """Return how far from the axis the straight walls of the slot meet the outside."""
    r = plunger.outline.diameter_mm / 2
    return sqrt(max(0.0, r**2 - min(slot.width_mm / 2, r) ** 2))


def plunger_faces(plunger: Part, scale: float) -> list[list[Point]]:
    """Return what the plunger hides, above the axis and below, from its end at work.

    Above the far wall of the slot one sees past the plunger; below it, too, where the slot goes
    right through.
    """
    slot = _slot(plunger)
    half = [(-scale * c.z_mm, scale * c.r_mm) for c in plunger.outline.corners]
    for gone in flat_boxes(plunger, scale, both=True):
        half = lowered(half, gone)
    if slot is None:
        return [half, [(x, -y) for x, y in half]]
    right, left = -scale * slot.front_mm, -scale * (slot.front_mm + slot.length_mm)
    r, wall = scale * plunger.outline.diameter_mm / 2, scale * _wall_mm(plunger, slot)
    upper: list[Point] = []
    for a, b in zip(half, (*half[1:], half[0]), strict=True):
        upper.append(a)
        if a[1] == b[1] and abs(a[1] - r) < 1e-9 and a[0] >= right and left >= b[0]:
            upper += [(right, r), (right, wall), (left, wall), (left, r)]
    lower = upper if slot.through(plunger.outline) else half
    for gone in flat_boxes(plunger, scale, both=False):
        upper = lowered(upper, gone)
    return [upper, [(x, -y) for x, y in lower]]


def plunger_marks(plunger: Part, scale: float) -> Iterator[Mark]:
    """Yield the outside of the plunger with its slot, at the top, in local section."""
    slot = _slot(plunger)
    if slot is None:
        yield from without_axis(outside(plunger, scale, rising=False).marks)
        return
    through = slot.through(plunger.outline)
    r = scale * plunger.outline.diameter_mm / 2
    floor, wall = r - scale * slot.depth_mm, scale * _wall_mm(plunger, slot)
    right, left = -scale * slot.front_mm, -scale * (slot.front_mm + slot.length_mm)
    notch = [(left, floor), (right, floor), (right, r), (left, r)]
    plain = outside(replace(plunger, cuts=()), scale, rising=False)
    flats = list(flat_boxes(plunger, scale, both=False))
    tops = [[(a, b), (c, b), (c, d + 1.0), (a, d + 1.0)] for a, b, c, d in flats]
    yield from visible(without_axis(plain.marks), [notch, *tops])
    for cut in plunger.cuts:
        if isinstance(cut, SideFlat):
            yield from _side_flat_on_edge(cut, plunger.outline, scale)
    walls = [(left, r), (left, floor), (right, floor), (right, r)]
    sides = [(walls[0], walls[1]), (walls[2], walls[3])] if through else pairwise(walls)
    for a, b in sides:
        yield Line(a, b)
    if not slot.square:
        rise = list(_far_wall(left, right, scale * slot.width_mm / 2, r, wall))
        yield from rise
        if through:
            yield from (
                Line((a, -b), (c, -d)) for (a, b), (c, d) in ((e.start, e.end) for e in rise)
            )
    if through:
        yield from _broken_beside(left, right, r)
        return
    edge = list(_break_below(left, right, r, floor))
    ring = [*edge, (right, r), (right, floor), (left, floor), (left, r)]
    yield from hatched(ring, spacing_mm=1.8, rising=False)
    for a, b in pairwise(edge):
        yield Line(a, b, "thin")


def _broken_beside(left: float, right: float, r: float) -> Iterator[Mark]:
    """Yield the metal cut on both sides of a slot right through, to freehand lines across."""
    for side, way in ((left, -1.0), (right, 1.0)):
        edge = [
            (side + way * (MARGIN_MM * 0.6 + WAVE_MM * sin(1.7 * y)), y)
            for y in (r * (2 * n / 16 - 1) for n in range(17))
        ]
        yield from hatched([(side, -r), *edge, (side, r)], spacing_mm=1.8, rising=False)
        for a, b in pairwise(edge):
            yield Line(a, b, "thin")


def _side_flat_on_edge(cut: SideFlat, outline: Outline, scale: float) -> Iterator[Line]:
    """Yield a side flat seen along itself, and the wall where it ends."""
    start, end = cut.reach_mm(outline)
    low, r = scale * cut.off_mm, scale * outline.diameter_mm / 2
    yield Line((-scale * start, low), (-scale * end, low))
    wall = -scale * (cut.rear_mm if cut.front_mm <= 0 else cut.front_mm)
    yield Line((wall, low), (wall, r))


def ball_marks(tool: Tool, orientation: Orientation, scale: float) -> Iterator[Arc]:
    """Yield the ball in an end of the plunger, which is not cut; the end at work is at x = 0."""
    if tool.ball is None or orientation.tip != tool.ball_tip:
        return
    radius = tool.ball.outline.diameter_mm / 2
    z_mm = radius - orientation.outer.stands_mm
    if not orientation.outer.ball_mm:
        z_mm = tool.plunger.outline.length_mm + orientation.inner.stands_mm - radius
    yield Arc((-scale * z_mm, 0.0), scale * radius)


def ball_faces(tool: Tool, orientation: Orientation, scale: float) -> Iterator[list[Point]]:
    """Yield what the ball hides."""
    for mark in ball_marks(tool, orientation, scale):
        (x, y), turns = mark.centre, [2 * pi * n / BALL_SIDES for n in range(BALL_SIDES)]
        yield [(x + mark.radius_mm * cos(t), y + mark.radius_mm * sin(t)) for t in turns]


def _far_wall(left: float, right: float, half: float, r: float, wall: float) -> Iterator[Line]:
    """Yield the upper edge of the far wall, which rises to the crest round the ends of a slot."""
    count = 5
    rise = [
        (half * (1 - n / count), sqrt(max(0.0, r**2 - half**2 * (1 - (1 - n / count) ** 2))))
        for n in range(count + 1)
    ]
    front = [(right - half + t, y) for t, y in rise]
    rear = [(left + half - t, y) for t, y in reversed(rise)]
    for a, b in pairwise([*front, *rear]):
        yield Line(a, b)
    if half == 0.0:
        yield Line((left, wall), (right, wall))


def _break_below(left: float, right: float, r: float, floor: float) -> Iterator[Point]:
    """Yield a freehand line from the crest left of a slot, beneath its floor, to the crest right.

    It comes down within the margin beside the slot, half way from the floor to the axis.
    """
    low = max(0.5, floor) * 0.5
    start, end = left - MARGIN_MM, right + MARGIN_MM
    count = max(24, round((end - start) / 1.5))
    for n in range(count + 1):
        share = (1 - cos(pi * n / count)) / 2
        t = start + share * (end - start)
        near = min(t - start, end - t) / MARGIN_MM
        sunk = sqrt(max(0.0, 1 - (1 - min(1.0, near)) ** 2))
        swing = WAVE_MM * min(1.0, near) * (sin(0.5 * (t - start)) + 0.5 * sin(1.3 * (t - start)))
        yield t, r - (r - low) * sunk + swing


def disc_marks(placed: Placed, scale: float) -> list[Mark]:
    """Return a button or a separator in section, filled in where it is thin."""
    part, at = placed.part, -scale * placed.origin_mm[2]
    view = section(part, scale)
    thick = scale * part.outline.length_mm
    marks = [m for m in without_axis(view.marks) if m.style != "hatch"]
    half = [(-scale * c.z_mm, scale * c.r_mm) for c in part.outline.corners]
    if thick >= BLACK_MM:
        for side in (half, [(x, -y) for x, y in half]):
            marks += hatched(side, spacing_mm=DISC_HATCH_MM)
    else:
        r = scale * part.outline.diameter_mm / 2
        hole = scale * min(c.r_mm for c in part.outline.corners)
        marks += [
            Fill(((-thick, y1), (0.0, y1), (0.0, y2), (-thick, y2)), "outline")
            for y1, y2 in ((hole, r), (-r, -hole))
        ]
    return [moved(mark, at, 0.0) for mark in marks]


def plug_marks(tool: Tool, placed: Placed, scale: float) -> list[Mark]:
    """Return the plug in section; beside its slot the thread of the body stands in front."""
    at = -scale * placed.origin_mm[2]
    view = section(placed.part, scale, rising=False)
    marks = [moved(mark, at, 0.0) for mark in without_axis(view.marks)]
    depth = scale * _driver_mm(placed.part)
    if depth == 0:
        return marks
    left = at - scale * placed.part.outline.length_mm
    hole = scale * tool.body.outline.surface("rear thread").diameter_mm / 2
    far = scale * placed.part.outline.diameter_mm
    lips = [
        [(left, y1), (left + depth, y1), (left + depth, y2), (left, y2)]
        for y1, y2 in ((hole, far), (-far, -hole))
    ]
    return visible(marks, lips)


def bush_solid(placed: Placed, scale: float) -> list[Point]:
    """Return what the nose bush hides in the section: all within its outside."""
    at = placed.origin_mm[2]
    corners = [s.start for s in placed.part.outline.segments() if is_outside(s) or not s.length_mm]
    half = [(-scale * (at + c.z_mm), scale * c.r_mm) for c in corners]
    return [*half, *((x, -y) for x, y in reversed(half))]


def bush_marks(placed: Placed, scale: float) -> list[Mark]:
    """Return the nose bush in section, hatched against the body."""
    at = -scale * placed.origin_mm[2]
    view = section(placed.part, scale, rising=False)
    return [moved(mark, at, 0.0) for mark in without_axis(view.marks)]


def screw_outline(placed: Placed, scale: float) -> list[Point]:
    """Return the outside of the set screw, which stands upright with its tip below."""
    x, tip = -scale * placed.origin_mm[2], scale * placed.origin_mm[1]
    half = [
        (scale * c.r_mm, tip + scale * c.z_mm)
        for c in placed.part.outline.corners
        if c.surface not in ("rear face", "axis")
    ]
    return [(x + r, y) for r, y in half] + [(x - r, y) for r, y in reversed(half)]


def screw_marks(tool: Tool, placed: Placed, scale: float) -> Iterator[Line]:
    """Yield the outside of the set screw and the thin lines of its thread."""
    outline = screw_outline(placed, scale)
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        yield Line(a, b)
    corners = placed.part.outline.corners
    x, tip = -scale * placed.origin_mm[2], scale * placed.origin_mm[1]
    if not placed.part.outline.has("thread") or tool.parameters.set_screw is None:
        return
    thread = placed.part.outline.surface("thread")
    shoulder = tip + scale * thread.front_mm
    major = scale * thread.diameter_mm / 2
    if any(abs(c.z_mm - thread.front_mm) < 1e-9 for c in corners):
        yield Line((x - major, shoulder), (x + major, shoulder))
    minor = scale * Thread.find(tool.parameters.set_screw.thread).minor_mm / 2
    for side in (-minor, minor):
        yield Line((x + side, shoulder), (x + side, tip + scale * thread.rear_mm), "thread")


def outer_end(orientation: Orientation) -> list[Corner]:
    """Return the corners of the end at work, from its tip, however sharp, to the full diameter."""
    corners = orientation.outer.outside("outer")
    return corners if corners[0].z_mm == 0 else [Corner(0.0, 0.0), *corners]


def _pushed_home(orientation: Orientation, scale: float) -> Iterator[Line | Arc]:
    """Yield the outer end of the plunger, pushed home, in phantom lines."""
    x = scale * orientation.projection_compressed_mm
    points = [(x - scale * c.z_mm, scale * c.r_mm) for c in outer_end(orientation)]
    upper, end = points, orientation.outer
    wall, low = -inf, inf
    if end.relief is not None:
        wall, low = x - scale * end.relief_length_mm, scale * end.relief.relief_mm
        foot = (points[-1][0], 0.0)
        upper = lowered([*points, foot], (wall, low, x + 1.0, points[-1][1]))[:-1]
    for side, chain in ((1, upper), (-1, points)):
        for a, b in pairwise(chain):
            yield Line((a[0], side * a[1]), (b[0], side * b[1]), "phantom")
    for px, r in points:
        if r > 0:
            yield Line((px, -r), (px, min(r, low) if px > wall else r), "phantom")
    radius, stands = scale * orientation.outer.ball_mm / 2, scale * orientation.outer.stands_mm
    if radius:
        half = degrees(acos(max(-1.0, (radius - stands) / radius)))
        yield Arc((x + stands - radius, 0.0), radius, -half, half, "phantom")


def _socket_face(body: Part, scale: float) -> Iterator[Line]:
    """Yield the face of the socket above the taper, at the gauge plane, in a phantom line."""
    for name, z_mm in body.outline.planes:
        if name == "gauge plane":
            x, r = -scale * z_mm, scale * body.outline.radius_at_mm(z_mm, inside=False)
            yield Line((x, r), (x, r + SOCKET_MM), "phantom")
