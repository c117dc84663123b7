"""Views of a part on paper: section, outside, cross-section and end.

A part lies as in the lathe, headstock left: its working end z = 0 is at the origin of the view, the
shank runs to the left, x = -scale * z. The axis is y = 0. Radial cuts are made from the top in a
section and face the reader in an outside view.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, sin, sqrt
from typing import Final

from generator.documents.drawing import Arc, Curve, Fill, Line, Mark, Point, Text
from generator.documents.hatch import hatched
from generator.documents.text import Box
from generator.model.outline import Outline, Segment
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, SideFlat, Slot, Thread

OVERRUN_MM: Final = 3.0
BREAK_MM: Final = 5.0
RIM_RUNS: Final = 4
"""As many straight runs draw half the rim of a slot's round end."""
FLAT_RUNS: Final = 16
"""As many straight runs draw the edge of a side flat on a cone, which is a hyperbola."""
LETTER_MM: Final = (5.5, 12.5)
"""Where the letter of a cutting plane stands, from the plane."""


@dataclass(frozen=True, slots=True)
class View:
    """One view, in millimetres of paper about its own origin.

    Attributes:
        scale: Paper length over true length.
        marks: What is drawn, hatch and centre lines included.
        box: Left, bottom, right and top of the part itself.
    """

    scale: float
    marks: tuple[Mark, ...]
    box: Box


def is_inside(segment: Segment) -> bool:
    """Tell whether a run bounds a hole: it leads back toward the working end, off the axis."""
    return segment.end.z_mm < segment.start.z_mm - 1e-9 and (
        segment.start.r_mm > 1e-9 or segment.end.r_mm > 1e-9
    )


def is_outside(segment: Segment) -> bool:
    """Tell whether a run bounds the outside; faces do neither."""
    return segment.end.z_mm > segment.start.z_mm + 1e-9


def _mirrored(start: Point, end: Point, style: str = "outline") -> Iterator[Line]:
    yield Line(start, end, style)
    yield Line((start[0], -start[1]), (end[0], -end[1]), style)


def _across(x: float, r: float, style: str = "outline") -> Line:
    return Line((x, -r), (x, r), style)


def axis_line(left: float, right: float) -> Line:
    """Return the centre line of a view, overrunning it at both ends."""
    return Line((left - OVERRUN_MM, 0.0), (right + OVERRUN_MM, 0.0), "centre")


def box(part: Part, scale: float) -> Box:
    """Return left, bottom, right and top of a part that lies along its axis."""
    corners = part.outline.corners
    r = scale * part.outline.diameter_mm / 2
    return (
        -scale * max(c.z_mm for c in corners),
        -r,
        -scale * min(c.z_mm for c in corners),
        r,
    )


def section(part: Part, scale: float, *, rising: bool = True, window: Box | None = None) -> View:
    """Return the full section along the axis; holes from the top are cut through.

    Args:
        part: The part.
        scale: Scale of the view.
        rising: Whether the hatch rises to the right.
        window: The only stretch of the upper half that need be hatched.
    """
    outline = part.outline
    holes = [cut for cut in part.cuts if isinstance(cut, CrossHole)]
    strips, below = ([_strip(h, scale) for h in some] for some in (holes, _right_through(holes)))
    solid = cut_face(part, scale)
    lower = [(x, -y) for x, y in cut_face(part, scale, lower=True)]
    if window is not None:
        mirrored = [(-x, y) for x, y in _kept_right(solid, window[0])]
        solid, lower = [(-x, y) for x, y in _kept_right(mirrored, -window[2])], []
    spacing = 2.5 if outline.diameter_mm * scale > 25 else 1.8
    marks: list[Mark] = [
        *hatched(solid, spacing_mm=spacing, without=strips, rising=rising),
        *(hatched(lower, spacing_mm=spacing, without=below, rising=rising) if lower else ()),
        *_section_edges(part, scale, holes),
        *_hollow_edges(outline, scale),
    ]
    for thread in part.threads:
        marks += _thread_in_section(outline, thread, scale)
    for hole in holes:
        marks += _hole_in_section(part, hole, scale)
    for cut in part.cuts:
        if isinstance(cut, DriverSlot):
            x = -scale * (outline.length_mm - cut.depth_mm)
            middle = outline.length_mm - cut.depth_mm / 2
            marks.append(_across(x, scale * outline.radius_at_mm(middle, inside=False)))
        elif isinstance(cut, HexSocket):
            marks += _socket_edges(outline, cut, scale)
    whole = box(part, scale)
    marks.append(axis_line(whole[0], whole[2]))
    return View(scale, tuple(marks), whole)


