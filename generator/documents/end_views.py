"""Views along the axis: the section across a slot, and what is seen from an end."""

from __future__ import annotations

from collections.abc import Iterator
from math import acos, asin, cos, degrees, pi, radians, sin, sqrt

from generator.documents.drawing import Arc, Line, Mark
from generator.documents.hatch import hatched
from generator.documents.view import (
    OVERRUN_MM,
    View,
    axis_line,
    is_inside,
    is_outside,
    slot_middle_mm,
)
from generator.model.outline import Outline
from generator.model.part import Cut, DriverSlot, HexSocket, Part, SideFlat, Slot


def cross_section(part: Part, slot: Slot, scale: float) -> View:
    """Return the section across the middle of a slot, seen from the rear: the slot is right."""
    radius = part.outline.radius_at_mm(slot_middle_mm(slot), inside=False)
    if slot.through(part.outline):
        return _parted(scale * radius, scale * min(slot.width_mm / 2, 0.95 * radius), scale)
    r, h = scale * radius, scale * min(slot.width_mm / 2, 0.95 * radius)
    floor = r - scale * slot.depth_mm
    wall = sqrt(r**2 - h**2)
    lip = degrees(asin(h / r))
    around = [0.0, 180.0][: slot.count]
    ring: list[tuple[float, float]] = []
    marks: list[Mark] = []
    for start in around:
        sweep, side = 360.0 / slot.count - 2 * lip, 1.0 if start == 0.0 else -1.0
        ring += [(side * floor, -side * h), (side * floor, side * h)]
        ring += _round(r, start + lip, sweep)
        marks.append(Arc((0.0, 0.0), r, start + lip, start + lip + sweep))
        marks.append(Line((side * floor, h), (side * floor, -h)))
        marks.append(Arc((0.0, 0.0), r, start - lip, start + lip, "phantom"))
    if not slot.square:
        marks += [Line((wall, h), (floor, h)), Line((floor, -h), (wall, -h))]
    marks += _hollow(part, slot_middle_mm(slot), scale)
    hole = scale * _hole_mm(part, slot_middle_mm(slot))
    inner = _round(hole, 360.0, -360.0) if hole > 0 else []
    metal = [*ring[2:], *ring[:2], ring[2], *inner]
    return View(scale, (*hatched(metal, spacing_mm=1.8), *marks, *_cross(r)), (-r, -r, r, r))


def _round(r: float, start_deg: float, sweep_deg: float) -> list[tuple[float, float]]:
    """Return points of an arc about the axis."""
    turns = ((start_deg + sweep_deg * n / 90) * pi / 180 for n in range(91))
    return [(r * cos(a), r * sin(a)) for a in turns]


def _hole_mm(part: Part, z_mm: float) -> float:
    """Return the radius of the hole through a part at a position; 0 where it is solid."""
    runs = [s for s in part.outline.segments() if is_inside(s)]
    within = any(s.front_mm <= z_mm <= s.rear_mm for s in runs)
    return part.outline.radius_at_mm(z_mm, inside=True) if within else 0.0


def _hollow(part: Part, z_mm: float, scale: float) -> Iterator[Arc]:
    """Yield the hole through a part where it is cut across, and the thread in it."""
    outline, hole = part.outline, _hole_mm(part, z_mm)
    if hole > 0:
        yield Arc((0.0, 0.0), scale * hole)
    for thread in part.threads:
        run = outline.surface(thread.surface)
        full = outline.length_mm - thread.full_mm
        if not thread.external and max(run.front_mm, full) <= z_mm <= run.rear_mm:
            yield Arc((0.0, 0.0), scale * thread.major_mm / 2, 100.0, 10.0, "thread")


def tang_section(part: Part, tang: SideFlat, scale: float) -> View:
    """Return the section across the middle of a tang: its flats lie above and below."""
    middle_mm = slot_middle_mm(tang)
    r = scale * part.outline.radius_at_mm(middle_mm, inside=False)
    hole, off = scale * part.outline.radius_at_mm(middle_mm, inside=True), scale * tang.off_mm
    lip = degrees(asin(off / r))
    turns = [start + 2 * lip * n / 30 for start in (-lip, 180 - lip) for n in range(31)]
    ring = [(r * cos(radians(a)), r * sin(radians(a))) for a in turns]
    marks: list[Mark] = []
    if hole > 0:
        inner = [(hole * cos(pi * n / 30), -hole * sin(pi * n / 30)) for n in range(61)]
        marks += [*hatched([*ring, ring[0], *inner], spacing_mm=1.8), Arc((0.0, 0.0), hole)]
    else:
        marks += hatched(ring, spacing_mm=1.8)
    wide = ring[30][0]
    marks += [
        Arc((0.0, 0.0), r, -lip, lip),
        Arc((0.0, 0.0), r, 180 - lip, 180 + lip),
        Line((-wide, off), (wide, off)),
        Line((-wide, -off), (wide, -off)),
        *_cross(r),
    ]
    return View(scale, tuple(marks), (-r, -off, r, off))


