"""What a view shows beyond the turned section: holes across, threads, slots, sides of an end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from generator.lint.page import Page
from generator.lint.profile import Run
from generator.lint.sheet import Stroke
from generator.lint.views import EndView, MainView

ON_MM: Final = 0.05


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole across the axis: its place, half its width, and how far from the axis it opens."""

    z: float
    half: float
    r: float
    is_threaded: bool


@dataclass(frozen=True, slots=True)
class Threaded:
    """A thread about the axis.

    Attributes:
        r: Radius of its thin line.
        low: Where that begins.
        high: Where it ends.
        end: Where full thread ends; None where that is a corner of the section.
        inside: Whether it is cut in a hole: its thin line lies within the material about it.
    """

    r: float
    low: float
    high: float
    end: float | None
    inside: bool


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot with round ends along the axis, seen from above."""

    front: float
    rear: float
    half: float


@dataclass(frozen=True, slots=True)
class Side:
    """A straight side in an end view.

    Attributes:
        axis: 0 where it stands upright, at an x; 1 where it lies level, at a y.
        at: Its distance from the axis of the part, true millimetres; negative to the left or below.
        both: Whether one like it lies on the other side; then the distance is positive.
    """

    axis: int
    at: float
    both: bool


def features_of(page: Page, view: MainView) -> Iterator[Hole | Threaded | Slot]:
    """Yield the holes, threads and slots that a main view shows."""
    inside = [s for s in page.sheet.strokes if view.holds(_middle(s), 4.0)]
    outlines = [s for s in inside if s.layer in ("OUTLINE", "HIDDEN") and view.holds(_middle(s))]
    walls = [(view.of_part(s.start), view.of_part(s.end)) for s in outlines if _is_upright(s)]
    thin = [s for s in inside if s.layer == "THREAD"]
    yield from _holes(page, view, inside, walls, thin)
    yield from _threads(view, walls, thin)
    yield from _slots(page, view)


def _middle(stroke: Stroke) -> tuple[float, float]:
    return (stroke.start[0] + stroke.end[0]) / 2, (stroke.start[1] + stroke.end[1]) / 2


def _is_upright(stroke: Stroke) -> bool:
    return abs(stroke.start[0] - stroke.end[0]) < 1e-6


Wall = tuple[tuple[float, float], tuple[float, float]]


def _holes(
    page: Page, view: MainView, inside: list[Stroke], walls: list[Wall], thin: list[Stroke]
) -> Iterator[Hole]:
    """Yield holes: an upright centre line between two walls as far from it, or a circle."""
    near = ON_MM / view.scale
    for stroke in inside:
        if stroke.layer != "CENTRE" or not _is_upright(stroke):
            continue
        z = view.of_part(stroke.start)[0]
        reach = max(abs(view.of_part(end)[1]) for end in (stroke.start, stroke.end))
        offsets = [wall[0][0] - z for wall in walls]
        paired = [
            (each, max(abs(wall[0][1]), abs(wall[1][1])))
            for each, wall in zip(offsets, walls, strict=True)
            if each > near and any(abs(each + other) < near for other in offsets)
        ]
        if not paired:
            continue
        half, r = min(paired)
        threaded = any(
            _is_upright(s) and half < abs(view.of_part(s.start)[0] - z) < 2 * half for s in thin
        )
        yield Hole(z, half, min(r, reach), threaded)
    for bow in page.sheet.bows:
        whole = bow.end_deg - bow.start_deg == 360.0
        if bow.layer == "OUTLINE" and whole and view.holds(bow.centre):
            z, r = view.of_part(bow.centre)
            yield Hole(z, bow.radius_mm / view.scale, abs(r), False)


def _threads(view: MainView, walls: list[Wall], thin: list[Stroke]) -> Iterator[Threaded]:
    """Yield threads about the axis: thin lines along it, alike above and below."""
    near = ON_MM / view.scale
    corners = [z for z, _ in view.section.corners]
    seen: set[tuple[float, float, float]] = set()
    for stroke in thin:
        (az, ar), (bz, br) = view.of_part(stroke.start), view.of_part(stroke.end)
        if abs(ar - br) > near or abs(az - bz) < near or ar < 0:
            continue
        low, high = sorted((az, bz))
        key = round(ar, 3), round(low, 3), round(high, 3)
        if key in seen:
            continue
        seen.add(key)
        stops = [
            end
            for end in (low, high)
            if any(abs(wall[0][0] - end) < near for wall in walls)
            and all(abs(z - end) > near for z in corners)
        ]
        middle = (low + high) / 2
        walled = [
            view.section.corners[run.start][1]
            for run in view.section.runs
            if run.kind == "cylinder" and _spans(view, run, middle)
        ]
        apart = [wall - ar for wall in walled]
        inside = bool(apart) and min(apart, key=abs) < 0
        yield Threaded(ar, low, high, stops[0] if stops else None, inside)


def _spans(view: MainView, run: Run, z: float) -> bool:
    ends = [view.section.corners[n][0] for n in (run.start, run.end)]
    return min(ends) <= z <= max(ends)


def _slots(page: Page, view: MainView) -> Iterator[Slot]:
    """Yield slots: two half circles on the axis, of one radius, back to back."""
    bows = [
        (view.of_part(bow.centre)[0], bow.radius_mm / view.scale)
        for bow in page.sheet.bows
        if bow.layer == "OUTLINE"
        and view.holds(bow.centre)
        and abs(view.of_part(bow.centre)[1]) * view.scale < ON_MM
        and abs((bow.end_deg - bow.start_deg) % 360 - 180) < 1e-3
    ]
    bows.sort()
    for (z, half), (other, same) in zip(bows[::2], bows[1::2], strict=False):
        if abs(half - same) * view.scale < ON_MM:
            yield Slot(z - half, other + half, half)


def sides_of(page: Page, end: EndView) -> Iterator[Side]:
    """Yield the straight sides of an end view that lie level or upright."""
    found: dict[tuple[int, float], float] = {}
    for stroke in page.sheet.strokes:
        if stroke.layer != "OUTLINE":
            continue
        left, bottom, right, top = end.box
        x, y = _middle(stroke)
        if not (left <= x <= right and bottom <= y <= top):
            continue
        for axis in (0, 1):
            if abs(stroke.start[axis] - stroke.end[axis]) < 1e-6:
                at = (stroke.start[axis] - end.centre[axis]) / end.scale
                found.setdefault((axis, round(at, 3)), at)
    for (axis, key), at in found.items():
        both = (axis, -key) in found
        if abs(key) > 1e-6 and (not both or at > 0):
            yield Side(axis, at, both)