def _strip(hole: CrossHole, scale: float) -> tuple[float, float]:
    """Return where a hole begins and ends along the axis on paper."""
    half = hole.diameter_mm / 2
    return -scale * (hole.z_mm + half), -scale * (hole.z_mm - half)


def _right_through(holes: list[CrossHole]) -> list[CrossHole]:
    return [hole for hole in holes if hole.both]


def cut_face(part: Part, scale: float, *, lower: bool = False) -> list[Point]:
    """Return the metal above the axis in the section, a hole from the top not taken out.

    Args:
        part: The part.
        scale: Scale of the view.
        lower: Whether the metal below the axis is meant, turned up.
    """
    outline = part.outline
    half = [(-scale * c.z_mm, scale * c.r_mm) for c in outline.corners]
    solid = half
    for cut in part.cuts:
        if isinstance(cut, DriverSlot):
            solid = _kept_right(half, -scale * (outline.length_mm - cut.depth_mm))
        elif isinstance(cut, HexSocket):
            solid = _socketed(half, outline, cut, scale)
        elif isinstance(cut, Slot) and (cut.both or not lower):
            solid = lowered(solid, notch_of(cut, outline, scale))
    return solid


def notch_of(cut: Slot, outline: Outline, scale: float) -> Box:
    """Return what a slot takes out of the section above the axis; past the end of an open one."""
    left = -scale * cut.rear_mm - OVERRUN_MM * cut.open
    top = scale * outline.diameter_mm
    return left, scale * cut.floor_mm(outline), -scale * cut.front_mm, top


def _parted(a: Point, b: Point, notch: Box) -> Iterator[tuple[Point, Point, bool]]:
    """Yield the pieces of a run within and outside a notch open upward, and which is within."""
    left, low, right, _ = notch
    shares = [0.0, 1.0]
    for axis, at in ((0, left), (0, right), (1, low)):
        if (a[axis] - at) * (b[axis] - at) < 0:
            shares.append((at - a[axis]) / (b[axis] - a[axis]))
    stops = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in sorted(shares)]
    for p, q in pairwise(stops):
        x, y = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
        yield p, q, left < x < right and y > low


def lowered(polygon: Sequence[Point], notch: Box) -> list[Point]:
    """Return a polygon lowered to the floor of a notch within its sides."""
    found: list[Point] = []
    for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        for p, q, within in _parted(a, b, notch):
            found += [(p[0], notch[1]), (q[0], notch[1])] if within else [p, q]
    kept = [point for n, point in enumerate(found) if n == 0 or point != found[n - 1]]
    return kept[:-1] if kept[-1] == kept[0] else kept


def _section_edges(part: Part, scale: float, holes: list[CrossHole]) -> Iterator[Line]:
    """Yield the edges of the cut face, opened where a hole or a slot passes a wall."""
    outline, slots = part.outline, [cut for cut in part.cuts if isinstance(cut, Slot)]
    upper = [notch_of(cut, outline, scale) for cut in slots]
    lower = [notch_of(cut, outline, scale) for cut in slots if cut.both]
    for cut in slots:
        edges = list(_notch_edges(cut, outline, scale))
        yield from edges
        if cut.both:
            yield from (_turned(edge) for edge in edges)
    for s in outline.segments():
        if s.start.r_mm < 1e-9 and s.end.r_mm < 1e-9:
            continue
        start = (-scale * s.start.z_mm, scale * s.start.r_mm)
        end = (-scale * s.end.z_mm, scale * s.end.r_mm)
        for a, b in _left_of(_opened(s, start, end, holes, scale), upper):
            yield Line(a, b)
        for a, b in _left_of(_opened(s, start, end, _right_through(holes), scale), lower):
            yield Line((a[0], -a[1]), (b[0], -b[1]))


