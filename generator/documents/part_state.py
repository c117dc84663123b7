"""The sketch of an operation: the part in the machine as it is after it, headstock left.

What comes off in the operation is toned within a double-dashed edge, what is cut stands in thick
lines, the rest in thin ones; chuck, collet and centres are plain shapes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot, radians, tan
from typing import Final

from generator.documents.drawing import Figure, Fill, Line, Mark, Point, Text
from generator.documents.hatch import hatched
from generator.documents.layout import bounds
from generator.documents.plot import figure, spread
from generator.documents.text import width_mm
from generator.making.operation import Grip, Operation, Size
from generator.making.stock import KERF_MM
from generator.model.outline import Corner, Outline, Segment
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, SideFlat, Slot, Thread
from generator.units import MM_PER_INCH, number

LETTER_MM: Final = 5.0
"""Height of the figures, to be read from the lathe; of the series of ISO 3098-1, from memory."""

WIDE_MM: Final = 112.0
"""Most length of the part on paper; jaws and centres stand beside it."""

HIGH_MM: Final = 24.0
"""Most diameter of the part on paper."""

SCALES: Final = (0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0)
ROW_MM: Final = 7.6
LIFT_MM: Final = 1.2
ARROW_MM: Final = 2.6
APART_MM: Final = 5.0
HALF_WIDTH_MM: Final = 80.0
"""Labels stand no farther from the middle."""

JAW_MM: Final = 6.0
"""Height of jaws, dog and collet on paper."""

BODY_MM: Final = 7.0
"""Width of a chuck on paper."""

NEAR_MM: Final = 1.0
"""A size is that of the hole if it comes so near to it."""

CAPTION: Final = "Headstock left. Thick: cut here. Toned: comes off. Not to scale."


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the part lies on paper.

    Attributes:
        scale: Paper length over true length.
        sign: -1 with the rear end to the left, 1 with the front end.
    """

    scale: float
    sign: float

    def at(self, z_mm: float, r_mm: float) -> Point:
        """Return where a point of the half section lies."""
        return self.sign * self.scale * z_mm, self.scale * r_mm

    def half(self, outline: Outline) -> list[Point]:
        """Return the half section on paper."""
        return [self.at(corner.z_mm, corner.r_mm) for corner in outline.corners]


def sketch(operation: Operation, *, inch: bool = False) -> Figure | None:
    """Return the sketch; None where nothing is held or no shape is told of.

    Args:
        operation: The operation.
        inch: Whether its figures are inches.
    """
    after = operation.after
    if after is None or not (operation.grips or operation.sizes):
        return None
    before = operation.before or after
    if not (before.outline.length_mm > 0 and before.outline.diameter_mm > 0):
        return None
    frame = _frame((before.outline, after.outline), operation)
    marks: list[Mark] = [*_part(before, after, frame)]
    reach_mm = frame.scale * before.outline.diameter_mm / 2
    for grip in operation.grips:
        marks += _grip(grip, before.outline, frame)
        if grip.hold not in ("centre", "mandrel"):
            reach_mm = max(reach_mm, frame.scale * before.outline.diameter_mm / 2 + JAW_MM)
    left, _, right, _ = bounds(marks)
    marks.append(Line((left - 3.0, 0.0), (right + 3.0, 0.0), "centre"))
    marks += _diameters(operation, after.outline, frame, reach_mm + 3.0, inch)
    marks += _lengths(operation, before.outline, frame, -reach_mm, inch)
    return figure(f"operation-{operation.number}", operation.title, CAPTION, marks)


def _frame(outlines: Sequence[Outline], operation: Operation) -> Frame:
    most = min(
        WIDE_MM / max(outline.length_mm for outline in outlines),
        HIGH_MM / max(outline.diameter_mm for outline in outlines),
    )
    scale = max((s for s in SCALES if s <= most), default=most)
    return Frame(scale, -1.0 if operation.left == "rear" else 1.0)