def _parted(r: float, h: float, scale: float) -> View:
    """Return the section across a slot right through: two segments of the bar."""
    lip = degrees(asin(h / r))
    marks: list[Mark] = []
    for start in (lip, 180.0 + lip):
        sweep = 180.0 - 2 * lip
        ring = [
            (r * cos(a), r * sin(a))
            for a in ((start + sweep * n / 45) * pi / 180 for n in range(46))
        ]
        marks += [
            *hatched(ring, spacing_mm=1.8),
            Arc((0.0, 0.0), r, start, start + sweep),
            Line(ring[0], ring[-1]),
        ]
    marks += [
        Arc((0.0, 0.0), r, -lip, lip, "phantom"),
        Arc((0.0, 0.0), r, 180.0 - lip, 180.0 + lip, "phantom"),
        *_cross(r),
    ]
    return View(scale, tuple(marks), (-r, -r, r, r))


def _cross(r: float) -> Iterator[Line]:
    yield axis_line(-r, r)
    yield Line((0.0, -r - OVERRUN_MM), (0.0, r + OVERRUN_MM), "centre")


def is_faced(cut: Cut, outline: Outline) -> bool:
    """Tell whether a cut is a pair of flats on a flange, which an end view shows."""
    return isinstance(cut, SideFlat) and cut.both and cut.on_flange(outline)


def end_view(part: Part, scale: float, *, rear: bool = True) -> View:
    """Return what is seen looking at one end along the axis."""
    outline = part.outline
    widest = outline.diameter_mm / 2
    circles: list[float] = []
    outer = [c for s in outline.segments() if is_outside(s) for c in (s.start, s.end)]
    inner = [c for s in outline.segments() if is_inside(s) for c in (s.start, s.end)]
    bevels = {
        s.end.r_mm
        for thread in part.threads
        if thread.external
        for s in outline.segments()
        if s.surface.endswith("chamfer")
        and s.start.r_mm == outline.surface(thread.surface).end.r_mm
    }
    for c in sorted(outer, key=lambda c: c.z_mm, reverse=rear):
        if c.r_mm in bevels:
            continue  # the bevel of a male thread is left out in an end view (ISO 6410-1)
        if c.r_mm > max(circles, default=0.0) + 1e-9:
            circles.append(c.r_mm)
    smallest = widest
    for c in sorted(inner, key=lambda c: (c.z_mm, c.r_mm), reverse=rear):
        if 0 < c.r_mm < smallest - 1e-9:
            circles.append(c.r_mm)
            smallest = c.r_mm
    marks: list[Mark] = [Arc((0.0, 0.0), scale * radius) for radius in dict.fromkeys(circles)]
    for thread in part.threads:
        radius = (thread.minor_mm if thread.external else thread.major_mm) / 2
        marks.append(Arc((0.0, 0.0), scale * radius, 100.0, 10.0, "thread"))
    for cut in part.cuts if rear else ():
        if isinstance(cut, DriverSlot):
            marks = _driver_from_behind(cut, marks, scale * widest, scale)
        elif isinstance(cut, HexSocket):
            marks += _hexagon(scale * cut.across_flats_mm)
        elif isinstance(cut, SideFlat) and is_faced(cut, outline):
            marks = _flatted(marks, scale * widest, scale * cut.off_mm)
    r = scale * widest
    return View(scale, (*marks, *_cross(r)), (-r, -r, r, r))


def _driver_from_behind(cut: DriverSlot, marks: list[Mark], r: float, scale: float) -> list[Mark]:
    """Return the circles with a slot cut across them, and its two walls."""
    h = scale * cut.width_mm / 2
    shown: list[Mark] = []
    smallest = r
    for mark in marks:
        if isinstance(mark, Arc) and mark.style == "outline" and mark.radius_mm > h:
            smallest = min(smallest, mark.radius_mm)
            if mark.radius_mm < r - 1e-6:
                lip = degrees(asin(h / mark.radius_mm))
                shown.append(Arc((0.0, 0.0), mark.radius_mm, lip - 90, 90 - lip))
                shown.append(Arc((0.0, 0.0), mark.radius_mm, 90 + lip, 270 - lip))
                continue
        shown.append(mark)
    hole = smallest if smallest < r / 2 else 0.0
    start = sqrt(hole**2 - h**2) if hole > h else 0.0
    end = sqrt(r**2 - h**2)
    for x in (-h, h):
        if start:
            shown += [Line((x, start), (x, end)), Line((x, -start), (x, -end))]
        else:
            shown.append(Line((x, -end), (x, end)))
    if hole > h:
        lip = degrees(asin(h / hole))
        shown += [
            Arc((0.0, 0.0), hole, 90 - lip, 90 + lip),
            Arc((0.0, 0.0), hole, 270 - lip, 270 + lip),
        ]
    return shown


def _flatted(marks: list[Mark], r: float, half: float) -> list[Mark]:
    """Return the circles, the outermost with a flat on either side."""
    lip = degrees(acos(half / r))
    shown: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Arc) and abs(mark.radius_mm - r) < 1e-9:
            shown += [
                Arc((0.0, 0.0), r, lip, 180.0 - lip),
                Arc((0.0, 0.0), r, 180.0 + lip, 360.0 - lip),
            ]
            continue
        shown.append(mark)
    high = sqrt(r**2 - half**2)
    return [*shown, *(Line((x, -high), (x, high)) for x in (-half, half))]


def _hexagon(across_flats: float) -> Iterator[Line]:
    """Yield a hexagon with corners at top and bottom."""
    r = across_flats / sqrt(3)
    points = [(r * sin(n * pi / 3), r * cos(n * pi / 3)) for n in range(6)]
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        yield Line(a, b)