def _left_of(edges: list[tuple[Point, Point]], notches: list[Box]) -> list[tuple[Point, Point]]:
    """Return what notches leave of some edges."""
    for notch in notches:
        pieces = [piece for a, b in edges for piece in _parted(a, b, notch)]
        edges = [(a, b) for a, b, within in pieces if not within]
    return edges


def _notch_edges(cut: Slot, outline: Outline, scale: float) -> Iterator[Line]:
    """Yield floor and ends of a slot in section, and of one with walls the far wall's edge."""
    left, low, right, _ = notch_of(cut, outline, scale)
    left = max(left, -scale * outline.length_mm)
    r = low + scale * cut.depth_mm
    yield Line((right, low), (left, low))
    yield Line((right, low), (right, r))
    if not cut.open:
        yield Line((left, low), (left, r))
    if cut.square:
        return
    half, start = scale * cut.width_mm / 2, cut.front_mm + cut.width_mm / 2
    ends = [(right - half, 1.0)] if cut.open else [(right - half, 1.0), (left + half, -1.0)]
    for x, way in ends:
        ticks = [half * n / RIM_RUNS for n in range(RIM_RUNS + 1)]
        rim = [(x + way * t, sqrt(r**2 - half**2 + t**2)) for t in ticks]
        yield from (Line(a, b) for a, b in pairwise(rim))
    stop = outline.length_mm if cut.open else cut.rear_mm - cut.width_mm / 2
    top = [(start, r)]
    top += [
        (min(s.rear_mm, stop), scale * (s.end.r_mm if s.rear_mm <= stop else s.start.r_mm))
        for s in outline.segments()
        if is_outside(s) and s.rear_mm > start and s.front_mm < stop
    ]
    points = [(-scale * z, sqrt(max(low**2, radius**2 - half**2))) for z, radius in top]
    yield from (Line(a, b) for a, b in pairwise(points))
    if cut.open:
        yield Line(points[-1], (left, low))


def _opened(
    s: Segment, start: Point, end: Point, holes: list[CrossHole], scale: float
) -> list[tuple[Point, Point]]:
    """Return what of an edge is left where holes pass it."""
    pieces = [(start, end)]
    for hole in holes:
        h = hole.diameter_mm / 2
        if hole.ledge_mm and is_inside(s):
            h = hole.through_mm / 2
        if s.length_mm > 0 and s.front_mm < hole.z_mm - h and hole.z_mm + h < s.rear_mm:
            way = 1 if end[0] > start[0] else -1
            near, far = (
                -scale * hole.z_mm - way * scale * h,
                -scale * hole.z_mm + way * scale * h,
            )
            slope = (end[1] - start[1]) / (end[0] - start[0])
            a, b = pieces.pop()
            pieces += [
                (a, (near, start[1] + slope * (near - start[0]))),
                ((far, start[1] + slope * (far - start[0])), b),
            ]
    return pieces


def _hollow_edges(outline: Outline, scale: float) -> Iterator[Line]:
    """Yield the edges seen in the hollow: the largest circle at each corner of the hole.

    Where one surface runs on as another, as a bore does in the thread cut in it, there is none.
    """
    largest: dict[float, float] = {}
    inside = [s for s in outline.segments() if is_inside(s)]
    smooth = {
        first.end.z_mm
        for first, second in pairwise(inside)
        if first.end == second.start and first.start.r_mm == first.end.r_mm == second.end.r_mm
    }
    for s in inside:
        for corner in (s.start, s.end):
            largest[corner.z_mm] = max(largest.get(corner.z_mm, 0.0), corner.r_mm)
    for z, r in largest.items():
        if r > 0 and z not in smooth:
            yield _across(-scale * z, scale * r)