def _mirrored(points: Sequence[Point]) -> list[Point]:
    return [(x, -y) for x, y in points]


def _part(before: Part, after: Part, frame: Frame) -> Iterator[Mark]:
    """Yield what comes off, and the part that is left."""
    new = frame.half(after.outline)
    end_mm = _rear(after.outline) + KERF_MM
    if _rear(before.outline) > end_mm + 2.0:
        old = [frame.at(min(c.z_mm, end_mm), c.r_mm) for c in before.outline.corners]
        rest = [frame.at(max(c.z_mm, end_mm), c.r_mm) for c in before.outline.corners]
        for half in (rest, _mirrored(rest)):
            yield from hatched(half, spacing_mm=2.5)
            yield from _edges(half, "thin")
    else:
        old = frame.half(before.outline)
    if before.outline.corners != after.outline.corners:
        for half in (old, _mirrored(old)):
            yield Fill(tuple(half), "warm")
            yield from _edges(half, "phantom")
    holes = [cut for cut in after.cuts if isinstance(cut, CrossHole)]
    strips = [_strip(hole, frame) for hole in holes]
    for half, bare in ((new, strips), (_mirrored(new), [])):
        yield Fill(tuple(half), "paper")
        yield from hatched(half, spacing_mm=2.5, without=bare)
    for segment in after.outline.segments():
        style = "thin" if _lies_on(segment, before.outline) else "cut"
        ends = (
            frame.at(segment.start.z_mm, segment.start.r_mm),
            frame.at(segment.end.z_mm, segment.end.r_mm),
        )
        if max(segment.start.r_mm, segment.end.r_mm) > 1e-9:
            for a, b in (ends, _mirrored(ends)):
                yield Line(a, b, style)
    yield from _across(after.outline, frame)
    yield from _cuts(before, after, frame)
    for thread in after.threads:
        yield from _thread(after.outline, thread, frame, thread in before.threads)


def _edges(points: Sequence[Point], style: str) -> Iterator[Line]:
    for a, b in zip(points, [*points[1:], points[0]], strict=True):
        if hypot(a[0] - b[0], a[1] - b[1]) > 1e-6 and (abs(a[1]) > 1e-9 or abs(b[1]) > 1e-9):
            yield Line(a, b, style)


def _lies_on(segment: Segment, outline: Outline) -> bool:
    """Tell whether an edge was there before: its middle lies on the former outline."""
    z_mm, r_mm = (
        (segment.start.z_mm + segment.end.z_mm) / 2,
        (segment.start.r_mm + segment.end.r_mm) / 2,
    )
    return any(_distance_mm(z_mm, r_mm, s.start, s.end) < 1e-6 for s in outline.segments())


def _distance_mm(z_mm: float, r_mm: float, start: Corner, end: Corner) -> float:
    dz, dr = end.z_mm - start.z_mm, end.r_mm - start.r_mm
    square = dz**2 + dr**2
    share = 0.0 if square == 0 else ((z_mm - start.z_mm) * dz + (r_mm - start.r_mm) * dr) / square
    share = min(max(share, 0.0), 1.0)
    return hypot(start.z_mm + share * dz - z_mm, start.r_mm + share * dr - r_mm)


def _across(outline: Outline, frame: Frame) -> Iterator[Line]:
    """Yield the edges seen across the hollow."""
    seen: set[tuple[float, float]] = set()
    for s in outline.segments():
        if s.end.z_mm < s.start.z_mm - 1e-9:
            for corner in (s.start, s.end):
                if corner.r_mm > 1e-6:
                    seen.add((corner.z_mm, corner.r_mm))
    for z_mm, r_mm in sorted(seen):
        x, y = frame.at(z_mm, r_mm)
        yield Line((x, -y), (x, y), "thin")


def _strip(hole: CrossHole, frame: Frame) -> tuple[float, float]:
    ends = sorted(frame.at(hole.z_mm + side * hole.diameter_mm / 2, 0.0)[0] for side in (-1.0, 1.0))
    return ends[0], ends[1]


def _slot(cut: Slot, outline: Outline, frame: Frame, style: str) -> Iterator[Fill | Line]:
    """Yield a slot seen from the side: what is gone, its ends and its floor."""
    middle = _on(outline, cut.front_mm + cut.length_mm / 2)
    high = frame.scale * outline.radius_at_mm(middle, inside=False)
    low = high - frame.scale * cut.depth_mm
    front, rear = (frame.at(_on(outline, z), 0.0)[0] for z in (cut.front_mm, cut.rear_mm))
    left, right = min(front, rear), max(front, rear)
    through = cut.through(outline)
    aside = 0.6 if cut.open else 0.0
    yield _box(
        left - (aside if rear < front else 0.0),
        low - (0.6 if through else 0.0),
        right + (aside if rear > front else 0.0),
        high + 0.6,
        "paper",
    )
    for x in (front,) if cut.open else (front, rear):
        yield Line((x, high), (x, low), style)
    if not through:
        yield Line((left, low), (right, low), style)


def _below(mark: Fill | Line) -> Fill | Line:
    """Return a mark on the other side of the axis."""
    if isinstance(mark, Line):
        (x, y), (u, v) = mark.start, mark.end
        return replace(mark, start=(x, -y), end=(u, -v))
    return replace(mark, points=tuple((x, -y) for x, y in mark.points))


def _cuts(before: Part, after: Part, frame: Frame) -> Iterator[Mark]:
    outline = after.outline
    for cut in after.cuts:
        style = "thin" if cut in before.cuts else "cut"
        match cut:
            case CrossHole():
                at_mm = _on(outline, cut.z_mm)
                low = frame.scale * outline.radius_at_mm(at_mm, inside=True)
                high = frame.scale * outline.radius_at_mm(at_mm, inside=False)
                left, right = _strip(cut, frame)
                for sign in (1.0, -1.0) if cut.both else (1.0,):
                    yield _box(
                        left,
                        min(sign * low, sign * high),
                        right,
                        max(sign * low, sign * high),
                        "paper",
                    )
                    for x in (left, right):
                        yield Line((x, sign * low), (x, sign * high), style)
            case Slot():
                marks = list(_slot(cut, outline, frame, style))
                yield from marks
                if cut.both:
                    yield from (_below(mark) for mark in marks)
            case SideFlat():
                wall_mm = _on(outline, cut.rear_mm if cut.front_mm <= 0 else cut.front_mm)
                high = frame.scale * outline.radius_at_mm(wall_mm, inside=False)
                low = frame.scale * cut.off_mm
                reach = [frame.at(z, 0.0)[0] for z in cut.reach_mm(outline)]
                ends = [frame.at(z, 0.0)[0] for z in (cut.front_mm, cut.rear_mm)]
                wall = ends[1] if cut.front_mm <= 0 else ends[0]
                for sign in (1, -1) if cut.both else (1,):
                    near, far = sorted((sign * low, sign * (high + 0.6)))
                    yield _box(min(ends), near, max(ends), far, "paper")
                    yield Line((reach[0], sign * low), (reach[1], sign * low), style)
                    yield Line((wall, sign * low), (wall, sign * high), style)
            case DriverSlot() | HexSocket():
                x, _ = frame.at(_on(outline, outline.length_mm - cut.depth_mm), 0.0)
                end, _ = frame.at(outline.length_mm, 0.0)
                wide = (
                    outline.diameter_mm / 2 - 0.5
                    if isinstance(cut, DriverSlot)
                    else cut.across_flats_mm / 2
                )
                y = frame.scale * wide
                yield _box(min(x, end), -y, max(x, end), y, "paper")
                yield Line((x, -y), (x, y), style)
                if isinstance(cut, HexSocket):
                    for level in (-y, y):
                        yield Line((x, level), (end, level), style)