def _reach_mm(outline: Outline, r: float, z: float, *, rearward: bool, inside: bool) -> float:
    """Return how far the line of a thread runs on, to where the next cone cuts it."""
    best = z
    for s in outline.segments():
        if (is_inside(s) if inside else is_outside(s)) and s.start.r_mm != s.end.r_mm:
            low, high = sorted((s.start.r_mm, s.end.r_mm))
            near = s.front_mm if rearward else s.rear_mm
            if low <= r <= high and abs(near - z) < 1e-6:
                share = (r - s.start.r_mm) / (s.end.r_mm - s.start.r_mm)
                best = s.start.z_mm + share * (s.end.z_mm - s.start.z_mm)
    return best


def _thread_in_section(outline: Outline, thread: Thread, scale: float) -> Iterator[Line]:
    """Yield the thin lines of a thread and the thick line that ends its full length."""
    s = outline.surface(thread.surface)
    inside = not thread.external
    r = thread.minor_mm / 2 if thread.external else thread.major_mm / 2
    front, rear = thread.full_span_mm(outline)
    ends = [end for end in (front, rear) if s.front_mm + 1e-6 < end < s.rear_mm - 1e-6]
    if front not in ends:
        front = _reach_mm(outline, r, s.front_mm, rearward=False, inside=inside)
    if rear not in ends:
        rear = _reach_mm(outline, r, s.rear_mm, rearward=True, inside=inside)
    yield from _mirrored((-scale * front, scale * r), (-scale * rear, scale * r), "thread")
    for end in ends:
        yield _across(-scale * end, scale * max(r, s.diameter_mm / 2))


def _hole_in_section(part: Part, hole: CrossHole, scale: float) -> Iterator[Line]:
    """Yield walls, thread, rims and centre line of a hole through the upper wall, or through both.

    A ledge is seen as the step between its two diameters.
    """
    outside = scale * part.outline.radius_at_mm(hole.z_mm, inside=False)
    bore = scale * part.outline.radius_at_mm(hole.z_mm, inside=True)
    h, x = scale * hole.diameter_mm / 2, -scale * hole.z_mm
    floor = bore + scale * hole.ledge_mm
    narrow = scale * hole.through_mm / 2 if hole.ledge_mm else h
    for side in (-1, 1):
        yield Line((x + side * h, floor), (x + side * h, outside))
        if hole.thread:
            major = scale * thread_major_mm(hole) / 2
            yield Line((x + side * major, floor), (x + side * major, outside), "thread")
        if hole.ledge_mm:
            yield Line((x + side * h, floor), (x + side * narrow, floor))
            yield Line((x + side * narrow, floor), (x + side * narrow, bore))
        if hole.both:
            yield Line((x + side * h, -bore), (x + side * h, -outside))
    rims = [*_rim(x, h, outside), *_rim(x, narrow, bore)]
    yield from rims
    if hole.both:
        yield from (_turned(line) for line in rims)
    foot = -outside - OVERRUN_MM if hole.both else bore - OVERRUN_MM
    yield Line((x, foot), (x, outside + OVERRUN_MM), "centre")


def _turned(line: Line) -> Line:
    return Line((line.start[0], -line.start[1]), (line.end[0], -line.end[1]), line.style)


def thread_major_mm(hole: CrossHole) -> float:
    """Return the major diameter of the thread in a hole, read off its designation.

    An inch designation yields the tapping drill grown by a fifth, enough for a symbol.
    """
    head = hole.thread.removeprefix("M").split("x")[0].split("-")[0]
    try:
        major = float(head)
    except ValueError:
        return hole.diameter_mm * 1.2
    return major if hole.thread.startswith("M") else hole.diameter_mm * 1.2


def _rim(x: float, h: float, radius: float) -> Iterator[Line]:
    """Yield the rim of a hole of half width h in a cylinder, seen from the side."""
    count = 8
    points = []
    for n in range(count + 1):
        t = -h + 2 * h * n / count
        points.append((x + t, sqrt(max(0.0, radius**2 - (h**2 - t**2)))))
    for a, b in pairwise(points):
        yield Line(a, b)


def _kept_right(polygon: list[Point], x: float) -> list[Point]:
    """Return what of a polygon lies to the right of x; edges along the cut may repeat."""
    kept: list[Point] = []
    for a, b in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if a[0] >= x:
            kept.append(a)
        if (a[0] >= x) != (b[0] >= x):
            kept.append((x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])))
    return kept


def _socketed(half: list[Point], outline: Outline, cut: HexSocket, scale: float) -> list[Point]:
    """Return the half section less a hexagon socket with two corners in the plane of section."""
    floor = -scale * (outline.length_mm - cut.depth_mm)
    corner = scale * cut.across_flats_mm / sqrt(3)
    hole = scale * outline.radius_at_mm(outline.length_mm - cut.depth_mm, inside=True)
    rear = -scale * outline.length_mm
    walls = [(rear, corner), (floor, corner), (floor, hole)]
    kept: list[Point] = []
    for x, y in half:
        if x < floor and y < corner:
            kept, walls = kept + walls, []
        else:
            kept.append((x, y))
    return kept


def _socket_edges(outline: Outline, cut: HexSocket, scale: float) -> Iterator[Line]:
    """Yield the walls, floor and two far corners of a hexagon socket in section."""
    rear, floor = -scale * outline.length_mm, -scale * (outline.length_mm - cut.depth_mm)
    corner = scale * cut.across_flats_mm / sqrt(3)
    yield from _mirrored((rear, corner), (floor, corner))
    yield from _mirrored((rear, corner / 2), (floor, corner / 2))
    yield _across(floor, corner)
    yield _across(rear, corner)


def outside(part: Part, scale: float, *, rising: bool = True) -> View:
    """Return the outside of a solid part, centre holes at its ends shown in local section.

    A flat on one side faces the reader; two alike are seen on edge, above and below.
    """
    outline = part.outline
    length = outline.length_mm
    regions: list[tuple[float, float]] = []
    for rear in (False, True):
        hole = [s for s in outline.segments() if is_inside(s) and (s.front_mm > length / 2) == rear]
        if hole and rear:
            regions.append((min(s.front_mm for s in hole) - BREAK_MM / scale, length))
        elif hole:
            regions.append((0.0, max(s.rear_mm for s in hole) + BREAK_MM / scale))
    marks: list[Mark] = []
    edges: dict[float, float] = {}
    flats, on_edge = (
        [cut for cut in part.cuts if isinstance(cut, SideFlat) and cut.both == both]
        for both in (False, True)
    )
    for s in outline.segments():
        if is_outside(s):
            first, last = ((-scale * c.z_mm, scale * c.r_mm) for c in (s.start, s.end))
            for a, b in _beside_flats(first, last, on_edge, scale):
                marks += _mirrored(a, b)
            for corner in (s.start, s.end):
                edges[corner.z_mm] = max(edges.get(corner.z_mm, 0.0), corner.r_mm)
    for z, whole_r in edges.items():
        r = min([whole_r, *(f.off_mm for f in on_edge if f.front_mm <= z <= f.rear_mm)])
        buried = any(low + 1e-6 < z < high - 1e-6 for low, high in regions)
        gone = [cut.half_width_mm(r) for cut in flats if cut.front_mm < z < cut.rear_mm]
        if r > 0 and not buried and any(gone):
            marks += _mirrored((-scale * z, scale * max(gone)), (-scale * z, scale * r))
        elif r > 0 and not buried:
            marks.append(_across(-scale * z, scale * r))
    for flat in flats:
        marks += _side_flat_from_above(flat, outline, scale)
    for flat in on_edge:
        marks += _flats_on_edge(flat, outline, scale)
    for low, high in regions:
        marks += _local_section(part, low, high, scale, rising=rising)
    for thread in part.threads:
        marks += _thread_in_section(outline, thread, scale)
    for cut in part.cuts:
        if isinstance(cut, Slot):
            marks += _slot_from_above(cut, scale)
    whole = box(part, scale)
    marks.append(axis_line(whole[0], whole[2]))
    return View(scale, tuple(marks), whole)