def _thread(outline: Outline, thread: Thread, frame: Frame, was: bool) -> Iterator[Line]:
    """Yield the line of a thread beside its surface."""
    if not outline.has(thread.surface):
        return
    run = outline.surface(thread.surface)
    if thread.external:
        first, last, r_mm = run.front_mm, run.rear_mm, thread.minor_mm / 2
    else:
        (first, last), r_mm = thread.full_span_mm(outline), thread.major_mm / 2
    for side in (1.0, -1.0):
        a, b = frame.at(first, side * r_mm), frame.at(last, side * r_mm)
        yield Line(a, b, "thread" if was else "outline")


def _box(left: float, low: float, right: float, high: float, style: str) -> Fill:
    return Fill(((left, low), (right, low), (right, high), (left, high)), style)


def _framed(left: float, low: float, right: float, high: float) -> Iterator[Mark]:
    yield _box(left, low, right, high, "light")
    yield from _edges([(left, low), (right, low), (right, high), (left, high)], "thin")


def _grip(grip: Grip, outline: Outline, frame: Frame) -> Iterator[Mark]:
    """Yield what holds the work; the headstock is to the left."""
    ends = sorted(frame.at(_on(outline, z_mm), 0.0)[0] for z_mm in (grip.from_mm, grip.to_mm))
    left, right = ends
    middle_mm = _on(outline, (grip.from_mm + grip.to_mm) / 2)
    r = frame.scale * outline.radius_at_mm(middle_mm, inside=False)
    match grip.hold:
        case "centre":
            yield from _centre(grip, outline, frame)
        case "dog":
            yield from _framed(left, r, right, r + JAW_MM)
            yield from _framed(left - 10.0, r + JAW_MM - 2.0, left, r + JAW_MM)
        case "mandrel":
            bore = frame.scale * outline.radius_at_mm(middle_mm, inside=True)
            yield from _framed(left - 12.0, -bore, right, bore)
        case "vice":
            yield from _framed(left, -r - JAW_MM, right, -r)
        case "steady":
            for low, high in ((r, r + JAW_MM), (-r - JAW_MM, -r)):
                yield from _framed(left, low, right, high)
        case _:
            for low, high in ((r, r + JAW_MM), (-r - JAW_MM, -r)):
                yield from _framed(left, low, right, high)
            yield from _framed(left - BODY_MM, -r - JAW_MM, left, r + JAW_MM)


def _front(outline: Outline) -> float:
    return min(corner.z_mm for corner in outline.corners)


def _rear(outline: Outline) -> float:
    return max(corner.z_mm for corner in outline.corners)


def _on(outline: Outline, z_mm: float) -> float:
    """Return the place on the part that lies nearest to a position."""
    return min(max(z_mm, _front(outline) + 1e-6), _rear(outline) - 1e-6)


def _centre(grip: Grip, outline: Outline, frame: Frame) -> Iterator[Mark]:
    """Yield a 60 degree centre in the mouth at one end."""
    face_mm = grip.to_mm
    at_rear = abs(face_mm - _rear(outline)) < abs(face_mm - _front(outline))
    inward = -1.0 if at_rear else 1.0
    end_mm = _rear(outline) if at_rear else _front(outline)
    mouth = frame.scale * max(outline.radius_at_mm(end_mm, inside=True), 0.4 / frame.scale)
    x = frame.at(end_mm, 0.0)[0]
    way = frame.sign * inward
    tip = x + way * mouth / tan(radians(30))
    back = x - way * 5.0
    wide = mouth + 5.0 * tan(radians(30))
    corners = [
        (tip, 0.0),
        (back, wide),
        (back - way * 7.0, wide),
        (back - way * 7.0, -wide),
        (back, -wide),
    ]
    yield Fill(tuple(corners), "light")
    yield from _closed(corners)