def _beside_flats(
    a: Point, b: Point, flats: list[SideFlat], scale: float
) -> Iterator[tuple[Point, Point]]:
    """Yield what two flats, seen on edge, leave of an edge above the axis."""
    places = {a[0], b[0]}
    for flat in flats:
        places.update(-scale * z for z in (flat.front_mm, flat.rear_mm))
        if (a[1] - scale * flat.off_mm) * (b[1] - scale * flat.off_mm) < 0:
            share = (scale * flat.off_mm - a[1]) / (b[1] - a[1])
            places.add(a[0] + share * (b[0] - a[0]))
    low, high = sorted((a[0], b[0]))
    ordered = sorted(x for x in places if low <= x <= high)
    slope = 0.0 if a[0] == b[0] else (b[1] - a[1]) / (b[0] - a[0])
    for left, right in pairwise(ordered):
        z, y = -(left + right) / 2 / scale, a[1] + slope * ((left + right) / 2 - a[0])
        if not any(f.front_mm < z < f.rear_mm and y > scale * f.off_mm for f in flats):
            yield (left, a[1] + slope * (left - a[0])), (right, a[1] + slope * (right - a[0]))


def _flats_on_edge(flat: SideFlat, outline: Outline, scale: float) -> Iterator[Line]:
    """Yield two flats seen along themselves, and the wall where they end."""
    start, end = flat.reach_mm(outline)
    low = scale * flat.off_mm
    yield from _mirrored((-scale * start, low), (-scale * end, low))
    for z in (flat.front_mm, flat.rear_mm):
        if not 0 < z < outline.length_mm:
            continue
        beside = [outline.radius_at_mm(z + step, inside=False) for step in (-1e-6, 1e-6)]
        if min(beside) > flat.off_mm:
            yield from _mirrored((-scale * z, low), (-scale * z, scale * max(beside)))


def flat_boxes(part: Part, scale: float, *, both: bool) -> Iterator[Box]:
    """Yield what side flats take off the top: left, bottom, right and top of each.

    Each goes past the end of the part that it is at.
    """
    length_mm, r = part.outline.length_mm, scale * part.outline.diameter_mm / 2
    for cut in part.cuts:
        if isinstance(cut, SideFlat) and cut.both == both:
            left = -scale * cut.rear_mm - OVERRUN_MM * (cut.rear_mm >= length_mm)
            right = -scale * cut.front_mm + OVERRUN_MM * (cut.front_mm <= 0)
            yield left, scale * cut.off_mm, right, r


def _local_section(
    part: Part, low: float, high: float, scale: float, *, rising: bool
) -> Iterator[Line]:
    """Yield hatch, hole and break line of a local section at one end of a solid part."""
    outline = part.outline
    rear = low > 0
    cut = low if rear else high
    within = [f for f in part.cuts if isinstance(f, SideFlat) and f.front_mm < cut < f.rear_mm]
    radius = scale * min([outline.radius_at_mm(cut, inside=False), *(f.off_mm for f in within)])
    wave = _break_line(-scale * cut, radius)
    half = [(-scale * c.z_mm, scale * c.r_mm) for c in outline.corners if low <= c.z_mm <= high]
    for gone in flat_boxes(part, scale, both=True):
        half = lowered(half, gone)
    if rear:
        ring = [*wave[::-1], *half, *((x, -y) for x, y in reversed(half))]
    else:
        apex = min(range(len(half)), key=lambda n: (half[n][1], half[n][0]))
        half = [*half[apex:], *half[:apex]]
        ring = [*half, *wave, *((x, -y) for x, y in reversed(half))]
    yield from hatched(ring, spacing_mm=1.8, rising=rising)
    for a, b in pairwise(wave):
        yield Line(a, b, "thin")
    for s in outline.segments():
        if is_inside(s) and low <= s.front_mm and s.rear_mm <= high:
            start_point = (-scale * s.start.z_mm, scale * s.start.r_mm)
            yield from _mirrored(start_point, (-scale * s.end.z_mm, scale * s.end.r_mm))
            for corner in (s.start, s.end):
                if corner.r_mm > 0:
                    yield _across(-scale * corner.z_mm, scale * corner.r_mm)


def _break_line(x: float, radius: float) -> list[Point]:
    """Return a freehand line from the upper edge to the lower, a sum of two waves."""
    count = 16
    points = []
    for n in range(count + 1):
        t = n / count
        swing = 0.8 * sin(pi * t) * (sin(2 * pi * t) + 0.5 * sin(5 * pi * t))
        points.append((x + swing, radius * (1 - 2 * t)))
    return points


def _slot_from_above(slot: Slot, scale: float) -> Iterator[Line | Arc]:
    """Yield the outline of a slot with round ends, or of a flat."""
    r = scale * slot.width_mm / 2
    if slot.square:
        right, left = -scale * slot.front_mm, -scale * (slot.front_mm + slot.length_mm)
        yield from _mirrored((left, r), (right, r))
        yield from (_across(x, r) for x in (left, right))
        return
    right = -scale * slot.front_mm - r
    left = -scale * (slot.front_mm + slot.length_mm) + r
    yield Arc((right, 0.0), r, -90.0, 90.0)
    yield Arc((left, 0.0), r, 90.0, 270.0)
    yield from _mirrored((left, r), (right, r))


def _side_flat_from_above(cut: SideFlat, outline: Outline, scale: float) -> Iterator[Line | Curve]:
    """Yield both edges of a side flat, and the wall where it ends."""
    start, end = cut.reach_mm(outline)
    corners = {c.z_mm for c in outline.corners if start < c.z_mm < end}
    for a, b in pairwise(sorted({start, end, *corners})):
        places = [a + (b - a) * n / FLAT_RUNS for n in range(FLAT_RUNS + 1)]
        half = [cut.half_width_mm(outline.radius_at_mm(z, inside=False)) for z in places]
        for sign in (1.0, -1.0):
            points = [(-scale * z, sign * scale * x) for z, x in zip(places, half, strict=True)]
            if abs(half[0] - half[-1]) < 1e-9:
                yield Line(points[0], points[-1])
            else:
                yield Curve(tuple(points))
    for z in (cut.front_mm, cut.rear_mm):
        if 1e-9 < z < outline.length_mm - 1e-9:
            half_mm = cut.half_width_mm(outline.radius_at_mm(z, inside=False))
            yield _across(-scale * z, scale * half_mm)


def slot_middle_mm(slot: Slot | SideFlat) -> float:
    """Return the position of the middle of a slot or of a flat."""
    return slot.front_mm + slot.length_mm / 2


def cutting_plane(view: View, slot: Slot | SideFlat, letter: str) -> tuple[Mark, ...]:
    """Return the ends of a cutting plane through a slot, looked at from the left (ISO 128-3).

    It stands in the middle of the slot, or so far from the slot's left end that the extension
    line from there passes the letter.
    """
    left = -view.scale * (slot.front_mm + slot.length_mm)
    length = view.scale * slot.length_mm
    end = view.scale * slot.width_mm / 2 if isinstance(slot, Slot) else 0.0
    away = length / 2
    if LETTER_MM[0] < away < LETTER_MM[1]:
        away = LETTER_MM[1] if LETTER_MM[1] <= length - end else LETTER_MM[0]
    x = left + away
    marks: list[Mark] = []
    for sign in (1, -1):
        edge = view.box[3] if sign > 0 else view.box[1]
        inner, outer = edge + sign * 2, edge + sign * 6.5
        marks += [
            Line((x, inner), (x, outer)),
            Line((x - 6, outer), (x, outer), "thin"),
            Fill(((x, outer), (x - 3, outer + 0.6), (x - 3, outer - 0.6)), "outline"),
            Text((x - 9, outer - 1.75), letter, anchor="centre", bold=True),
        ]
    return tuple(marks)