def _closed(corners: Sequence[Point]) -> Iterator[Line]:
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        yield Line(a, b, "thin")


def _written(size: Size, inch: bool) -> str:
    figures = number(size.size_mm / MM_PER_INCH, 3) if inch else number(size.size_mm, 2)
    sign = "Ø" if size.kind == "diameter" else ""
    return f"{size.label or sign}{figures}"


def _diameters(
    operation: Operation, outline: Outline, frame: Frame, y: float, inch: bool
) -> Iterator[Mark]:
    """Yield the labels in a row above the part, each led to what it measures."""
    found = []
    for size in operation.sizes:
        if size.kind == "diameter":
            z_mm = _on(outline, size.at_mm)
            outer, inner = (outline.radius_at_mm(z_mm, inside=inside) for inside in (False, True))
            within = abs(2 * inner - size.size_mm) < min(NEAR_MM, abs(2 * outer - size.size_mm))
            r_mm = inner if within else outer
            found.append((frame.at(z_mm, r_mm), _written(size, inch)))
    found.sort()
    if not found:
        return
    widths = [width_mm(text, LETTER_MM, bold=True) for _, text in found]
    middle = frame.at((_front(outline) + _rear(outline)) / 2, 0.0)[0]
    places = spread(
        [point[0] for point, _ in found],
        widths,
        middle - HALF_WIDTH_MM,
        middle + HALF_WIDTH_MM,
        APART_MM,
    )
    for (point, text), x in zip(found, places, strict=True):
        yield Text((x, y + LIFT_MM + 1.0), text, LETTER_MM, "centre", bold=True)
        yield Line((x, y), point, "dimension")
        yield from _dot(point)


def _dot(point: Point) -> Iterator[Fill]:
    x, y = point
    yield Fill(((x - 0.8, y), (x, y - 0.8), (x + 0.8, y), (x, y + 0.8)), "dimension")


def _lengths(
    operation: Operation, outline: Outline, frame: Frame, y: float, inch: bool
) -> Iterator[Mark]:
    """Yield the lengths in rows below the part, all from the zero of the operation."""
    zero = frame.at(_on(outline, operation.zero_mm), 0.0)[0]
    sizes = {round(size.at_mm, 6): size for size in operation.sizes if size.kind == "length"}
    ordered = sorted(
        (size for size in sizes.values() if abs(size.at_mm - operation.zero_mm) > 1e-6),
        key=lambda size: abs(size.at_mm - operation.zero_mm),
    )
    low = y - 1.0
    for n, size in enumerate(ordered):
        end = frame.at(_on(outline, size.at_mm), 0.0)[0]
        low = y - 2.0 - ROW_MM * (n + 1)
        text = _written(size, inch)
        wide = width_mm(text, LETTER_MM, bold=True)
        way = 1.0 if end > zero else -1.0
        yield Line((end, y - 1.0), (end, low - 0.8), "dimension")
        yield from _arrow((end, low), way)
        if abs(end - zero) > wide + 2 * ARROW_MM + 2.0:
            yield Line((zero, low), (end, low), "dimension")
            yield Text(((zero + end) / 2, low + LIFT_MM), text, LETTER_MM, "centre", bold=True)
        else:
            beyond = zero - way * (wide + 4.0)
            yield Line((beyond, low), (end, low), "dimension")
            yield Text(((zero + beyond) / 2, low + LIFT_MM), text, LETTER_MM, "centre", bold=True)
    foot = low - 2.5
    yield Line((zero, y - 1.0), (zero, foot), "outline")
    yield Text((zero, foot - 1.0 - LETTER_MM), "0", LETTER_MM, "centre", bold=True)


def _arrow(tip: Point, way: float) -> Iterator[Fill]:
    x, y = tip
    back = x - way * ARROW_MM
    yield Fill((tip, (back, y + 0.6), (back, y - 0.6)), "dimension")
